//! No text, however broken, makes the reader of YAML panic, hang or point outside the file.

use dryhold::diagnostic::{Diagnostic, Look, render};
use dryhold::document::raw::{read_handbook, read_scenario};
use dryhold::document::{MAX_DEPTH, MAX_FILE_BYTES, Node, NodeValue, read_yaml};
use dryhold::source::{SourceId, Sources, Span};
use proptest::prelude::*;

fn read(text: &str) -> (Option<Node>, Vec<Diagnostic>) {
    let mut sources = Sources::default();
    let id = sources.add("x.yaml", text);
    read_yaml(&sources, id)
}

#[track_caller]
fn is_refused(text: &str, code: &str) {
    let (_, faults) = read(text);
    let first = faults.first().map(|fault| fault.code.number());
    assert_eq!(first, Some(code), "{faults:?}");
}

#[test]
fn depth_and_size_are_refused() {
    is_refused(&"[".repeat(200_000), "H108");
    is_refused(&"{a: ".repeat(100_000), "H108");
    is_refused(&"- ".repeat(200_000), "H108");
    is_refused(&" ".repeat(MAX_FILE_BYTES + 1), "H108");
    is_refused(&format!("a: {}", "x".repeat(20_001)), "H108");
    is_refused(&"\0".repeat(MAX_FILE_BYTES), "H109");
    is_refused(&format!("a: b{}", ": ".repeat(MAX_FILE_BYTES / 2 - 4)), "H105");
}

#[test]
fn what_is_just_small_enough_is_read() {
    let deep = format!("{}a{}", "[".repeat(MAX_DEPTH), "]".repeat(MAX_DEPTH));
    assert!(read(&deep).1.is_empty());
    assert!(read(&format!("a: {}", "x".repeat(20_000))).1.is_empty());
    let many = "- a\n".repeat(MAX_FILE_BYTES / 4);
    let (root, faults) = read(&many);
    assert!(faults.is_empty());
    assert_eq!(root.unwrap().items().unwrap().len(), MAX_FILE_BYTES / 4);
}

#[test]
fn a_file_full_of_faults_is_reported_in_part() {
    let entries = |line: &str, times: usize| -> String {
        (0..times).map(|i| line.replace("%", &i.to_string())).collect()
    };
    let files = [
        format!("causes:\n{}", entries("  a%: x\n", 20_000)),
        entries("z%: x\n", 30_000),
        format!("causes: {{{}}}\n", entries("a%: b, c%, ", 20_000)),
        format!("actions:\n  a:\n    parts: [{}]\n", "~, ".repeat(100_000)),
        format!("actions:\n  a:\n    parts:\n{}", "      - x #1\n".repeat(20_000)),
        format!("actions:\n{}", "  a:\n    do: x: y\n".repeat(20_000)),
        format!("formulas:\n{}", "  a:\n    is: > 5\n".repeat(20_000)),
        "actions: {}\n".repeat(30_000),
        format!("parts:\n{}{}", "  - a\n".repeat(160_000), "a: b: c\n".repeat(60)),
    ];
    for file in &files {
        let mut sources = Sources::default();
        let id = sources.add("x.yaml", file.as_str());
        let (_, faults) = read_handbook(&sources, &[id], &[]);
        let shown = render(&faults, &sources, Look::default());
        assert!(shown.starts_with("error"), "{}", &file[..40]);
        // A thousand of the file, and three lines missing in its header.
        assert!(faults.len() <= 1003, "{}", faults.len());
        let is_cut = faults.iter().flat_map(|fault| &fault.note).any(|n| n.contains("not kept"));
        assert_eq!(is_cut, faults.len() == 1003, "{}", &file[..40]);
    }
}

/// Every place in a tree.
fn places(node: &Node, places: &mut Vec<Span>) {
    places.push(node.span);
    match &node.value {
        NodeValue::Scalar(scalar) => {
            let ends = scalar.text.char_indices().map(|(at, c)| (at, at + c.len_utf8()));
            places.extend(ends.map(|(start, end)| scalar.span_of(start..end)));
            places.push(scalar.span_of(0..scalar.text.len()));
            places.push(scalar.span_of(scalar.text.len()..scalar.text.len()));
        }
        NodeValue::List(items) => items.iter().for_each(|item| self::places(item, places)),
        NodeValue::Map(entries) => {
            for entry in entries {
                places.push(entry.key.span);
                self::places(&entry.value, places);
            }
        }
        NodeValue::Null | NodeValue::Faulty => {}
    }
}

fn is_inside(sources: &Sources, id: SourceId, span: Span) -> bool {
    span.source == id
        && span.start <= span.end
        && sources.get(id).text().get(span.start..span.end).is_some()
}

fn check_any_text(text: &str) {
    let mut sources = Sources::default();
    let id = sources.add("x.yaml", text);
    let (root, faults) = read_yaml(&sources, id);
    let mut all: Vec<Span> = faults.iter().flat_map(|f| &f.labels).map(|l| l.span).collect();
    if let Some(root) = &root {
        places(root, &mut all);
    }
    for span in all {
        assert!(is_inside(&sources, id, span), "{span:?} in {text:?}");
    }
    let (_, faults) = read_handbook(&sources, &[id], &[]);
    let _ = render(&faults, &sources, Look::default());
    let _ = read_scenario(&sources, id);
}

/// Pieces that YAML gives a meaning to, and some that have several bytes.
const PIECES: &[&str] = &[
    "a",
    "b c",
    "é",
    "µ",
    ": ",
    ":",
    "- ",
    "-",
    "\n",
    "\n  ",
    "\n    ",
    " ",
    "  ",
    "#",
    " #x",
    "[",
    "]",
    "{",
    "}",
    ", ",
    "\"",
    "'",
    "''",
    "\\",
    "\\n",
    "\\u00b5",
    "|",
    ">",
    ">-",
    "> 5",
    ">= 5",
    ">5",
    "&a",
    "*a",
    "!t",
    "<<: ",
    "? ",
    "~",
    "%",
    "@",
    "`",
    "---\n",
    "...\n",
    "\t",
    "\r\n",
    "\r",
    "\u{feff}",
    "\u{200b}",
    "\u{85}",
    "\u{2028}",
    "questions:\n  q:\n    ask: ",
    "trees:\n  t:\n",
    "    steps:\n      s:\n        ",
    "next: ",
    "0,5",
    "when: ",
];

proptest! {
    #![proptest_config(ProptestConfig { cases: 1000, failure_persistence: None, ..<_>::default() })]

    #[test]
    fn pieces_of_yaml_never_panic(parts in prop::collection::vec(0..PIECES.len(), 0..40)) {
        let text: String = parts.into_iter().map(|part| PIECES[part]).collect();
        check_any_text(&text);
    }

    #[test]
    fn any_text_never_panics(text in "\\PC{0,200}|[ -~\n\t]{0,300}") {
        check_any_text(&text);
    }

    #[test]
    fn a_plain_word_is_found_wherever_it_stands(
        words in prop::collection::vec("[a-zµ]{1,8}", 1..8),
        style in 0..5,
        gap in prop::sample::select(vec![" ", "\n    ", "\n\n    "]),
    ) {
        let body = words.join(gap);
        let file = match style {
            0 => format!("key: {body}\n"),
            1 => format!("key: '{body}'\n"),
            2 => format!("key: \"{body}\"\n"),
            3 => format!("key: |\n    {body}\n"),
            _ => format!("key: >\n    {body}\n"),
        };
        let mut sources = Sources::default();
        let id = sources.add("x.yaml", file.as_str());
        let (root, faults) = read_yaml(&sources, id);
        prop_assert!(faults.is_empty(), "{:?}", faults);
        let root = root.unwrap();
        let scalar = root.entries().unwrap()[0].value.scalar();
        // `null` and `~` are nothing.
        let Some(scalar) = scalar else { return Ok(()) };
        let mut from = 0;
        for word in &words {
            let at = from + scalar.text[from..].find(word.as_str()).unwrap();
            let span = scalar.span_of(at..at + word.len());
            prop_assert_eq!(sources.slice(span), word.as_str(), "{:?}", file);
            from = at + word.len();
        }
    }
}
