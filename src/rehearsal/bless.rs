//! Taking what was found for what is expected, in the text of a scenario.

use std::collections::BTreeMap;
use std::ops::Range;

use super::outcome::{About, Miss};
use crate::document::raw::{RawExpectation, RawScenario};
use crate::document::{Scalar, Style};
use crate::evidence::wording::Band;

/// A value that was rewritten.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// The way to it below `expect`.
    pub path: String,
    /// Its line, from 1.
    pub line: usize,
    /// What stood there.
    pub old: String,
    /// What stands there now.
    pub new: String,
}

/// A scenario with its expectations rewritten.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Blessed {
    /// The whole text; apart from the values changed it is as it was, byte for byte.
    pub text: String,
    /// What was changed, in the order of the text.
    pub changes: Vec<Change>,
    /// What could not be, and why.
    pub left: Vec<String>,
}

/// Rewrites the values of `expect` that were not met with what was found. Nothing is added: what
/// the scenario does not speak of is left.
#[must_use]
pub fn bless(text: &str, raw: &RawScenario, misses: &[Miss]) -> Blessed {
    let mut left = Vec::new();
    let mut wanted: BTreeMap<usize, (Range<usize>, &Miss)> = BTreeMap::new();
    for miss in misses {
        let place = raw.expect.as_ref().ok_or("nothing is expected").and_then(|expect| {
            let span = place_of(expect, &miss.about)?;
            let slice = text.get(span.clone()).ok_or("its place is not known")?;
            let is_plain = !slice.contains('#');
            if is_plain { Ok(span) } else { Err("a comment stands within it") }
        });
        match place {
            Ok(span) => drop(wanted.insert(span.start, (span, miss))),
            Err(why) => left.push(format!("{}: {why}: {}", miss.about.path(), miss.text)),
        }
    }
    let mut blessed = String::with_capacity(text.len());
    let (mut changes, mut from) = (Vec::new(), 0);
    for (span, miss) in wanted.into_values() {
        blessed.push_str(&text[from..span.start]);
        let new = in_its_form(&text[span.clone()], miss);
        blessed.push_str(&new);
        from = span.end;
        let line = text[..span.start].matches('\n').count() + 1;
        changes.push(Change { path: miss.about.path(), line, old: text[span].to_owned(), new });
    }
    blessed.push_str(&text[from..]);
    Blessed { text: blessed, changes, left }
}

/// What was found, in the form of the expectation: a likelihood stays `at least` or `at most`
/// where that still says something.
fn in_its_form(old: &str, miss: &Miss) -> String {
    if !matches!(miss.about, About::Ranking(_)) {
        return miss.found.clone();
    }
    let old = old.trim_matches(['"', '\'']).to_lowercase();
    let words: Vec<&str> = old.split_whitespace().take(2).collect();
    let band = match words.as_slice() {
        ["at", bound @ ("least" | "most")] => format!("at {bound} {}", miss.found),
        _ => return miss.found.clone(),
    };
    let says_something = |band: Band| !(band.holds(0.0) && band.holds(1.0));
    let keeps = band.parse().is_ok_and(says_something);
    if keeps { band } else { miss.found.clone() }
}

/// Where the value of an expectation is written, or why it can't be rewritten.
fn place_of(expect: &RawExpectation, about: &About) -> Result<Range<usize>, &'static str> {
    let absent = "the scenario does not speak of it";
    match about {
        About::Answers => Err("answers are not rewritten"),
        About::Leader => Err("which cause leads follows from `ranking`"),
        About::Settled => {
            let span = expect.settled.as_ref().map(|value| value.span).ok_or(absent)?;
            Ok(span.start..span.end)
        }
        About::End => expect.end.as_ref().ok_or(absent).and_then(on_one_line),
        About::Stopped => expect.stopped.as_ref().ok_or(absent).and_then(on_one_line),
        About::Next => expect.next_span.map(|span| span.start..span.end).ok_or(absent),
        About::Ranking(name) => {
            let mut ranking = expect.ranking.iter();
            let entry = ranking.find(|(cause, _)| cause.value == *name).ok_or(absent)?;
            on_one_line(&entry.1)
        }
        About::Finding(name) => {
            let mut findings = expect.findings.iter();
            let entry = findings.find(|(finding, _)| finding.value == *name).ok_or(absent)?;
            on_one_line(&entry.1)
        }
    }
}

fn on_one_line(value: &Scalar) -> Result<Range<usize>, &'static str> {
    // What is written behind a quoted text may count to its place; its letters don't reach there.
    let letters = value.span_of(0..value.text.len());
    match value.style {
        Style::Plain => Ok(letters.start..letters.end),
        Style::Single | Style::Double => Ok(letters.start.saturating_sub(1)..letters.end + 1),
        Style::Literal | Style::Folded => Err("it is written as a block"),
    }
}
