//! Commands that people are told to type, as a shell takes them.

use std::path::Path;

use super::arguments::Arguments;

/// A path as a word of a command.
pub(super) fn shell_word(path: &Path) -> String {
    let text = path.display().to_string();
    let is_bare = !text.is_empty()
        && text
            .chars()
            .all(|c| c.is_alphanumeric() || matches!(c, '/' | '.' | '_' | '-' | ':' | '\\'));
    if is_bare { text } else { format!("'{}'", text.replace('\'', "'\\''")) }
}

/// The program with the options of this run that any later command on the same case needs too:
/// `dryhold --book 'my cases' --rules rules`.
pub(super) fn program(arguments: &Arguments) -> String {
    let mut words = vec!["dryhold".to_owned()];
    words.extend(arguments.plain.then(|| "--plain".to_owned()));
    let folders = arguments.book.iter().map(|folder| ("--book", folder));
    let folders = folders.chain(arguments.rules.iter().map(|folder| ("--rules", folder)));
    let folders = folders.chain(arguments.only_rules.iter().map(|folder| ("--only-rules", folder)));
    words.extend(folders.map(|(option, folder)| format!("{option} {}", shell_word(folder))));
    words.join(" ")
}

#[cfg(test)]
mod tests {
    use clap::Parser;

    use super::*;

    #[test]
    fn a_command_takes_the_folders_with_it_whatever_their_names() {
        let typed = ["dryhold", "--book", "the van's cases", "--rules", "a", "--rules", "b c"];
        let arguments = Arguments::try_parse_from(typed).unwrap();
        let expected = r"dryhold --book 'the van'\''s cases' --rules a --rules 'b c'";
        assert_eq!(program(&arguments), expected);
        let bare = Arguments::try_parse_from(["dryhold", "--plain", "--only-rules", "r"]).unwrap();
        assert_eq!(program(&bare), "dryhold --plain --only-rules r");
        assert_eq!(program(&Arguments::try_parse_from(["dryhold"]).unwrap()), "dryhold");
    }
}
