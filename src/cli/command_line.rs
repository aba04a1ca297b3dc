//! Commands that people are told to type, as a shell takes them.

use std::path::Path;

use unicode_width::UnicodeWidthStr;

use super::arguments::Arguments;
use super::coloured::Coloured;

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
    let colour = arguments
        .color
        .and_then(Coloured::asked)
        .map(|asked| if asked { "always" } else { "never" });
    words.extend(colour.map(|when| format!("--color {when}")));
    let folders = arguments.book.iter().map(|folder| ("--book", folder));
    let folders = folders.chain(arguments.rules.iter().map(|folder| ("--rules", folder)));
    let folders = folders.chain(arguments.only_rules.iter().map(|folder| ("--only-rules", folder)));
    words.extend(folders.map(|(option, folder)| format!("{option} {}", shell_word(folder))));
    words.join(" ")
}

/// How a case is carried on, told so that it can be copied as it stands: the terminal never breaks it
/// within the case's number. `width` is the terminal's, in columns.
pub(super) fn carry_on_with(program: &str, rest: &str, width: usize) -> String {
    const LEAD: &str = "Carry on with:";
    let fits = |row: &str| row.width() <= width;
    let [row, command] = [format!("{LEAD} {program} {rest}"), format!("{program} {rest}")];
    match (fits(&row), fits(&command)) {
        (true, _) => row,
        (false, true) => format!("{LEAD}\n{command}"),
        // As a shell goes on with the next row.
        (false, false) if !cfg!(windows) => format!("{LEAD}\n{program} \\\n  {rest}"),
        (false, false) => format!("{LEAD}\n{command}"),
    }
}

#[cfg(test)]
mod tests {
    use clap::Parser;

    use super::*;

    #[cfg(not(windows))]
    #[test]
    fn the_number_of_a_case_is_never_broken() {
        let rest = "resume 2026-11-30-10";
        let told = |program: &str| carry_on_with(program, rest, 60);
        assert_eq!(told("dryhold"), "Carry on with: dryhold resume 2026-11-30-10");
        let book = "dryhold --book ./cases/van-4";
        assert_eq!(told(book), format!("Carry on with:\n{book} {rest}"));
        let long = "dryhold --book ./cases/of/the/van/on/the/north/side";
        assert_eq!(told(long), format!("Carry on with:\n{long} \\\n  {rest}"));
    }

    #[test]
    fn a_command_takes_the_folders_with_it_whatever_their_names() {
        let typed = ["dryhold", "--book", "the van's cases", "--rules", "a", "--rules", "b c"];
        let arguments = Arguments::try_parse_from(typed).unwrap();
        let expected = r"dryhold --book 'the van'\''s cases' --rules a --rules 'b c'";
        assert_eq!(program(&arguments), expected);
        let bare = Arguments::try_parse_from(["dryhold", "--plain", "--only-rules", "r"]).unwrap();
        assert_eq!(program(&bare), "dryhold --plain --only-rules r");
        let grey = Arguments::try_parse_from(["dryhold", "--color", "never"]).unwrap();
        assert_eq!(program(&grey), "dryhold --color never");
        assert_eq!(program(&Arguments::try_parse_from(["dryhold"]).unwrap()), "dryhold");
    }
}
