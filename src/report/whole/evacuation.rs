//! The record of an evacuation, filled from the case: every field that such a record has, also those
//! that nobody told.

use serde::Serialize;

use super::{CaseReport, Fact, found};
use crate::case::{Case, Closes, Detail, Given, Reply};
use crate::evidence::wording::in_words;
use crate::quantity::{QuantityKind, UnitExpression, find_unit, show};
use crate::text::{Line, Role};

/// A field of the record.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub(super) struct Field {
    /// What it is: `Blank-off reading`.
    pub field: &'static str,
    /// What was told; none where nothing was.
    pub value: Option<String>,
}

/// Where a field comes from.
enum From {
    /// A detail of the job.
    Detail(Detail),
    /// A detail of the job, else the latest answer to a question.
    DetailOr(Detail, &'static str),
    /// All answers to questions, in order.
    Answers(&'static [&'static str]),
    /// The day of the job.
    Day,
    /// How often an action was done.
    Times(&'static str),
    /// The first or last pressure of the latest readings, else the latest answer to a question.
    End { is_last: bool, question: &'static str },
    /// The latest readings of a hold one by one, else the answer to a question.
    Readings(&'static str),
    /// How long the latest readings of a hold span, else the answer to a question.
    Span(&'static str),
    /// What leads.
    Verdict,
    /// What written criteria say.
    Results,
}

/// The fields in the order of the record, with the questions and actions of the built-in handbook
/// that fill them; another handbook that has none of these names leaves them blank.
const FIELDS: [(&str, From); 35] = [
    ("Date", From::Day),
    ("Site", From::Detail(Detail::Place)),
    ("Equipment", From::Detail(Detail::Equipment)),
    ("Refrigerant", From::Answers(&["refrigerant"])),
    ("Compressor oil", From::Answers(&["oil_type"])),
    ("Technician", From::Detail(Detail::Technician)),
    ("Licence", From::Detail(Detail::Licence)),
    ("Weather or temperature around", From::DetailOr(Detail::Weather, "ambient_temperature")),
    ("Coldest spot", From::Answers(&["coldest_temperature"])),
    ("Pump", From::Detail(Detail::Pump)),
    ("Pump oil changed", From::Detail(Detail::OilChanged)),
    ("Hours on the pump oil", From::Answers(&["oil_age"])),
    ("Blank-off reading", From::Answers(&["blank_off"])),
    ("Gauge", From::Detail(Detail::Gauge)),
    ("Gauge last checked", From::Detail(Detail::GaugeChecked)),
    ("Rig", From::Detail(Detail::Rig)),
    ("Gauge screwed on at", From::Answers(&["gauge_place"])),
    ("Nitrogen test, pressure at start", From::Answers(&["nitrogen_pressure_start"])),
    ("Nitrogen test, temperature at start", From::Answers(&["nitrogen_temperature_start"])),
    ("Nitrogen test, pressure at end", From::Answers(&["nitrogen_pressure_end"])),
    ("Nitrogen test, temperature at end", From::Answers(&["nitrogen_temperature_end"])),
    ("Nitrogen test, time", From::Answers(&["nitrogen_hours"])),
    ("Pull-down, time", From::Answers(&["time_taken"])),
    ("Pull-down, reading", From::Answers(&["stall_reading"])),
    ("Pull-down, reading stood for", From::Answers(&["stall_minutes"])),
    ("Nitrogen sweeps", From::Times("sweep_nitrogen")),
    ("Hold, start", From::End { is_last: false, question: "hold_first" }),
    ("Hold, readings", From::Readings("hold_middle")),
    ("Hold, end", From::End { is_last: true, question: "hold_last" }),
    ("Hold, minutes", From::Span("hold_minutes")),
    ("Hold, temperature", From::Answers(&["hold_temperature"])),
    ("Criterion", From::Answers(&["criterion_source", "hold_limit", "hold_time"])),
    ("Result against the criterion", From::Results),
    ("Verdict", From::Verdict),
    ("Who was told", From::DetailOr(Detail::Told, "told_to")),
];

/// Every field of the record.
pub(super) fn record(report: &CaseReport<'_>) -> Vec<Field> {
    let fields = FIELDS.iter();
    fields.map(|(field, from)| Field { field, value: value(report, from) }).collect()
}

fn value(report: &CaseReport<'_>, from: &From) -> Option<String> {
    let case = report.case;
    let detail = |detail| report.details.get(detail).map(str::to_owned);
    match from {
        From::Detail(of) => detail(*of),
        From::DetailOr(of, question) => detail(*of).or_else(|| latest(case, question)),
        From::Answers(questions) => {
            let typed: Vec<String> =
                questions.iter().flat_map(|question| all(case, question)).collect();
            (!typed.is_empty()).then(|| typed.join("; "))
        }
        From::Day => detail(Detail::Date).or_else(|| report.about.day.clone()),
        From::Times(action) => {
            let action = case.handbook().find_action(action)?;
            let times = case.record().done.iter().filter(|(done, _)| *done == action).count();
            (times > 0).then(|| times.to_string())
        }
        From::End { is_last, question } => {
            end_of_readings(case, *is_last).or_else(|| latest(case, question))
        }
        From::Readings(question) => one_by_one(case).or_else(|| latest(case, question)),
        From::Span(question) => span_of_readings(case).or_else(|| latest(case, question)),
        From::Verdict => verdict(report),
        From::Results => results(report),
    }
}

/// What written criteria say now.
fn results(report: &CaseReport<'_>) -> Option<String> {
    let found = if report.is_in_danger() { Vec::new() } else { found::found(report.case) };
    let apart = found.iter().filter(|found| found.apart && !found.before_repair);
    let texts: Vec<&str> = apart.map(|found| found.text.as_str()).collect();
    (!texts.is_empty()).then(|| texts.join(" "))
}

/// The latest answer to a question that says something.
fn latest(case: &Case<'_>, question: &str) -> Option<String> {
    all(case, question).pop()
}

/// Every answer to a question, as it was understood.
fn all(case: &Case<'_>, question: &str) -> Vec<String> {
    let Some(id) = case.handbook().find_question(question) else { return Vec::new() };
    let known = case.answers(id).filter(|given| given.reply.is_known());
    known.map(|given| given.typed.clone()).collect()
}

/// The readings of a hold.
struct Held<'c> {
    given: &'c Given,
    /// Seconds since the first.
    times: &'c [f64],
    /// In Pa.
    pressures: &'c [f64],
    unit: UnitExpression,
}

/// The readings that were given last.
fn held<'c>(case: &'c Case<'_>) -> Option<Held<'c>> {
    case.record().given.iter().rev().find_map(|given| match &given.reply {
        Reply::Readings { times, pressures, .. } => {
            let question = case.handbook().question(given.question);
            let micron = || find_unit("micron").map(UnitExpression::from);
            let unit = question.unit.clone().or_else(micron)?;
            Some(Held { given, times, pressures, unit })
        }
        _ => None,
    })
}

/// The first or the last pressure of the hold that was read last.
fn end_of_readings(case: &Case<'_>, is_last: bool) -> Option<String> {
    let Held { pressures, unit, .. } = held(case)?;
    let si = if is_last { pressures.last() } else { pressures.first() }?;
    Some(show(*si, None, &unit, QuantityKind::PRESSURE))
}

/// `30 min`: from the first reading to the last.
fn span_of_readings(case: &Case<'_>) -> Option<String> {
    let Held { times, .. } = held(case)?;
    let minutes = find_unit("min").map(UnitExpression::from)?;
    let span = times.last()? - times.first()?;
    Some(show(span, None, &minutes, QuantityKind::TIME))
}

/// The most readings that are told one by one (limit of ours: some rows of a record).
const MOST_READINGS: usize = 40;

/// `0 min 400 micron, 5 min 430 micron`; of very many only how many there are.
fn one_by_one(case: &Case<'_>) -> Option<String> {
    let Held { given, times, pressures, unit } = held(case)?;
    if times.len() > MOST_READINGS {
        return Some(given.typed.clone());
    }
    let minutes = find_unit("min").map(UnitExpression::from)?;
    let first = times.first()?;
    let told = times.iter().zip(pressures).map(|(time, pressure)| {
        let time = show(time - first, None, &minutes, QuantityKind::TIME);
        format!("{time} {}", show(*pressure, None, &unit, QuantityKind::PRESSURE))
    });
    Some(told.collect::<Vec<_>>().join(", "))
}

/// What leads, or why nothing does.
fn verdict(report: &CaseReport<'_>) -> Option<String> {
    let case = report.case;
    let assessment = case.assessment();
    if report.is_in_danger() {
        return Some("stopped for safety".to_owned());
    }
    if !assessment.has_evidence {
        return None;
    }
    if assessment.contradicts_itself {
        return Some("the answers can't all be true together".to_owned());
    }
    // The odds are of what the proof does not look at; beside its result they would be read as a
    // doubt about it.
    if case.work_closed() == Some(Closes::Proved) {
        return Some("proved, by the criterion above".to_owned());
    }
    let settled = if assessment.settled { "settled" } else { "not settled" };
    let leader = assessment.leader().filter(|_| !assessment.nothing_leads());
    let (name, p) = match leader {
        Some(leader) => (case.cause_view(leader.cause).in_short, leader.probability),
        None => ("nothing wrong".to_owned(), assessment.nothing_wrong),
    };
    Some(format!("{settled}; first comes {name}: {}", in_words(p)))
}

/// The fields with what was told, then the names of those that nobody told.
pub(super) fn told(record: &[Field]) -> Vec<Fact> {
    let mut facts: Vec<Fact> = record
        .iter()
        .filter_map(|field| Some(Fact::row(format!("{}:", field.field), field.value.as_ref()?)))
        .collect();
    let blank: Vec<&str> =
        record.iter().filter(|field| field.value.is_none()).map(|field| field.field).collect();
    if !blank.is_empty() {
        let label = "Not recorded:".to_owned();
        let value = Line::new().push(Role::Plain, format!("{}.", blank.join("; ")));
        facts.push(Fact::Row { label, value });
    }
    facts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::built_in::built_in_handbook;

    #[test]
    fn the_built_in_handbook_has_every_name_that_fills_a_field() {
        let handbook = built_in_handbook().unwrap();
        for (field, from) in &FIELDS {
            let questions: Vec<&str> = match from {
                From::Answers(questions) => questions.to_vec(),
                From::DetailOr(_, question)
                | From::Span(question)
                | From::Readings(question)
                | From::End { question, .. } => vec![*question],
                From::Times(action) => {
                    assert!(handbook.find_action(action).is_some(), "{field}: {action}");
                    continue;
                }
                From::Detail(_) | From::Day | From::Verdict | From::Results => continue,
            };
            for question in questions {
                assert!(handbook.find_question(question).is_some(), "{field}: {question}");
            }
        }
    }
}
