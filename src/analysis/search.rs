//! From cells to answers: values are chosen, every condition is evaluated over the draws, and
//! where one comes out otherwise its answers are tried anew.

use super::cells::{AxisKind, Cell, Cells};
use super::draft::{Bench, Draft};
use super::route::Outcome;
use super::said::{HOLDS_TRIED, Said, between, middle, unit_of};
use super::solving::Judgement;
use crate::formula::{Kind, Verdict};
use crate::handbook::{Question, QuestionId};

/// How often the answers of one condition are tried anew (limit of ours).
const MOST_TRIED: usize = 360;

/// How often something is said that nobody has said yet (limit of ours).
const MOST_SAID: usize = 12;

/// Halvings towards the value at which a condition turns.
const HALVINGS: usize = 40;

/// A search for the answers of one solution.
pub(super) struct Search<'a, 'h> {
    bench: Bench<'a, 'h>,
    draft: Draft<'a, 'h>,
    dice: u64,
}

impl<'a, 'h> Search<'a, 'h> {
    pub fn new(bench: Bench<'a, 'h>) -> Self {
        let variables = 0..bench.solution.variables.len();
        let said = variables.map(|variable| first(bench, variable)).collect();
        Self { bench, draft: Draft::new(bench, said), dice: 1 }
    }

    /// Answers with which every condition comes out as it should, in the order of the variables;
    /// else the place of the condition that could not be made to.
    pub fn run(mut self) -> Result<Vec<Said>, usize> {
        for at in 0..self.bench.solution.judgements.len() {
            if !self.draft.holds(at) && !self.mend(at) {
                return Err(at);
            }
        }
        Ok(self.draft.all().to_vec())
    }

    fn question(&self, variable: usize) -> &'h Question {
        question(self.bench, variable)
    }

    /// Tries other answers for a condition, until it and all before it come out as they should.
    fn mend(&mut self, at: usize) -> bool {
        let judgement = &self.bench.solution.judgements[at];
        let (all, looked_at) = (self.variables(judgement), self.looked_at(judgement));
        let unsaid = self.unsaid(judgement);
        if !all.is_empty() && self.mend_by(at, &all, &looked_at) {
            return true;
        }
        !unsaid.is_empty() && self.mend_by_saying(at, &unsaid)
    }

    /// Says beforehand what a condition looks at and nobody has said yet: some hang on whether it
    /// was said at all.
    fn mend_by_saying(&mut self, at: usize, unsaid: &[usize]) -> bool {
        let kept = self.draft.all().to_vec();
        for way in 0..MOST_SAID {
            if self.bench.effort.is_spent() {
                break;
            }
            for variable in unsaid {
                let said = self.other(*variable, way);
                self.draft.say(*variable, said);
            }
            if self.draft.all_hold(at) {
                return true;
            }
        }
        self.draft.restore(&kept);
        false
    }

    fn mend_by(&mut self, at: usize, all: &[usize], looked_at: &[usize]) -> bool {
        let judgement = &self.bench.solution.judgements[at];
        if judgement.outcome == Outcome::TooClose && self.bring_close(at, all) {
            return true;
        }
        let kept = self.draft.all().to_vec();
        for round in 0..MOST_TRIED {
            if self.bench.effort.is_spent() {
                break;
            }
            // What readings are off by makes the least difference but to doubt, and comes last.
            let third = MOST_TRIED / 3;
            let is_close = judgement.outcome == Outcome::TooClose;
            let is_late = is_close || round >= 2 * third || looked_at.is_empty();
            let variables = if is_late { all } else { looked_at };
            // One answer at a time at first, then several at once.
            let changed = 1 + (round % third) * variables.len() / third;
            for number in 0..changed {
                // By turns at first, by chance afterwards.
                let is_by_turns = round < MOST_TRIED / 3;
                let (turn, chance) = (round + number, self.roll(variables.len()));
                let at = if is_by_turns { turn % variables.len() } else { chance };
                let way = if is_by_turns { round } else { self.roll(20) };
                let said = self.other(variables[at], way);
                self.draft.say(variables[at], said);
            }
            if self.draft.all_hold(at) {
                return true;
            }
            if round % 3 == 2 {
                self.draft.restore(&kept);
            }
        }
        self.draft.restore(&kept);
        false
    }

    /// The answers that a condition rests on: those that it looks at, and those that say how far
    /// off they may be.
    fn variables(&self, judgement: &Judgement) -> Vec<usize> {
        let handbook = self.bench.explored.handbook;
        let looked_at = self.questions(judgement).into_iter();
        let under = looked_at.flat_map(|id| {
            let under = handbook.questions_under(handbook.question(id).symbol);
            under.iter().copied().chain([id])
        });
        self.answers_of(&under.collect::<Vec<_>>())
    }

    /// The answers that a condition looks at.
    fn looked_at(&self, judgement: &Judgement) -> Vec<usize> {
        self.answers_of(&self.questions(judgement))
    }

    fn questions(&self, judgement: &Judgement) -> Vec<QuestionId> {
        let graph = &self.bench.explored.conditions.graph;
        let slots = graph.node(judgement.part).slots.iter();
        slots.map(|slot| graph.slots.get(*slot).question).collect()
    }

    /// What a condition looks at and might be said, but is not.
    fn unsaid(&self, judgement: &Judgement) -> Vec<usize> {
        let mut may_be_said = self.may_be_said(&self.questions(judgement));
        may_be_said.retain(|variable| *self.draft.get(*variable) == Said::NotAsked);
        may_be_said
    }

    fn answers_of(&self, questions: &[QuestionId]) -> Vec<usize> {
        let mut said = self.may_be_said(questions);
        said.retain(|variable| *self.draft.get(*variable) != Said::NotAsked);
        said
    }

    fn may_be_said(&self, questions: &[QuestionId]) -> Vec<usize> {
        let may_be = |variable: &usize| {
            let wanted = &self.bench.solution.variables[*variable];
            questions.contains(&wanted.question) && !wanted.cells.known().is_none()
        };
        (0..self.bench.solution.variables.len()).filter(may_be).collect()
    }

    /// Another answer from the cells of a variable.
    fn other(&mut self, variable: usize, way: usize) -> Said {
        let wanted = &self.bench.solution.variables[variable];
        let question = self.question(variable);
        let axis = self.bench.explored.conditions.axis(wanted.question);
        let places: Vec<usize> = wanted.cells.places().collect();
        if places.is_empty() || wanted.cells.has(Cells::EMPTY) && way % 5 == 2 {
            return Said::Nothing;
        }
        let place = places[self.roll(places.len())];
        if matches!(question.kind, Kind::Readings(_)) {
            return Said::Hold(self.roll(HOLDS_TRIED));
        }
        let (AxisKind::Quantity, Some(cell)) = (axis.kind, cell_of(self.bench, variable, place))
        else {
            return said_of(question, axis.kind, place);
        };
        let wished = match way % 4 {
            // Near another answer: conditions often compare one with another.
            1 => self.beside(variable).unwrap_or_else(|| middle(cell, question)),
            3 => between(cell.low, cell.high, self.share()),
            _ => {
                let (from, to) = question.usual.unwrap_or((cell.low, cell.high));
                let (low, high) = (cell.low.max(from), cell.high.min(to));
                let (low, high) = if low <= high { (low, high) } else { (cell.low, cell.high) };
                between(low, high, self.share())
            }
        };
        let said = unit_of(question).and_then(|unit| Said::within(cell, wished, &unit));
        said.unwrap_or_else(|| self.draft.get(variable).clone())
    }

    /// A value near another answer of the same kind.
    fn beside(&mut self, variable: usize) -> Option<f64> {
        let kind = &self.question(variable).kind;
        let others: Vec<f64> = (0..self.draft.all().len())
            .filter(|other| *other != variable && self.question(*other).kind == *kind)
            .filter_map(|other| match self.draft.get(other) {
                Said::Quantity { si, .. } => Some(*si),
                _ => None,
            })
            .collect();
        let other = *others.get(self.roll(others.len().max(1)))?;
        let factors = [1.0, 1.02, 0.98, 0.5, 2.0, 0.3, 1.3, 0.1, 10.0];
        Some(other * factors[self.roll(factors.len())])
    }

    /// Looks for two values of an answer between which a condition turns, and gives the answer
    /// doubt about the turn.
    fn bring_close(&mut self, at: usize, variables: &[usize]) -> bool {
        let kept = self.draft.all().to_vec();
        for round in 0..MOST_TRIED / 4 {
            if self.bench.effort.is_spent() {
                break;
            }
            let variable = variables[round % variables.len()];
            if !matches!(self.question(variable).kind, Kind::Quantity(_)) {
                continue;
            }
            let (a, b) = (self.other(variable, round), self.other(variable, round + 3));
            if self.close_between(at, variable, a, b) {
                return true;
            }
            self.draft.restore(&kept);
            if round % 4 == 3 {
                let moved = variables[self.roll(variables.len())];
                let said = self.other(moved, round);
                self.draft.say(moved, said);
            }
        }
        self.draft.restore(&kept);
        false
    }

    fn close_between(&mut self, at: usize, variable: usize, a: Said, b: Said) -> bool {
        let (Said::Quantity { si: mut low, .. }, Said::Quantity { si: mut high, .. }) = (a, b)
        else {
            return false;
        };
        let (start, end) = (self.is_yes(at, variable, low), self.is_yes(at, variable, high));
        if start.is_none() || end.is_none() || start == end {
            return false;
        }
        for _ in 0..HALVINGS {
            let middle = low + (high - low) / 2.0;
            match self.is_yes(at, variable, middle) {
                None => return self.doubted(at, variable, middle),
                yes if yes == start => low = middle,
                _ => high = middle,
            }
        }
        self.doubted(at, variable, high)
    }

    /// Whether a condition says yes or no for a value; none if neither.
    fn is_yes(&mut self, at: usize, variable: usize, si: f64) -> Option<bool> {
        self.draft.say(variable, Said::Quantity { si, half_width: 0.0 });
        match self.draft.verdict(at) {
            Some(Verdict::Yes(_)) => Some(true),
            Some(Verdict::No(_)) => Some(false),
            _ => None,
        }
    }

    /// Whether a value with some doubt makes a condition too close to call.
    fn doubted(&mut self, at: usize, variable: usize, near: f64) -> bool {
        let question = self.question(variable);
        let Some(unit) = unit_of(question) else { return false };
        let size = near.abs().max(unit.factor.abs() * 1e-3);
        let cell = Cell { low: near - size * 0.01, high: near + size * 0.01 };
        let Some(Said::Quantity { si, .. }) = Said::within(cell, near, &unit) else {
            return false;
        };
        [0.0, 0.02, 0.1, 0.3].into_iter().any(|share| {
            let width = format!("{:.1e}", share * size / unit.factor.abs());
            let half_width = width.parse::<f64>().map_or(0.0, |width| width * unit.factor.abs());
            self.draft.say(variable, Said::Quantity { si, half_width });
            self.draft.all_hold(at)
        })
    }

    fn roll(&mut self, below: usize) -> usize {
        (self.share() * below as f64) as usize
    }

    /// The next of a row of numbers in [0, 1), the same each time.
    fn share(&mut self) -> f64 {
        let next = self.dice.wrapping_mul(6_364_136_223_846_793_005);
        self.dice = next.wrapping_add(1_442_695_040_888_963_407);
        (self.dice >> 11) as f64 / (1_u64 << 53) as f64
    }
}

fn question<'h>(bench: Bench<'_, 'h>, variable: usize) -> &'h Question {
    bench.explored.handbook.question(bench.solution.variables[variable].question)
}

/// A cell of a variable, within the bounds that it is held to.
fn cell_of(bench: Bench<'_, '_>, variable: usize, place: usize) -> Option<Cell> {
    let wanted = &bench.solution.variables[variable];
    let cell = bench.explored.conditions.axis(wanted.question).hull(Cells::one(place))?;
    let Some(within) = wanted.within else { return Some(cell) };
    let held = Cell { low: cell.low.max(within.low), high: cell.high.min(within.high) };
    (held.low <= held.high).then_some(held)
}

/// What is said first: nothing where that will do, else something usual.
fn first(bench: Bench<'_, '_>, variable: usize) -> Said {
    let cells = bench.solution.variables[variable].cells;
    match () {
        () if cells.has(Cells::ABSENT) => Said::NotAsked,
        () if cells.known().is_none() => Said::Nothing,
        () => widest(bench, variable),
    }
}

/// A value of the widest cell, as answers come.
fn widest(bench: Bench<'_, '_>, variable: usize) -> Said {
    let wanted = &bench.solution.variables[variable];
    let (question, axis) =
        (question(bench, variable), bench.explored.conditions.axis(wanted.question));
    let places: Vec<usize> = wanted.cells.places().collect();
    if axis.kind != AxisKind::Quantity {
        return places.first().map_or(Said::Nothing, |place| said_of(question, axis.kind, *place));
    }
    let cells: Vec<Cell> =
        places.iter().filter_map(|place| cell_of(bench, variable, *place)).collect();
    let usual = |cell: &Cell| {
        let (from, to) = question.usual.unwrap_or((cell.low, cell.high));
        (cell.high.min(to) - cell.low.max(from)).max(0.0)
    };
    let widest = cells.iter().max_by(|a, b| {
        usual(a).total_cmp(&usual(b)).then((a.high - a.low).total_cmp(&(b.high - b.low)))
    });
    let said =
        widest.and_then(|cell| Said::within(*cell, middle(*cell, question), &unit_of(question)?));
    said.unwrap_or(Said::Nothing)
}

/// What a place on an axis without numbers is said as.
fn said_of(question: &Question, kind: AxisKind, place: usize) -> Said {
    match (kind, &question.kind) {
        (AxisKind::YesNo, _) => Said::YesNo(place == 1),
        (AxisKind::Choice, _) => Said::Choice(place),
        (_, Kind::Readings(_)) => Said::Hold(0),
        (_, Kind::Text) => Said::Words,
        (_, Kind::Date) => Said::Day,
        (_, Kind::Choice(_) | Kind::Choices(_)) => Said::Choice(0),
        _ => Said::Nothing,
    }
}
