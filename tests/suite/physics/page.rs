//! The page of the laws: the parts between its markers are written from the table of functions and
//! from the rows, and its examples are run.
//!
//! With `DRYHOLD_BLESS=1` in the environment those parts are written anew.

use std::collections::BTreeMap;
use std::path::Path;

use dryhold::formula::{FAMILIES, Function};

use super::rows::{Mark, Row, rows};
use super::table::{Tally, error_of};

/// Families that are the language's own; its page tells of them.
const OWN: [&str; 3] = ["Several values", "One number", "Earlier answers"];

/// How wide the page's rows are.
const WIDTH: usize = 110;

#[test]
fn the_page_says_what_is_so() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/physics.md");
    let written = std::fs::read_to_string(&path).unwrap();
    let rows = rows();
    let mut present = written.clone();
    for (name, text) in
        [("topics", topics(&rows)), ("functions", families(&rows)), ("sources", sources(&rows))]
    {
        present = between(&present, name, &text);
    }
    if std::env::var_os("DRYHOLD_BLESS").is_some() {
        std::fs::write(&path, &present).unwrap();
        return;
    }
    let differs = written.lines().zip(present.lines()).find(|(old, new)| old != new);
    assert!(
        written == present,
        "docs/physics.md is stale (DRYHOLD_BLESS=1 writes it anew); first at {differs:#?}"
    );
}

/// The page with the text between two markers replaced.
fn between(page: &str, name: &str, text: &str) -> String {
    let (begin, end) = (format!("<!-- {name} -->\n"), format!("<!-- /{name} -->"));
    let (before, rest) = page.split_once(&begin).unwrap();
    let (_, after) = rest.split_once(&end).unwrap();
    format!("{before}{begin}{text}{end}{after}")
}

fn tally<'r>(rows: impl Iterator<Item = &'r Row>) -> Tally {
    let mut tally = Tally::default();
    for row in rows {
        tally.count(row, error_of(row).unwrap_or(f64::INFINITY));
    }
    tally
}

fn topics(rows: &[Row]) -> String {
    let mut topics: BTreeMap<&str, Vec<&Row>> = BTreeMap::new();
    for row in rows {
        topics.entry(&row.topic).or_default().push(row);
    }
    let mut text = "| topic | rows | worst error |\n| --- | --- | --- |\n".to_owned();
    for (topic, rows) in topics {
        let tally = tally(rows.into_iter());
        text += &format!("| {topic} | {} | {} |\n", tally.rows, error(&tally));
    }
    text
}

fn error(tally: &Tally) -> String {
    match tally.worst {
        _ if tally.rows == tally.remembered => "order of magnitude only".to_owned(),
        0.0 => "0".to_owned(),
        worst if worst >= 1e-4 => format!("{:.2} %", 100.0 * worst),
        worst => format!("{worst:.0e}"),
    }
}

fn families(rows: &[Row]) -> String {
    let mut text = String::new();
    for family in FAMILIES.iter().filter(|family| !OWN.contains(&family.title)) {
        text += &format!("## {}\n\n", family.title);
        family.functions.iter().for_each(|law| text += &section(law, rows));
    }
    text
}

fn section(law: &Function, rows: &[Row]) -> String {
    let gives = format!("Gives {}: {}.", law.says, law.gives_in_words());
    let mut text =
        format!("### `{}`\n\n    {}\n\n{}\n\n", law.name, law.signature(), wrapped("", &gives));
    let mut item = |name: &str, what: &str| {
        text += &wrapped("- ", &format!("{name}: {what}."));
        text.push('\n');
    };
    item("Formula", &escaped(law.formula));
    if !law.holds.is_empty() {
        item("Holds", &escaped(law.holds));
    }
    item("Source", &escaped(law.source));
    for example in law.examples {
        item("Example", &format!("`{}` gives {}", example.text, example.gives));
    }
    let call = format!("{}(", law.name);
    let tally = tally(rows.iter().filter(|row| row.formula.contains(&call)));
    let checked = match tally.rows {
        0 => "no row calls it; its examples are run as tests".to_owned(),
        1 => format!("1 row, error {}", error(&tally)),
        many => format!("{many} rows, worst error {}", error(&tally)),
    };
    item("Checked", &checked);
    text + "\n"
}

fn wrapped(first: &str, text: &str) -> String {
    let options = textwrap::Options::new(WIDTH).initial_indent(first);
    let options = options.word_splitter(textwrap::WordSplitter::NoHyphenation);
    textwrap::fill(text, options.subsequent_indent(&" ".repeat(first.len())))
}

/// Signs that Markdown would take for its own.
fn escaped(text: &str) -> String {
    text.replace('*', "\\*").replace('_', "\\_")
}

/// Where the rows come from, each source once, without what it says of a single row.
fn sources(rows: &[Row]) -> String {
    let mut sources: BTreeMap<(String, &str), usize> = BTreeMap::new();
    for row in rows {
        let source = row.source.split([':', ';', '(']).next().unwrap().trim().to_owned();
        let mark = match row.mark {
            Mark::Published => "published",
            Mark::Computed => "computed",
            Mark::Memory => "memory",
        };
        *sources.entry((source, mark)).or_default() += 1;
    }
    let mut text = "| source | mark | rows |\n| --- | --- | --- |\n".to_owned();
    for ((source, mark), count) in sources {
        text += &format!("| {} | {mark} | {count} |\n", escaped(&source));
    }
    text
}
