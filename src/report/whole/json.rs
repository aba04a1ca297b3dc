//! The report for programs.

use serde_json::{Value as Json, json};

use super::{CaseReport, answered, cautions, computed, done, evacuation, found};
use crate::report::verdict_json;

/// The format of the object; `docs/schema/report.json` describes it.
const FORMAT: u32 = 1;

/// The same facts as the text, with full precision, and the whole verdict.
pub(super) fn json(report: &CaseReport<'_>) -> Json {
    let (case, about) = (report.case, report.about);
    let handbook = case.handbook();
    let is_in_danger = report.is_in_danger();
    let found = if is_in_danger { Vec::new() } else { found::found(case) };
    let computed = if is_in_danger { Vec::new() } else { computed::computed(case) };
    json!({
        "format": FORMAT,
        "program": env!("CARGO_PKG_VERSION"),
        "case": about.id,
        "begun": about.times.first().map(ToString::to_string),
        "last": about.times.last().map(ToString::to_string),
        "notices": about.notices,
        "handbook": {
            "name": handbook.name(),
            "version": handbook.version(),
            "hash": handbook.hash(),
        },
        "details": report.details,
        "closed": report.closing,
        "answers": answered::answered(case, about),
        "computed": computed,
        "found": found,
        "done": done::done(case, about),
        "cautions": cautions::applied(case),
        "dangers_taken_back": cautions::taken_back(case),
        "notes": done::notes(case, about),
        "files": done::files(case, about),
        "record": evacuation::record(report),
        "verdict": verdict_json(case, &report.ending),
        "call_in": handbook.call_in(),
    })
}
