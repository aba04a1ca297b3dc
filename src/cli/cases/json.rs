//! The list for programs, format 1.

use serde_json::{Value as Json, json};

use super::{Dated, Listed};
use crate::book::{Book, Outcome, Row};
use crate::evidence::wording::in_words;

/// The cases in the order of the list. `led` is null where nothing leads; its `cause` is null where
/// nothing wrong leads.
pub(super) fn list(book: &Book, listed: &Listed) -> Json {
    json!({
        "format": 1,
        "book": book.folder().display().to_string(),
        "all": listed.all,
        "cases": listed.cases.iter().map(case).collect::<Vec<_>>(),
    })
}

fn case(Dated { row, day }: &Dated) -> Json {
    let told = &row.told;
    json!({
        "case": row.id,
        "readable": told.handbook.is_some(),
        "open": told.closing.is_none(),
        "day": day.map(|day| day.to_string()),
        "begun": told.begun.map(|at| at.to_string()),
        "last": told.last.map(|at| at.to_string()),
        "answers": told.answers,
        "details": told.details,
        "closed": told.closing,
        "handbook": told.handbook,
        "judged_by": row.judged.by,
        "state": state(row),
        "work": row.judged.work,
        "led": led(row),
        "notices": told.notices,
    })
}

fn state(row: &Row) -> &'static str {
    match &row.judged.outcome {
        Outcome::Stopped { .. } => "stopped",
        Outcome::NoEvidence => "no_evidence",
        Outcome::Contradiction => "contradiction",
        Outcome::Led { .. } => "led",
        Outcome::NotReadAgain(_) => "not_read_again",
        Outcome::NotJudged(_) => "not_judged",
    }
}

fn led(row: &Row) -> Json {
    let outcome = match &row.judged.outcome {
        Outcome::Stopped { so_far: Some(so_far), .. } => so_far,
        outcome => outcome,
    };
    match outcome {
        Outcome::Led { cause, name, probability, mended } => json!({
            "cause": cause,
            "name": name,
            "probability": probability,
            "words": in_words(*probability),
            "mended": mended,
        }),
        _ => Json::Null,
    }
}
