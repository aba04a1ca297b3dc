//! What a passed proof rests on, for a message: what was read, the limit, and where the gauge sat.

use super::CaseReport;
use super::evacuation::{Field, record};
use super::sentences::sentences;
use crate::report::headline::{mended, what_was_done};
use crate::text::Line;

/// What was proved, what it rests on, what is not proved, and who was told. The end's first sentence
/// says what was proved; its others say how far that goes.
pub(super) fn told(report: &CaseReport<'_>) -> Vec<Line> {
    let record = record(report);
    let done = what_was_done(report.case, false);
    let mut said: Vec<String> = done.iter().flat_map(|line| sentences(&line.to_text())).collect();
    let rest = said.split_off(said.len().min(1));
    said.extend(basis(&record));
    said.extend(rest);
    said.extend(mended(report.case).map(|line| line.to_text()));
    said.extend(value(&record, "Who was told").map(|who| stated("Told", who)));
    said.iter().map(Line::plain).collect()
}

/// The fields of the record that the proof rests on, one sentence each.
fn basis(record: &[Field]) -> Vec<String> {
    let of = |field| value(record, field);
    let mut said = Vec::new();
    if let (Some(first), Some(last)) = (of("Hold, start"), of("Hold, end")) {
        let span = of("Hold, minutes").map(|span| format!(" after {span}")).unwrap_or_default();
        said.push(format!("Read in the hold: {first} at the start, {last}{span}."));
    }
    if let (Some(start), Some(end)) =
        (of("Nitrogen test, pressure at start"), of("Nitrogen test, pressure at end"))
    {
        let span = of("Nitrogen test, time").map(|span| format!(" after {span}"));
        let span = span.unwrap_or_default();
        said.push(format!("Nitrogen: {start} at the start, {end}{span}."));
    }
    for (field, label) in
        [("Criterion", "Limit"), ("Refrigerant", "Refrigerant"), ("Gauge screwed on at", "Gauge")]
    {
        said.extend(of(field).map(|value| stated(label, value)));
    }
    said
}

fn stated(label: &str, value: &str) -> String {
    let value = value.trim();
    let stop = if value.ends_with(['.', '?', '!']) { "" } else { "." };
    format!("{label}: {value}{stop}")
}

fn value<'r>(record: &'r [Field], name: &str) -> Option<&'r str> {
    record.iter().find(|field| field.field == name)?.value.as_deref()
}
