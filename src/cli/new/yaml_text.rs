//! Texts of a person as YAML and as texts with formulas, so that they are read back as they stand.

use textwrap::{Options, WordSplitter};

/// The widest row that is written (columns): two of them stand side by side on a common screen.
const WIDTH: usize = 60;

/// The longest text that is taken (characters; limit of ours, far above any title).
const LONGEST: usize = 300;

/// A text of one line that can be shown, without blanks around it, or why it is none.
pub(super) fn one_line(typed: &str) -> Result<String, String> {
    let text = typed.split_whitespace().collect::<Vec<_>>().join(" ");
    if text.is_empty() {
        return Err("the text is empty; write some words".to_owned());
    }
    if text.chars().count() > LONGEST {
        return Err(format!("the text has more than {LONGEST} characters; write it shorter"));
    }
    if !crate::text::is_inert(&text) {
        return Err("the text holds a character that can't be seen; type it anew".to_owned());
    }
    Ok(text)
}

/// The text in double quotes, or bare where YAML takes it for what it is.
pub(super) fn scalar(text: &str) -> String {
    let is_bare = text.starts_with(|c: char| c.is_ascii_alphabetic())
        && text.chars().all(|c| c.is_alphanumeric() || " .,;()'/+-".contains(c))
        && !matches!(
            text.to_ascii_lowercase().as_str(),
            "true" | "false" | "null" | "yes" | "no" | "on" | "off" | "y" | "n"
        );
    if is_bare {
        return text.to_owned();
    }
    let mut quoted = String::from("\"");
    for c in text.chars() {
        if matches!(c, '"' | '\\') {
            quoted.push('\\');
        }
        quoted.push(c);
    }
    quoted.push('"');
    quoted
}

/// The text for a folded block, its rows behind `indent` blanks; braces are no formulas in it.
pub(super) fn folded(text: &str, indent: usize) -> String {
    let text = text.replace('{', "{{").replace('}', "}}");
    let blanks = " ".repeat(indent);
    let options = Options::new(WIDTH)
        .subsequent_indent(&blanks)
        .initial_indent(&blanks)
        .break_words(false)
        .word_splitter(WordSplitter::NoHyphenation);
    textwrap::fill(&text, options).trim_start().to_owned()
}

/// A remark of one or more rows behind `# `.
pub(super) fn remark(text: &str, indent: usize) -> String {
    let lead = format!("{}# ", " ".repeat(indent));
    let options = Options::new(WIDTH)
        .initial_indent(&lead)
        .subsequent_indent(&lead)
        .break_words(false)
        .word_splitter(WordSplitter::NoHyphenation);
    textwrap::fill(text, options)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_title_is_read_back_as_it_was_typed() {
        for text in [
            "Each hose by itself",
            "Oil: cloudy?",
            "Swap hose #2",
            "say \"so\" \\ or not",
            "yes",
            "2nd look",
            "- a list",
            "{x}",
            "王芳's rig",
            "*both*",
        ] {
            let yaml = format!("title: {}\n", scalar(text));
            let read: serde_json::Value = serde_yaml::from_str(&yaml).expect(text);
            assert_eq!(read["title"], text, "{yaml}");
        }
    }

    #[test]
    fn a_folded_text_keeps_its_words_and_doubles_its_braces() {
        let text = "Is the {valve} shut, and has nobody opened it since the gauge was put on?";
        let yaml = format!("ask: >\n  {}\n", folded(text, 2));
        let read: serde_json::Value = serde_yaml::from_str(&yaml).expect("yaml");
        let read = read["ask"].as_str().expect("a text").trim_end();
        assert_eq!(read, text.replace("{valve}", "{{valve}}"));
        assert!(yaml.lines().all(|row| row.chars().count() <= WIDTH), "{yaml}");
    }

    #[test]
    fn what_can_t_be_a_title_is_refused() {
        assert_eq!(one_line("  two \n rows "), Ok("two rows".to_owned()));
        for text in ["", "  ", "a\u{1b}[2J", "\u{202e}x"] {
            assert!(one_line(text).is_err(), "{text:?}");
        }
        assert!(one_line(&"x".repeat(301)).is_err());
    }
}
