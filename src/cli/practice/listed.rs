//! What can be done, listed: the words by their groups, and a group with what each of them does.

use crate::rehearsal::practice::{Group, Operation, operations};
use crate::terminal::Action;
use crate::text::{Line, Role, list_or};

/// The word that lists the operations.
pub(super) const LIST: &str = "list";
/// The word behind it for everything at once, which is longer than a small screen.
const ALL: &str = "all";

/// What is listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Listed {
    /// The words alone, within a small screen.
    Words,
    /// A group, with what is typed and what it does.
    One(Group),
    /// Everything so.
    All,
}

/// Reads `list`, `list build`, `list all`; nothing where another line was typed. What stands behind
/// it and is no group lists the words.
pub(super) fn list_asked(line: &str) -> Option<Listed> {
    let mut words = line.split_whitespace().map(str::to_lowercase);
    words.next().filter(|first| first == LIST)?;
    Some(match words.next() {
        Some(word) if word == ALL => Listed::All,
        Some(word) => (Group::ALL.into_iter())
            .find(|group| group.word() == word)
            .map_or(Listed::Words, Listed::One),
        None => Listed::Words,
    })
}

/// The list in lines, of the operations that the rig `has`; `more` are the words of the talk itself.
pub(super) fn lines(listed: Listed, more: &[&str], has: &dyn Fn(&Operation) -> bool) -> Vec<Line> {
    let there = |operation: &&Operation| has(operation);
    match listed {
        Listed::Words => words(more, has),
        Listed::One(group) => group.operations().filter(there).map(told).collect(),
        Listed::All => operations().iter().filter(there).map(told).collect(),
    }
}

fn words(more: &[&str], has: &dyn Fn(&Operation) -> bool) -> Vec<Line> {
    let row = |name: &str, words: &[&str]| {
        Line::new().push(Role::Plain, format!("- {name}: ")).push(Role::Name, words.join(", "))
    };
    let group = |group: Group| {
        let words: Vec<&str> =
            group.operations().filter(|known| has(known)).map(|known| known.word).collect();
        row(group.word(), &words)
    };
    let mut lines: Vec<Line> = Group::ALL.into_iter().map(group).collect();
    let talk: Vec<&str> = [LIST, Action::Board.word()]
        .iter()
        .chain(more)
        .copied()
        .chain([Action::Stop.word()])
        .collect();
    lines.push(row("the talk", &talk));
    let groups = Group::ALL.map(Group::word);
    lines.push(Line::plain(format!(
        "What each does: {LIST} with {}; {LIST} {ALL} for everything.",
        list_or(&groups)
    )));
    lines
}

/// An operation as it is typed, with what it does.
fn told(operation: &Operation) -> Line {
    Line::new()
        .push(Role::Plain, "- ")
        .push(Role::Name, operation.typed())
        .push(Role::Plain, format!(": {}", operation.does))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(listed: Listed) -> Vec<String> {
        lines(listed, &["story", "name"], &|_| true).iter().map(Line::to_text).collect()
    }

    #[test]
    fn a_list_is_asked_for_whole_or_in_parts() {
        assert_eq!(list_asked("List"), Some(Listed::Words));
        assert_eq!(list_asked(" list build "), Some(Listed::One(Group::Build)));
        assert_eq!(list_asked("list all"), Some(Listed::All));
        assert_eq!(list_asked("list nothing"), Some(Listed::Words));
        assert_eq!(list_asked("lists"), None);
        assert_eq!(list_asked("pull 20"), None);
    }

    /// A list stands above the menu, which takes half of a screen of 30 rows.
    #[test]
    fn every_word_is_listed_within_half_a_screen() {
        let rows: usize = texts(Listed::Words).iter().map(|line| line.len().div_ceil(76)).sum();
        assert!(rows <= 12, "{rows} rows");
        let all = texts(Listed::Words).join("\n");
        for operation in operations() {
            assert!(all.contains(operation.word), "{}", operation.word);
        }
        for group in Group::ALL {
            let part = texts(Listed::One(group));
            assert!(part.len() <= 12 && !part.is_empty(), "{group:?}");
        }
        assert_eq!(texts(Listed::All).len(), operations().len());
        assert!(all.contains("list, board, story, name, stop"), "{all}");
        let dry = texts(Listed::One(Group::Dry)).join(" ");
        assert!(dry.contains("DEGREES: warm by so many degrees"), "{dry}");
    }
}
