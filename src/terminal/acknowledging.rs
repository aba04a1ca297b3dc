//! Who acknowledges a caution.

use super::words::{Action, DONE, START, folded};
use crate::text::{Line, also_said, as_said, inert, is_prompt_word};

/// What people type to get past a caution, and what names nobody, beside the words of the prompts.
const NOBODY: [&str; 21] = [
    // What changes the task at the first menu.
    "task",
    "ok",
    "okay",
    "me",
    "myself",
    "ack",
    "acknowledge",
    "acknowledged",
    "agreed",
    "accepted",
    "confirmed",
    "understood",
    "sure",
    "fine",
    "nobody",
    "noone",
    "anyone",
    "name",
    "noname",
    "not",
    "notyet",
];

/// Words that names don't have and sentences do.
const OF_SENTENCES: [&str; 18] = [
    "not", "isn't", "isnt", "is", "are", "was", "were", "has", "have", "it", "there", "can't",
    "cant", "don't", "there's", "it's", "hasn't", "wasn't",
];

/// The name to record, or why it is none. Initials will do.
pub(super) fn name_typed(typed: &str) -> Result<String, Line> {
    let name = typed.split_whitespace().collect::<Vec<_>>().join(" ");
    let letters = name.chars().filter(|c| c.is_alphabetic()).count();
    // A reading or a code that was meant for a later prompt.
    let has_digit = name.chars().any(char::is_numeric);
    if letters < 2 || has_digit || is_word(&name) {
        return Err(Line::plain(no_name(&name)));
    }
    Ok(name)
}

/// Whether a text is a word of the prompts, a nod, or what stands for nobody.
fn is_word(name: &str) -> bool {
    let first = name.split([' ', ',', '.', '!']).next().unwrap_or_default();
    let is_nod = |word: &str| matches!(folded(word).as_str(), "yes" | "no" | "ok" | "okay");
    if is_nod(first) || [also_said(true), also_said(false)].concat().contains(&&*folded(first)) {
        return true;
    }
    let (said, folded) = (as_said(name), folded(name));
    let nods = [also_said(true), also_said(false), &NOBODY].concat();
    nods.contains(&said.as_str())
        || is_prompt_word(name)
        || Action::from_word(name).is_some()
        || DONE.iter().chain(&START).any(|word| *word == folded)
}

/// Whether what was typed tells of something, as no name does. A danger may be told so, which is
/// asked for before anything is said of names.
pub(super) fn is_sentence(typed: &str) -> bool {
    let typed = folded(typed);
    let mut words = typed.split(|c: char| !c.is_alphabetic() && c != '\'' && c != '’');
    words.clone().filter(|word| !word.is_empty()).count() > 1
        && words.any(|word| OF_SENTENCES.contains(&word.replace('’', "'").as_str()))
}

/// What is said to what is no name.
pub(super) fn no_name(typed: &str) -> String {
    let told = match typed.trim() {
        "" => String::new(),
        typed => format!("\"{}\" is no name. ", inert(typed)),
    };
    format!(
        "{told}Type the name or the initials of the person who acknowledges this, without figures; \
         the record keeps them."
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_or_initials_acknowledge_and_a_nod_does_not() {
        assert_eq!(name_typed("  A.  B. "), Ok("A. B.".to_owned()));
        for name in ["王芳", "An Nguyen", "Noa", "the caller", "Sure-Lee", "Mark", "B. Good"] {
            assert_eq!(name_typed(name).as_deref(), Ok(name));
            assert!(!is_sentence(name), "{name}");
        }
        let nobody = ["", " ", "y", "n", "12", "--", "YES", "ok", "a", "Not sure", "skip"];
        let words = [
            "nope",
            "Yeah!",
            "no more",
            "take back",
            "task",
            "start",
            "go on",
            "none",
            "understood",
            "yes please",
            "ok, done",
        ];
        let readings = ["40 bar", "R-32", "about 300 micron"];
        for typed in nobody.iter().chain(&words).chain(&readings) {
            assert!(name_typed(typed).is_err(), "{typed}");
        }
    }

    #[test]
    fn what_tells_of_something_is_a_sentence() {
        for typed in ["not charged, air in it", "there's nobody", "it is aired", "I don’t know him"]
        {
            assert!(is_sentence(typed), "{typed}");
        }
        assert!(!is_sentence("not") && !is_sentence(""));
    }

    #[test]
    fn what_is_no_name_is_told_with_what_is_wanted() {
        let told = name_typed("yes").unwrap_err().to_text();
        assert!(told.starts_with("\"yes\" is no name. Type the name or the initials"), "{told}");
        assert!(name_typed(" ").unwrap_err().to_text().starts_with("Type the name"));
    }
}
