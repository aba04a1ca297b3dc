//! Single values that two conditions leave out between them, or both claim.

use std::collections::BTreeSet;

use super::{step, trees};
use crate::analysis::cells::{AxisKind, Cells};
use crate::analysis::graph::{Part, PartId};
use crate::analysis::reach::Analysis;
use crate::analysis::slot::SlotId;
use crate::analysis::truths::Truths;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::{RawHandbook, RawNext, RawTest};
use crate::formula::{How, Kind};
use crate::quantity::{UnitExpression, show};
use crate::source::Span;

/// What a condition looks at, and nothing else.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Subject {
    /// The answer to a question.
    Asked(SlotId),
    /// Something computed, by the number of its structure.
    Computed(usize),
}

/// A condition of one quantity: where it holds and where it is written.
pub(super) struct Side {
    pub subject: Subject,
    pub yes: Cells,
    pub span: Span,
}

pub(super) fn advise(written: &RawHandbook, analysis: &Analysis<'_>, advice: &mut Vec<Diagnostic>) {
    for (id, raw) in trees(written, analysis.handbook()) {
        for (place, rules) in analysis.explored.rules[id.index()].iter().enumerate() {
            let Some(raw) = step(raw, place) else { continue };
            let Some(RawNext::ByFormula(branches)) = &raw.next else { continue };
            let sides = rules.iter().zip(&branches.branches).filter_map(|(part, branch)| {
                side(analysis, *part, branch.condition.as_ref()?.span)
            });
            let sides: Vec<Side> = sides.collect();
            if sides.len() < rules.len() {
                // Another condition may be meant to take the point.
                continue;
            }
            let what = format!("step `{}`", raw.id.value);
            of_sides(analysis, &what, "it goes to `else`", &sides, advice);
        }
    }
    let of_finding = |raw: &crate::document::raw::RawFinding| {
        let id = analysis.handbook().find_finding(&raw.id.value)?;
        let Some(RawTest::When(text)) = &raw.test else { return None };
        let part = analysis.explored.findings[id.index()];
        let Part::Finding { test, .. } = analysis.explored.conditions.graph.node(part).part else {
            return None;
        };
        side(analysis, test, text.span)
    };
    let sides: Vec<Side> = written.findings.iter().filter_map(of_finding).collect();
    of_sides(analysis, "two findings", "neither finding speaks of it", &sides, advice);
}

/// A condition of one quantity alone.
pub(super) fn side(analysis: &Analysis<'_>, part: PartId, span: Span) -> Option<Side> {
    let conditions = &analysis.explored.conditions;
    let (slot, table) = conditions.table(part, false)?;
    let is_fit = conditions.axis_of(slot).kind == AxisKind::Quantity
        && conditions.graph.slots.get(slot).how == How::Latest;
    let yes = table.cells(Truths::YES).known();
    is_fit.then_some(Side { subject: Subject::Asked(slot), yes, span })
}

fn of_sides(
    analysis: &Analysis<'_>,
    what: &str,
    then: &str,
    sides: &[Side],
    advice: &mut Vec<Diagnostic>,
) {
    // Conditions that hold at the same values meet others at the same points.
    let mut seen = BTreeSet::new();
    let sides: Vec<&Side> =
        sides.iter().filter(|side| seen.insert((side.subject, side.yes))).collect();
    for (later, second) in sides.iter().enumerate() {
        for first in &sides[..later] {
            if first.subject == second.subject {
                advice.extend(meeting(analysis, (what, then), &sides, first, second));
            }
        }
    }
}

/// A point at which one condition ends and the other begins.
fn meeting(
    analysis: &Analysis<'_>,
    (what, then): (&str, &str),
    sides: &[&Side],
    first: &Side,
    second: &Side,
) -> Option<Diagnostic> {
    let Subject::Asked(slot) = first.subject else { return None };
    let conditions = &analysis.explored.conditions;
    let axis = conditions.axis_of(slot);
    let places: Vec<usize> = axis.known().places().collect();
    places.windows(3).find_map(|around| {
        let [below, point, above] = [around[0], around[1], around[2]].map(Cells::one);
        let value = axis.hull(point).filter(|cell| cell.low == cell.high)?.low;
        let only = |cell, one: &Side, other: &Side| one.yes.has(cell) && !other.yes.has(cell);
        let is_turn = only(below, first, second) && only(above, second, first)
            || only(below, second, first) && only(above, first, second);
        if !is_turn {
            return None;
        }
        let exactly = format!("exactly {}", shown(analysis, slot, value)?);
        let is_claimed =
            sides.iter().any(|side| side.subject == first.subject && side.yes.has(point));
        let side = |one: &Side| {
            if only(below, one, first) || only(below, one, second) { "below" } else { "above" }
        };
        if !is_claimed {
            let title = format!("{exactly} falls between the conditions of {what}");
            let fault = Diagnostic::at(
                Code::LeftOut,
                title,
                second.span,
                format!("holds {} it", side(second)),
            )
            .and_at(first.span, format!("holds {} it", side(first)))
            .note(then);
            return Some(fault.help("let one of the two hold there as well, with `<=` or `>=`"));
        }
        let is_both = first.yes.has(point) && second.yes.has(point);
        is_both.then(|| {
            let title = format!("{exactly} is claimed by two conditions of {what}");
            Diagnostic::at(
                Code::ClaimedTwice,
                title,
                second.span,
                format!("holds there and {} it", side(second)),
            )
            .and_at(first.span, format!("holds there and {} it", side(first)))
            .help("let only one of the two hold there, with `<` or `>` in the other")
        })
    })
}

/// A value of a slot in its author's unit.
pub(super) fn shown(analysis: &Analysis<'_>, slot: SlotId, si: f64) -> Option<String> {
    let id = analysis.explored.conditions.graph.slots.get(slot).question;
    let question = analysis.handbook().question(id);
    let Kind::Quantity(kind) = question.kind else { return None };
    let unit: UnitExpression = crate::analysis::said::unit_of(question)?;
    Some(show(si, None, &unit, kind))
}
