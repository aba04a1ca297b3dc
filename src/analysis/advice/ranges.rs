//! Ranges of values that the conditions of a step leave out between them, or that two of them
//! claim.

use super::points::{Side, shown, side};
use super::{step, trees};
use crate::analysis::cells::{Cell, Cells};
use crate::analysis::reach::Analysis;
use crate::analysis::said::{Said, middle, unit_of};
use crate::analysis::slot::SlotId;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::{RawHandbook, RawNext};
use crate::handbook::{Next, Target};

/// A step whose conditions are looked at.
struct Look<'a, 'h> {
    analysis: &'a Analysis<'h>,
    name: String,
    sides: Vec<(usize, Side)>,
    targets: Vec<Target>,
}

pub(super) fn advise(written: &RawHandbook, analysis: &Analysis<'_>, advice: &mut Vec<Diagnostic>) {
    for (id, raw) in trees(written, analysis.handbook()) {
        let tree = analysis.handbook().tree(id);
        for (place, parts) in analysis.explored.rules[id.index()].iter().enumerate() {
            let Some(raw) = step(raw, place) else { continue };
            let Some(RawNext::ByFormula(branches)) = &raw.next else { continue };
            let Next::ByRules { rules, otherwise, too_close, unknown } = &tree.steps[place].next
            else {
                continue;
            };
            let written = parts.iter().zip(&branches.branches).enumerate();
            let sides = written.filter_map(|(rule, (part, branch))| {
                Some((rule, side(analysis, *part, branch.condition.as_ref()?.span)?))
            });
            let look = Look {
                analysis,
                name: format!("step `{}`", raw.id.value),
                sides: sides.collect(),
                targets: rules.iter().map(|rule| rule.go).collect(),
            };
            advice.extend(look.claimed_twice());
            // What lies between is meant to be there where it has a way of its own.
            if *unknown == Some(*otherwise) || *too_close == Some(*otherwise) {
                advice.extend(look.left_out(rules.len()));
            }
        }
    }
}

impl Look<'_, '_> {
    /// A range in which two conditions hold that lead to different steps. One that holds wherever
    /// the other does is the usual way down from the narrowest to the widest.
    fn claimed_twice(&self) -> Option<Diagnostic> {
        let pairs = self.sides.iter().enumerate().flat_map(|(later, second)| {
            self.sides[..later].iter().map(move |first| (first, second))
        });
        pairs
            .filter(|((_, first), (_, second))| first.slot == second.slot)
            .filter(|((first, _), (second, _))| self.targets[*first] != self.targets[*second])
            .find_map(|((_, first), (_, second))| self.both(first, second))
    }

    fn both(&self, first: &Side, second: &Side) -> Option<Diagnostic> {
        let both = first.yes.within(second.yes);
        if both == first.yes || both == second.yes {
            return None;
        }
        let (range, example) = self.range(first.slot, both)?;
        let title = format!("{range} is claimed by two conditions of {}", self.name);
        let fault = Diagnostic::at(Code::RangeClaimedTwice, title, second.span, "holds there too")
            .and_at(first.span, "holds there, and comes first")
            .note(format!("the first of them takes it, for example {example}"));
        Some(fault.help("let one begin where the other ends"))
    }

    /// A range between two conditions in which none of `all` holds, where each looks at one
    /// quantity alone.
    fn left_out(&self, all: usize) -> Option<Diagnostic> {
        let (_, first) = self.sides.first()?;
        let is_of_one = self.sides.iter().all(|(_, side)| side.slot == first.slot);
        if self.sides.len() < all || !is_of_one {
            return None;
        }
        let claimed = self.sides.iter().map(|(_, side)| side.yes).fold(Cells::NONE, Cells::with);
        let axis = self.analysis.explored.conditions.axis_of(first.slot);
        let (low, high) = (claimed.places().next()?, claimed.places().last()?);
        let between = axis.known().places().filter(|place| (low..high).contains(place));
        let open = between.map(Cells::one).fold(Cells::NONE, Cells::with).without(claimed);
        let (range, example) = self.range(first.slot, open)?;
        let last = open.places().next()?;
        let beside = |place: usize| {
            let mut sides = self.sides.iter().map(|(_, side)| side);
            sides.find(|side| side.yes.has(Cells::one(place)))
        };
        let (below, above) = (beside(last.checked_sub(1)?)?, beside(run_end(open)? + 1)?);
        let title = format!("{range} falls between the conditions of {}", self.name);
        let fault = Diagnostic::at(Code::RangeLeftOut, title, above.span, "holds above it")
            .and_at(below.span, "holds below it");
        Some(fault.note(format!("it goes where doubt goes, by `else`; for example {example}")))
    }

    /// The first range among some cells and a value in it, in the author's unit; none where there
    /// are only points.
    fn range(&self, slot: SlotId, cells: Cells) -> Option<(String, String)> {
        let axis = self.analysis.explored.conditions.axis_of(slot);
        let run = run(cells);
        let Cell { low, high } = axis.hull(run)?;
        let hulls = run.places().filter_map(|place| axis.hull(Cells::one(place)));
        let widest = hulls.max_by(|a, b| (a.high - a.low).total_cmp(&(b.high - b.low)))?;
        if widest.low == widest.high {
            return None;
        }
        let id = self.analysis.explored.conditions.graph.slots.get(slot).question;
        let question = self.analysis.handbook().question(id);
        let example = Said::within(widest, middle(widest, question), &unit_of(question)?)?;
        let [low, high] = [shown(self.analysis, slot, low)?, shown(self.analysis, slot, high)?];
        Some((format!("the range from {low} to {high}"), example.typed(question)))
    }
}

/// The first cells of a set that lie side by side.
fn run(cells: Cells) -> Cells {
    let Some(first) = cells.places().next() else { return Cells::NONE };
    let side_by_side = cells.places().zip(first..).take_while(|(place, at)| place == at);
    side_by_side.map(|(place, _)| Cells::one(place)).fold(Cells::NONE, Cells::with)
}

fn run_end(cells: Cells) -> Option<usize> {
    run(cells).places().last()
}
