//! Every row from outside, through the same path as `dryhold eval`.

use std::collections::{BTreeMap, BTreeSet};

use dryhold::formula::{NoNames, Summary, Value, check, evaluate, parse};
use dryhold::source::Sources;

use super::LIBRARIES;
use super::rows::{Mark, Row, rows};

/// How far a row is off: relative, or absolute where 0 is expected.
pub fn error_of(row: &Row) -> Result<f64, String> {
    let name = format!("{} {}", row.topic, row.case);
    let found = if row.is_library() { library(row) } else { formula(row) };
    let found = found.map_err(|why| format!("{name}: {why}"))?;
    let error = match (found, row.expected.parse::<f64>()) {
        (Found::Number(number), Ok(0.0)) => number.abs(),
        (Found::Number(number), Ok(wanted)) => (number / wanted - 1.0).abs(),
        (Found::Word(word), _) if word == row.expected => 0.0,
        (found, _) => return Err(format!("{name}: {found:?}, not {}", row.expected)),
    };
    match error <= row.tolerance {
        true => Ok(error),
        false => Err(format!("{name}: off by {error:.2e}, more than {:.0e}", row.tolerance)),
    }
}

#[derive(Debug)]
enum Found {
    Number(f64),
    Word(String),
}

fn library(row: &Row) -> Result<Found, String> {
    let found = LIBRARIES
        .iter()
        .copied()
        .flatten()
        .find(|(topic, case, _)| *topic == row.topic && *case == row.case);
    found
        .map(|(_, _, law)| Found::Number(law()))
        .ok_or_else(|| "no function computes it".to_owned())
}

fn formula(row: &Row) -> Result<Found, String> {
    let mut sources = Sources::default();
    let id = sources.add("<row>", row.formula.as_str());
    let checked = parse(&row.formula, &|range| sources.span(id, range.start, range.end))
        .and_then(|syntax| check(&syntax, &NoNames, "row"))
        .map_err(|faults| faults.iter().map(|f| f.title.as_str()).collect::<Vec<_>>().join("; "))?;
    match evaluate(&checked, &NoNames) {
        Value::Quantity(draws) => {
            let middle = Summary::of(&draws).middle;
            if middle.is_infinite() {
                return Ok(Found::Word("never".to_owned()));
            }
            let symbol = checked.unit().map_or("", |unit| unit.symbol.as_str());
            if symbol.trim_start_matches('1') != row.unit.trim_start_matches('1') {
                return Err(format!("it is shown in `{symbol}`, and the row is in `{}`", row.unit));
            }
            Ok(Found::Number(checked.unit().map_or(middle, |unit| unit.from_si(middle))))
        }
        Value::Unknown(why) => Err(why.to_string()),
        other => Ok(Found::Word(checked.show(&other, &NoNames))),
    }
}

/// What the rows of a topic or of a function came to.
#[derive(Clone, Copy, Debug, Default)]
pub struct Tally {
    /// How many rows.
    pub rows: usize,
    /// How many of them were remembered only.
    pub remembered: usize,
    /// The worst error of the others.
    pub worst: f64,
}

impl Tally {
    /// Counts a row. What is only remembered says nothing of how good the arithmetic is.
    pub fn count(&mut self, row: &Row, error: f64) {
        self.rows += 1;
        match row.mark {
            Mark::Memory => self.remembered += 1,
            _ => self.worst = self.worst.max(error),
        }
    }
}

#[test]
fn every_row_is_met() {
    let mut wrong = Vec::new();
    let mut topics: BTreeMap<String, Tally> = BTreeMap::new();
    for row in rows() {
        match error_of(&row) {
            Ok(error) => topics.entry(row.topic.clone()).or_default().count(&row, error),
            Err(fault) => wrong.push(fault),
        }
    }
    for (topic, tally) in &topics {
        println!("{topic}: {} rows, worst relative error {:.1e}", tally.rows, tally.worst);
    }
    assert!(wrong.is_empty(), "{} rows are off:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn rows_and_library_fit_together() {
    let rows = rows();
    let mut seen = BTreeSet::new();
    for row in &rows {
        assert!(seen.insert((&*row.topic, &*row.case)), "{} {} twice", row.topic, row.case);
        assert!(!row.source.is_empty(), "{} {} names no source", row.topic, row.case);
        assert!(row.tolerance.is_finite() && row.tolerance >= 0.0, "{} {}", row.topic, row.case);
    }
    for (topic, case, _) in LIBRARIES.iter().copied().flatten() {
        let row = rows.iter().find(|row| row.topic == *topic && row.case == *case);
        assert!(row.is_some_and(Row::is_library), "{topic} {case} has no row marked `library`");
    }
}
