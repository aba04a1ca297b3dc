//! A rehearsal for programs: our own JSON.

use serde_json::{Value, json};

use super::told::{Told, Tried};
use crate::handbook::Handbook;
use crate::rehearsal::{Measured, Miss};

/// The version of the format; it rises when a key changes its meaning or goes.
const FORMAT: u32 = 1;

/// Every scenario with its outcome, and the coverage.
pub(super) fn json(told: &Told, handbook: &Handbook) -> Value {
    json!({
        "format": FORMAT,
        "handbook": {
            "name": handbook.name(),
            "version": handbook.version(),
            "hash": handbook.hash(),
        },
        "is_enough": told.is_enough(),
        "scenarios": told.tried.len(),
        "fell_short": told.fell_short(),
        "not_judged": told.not_judged(),
        "outcomes": told.tried.iter().map(one).collect::<Vec<_>>(),
        "coverage": told.measured.iter().map(measured).collect::<Vec<_>>(),
        "built_in_not_measured": told.passed_over,
        "below": told.below,
    })
}

fn one(tried: &Tried) -> Value {
    json!({
        "file": tried.file,
        "scenario": tried.name,
        "tree": tried.tree,
        "outcome": tried.outcome.label(),
        "settled": tried.settled,
        "end": tried.end,
        "misses": tried.misses.iter().map(miss).collect::<Vec<_>>(),
        "remarks": tried.remarks,
    })
}

fn miss(miss: &Miss) -> Value {
    json!({
        "outcome": miss.outcome.label(),
        "about": miss.about.path(),
        "expected": miss.expected,
        "found": miss.found,
        "probability": miss.probability,
        "says": miss.text,
        "because": miss.because,
    })
}

fn measured(measured: &Measured) -> Value {
    json!({
        "measure": measured.measure.label(),
        "covered": measured.covered,
        "of": measured.of,
        "percent": measured.percent(),
        "missing": measured.missing,
    })
}
