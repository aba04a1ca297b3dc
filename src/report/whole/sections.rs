//! The order of a report: what it comes to first, then what that rests on, then the record.

use super::{CaseReport, Fact, Section};
use super::{answered, cautions, computed, done, evacuation, found, heading};
use crate::text::{Line, Role};

/// The heading of the verdict's last part, with which the report ends too.
const LAST: &str = "Before you act";

/// What stands in the report, under its headings; headings without a fact are left out.
pub(super) fn sections(report: &CaseReport<'_>) -> Vec<Section> {
    let (case, about) = (report.case, report.about);
    let mut verdict = by_heading(&report.verdict);
    let last = verdict.iter().position(|section| section.heading == LAST);
    let last = last.map(|place| verdict.remove(place));
    let mut sections = vec![
        section("About this case", heading::about(report)),
        section("The job", heading::job(report)),
    ];
    sections.extend(verdict);
    let answers = answered::answered(case, about);
    // Beside a danger nothing is said that could be read as a reason to go on.
    let found = if report.is_in_danger() { Vec::new() } else { found::found(case) };
    let computed = if report.is_in_danger() { Vec::new() } else { computed::computed(case) };
    sections.extend([
        section("Criterion and result", found::criteria(&found)),
        section("What was found", found::told(&found)),
        section("What was asked and answered", answered::told(&answers)),
        section("What was computed", computed::told(&computed)),
        section("What was done", done::told(&done::done(case, about))),
        section("Cautions that applied", cautions_told(report)),
        section("Notes", done::notes_told(&done::notes(case, about))),
        section("Photos and files", done::files_told(&done::files(case, about))),
        section("Evacuation record", evacuation::told(&evacuation::record(report))),
    ]);
    sections.extend(last);
    sections.retain(|section| !section.facts.is_empty());
    for fact in sections.iter_mut().flat_map(|section| &mut section.facts) {
        let (Fact::Text(line) | Fact::Item(line) | Fact::Row { value: line, .. }) = fact;
        mark_warning(line);
    }
    sections
}

/// The dangers that were told and taken back, then the cautions.
fn cautions_told(report: &CaseReport<'_>) -> Vec<Fact> {
    let dangers = cautions::taken_back(report.case);
    let applied = cautions::told(&cautions::applied(report.case), &report.verdict);
    cautions::taken_back_told(&dangers).chain(applied).collect()
}

/// The word before a warning, so that its meaning rests on no weight of letters.
const WARNING: &str = "CAUTION: ";

/// Beginnings that already say it.
const SAYS_SO: [&str; 4] = ["caution", "danger", "stop", "warning"];

fn mark_warning(line: &mut Line) {
    let first = line.to_text().to_lowercase();
    let first = first.split(|c: char| !c.is_alphabetic()).next().unwrap_or_default();
    let warns = line.pieces.iter_mut().find(|piece| piece.role == Role::Warning);
    if let Some(piece) = warns.filter(|_| !SAYS_SO.contains(&first)) {
        piece.text.insert_str(0, WARNING);
    }
}

fn section(heading: &str, facts: Vec<Fact>) -> Section {
    Section { heading: heading.to_owned(), facts }
}

/// The lines of a verdict under its own headings; what stands before the first is a stop.
fn by_heading(lines: &[Line]) -> Vec<Section> {
    let mut sections: Vec<Section> = Vec::new();
    for line in lines {
        match &line.pieces[..] {
            [piece] if piece.role == Role::Strong => {
                sections.push(section(&piece.text, Vec::new()));
            }
            _ => {
                if sections.is_empty() {
                    sections.push(section("Stopped for safety", Vec::new()));
                }
                if let Some(open) = sections.last_mut() {
                    open.facts.push(fact(line.clone()));
                }
            }
        }
    }
    sections
}

/// A line of the verdict as an item of a list, if it is one.
fn fact(mut line: Line) -> Fact {
    let Some(first) = line.pieces.first_mut() else { return Fact::Text(line) };
    match first.text.strip_prefix("- ").map(str::to_owned) {
        Some(rest) => {
            first.text = rest;
            Fact::Item(line)
        }
        None => Fact::Text(line),
    }
}
