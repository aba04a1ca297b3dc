//! Words as people type them: alike but for case, blanks and hyphens, and those for "not sure".

/// What people type who can't tell, as [`as_said`] has it.
const NOT_SURE: [&str; 16] = [
    "notsure",
    "unsure",
    "dontknow",
    "donotknow",
    "idontknow",
    "idonotknow",
    "noidea",
    "ihavenoidea",
    "noclue",
    "nobodyknows",
    "canttell",
    "dunno",
    "idk",
    "ns",
    "unknown",
    "?",
];

/// What people say for yes or no beside the word itself, as [`as_said`] has it.
#[must_use]
pub fn also_said(yes: bool) -> &'static [&'static str] {
    if yes { &["yep", "yeah", "yup"] } else { &["nope", "nah"] }
}

/// What two words have in common that say the same: the case of letters, blanks, hyphens and
/// apostrophes are left out, and so is what ends a sentence.
///
/// ```
/// use dryhold::text::as_said;
/// assert_eq!(as_said("  Still-Falling. "), as_said("still  falling"));
/// assert_ne!(as_said("R-32"), as_said("R-32a"));
/// ```
#[must_use]
pub fn as_said(text: &str) -> String {
    let trimmed = text.trim();
    let ended = trimmed.trim_end_matches(['.', '!', '?']);
    let kept = if ended.is_empty() { trimmed } else { ended };
    let is_left_out = |c: &char| c.is_whitespace() || is_stroke(*c) || matches!(c, '\'' | '’');
    kept.chars().filter(|c| !is_left_out(c)).flat_map(char::to_lowercase).collect()
}

/// A hyphen, a dash or a minus sign.
fn is_stroke(character: char) -> bool {
    matches!(character, '-' | '\u{2010}'..='\u{2015}' | '\u{2212}')
}

/// Whether somebody says that they are not sure, in one of the usual ways.
///
/// ```
/// use dryhold::text::says_not_sure;
/// assert!(says_not_sure("no idea") && says_not_sure("Don't know") && says_not_sure("?"));
/// assert!(!says_not_sure("no") && !says_not_sure("sure"));
/// ```
#[must_use]
pub fn says_not_sure(text: &str) -> bool {
    NOT_SURE.contains(&as_said(text).as_str())
}

/// Words of somebody who tells something and is not sure of it.
const DOUBT: [&str; 20] = [
    "half",
    "maybe",
    "perhaps",
    "probably",
    "possibly",
    "likely",
    "guess",
    "guessed",
    "guessing",
    "might",
    "could",
    "should",
    "unsure",
    "uncertain",
    "faded",
    "worn",
    "illegible",
    "unreadable",
    "supposedly",
    "assume",
];

/// The same in several words, as [`as_said`] has them.
const DOUBT_IN_WORDS: [&str; 15] = [
    "notsure",
    "notcertain",
    "cantread",
    "cannotread",
    "cantbemadeout",
    "cantbe",
    "cannotbe",
    "hardtoread",
    "notreadable",
    "dontknow",
    "noidea",
    "ithink",
    "ibelieve",
    "lookslike",
    "maybe",
];

/// Whether a sentence tells something of which it says that it is not sure.
///
/// ```
/// use dryhold::text::is_in_doubt;
/// assert!(is_in_doubt("label half reads R-32") && is_in_doubt("R-32?"));
/// assert!(is_in_doubt("can't read it, I think R-32"));
/// assert!(!is_in_doubt("label reads R-32"));
/// ```
#[must_use]
pub fn is_in_doubt(text: &str) -> bool {
    let words = text.split(|c: char| !c.is_alphanumeric()).map(str::to_lowercase);
    let said = as_said(text);
    text.contains('?')
        || words.into_iter().any(|word| DOUBT.contains(&word.as_str()))
        || DOUBT_IN_WORDS.iter().any(|words| said.contains(words))
}

/// Words that mean something at every prompt, as [`as_said`] has them.
const PROMPT_WORDS: [&str; 34] = [
    "board", "overview", "skip", "pass", "back", "previous", "why", "note", "remark", "file",
    "photo", "picture", "other", "another", "takeback", "undo", "ranking", "rank", "explain",
    "whynot", "reasons", "leave", "leaving", "giveup", "stop", "quit", "exit", "more", "menu",
    "help", "done", "nomore", "none", "?",
];

const YES_NO: [&str; 6] = ["yes", "no", "y", "n", "true", "false"];

/// Whether words mean something at every prompt, whatever is asked.
///
/// ```
/// use dryhold::text::is_prompt_word;
/// assert!(is_prompt_word("Take back") && is_prompt_word("no idea") && is_prompt_word("yes"));
/// assert!(!is_prompt_word("still falling"));
/// ```
#[must_use]
pub fn is_prompt_word(words: &str) -> bool {
    let said = as_said(words);
    says_not_sure(words) || [&PROMPT_WORDS[..], &YES_NO].concat().contains(&said.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_way_to_say_it_can_be_typed() {
        for words in NOT_SURE {
            assert_eq!(as_said(words), words);
        }
        for typed in ["not sure", "NOT  SURE", "not-sure.", "dunno!", "idk", "NS", "don’t know"] {
            assert!(says_not_sure(typed), "{typed}");
        }
        for typed in ["", ".", "no", "n", "none", "sure", "known", "not", "45", "unknown gas"] {
            assert!(!says_not_sure(typed), "{typed}");
        }
    }

    #[test]
    fn what_says_something_else_stays_apart() {
        assert_eq!(as_said("R\u{2011}410A"), "r410a");
        assert_eq!(as_said("?"), "?");
        assert_ne!(as_said("1.5"), as_said("15"));
        assert_ne!(as_said("1/2"), as_said("12"));
    }
}
