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
use proptest::prelude::*;

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
    let whole = whole(&compiled(&files).handbook.unwrap());
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

/// One slip; none where the place drawn holds no letter, or swapping changes nothing.
fn slip((file, place, at, swaps): (usize, usize, usize, bool)) -> Option<Slip> {
    let Sound { files, words, .. } = &*SOUND;
    let text = &files[file % files.len()];
    let words = &words[file % files.len()];
    let (start, end) = words[place % words.len()];
    let at = start + at % (end - start).max(1);
    let is_letter = |at: usize| text.as_bytes().get(at).is_some_and(u8::is_ascii_lowercase);
    let mut bytes = text.clone().into_bytes();
    if swaps {
        (at + 1 < end && is_letter(at) && is_letter(at + 1)).then(|| bytes.swap(at, at + 1))?;
    } else {
        is_letter(at).then(|| bytes[at] = b'q')?;
    }
    let slipped = String::from_utf8(bytes).unwrap();
    let (was, is) = (word_around(text, at).to_owned(), word_around(&slipped, at).to_owned());
    let mut after = files.clone();
    after[file % files.len()] = slipped;
    (was != is).then_some(Slip { was, is, after })
}

struct Slip {
    was: String,
    is: String,
    after: Vec<String>,
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(400) })]

    #[test]
    fn a_slip_of_one_letter_is_told_or_changes_a_name_alone(
        drawn in (0..4_usize, any::<usize>(), any::<usize>(), any::<bool>()),
    ) {
        let Some(Slip { was, is, after }) = slip(drawn) else { return Ok(()) };
        let Compiled { handbook, faults, .. } = compiled(&after);
        if let (Some(handbook), true) = (handbook, faults.is_empty()) {
            let now = whole(&handbook).replace(&is, &was);
            prop_assert!(now == SOUND.whole, "`{was}` became `{is}`, and nothing says so");
        }
    }
}

/// The slips are drawn from names, keys and formulas, not from prose.
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
