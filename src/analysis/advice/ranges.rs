//! Ranges of values that the conditions of a step leave out between them, or that two of them
//! claim.

use super::derived::{self, Alike, Line, Listed};
use super::points::{Side, Subject, shown, side};
use super::{step, trees};
use crate::analysis::cells::{Axis, Cell, Cells};
use crate::analysis::graph::PartId;
use crate::analysis::reach::Analysis;
use crate::analysis::said::{Said, between, middle, unit_of};
use crate::analysis::slot::SlotId;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::Scalar;
use crate::document::raw::{RawBranches, RawHandbook, RawNext};
use crate::handbook::{Next, Rule, Target};
use crate::quantity::show;

/// Conditions of a list by their place.
type Sided = Vec<(usize, Side)>;

/// A step whose conditions are looked at.
struct Look<'a, 'h> {
    analysis: &'a Analysis<'h>,
    name: String,
    sides: Sided,
    /// The values of what is computed, if that is what the conditions look at.
    line: Option<Line>,
    targets: Vec<Target>,
}

pub(super) fn advise(written: &RawHandbook, analysis: &Analysis<'_>, advice: &mut Vec<Diagnostic>) {
    let alike = Alike::of(&analysis.explored.conditions.graph);
    for (id, raw) in trees(written, analysis.handbook()) {
        let tree = analysis.handbook().tree(id);
        for (place, parts) in analysis.explored.rules[id.index()].iter().enumerate() {
            let Some(raw) = step(raw, place) else { continue };
            let Some(RawNext::ByFormula(branches)) = &raw.next else { continue };
            let Next::ByRules { rules, otherwise, too_close, unknown } = &tree.steps[place].next
            else {
                continue;
            };
            // What lies between is meant to be there where it has a way of its own.
            let is_doubt = *unknown == Some(*otherwise) || *too_close == Some(*otherwise);
            let listed = listed(parts, rules, branches);
            for (line, sides) in sides(analysis, &alike, &listed) {
                let look = Look {
                    analysis,
                    name: format!("step `{}`", raw.id.value),
                    sides,
                    line,
                    targets: rules.iter().map(|rule| rule.go).collect(),
                };
                advice.extend(look.claimed_twice());
                if is_doubt {
                    advice.extend(look.left_out(rules.len()));
                }
            }
        }
    }
}

/// The conditions of a step as far as they are written, each by its place.
fn listed<'a>(parts: &[PartId], rules: &'a [Rule], branches: &RawBranches) -> Vec<Listed<'a>> {
    let written = branches.branches.iter().map_while(|branch| branch.condition.as_ref());
    let listed = parts.iter().zip(rules).zip(written);
    let one = |((part, rule), text): ((&PartId, &'a Rule), &Scalar)| Listed {
        part: *part,
        condition: &rule.condition,
        span: text.span,
    };
    listed.map(one).collect()
}

/// Those conditions that look at one answer each, and those that look at one computed value.
fn sides(
    analysis: &Analysis<'_>,
    alike: &Alike,
    listed: &[Listed<'_>],
) -> [(Option<Line>, Sided); 2] {
    let mut asked = Vec::new();
    let mut others = Vec::new();
    for (rule, one) in listed.iter().enumerate() {
        match side(analysis, one.part, one.span) {
            Some(side) => asked.push((rule, side)),
            None => others.push((rule, one)),
        }
    }
    let computed = derived::sides(analysis, alike, &others);
    let computed = computed.map(|(line, sides)| (Some(line), sides)).unwrap_or_default();
    [(None, asked), computed]
}

impl Look<'_, '_> {
    /// A range in which two conditions hold that lead to different steps. One that holds wherever
    /// the other does is the usual way down from the narrowest to the widest.
    fn claimed_twice(&self) -> Option<Diagnostic> {
        let pairs = self.sides.iter().enumerate().flat_map(|(later, second)| {
            self.sides[..later].iter().map(move |first| (first, second))
        });
        pairs
            .filter(|((_, first), (_, second))| first.subject == second.subject)
            .filter(|((first, _), (second, _))| self.targets[*first] != self.targets[*second])
            .find_map(|((_, first), (_, second))| self.both(first, second))
    }

    fn both(&self, first: &Side, second: &Side) -> Option<Diagnostic> {
        let both = first.yes.within(second.yes);
        if both == first.yes || both == second.yes {
            return None;
        }
        let (range, example) = self.range(first.subject, both)?;
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
        let is_of_one = self.sides.iter().all(|(_, side)| side.subject == first.subject);
        if self.sides.len() < all || !is_of_one {
            return None;
        }
        let claimed = self.sides.iter().map(|(_, side)| side.yes).fold(Cells::NONE, Cells::with);
        let axis = self.axis(first.subject)?;
        let (low, high) = (claimed.places().next()?, claimed.places().last()?);
        let between = axis.known().places().filter(|place| (low..high).contains(place));
        let open = between.map(Cells::one).fold(Cells::NONE, Cells::with).without(claimed);
        let (range, example) = self.range(first.subject, open)?;
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

    fn axis(&self, subject: Subject) -> Option<&Axis> {
        match subject {
            Subject::Asked(slot) => Some(self.analysis.explored.conditions.axis_of(slot)),
            Subject::Computed(_) => self.line.as_ref().map(|line| &line.axis),
        }
    }

    /// The first range among some cells and a value in it, in the author's unit; none where there
    /// are only points.
    fn range(&self, subject: Subject, cells: Cells) -> Option<(String, String)> {
        let axis = self.axis(subject)?;
        let run = run(cells);
        let hull = axis.hull(run)?;
        let hulls = run.places().filter_map(|place| axis.hull(Cells::one(place)));
        let widest = hulls.max_by(|a, b| (a.high - a.low).total_cmp(&(b.high - b.low)))?;
        if widest.low == widest.high {
            return None;
        }
        let ([low, high], example) = match subject {
            Subject::Asked(slot) => self.asked(slot, hull, widest)?,
            Subject::Computed(_) => computed(self.line.as_ref()?, hull, widest)?,
        };
        Some((format!("the range from {low} to {high}"), example))
    }

    /// The ends of a range of answers and an answer in it, as they are typed.
    fn asked(&self, slot: SlotId, hull: Cell, widest: Cell) -> Option<([String; 2], String)> {
        let id = self.analysis.explored.conditions.graph.slots.get(slot).question;
        let question = self.analysis.handbook().question(id);
        let example = Said::within(widest, middle(widest, question), &unit_of(question)?)?;
        let ends = [hull.low, hull.high].map(|end| shown(self.analysis, slot, end));
        let [low, high] = ends;
        Some(([low?, high?], example.typed(question)))
    }
}

/// The same of something computed.
fn computed(line: &Line, hull: Cell, widest: Cell) -> Option<([String; 2], String)> {
    let shown = |si: f64| show(si, None, &line.unit, line.kind);
    let wished = between(widest.low, widest.high, 0.5);
    let Said::Quantity { si, .. } = Said::within(widest, wished, &line.unit)? else { return None };
    Some(([hull.low, hull.high].map(shown), shown(si)))
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
