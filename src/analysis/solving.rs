//! Solving a route: for each answer on it, the cells in which every condition comes out as the
//! route wants it.

use std::collections::BTreeMap;

use super::cells::{AxisKind, Cell, Cells};
use super::explored::Explored;
use super::graph::PartId;
use super::journey::Doings;
use super::moment::{Answered, Past, outdated_by_action};
use super::region::Region;
use super::route::{Event, Outcome, RuleAt};
use super::slot::{Slot, SlotId};
use super::truths::Truths;
use crate::formula::How;
use crate::handbook::{FindingId, Handbook, QuestionId};

/// How many choices between cases are tried before a route is given up (limit of ours).
const MOST_TRIED: usize = 400;

/// An answer that is wanted.
#[derive(Clone, Debug)]
pub(super) struct Variable {
    pub question: QuestionId,
    pub cells: Cells,
    /// The bounds that a quantity is held to beside its cells.
    pub within: Option<Cell>,
    /// Whether it is said before the route begins, if at all.
    pub is_beforehand: bool,
    /// Whether it names what a round is about.
    pub names_a_round: bool,
}

/// What decides a condition.
#[derive(Clone, Copy, Debug)]
pub(super) enum Decided {
    /// A condition of a list.
    Rule(RuleAt),
    /// A finding by itself.
    Finding(FindingId),
}

/// A condition at its moment.
#[derive(Clone, Debug)]
pub(super) struct Judgement {
    pub decided: Decided,
    pub part: PartId,
    pub outcome: Outcome,
    pub past: Past,
    /// How many events of the route lie behind it.
    pub until: usize,
}

/// A route with its answers narrowed down.
#[derive(Clone, Debug, Default)]
pub(super) struct Solution {
    pub variables: Vec<Variable>,
    pub judgements: Vec<Judgement>,
    pub past: Past,
    taken: BTreeMap<QuestionId, usize>,
}

/// What is to be solved.
#[derive(Clone, Copy)]
pub(super) struct Sought<'a> {
    pub events: &'a [Event],
    /// A finding that comes out so at the end.
    pub last: Option<(FindingId, Outcome)>,
    /// Questions that are answered only when they are asked.
    pub in_turn: Option<&'a Doings>,
}

/// Solves a route, and at its end perhaps one condition more.
///
/// # Errors
/// How many of its events are too many.
pub(super) fn solve(explored: &Explored<'_>, sought: Sought<'_>) -> Result<Solution, usize> {
    let Sought { events, last, in_turn } = sought;
    let mut solver = Solver { explored, events, last, in_turn, left: MOST_TRIED, furthest: 0 };
    let solved = solver.from(0, Solution::default());
    solved.ok_or((solver.furthest + 1).min(events.len()))
}

struct Solver<'a, 'h> {
    explored: &'a Explored<'h>,
    events: &'a [Event],
    last: Option<(FindingId, Outcome)>,
    in_turn: Option<&'a Doings>,
    left: usize,
    /// The last event that was come to.
    furthest: usize,
}

impl Solver<'_, '_> {
    /// Solves the rest of the route from one event on.
    fn from(&mut self, first: usize, mut solution: Solution) -> Option<Solution> {
        for at in first..self.events.len() {
            self.furthest = self.furthest.max(at);
            match &self.events[at] {
                Event::Round(question) => solution.name_round(self.explored, *question, at),
                Event::Ask { question, again, each_round } => {
                    solution.ask(self.explored, *question, *again, *each_round, at)?;
                }
                Event::Answered(question, cells) => solution.answered(*question, *cells)?,
                Event::Between(question, bounds) => {
                    solution.bound(self.explored, *question, *bounds)?;
                }
                Event::Act(action) => solution.past.done.push((*action, at + 1)),
                Event::Judge(rule, outcome) => {
                    let part = self.explored.rules[rule.tree.index()][rule.step][rule.place];
                    let (decided, outcome) = (Decided::Rule(*rule), *outcome);
                    return self.judge(at + 1, solution, decided, part, outcome);
                }
            }
        }
        match self.last.take() {
            None => Some(solution),
            Some((finding, outcome)) => {
                let end = self.events.len();
                let part = self.explored.findings[finding.index()];
                let found = self.judge(end, solution, Decided::Finding(finding), part, outcome);
                self.last = Some((finding, outcome));
                found
            }
        }
    }

    /// Tries the cases into which a judgement falls, one after the other.
    fn judge(
        &mut self,
        next: usize,
        mut solution: Solution,
        decided: Decided,
        part: PartId,
        outcome: Outcome,
    ) -> Option<Solution> {
        let conditions = &self.explored.conditions;
        let slots = &conditions.graph.node(part).slots;
        let mut region = Region::default();
        region.has_acted = !solution.past.done.is_empty();
        let behind: Vec<Option<usize>> =
            slots.iter().map(|slot| self.behind(&mut solution, *slot)).collect();
        for (slot, variable) in slots.iter().zip(&behind) {
            let cells = variable.map_or(Cells::ABSENT, |at| solution.variables[at].cells);
            region.fill(*slot, cells);
        }
        let cases = match outcome {
            Outcome::Yes => conditions.narrowed(&region, part, Truths::YES),
            Outcome::No => conditions.narrowed(&region, part, Truths::NO),
            Outcome::Unknown => conditions.narrowed(&region, part, Truths::UNKNOWN),
            Outcome::TooClose => conditions.too_close(&region, part),
        };
        let past = solution.past.clone();
        solution.judgements.push(Judgement { decided, part, outcome, past, until: next });
        for case in cases {
            self.left = self.left.checked_sub(1)?;
            let mut tried = solution.clone();
            let fits = slots.iter().zip(&behind).all(|(slot, variable)| {
                let Some(at) = variable else { return true };
                let cells = &mut tried.variables[*at].cells;
                *cells = cells.within(conditions.cells(&case, *slot));
                !cells.is_none()
            });
            if fits && let Some(found) = self.from(next, tried) {
                return Some(found);
            }
        }
        None
    }
}

impl Solver<'_, '_> {
    /// The answer that stands behind a slot at this moment, given beforehand if not before; none
    /// if there is none.
    fn behind(&self, solution: &mut Solution, slot: SlotId) -> Option<usize> {
        let slot = self.explored.conditions.graph.slots.get(slot);
        let is_new = solution.past.answers.get(&slot.question).is_none_or(Vec::is_empty);
        let is_in_turn = self.in_turn.is_some_and(|all| all.asked.contains_key(&slot.question));
        if is_new && slot.how != How::Previous && !is_in_turn {
            let anything = self.explored.conditions.axis(slot.question).anything();
            let variable = solution.add(slot.question, anything, 0);
            solution.variables[variable].is_beforehand = true;
        }
        solution.behind(self.explored.handbook, slot)
    }
}

impl Solution {
    fn add(&mut self, question: QuestionId, cells: Cells, order: usize) -> usize {
        let variable =
            Variable { question, cells, within: None, is_beforehand: false, names_a_round: false };
        self.variables.push(variable);
        let variable = self.variables.len() - 1;
        self.past.answers.entry(question).or_default().push(Answered { variable, order });
        variable
    }

    fn name_round(&mut self, explored: &Explored<'_>, question: QuestionId, at: usize) {
        let known = explored.conditions.axis(question).known();
        let variable = self.add(question, known, at + 1);
        self.variables[variable].names_a_round = true;
        *self.taken.entry(question).or_default() += 1;
    }

    /// A question is come to: it has been answered, was answered beforehand, or is asked now.
    fn ask(
        &mut self,
        explored: &Explored<'_>,
        question: QuestionId,
        again: bool,
        each_round: bool,
        at: usize,
    ) -> Option<()> {
        let is_outdated = self.is_outdated(explored.handbook, question);
        let taken = self.taken.entry(question).or_default();
        if *taken > 0 && !again && !is_outdated {
            return Some(());
        }
        let given = self.past.answers.entry(question).or_default();
        if let Some(waiting) = given.get(*taken).copied() {
            let cells = &mut self.variables[waiting.variable].cells;
            if cells.has(Cells::ABSENT) {
                // Nothing was said beforehand, so it is asked now.
                *cells = Cells::ABSENT;
                given.clear();
            } else if each_round {
                return None;
            } else {
                *taken += 1;
                return Some(());
            }
        }
        *taken += 1;
        self.add(question, explored.conditions.axis(question).answers(), at + 1);
        Some(())
    }

    /// Whether an action has outdated the last answer of a question. What another answer outdates
    /// hangs on what is answered, which is not known yet.
    fn is_outdated(&self, handbook: &Handbook, question: QuestionId) -> bool {
        let last = self.past.answers.get(&question).and_then(|given| given.last());
        last.is_some_and(|last| outdated_by_action(handbook, &self.past, question, last.order))
    }

    fn answered(&mut self, question: QuestionId, cells: Cells) -> Option<()> {
        let last = self.past.answers.get(&question)?.last()?.variable;
        let held = &mut self.variables[last].cells;
        *held = held.within(cells);
        (!held.is_none()).then_some(())
    }

    /// The last answer of a question is a quantity within bounds.
    fn bound(&mut self, explored: &Explored<'_>, question: QuestionId, bounds: Cell) -> Option<()> {
        let axis = explored.conditions.axis(question);
        if axis.kind != AxisKind::Quantity {
            return None;
        }
        let is_near = |place: &usize| {
            let hull = axis.hull(Cells::one(*place));
            hull.is_some_and(|cell| cell.low <= bounds.high && bounds.low <= cell.high)
        };
        let near = axis.known().places().filter(is_near).map(Cells::one);
        self.answered(question, near.fold(Cells::NONE, Cells::with))?;
        let last = self.past.answers.get(&question)?.last()?.variable;
        self.variables[last].within = Some(bounds);
        Some(())
    }

    /// The answer that stands behind a slot at this moment; none if there is none.
    fn behind(&self, handbook: &Handbook, slot: Slot) -> Option<usize> {
        let holds = |answer: &&Answered| {
            !outdated_by_action(handbook, &self.past, slot.question, answer.order)
        };
        let given = self.past.answers.get(&slot.question)?;
        let says = |answer: &&Answered| {
            let cells = self.variables[answer.variable].cells;
            !cells.known().is_none()
        };
        match slot.how {
            How::Latest => given.last().filter(holds).map(|answer| answer.variable),
            How::First => given.iter().find(says).map(|answer| answer.variable),
            How::Previous => {
                given.iter().rev().filter(says).nth(1).filter(holds).map(|a| a.variable)
            }
            How::Before(action) => {
                let done = self.past.done.iter().rev();
                let mut done = done.filter(|(id, _)| id.index() == action.0 as usize);
                let (_, order) = done.next()?;
                let before = given.iter().rev().find(|answer| answer.order < *order);
                before.map(|answer| answer.variable)
            }
            How::Every => None,
        }
    }
}
