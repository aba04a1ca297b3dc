//! A slip of one letter in a sound handbook is told, or it changes nothing but a text or a name
//! that nothing else uses.
//!
//! A slip replaces a letter or swaps two, in a key or in anything but prose and numbers, and keeps
//! every length. A handbook that still compiles must then be the same one, letter for letter, once
//! the slip is taken back in what it was compiled to.

use std::path::Path;
use std::sync::LazyLock;

use dryhold::document::{Node, NodeValue, read_yaml};
use dryhold::handbook::{Compiled, Handbook, compile};
use dryhold::source::Sources;

/// Keys whose values people read; a slip in them is for a spelling checker.
const PROSE: [&str; 18] = [
    "ask", "say", "why", "so", "so_not", "name", "name_not", "title", "because", "do", "end",
    "stop", "text", "refer", "choices", "by", "place", "parts",
];

const FILES: [&str; 4] = ["handbook.yaml", "values.yaml", "causes.yaml", "trees/barrel.yaml"];

fn files() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/miniature/rules");
    FILES.iter().map(|name| std::fs::read_to_string(folder.join(name)).unwrap()).collect()
}

/// The sound handbook: its files, the words of each, and what it compiles to.
struct Sound {
    files: Vec<String>,
    words: Vec<Vec<(usize, usize)>>,
    whole: String,
}

static SOUND: LazyLock<Sound> = LazyLock::new(|| {
    let files = files();
    let words = files.iter().map(|text| words(text)).collect();
    let whole = in_order(&whole(&compiled(&files).handbook.unwrap()));
    Sound { files, words, whole }
});

fn compiled(files: &[String]) -> Compiled {
    let mut sources = Sources::default();
    let ids: Vec<_> =
        FILES.iter().zip(files).map(|(name, text)| sources.add(*name, text)).collect();
    compile(&sources, &ids, &[])
}

/// What a handbook was compiled to, in full, but for the hash of its text.
fn whole(handbook: &Handbook) -> String {
    format!("{handbook:?}").replace(handbook.hash(), "")
}

/// The same with every table in the order of its ids, which another name may have changed.
fn in_order(whole: &str) -> String {
    whole.split_inclusive(['{', '}']).map(entries_in_order).collect()
}

fn entries_in_order(part: &str) -> String {
    match part.strip_suffix('}') {
        Some(entries) if entries.starts_with('"') => {
            let mut entries: Vec<&str> = entries.split(", ").collect();
            entries.sort_unstable();
            entries.join(", ") + "}"
        }
        _ => part.to_owned(),
    }
}

/// The ranges of a file in which a slip is one of the structure.
fn words(text: &str) -> Vec<(usize, usize)> {
    let mut sources = Sources::default();
    let id = sources.add("x.yaml", text);
    let mut words = Vec::new();
    collect(&read_yaml(&sources, id).0.unwrap(), &mut words);
    words
}

fn collect(node: &Node, words: &mut Vec<(usize, usize)>) {
    match &node.value {
        NodeValue::Map(entries) => {
            for entry in entries {
                words.push((entry.key.span.start, entry.key.span.end));
                if !PROSE.contains(&entry.key.text.as_str()) {
                    collect(&entry.value, words);
                }
            }
        }
        NodeValue::List(items) => items.iter().for_each(|item| collect(item, words)),
        NodeValue::Scalar(scalar) => words.push((scalar.span.start, scalar.span.end)),
        NodeValue::Null | NodeValue::Faulty => {}
    }
}

/// The name or word that holds a place of a text.
fn word_around(text: &str, at: usize) -> &str {
    let is_part = |c: char| c.is_ascii_alphanumeric() || c == '_';
    let start = text[..at].rfind(|c| !is_part(c)).map_or(0, |before| before + 1);
    let end = text[at..].find(|c| !is_part(c)).map_or(text.len(), |after| at + after);
    &text[start..end]
}

#[derive(Clone, Copy)]
enum Kind {
    Replaces,
    Swaps,
}

struct Slip {
    was: String,
    is: String,
    after: Vec<String>,
}

/// The slip at a place of a word; none where no letter stands there, or swapping changes nothing.
fn slip(file: usize, (at, end): (usize, usize), kind: Kind) -> Option<Slip> {
    let text = &SOUND.files[file];
    let is_letter = |at: usize| text.as_bytes().get(at).is_some_and(u8::is_ascii_lowercase);
    let mut bytes = text.clone().into_bytes();
    match kind {
        Kind::Replaces => is_letter(at).then(|| bytes[at] = b'q')?,
        Kind::Swaps => {
            (at + 1 < end && is_letter(at) && is_letter(at + 1)).then(|| bytes.swap(at, at + 1))?;
        }
    }
    let slipped = String::from_utf8(bytes).unwrap();
    let (was, is) = (word_around(text, at).to_owned(), word_around(&slipped, at).to_owned());
    let mut after = SOUND.files.clone();
    after[file] = slipped;
    (was != is).then_some(Slip { was, is, after })
}

/// Tries every slip of a kind, and gives their number and those that nothing told.
fn silent_slips(kind: Kind) -> (usize, Vec<String>) {
    let words = SOUND.words.iter().enumerate();
    let places = words
        .flat_map(|(file, words)| words.iter().map(move |&(start, end)| (file, start, end)))
        .flat_map(|(file, start, end)| (start..end).map(move |at| (file, (at, end))));
    let slips: Vec<Slip> = places.filter_map(|(file, place)| slip(file, place, kind)).collect();
    let silent = slips.iter().filter(|slip| is_silent(slip));
    let silent = silent.map(|slip| format!("`{}` became `{}`", slip.was, slip.is)).collect();
    (slips.len(), silent)
}

fn is_silent(Slip { was, is, after }: &Slip) -> bool {
    let Compiled { handbook, faults, .. } = compiled(after);
    handbook.is_some_and(|handbook| {
        faults.is_empty() && in_order(&whole(&handbook).replace(is, was)) != SOUND.whole
    })
}

#[test]
fn a_wrong_letter_is_told_or_changes_a_name_alone() {
    let (tried, silent) = silent_slips(Kind::Replaces);
    assert!(silent.is_empty(), "nothing is said of these: {silent:#?}");
    assert!(tried > 1_500, "{tried} slips");
}

#[test]
fn two_letters_swapped_are_told_or_change_a_name_alone() {
    let (tried, silent) = silent_slips(Kind::Swaps);
    assert!(silent.is_empty(), "nothing is said of these: {silent:#?}");
    assert!(tried > 1_000, "{tried} slips");
}

/// The slips fall on names, keys and formulas, not from prose.
#[test]
fn a_slip_can_fall_on_every_kind_of_word() {
    let files = files();
    let all: Vec<&str> = files
        .iter()
        .flat_map(|text| words(text).into_iter().map(move |(start, end)| &text[start..end]))
        .collect();
    for word in ["questions", "kind", "pressure", "shown_by", "start"] {
        let is_there = all.contains(&word);
        assert_eq!(is_there, files.iter().any(|text| text.contains(word)), "{word}");
    }
    assert!(all.len() > 150, "{}", all.len());
}
