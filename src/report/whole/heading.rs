//! What the report is about: the case, the handbook, and how it was closed.

use jiff::Timestamp;

use super::{CaseReport, Fact};
use crate::case::{Closing, Detail, FixedBy, Stands, lacks_names};
use crate::text::spoken;

/// What is lacking in a report without names, and what stands there.
const WITHOUT_NAMES: &str =
    "names, places, notes and other free texts; \"left out\" stands where one was";

/// The case and what judges it.
pub(super) fn about(report: &CaseReport<'_>) -> Vec<Fact> {
    let (about, case) = (report.about, report.case);
    let handbook = case.handbook();
    let mut facts = vec![Fact::row("Case:", &about.id)];
    if lacks_names(case.events()) {
        facts.push(Fact::row("Left out on purpose:", WITHOUT_NAMES));
    }
    let minutes = |at: Option<&Timestamp>| at.map(|at| at.strftime("%F %H:%M UTC").to_string());
    if let Some(begun) = minutes(about.times.first()) {
        facts.push(Fact::row("Begun:", begun));
    }
    if let Some(last) = minutes(about.times.last()) {
        facts.push(Fact::row("Last entry:", last));
    }
    facts.push(Fact::row("State:", standing(report)));
    let note = report.closing.as_ref().and_then(|closing| closing.note.as_ref());
    facts.extend(note.map(|note| Fact::row("Note on closing:", note)));
    let (name, version) = (handbook.name(), handbook.version());
    let program = env!("CARGO_PKG_VERSION");
    let judged = format!("{name} (version {version}), by Dryhold {program}");
    facts.push(Fact::row("Judged by:", judged));
    let tree = case.tree_view(case.tree()).1;
    facts.push(Fact::row("Begun with:", format!("\"{tree}\"")));
    facts.push(Fact::row("Answers:", case.record().given.len().to_string()));
    facts.extend(about.notices.iter().map(|notice| Fact::row("Not all could be read:", notice)));
    facts
}

/// `open; stopped for safety`: how a case stands that nobody has closed.
fn open(stands: Stands) -> String {
    let open = Stands::Open.told();
    match stands {
        Stands::Open => open.to_owned(),
        stands => format!("{open}; {}", stands.told()),
    }
}

/// How it stands, or what the case was closed with.
fn standing(report: &CaseReport<'_>) -> String {
    match &report.closing {
        Some(closing) => state(report, closing),
        None => open(report.case.stands()),
    }
}

/// `closed: fixed by mending this: bad pump oil`
pub(super) fn state(report: &CaseReport<'_>, closing: &Closing) -> String {
    let cause = match &closing.fixed_by {
        FixedBy::Cause(id) => {
            let handbook = report.case.handbook();
            let known = handbook.find_cause(id).map(|cause| handbook.cause(cause).in_short.clone());
            known.unwrap_or_else(|| spoken(id))
        }
        FixedBy::Nothing | FixedBy::Unknown => String::new(),
    };
    format!("closed: {}", closing.told(&cause))
}

/// What was told of the job, as given.
pub(super) fn job(report: &CaseReport<'_>) -> Vec<Fact> {
    let given = Detail::all().into_iter().filter_map(|detail| {
        let text = report.details.get(detail)?;
        Some(Fact::row(format!("{}:", detail.label()), text))
    });
    given.collect()
}
