//! The handbook against itself: silent checks, scenarios, marks, cautions, wording.

use std::collections::BTreeSet;
use std::path::Path;

use dryhold::diagnostic::{Look, render};
use dryhold::document::raw::read_scenario;
use dryhold::document::{Node, NodeValue, read_yaml};
use dryhold::handbook::{CautionSeverity, Handbook, compile};
use dryhold::rehearsal::{Scenario, resolve_scenario};
use dryhold::source::Sources;

use super::{files, handbook};

#[test]
fn the_handbook_has_no_fault_and_no_warning() {
    let (sources, ids) = files();
    let compiled = compile(&sources, &ids, &[]);
    assert_eq!(render(&compiled.faults, &sources, Look::default()), "");
    assert!(compiled.handbook.is_some());
}

/// A scenario's file as a scenario of the handbook.
pub fn scenario(path: &Path, handbook: &Handbook) -> Scenario {
    let mut sources = Sources::default();
    let text = std::fs::read_to_string(path).unwrap();
    let id = sources.add(path.display().to_string(), text);
    let (raw, faults) = read_scenario(&sources, id);
    assert_eq!(render(&faults, &sources, Look::default()), "");
    let beside = |name: &str| {
        let log = path.parent().unwrap().join(name);
        std::fs::read_to_string(log).map_err(|error| error.to_string())
    };
    resolve_scenario(&raw.unwrap(), handbook, &beside)
        .unwrap_or_else(|faults| panic!("{}", render(&faults, &sources, Look::default())))
}

/// Sections whose entries hold numbers of their own; sources are themselves the marks, and
/// cautions have no place for one.
const MARKED: [&str; 7] =
    ["questions", "instruments", "formulas", "findings", "causes", "actions", "trees"];

/// Keys whose words (`usually`) stand for numbers.
const WORDS_ARE_NUMBERS: [&str; 8] =
    ["how_common", "more_if", "less_if", "brings", "cured_by", "shown_by", "hidden_by", "anyway"];

/// Whether some text below a node holds a number: a digit that does not belong to a name (R-32
/// is written with one, and so is the class A2).
fn holds_a_number(node: &Node) -> bool {
    match &node.value {
        NodeValue::Scalar(scalar) => {
            let mut before = ' ';
            scalar.text.chars().any(|c| {
                let stands_alone = !before.is_alphanumeric() && before != '_';
                before = c;
                c.is_ascii_digit() && stands_alone
            })
        }
        NodeValue::List(items) => items.iter().any(holds_a_number),
        NodeValue::Map(entries) => entries.iter().any(|entry| holds_a_number(&entry.value)),
        NodeValue::Null | NodeValue::Faulty => false,
    }
}

/// Keys of an entry that hold numbers for which its `basis` says nothing.
fn unmarked(entry: &Node) -> Vec<String> {
    let keys = entry.entries().unwrap();
    let basis = keys.iter().find(|key| key.key.text == "basis").map(|key| &key.value);
    if basis.is_some_and(|basis| basis.scalar().is_some()) {
        return Vec::new();
    }
    let marked: BTreeSet<&str> = basis
        .and_then(Node::entries)
        .unwrap_or_default()
        .iter()
        .map(|mark| mark.key.text.as_str())
        .collect();
    keys.iter()
        .filter(|key| key.key.text != "basis" && !marked.contains(key.key.text.as_str()))
        .filter(|key| {
            WORDS_ARE_NUMBERS.contains(&key.key.text.as_str()) || holds_a_number(&key.value)
        })
        .map(|key| key.key.text.clone())
        .collect()
}

#[test]
fn every_number_says_where_it_comes_from() {
    let (sources, ids) = files();
    let mut missing = Vec::new();
    let mut entries_seen = 0;
    for id in ids {
        let (node, faults) = read_yaml(&sources, id);
        assert_eq!(faults, []);
        let node = node.unwrap();
        for section in node.entries().unwrap() {
            if !MARKED.contains(&section.key.text.as_str()) {
                continue;
            }
            for entry in section.value.entries().unwrap() {
                entries_seen += 1;
                for key in unmarked(&entry.value) {
                    missing.push(format!("{} {}: {key}", section.key.text, entry.key.text));
                }
            }
        }
    }
    assert_eq!(missing, Vec::<String>::new());
    assert!(entries_seen > 100, "only {entries_seen} entries");
}

#[test]
fn every_stop_says_whom_to_ask() {
    let handbook = handbook();
    let stops = handbook.cautions().iter().filter(|c| c.severity == CautionSeverity::Stop);
    let lonely: Vec<&str> =
        stops.filter(|caution| caution.refer.is_none()).map(|c| c.id.as_str()).collect();
    assert_eq!(lonely, Vec::<&str>::new());
}

#[test]
fn every_question_asked_can_be_read_aloud_and_says_why() {
    let handbook = handbook();
    for tree in handbook.trees() {
        for id in tree.questions() {
            let question = handbook.question(id);
            assert!(question.say.is_some(), "`{}` can't be read aloud", question.id);
            assert!(question.why.is_some(), "`{}` doesn't say why", question.id);
        }
    }
}

/// Two readings that are asked for in the same words are easily taken for one.
#[test]
fn no_two_questions_are_read_aloud_in_the_same_words() {
    let handbook = handbook();
    let mut said = std::collections::BTreeMap::new();
    for id in handbook.question_ids() {
        let question = handbook.question(id);
        let words = question.say.as_ref().map(|say| say.spelled()).unwrap_or_default();
        let other = said.insert(words, &question.id);
        assert_eq!(other, None, "`{}` is asked for in the same words", question.id);
    }
}

/// Every question is asked by some tree; what no path asks can't be found.
#[test]
fn every_question_is_asked_somewhere() {
    let handbook = handbook();
    let asked: BTreeSet<_> = handbook.trees().iter().flat_map(|tree| tree.questions()).collect();
    for id in handbook.question_ids() {
        assert!(asked.contains(&id), "no tree asks `{}`", handbook.question(id).id);
    }
}

/// A text that is kept line by line is read on narrow screens.
#[test]
fn literal_lines_are_at_most_60_columns() {
    let (sources, ids) = files();
    for id in ids {
        let mut literal: Option<usize> = None;
        for line in sources.get(id).text().lines() {
            let indent = line.len() - line.trim_start().len();
            if literal.is_some_and(|outer| !line.trim().is_empty() && indent <= outer) {
                literal = None;
            }
            if literal.is_some() {
                assert!(line.trim().chars().count() <= 60, "{line}");
            }
            if line.trim_end().ends_with(": |") {
                literal = Some(indent);
            }
        }
    }
}
