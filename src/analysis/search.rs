//! From cells to answers: values are chosen, every condition is evaluated over the draws, and
//! where one comes out otherwise its answers are tried anew.

use super::cells::{AxisKind, Cell, Cells};
use super::explored::Explored;
use super::moment::{Chances, Moment};
use super::route::Outcome;
use super::said::{HOLDS_TRIED, Said, between, middle, unit_of};
use super::slot::SlotId;
use super::solving::{Decided, Judgement, Solution};
use crate::formula::{Facts, Kind, Value, Verdict, verdict};
use crate::handbook::{Next, Question};

/// How often the answers of one condition are tried anew (limit of ours).
const MOST_TRIED: usize = 360;

/// Halvings towards the value at which a condition turns.
const HALVINGS: usize = 40;

/// A search for the answers of one solution.
pub(super) struct Search<'a, 'h> {
    explored: &'a Explored<'h>,
    solution: &'a Solution,
    chances: &'a Chances,
    said: Vec<Said>,
    dice: u64,
}

impl<'a, 'h> Search<'a, 'h> {
    pub fn new(explored: &'a Explored<'h>, solution: &'a Solution, chances: &'a Chances) -> Self {
        let mut search = Self { explored, solution, chances, said: Vec::new(), dice: 1 };
        let variables = 0..solution.variables.len();
        search.said = variables.map(|variable| search.first(variable)).collect();
        search
    }

    /// Answers with which every condition comes out as it should, in the order of the variables.
    pub fn run(mut self) -> Option<Vec<Said>> {
        for at in 0..self.solution.judgements.len() {
            if !self.holds(at) && !self.mend(at) {
                return None;
            }
        }
        Some(self.said)
    }

    fn question(&self, variable: usize) -> &'h Question {
        self.explored.handbook.question(self.solution.variables[variable].question)
    }

    /// What is said first: nothing where that will do, else something usual.
    fn first(&self, variable: usize) -> Said {
        let wanted = &self.solution.variables[variable];
        let cells = wanted.cells;
        match () {
            () if cells.has(Cells::ABSENT) => Said::NotAsked,
            () if cells.known().is_none() => Said::Nothing,
            () => self.widest(variable),
        }
    }

    /// A value of the widest cell, as answers come.
    fn widest(&self, variable: usize) -> Said {
        let wanted = &self.solution.variables[variable];
        let (question, axis) =
            (self.question(variable), self.explored.conditions.axis(wanted.question));
        let places: Vec<usize> = wanted.cells.places().collect();
        if axis.kind != AxisKind::Quantity {
            return places
                .first()
                .map_or(Said::Nothing, |place| said_of(question, axis.kind, *place));
        }
        let cells: Vec<Cell> =
            places.iter().filter_map(|place| axis.hull(Cells::one(*place))).collect();
        let usual = |cell: &Cell| {
            let (from, to) = question.usual.unwrap_or((cell.low, cell.high));
            (cell.high.min(to) - cell.low.max(from)).max(0.0)
        };
        let widest = cells.iter().max_by(|a, b| {
            usual(a).total_cmp(&usual(b)).then((a.high - a.low).total_cmp(&(b.high - b.low)))
        });
        let said = widest
            .and_then(|cell| Said::within(*cell, middle(*cell, question), &unit_of(question)?));
        said.unwrap_or(Said::Nothing)
    }

    /// Whether a condition comes out as it should.
    fn holds(&self, at: usize) -> bool {
        let judgement = &self.solution.judgements[at];
        matches!(
            (self.verdict(judgement), judgement.outcome),
            (Verdict::Yes(_), Outcome::Yes)
                | (Verdict::No(_), Outcome::No)
                | (Verdict::TooClose(_), Outcome::TooClose)
                | (Verdict::Unknown, Outcome::Unknown)
        )
    }

    fn verdict(&self, judgement: &Judgement) -> Verdict {
        let handbook = self.explored.handbook;
        let moment = Moment::new(handbook, &judgement.past, &self.said, self.chances);
        match judgement.decided {
            Decided::Rule(rule) => {
                let step = &handbook.tree(rule.tree).steps[rule.step];
                let Next::ByRules { rules, .. } = &step.next else { return Verdict::Unknown };
                moment.verdict(&rules[rule.place].condition)
            }
            Decided::Finding(finding) => match moment.latest(handbook.finding(finding).symbol) {
                Value::Truth(draws) => verdict(&draws),
                _ => Verdict::Unknown,
            },
        }
    }

    /// Whether every condition up to one comes out as it should.
    fn all_hold(&self, until: usize) -> bool {
        (0..=until).rev().all(|at| self.holds(at))
    }

    /// Tries other answers for a condition, until it and all before it come out as they should.
    fn mend(&mut self, at: usize) -> bool {
        let judgement = &self.solution.judgements[at];
        let variables = self.variables(judgement);
        if variables.is_empty() {
            return false;
        }
        if judgement.outcome == Outcome::TooClose && self.bring_close(at, &variables) {
            return true;
        }
        let kept = self.said.clone();
        for round in 0..MOST_TRIED {
            // One answer at a time at first, then several at once.
            let third = MOST_TRIED / 3;
            let changed = 1 + (round % third) * variables.len() / third;
            for number in 0..changed {
                // By turns at first, by chance afterwards.
                let is_by_turns = round < MOST_TRIED / 3;
                let (turn, chance) = (round + number, self.roll(variables.len()));
                let at = if is_by_turns { turn % variables.len() } else { chance };
                let way = if is_by_turns { round } else { self.roll(20) };
                self.said[variables[at]] = self.other(variables[at], way);
            }
            if self.all_hold(at) {
                return true;
            }
            if round % 3 == 2 {
                self.said.clone_from(&kept);
            }
        }
        self.said = kept;
        false
    }

    /// The answers that a condition rests on.
    fn variables(&self, judgement: &Judgement) -> Vec<usize> {
        let slots = &self.explored.conditions.graph.node(judgement.part).slots;
        let slot = |slot: &SlotId| self.explored.conditions.graph.slots.get(*slot).question;
        let mut questions: Vec<_> = slots.iter().map(slot).collect();
        let under = |id: &crate::handbook::QuestionId| {
            let symbol = self.explored.handbook.question(*id).symbol;
            self.explored.handbook.questions_under(symbol).to_vec()
        };
        questions.extend(questions.clone().iter().flat_map(under));
        let is_used = |variable: &usize| {
            let wanted = &self.solution.variables[*variable];
            questions.contains(&wanted.question)
                && !wanted.cells.known().is_none()
                && self.said[*variable] != Said::NotAsked
        };
        (0..self.solution.variables.len()).filter(is_used).collect()
    }

    /// Another answer from the cells of a variable.
    fn other(&mut self, variable: usize, way: usize) -> Said {
        let wanted = &self.solution.variables[variable];
        let question = self.question(variable);
        let axis = self.explored.conditions.axis(wanted.question);
        let places: Vec<usize> = wanted.cells.places().collect();
        if places.is_empty() || wanted.cells.has(Cells::EMPTY) && way % 5 == 2 {
            return Said::Nothing;
        }
        let place = places[self.roll(places.len())];
        if matches!(question.kind, Kind::Readings(_)) {
            return Said::Hold(self.roll(HOLDS_TRIED));
        }
        let (AxisKind::Quantity, Some(cell)) = (axis.kind, axis.hull(Cells::one(place))) else {
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
        said.unwrap_or_else(|| self.said[variable].clone())
    }

    /// A value near another answer of the same kind.
    fn beside(&mut self, variable: usize) -> Option<f64> {
        let kind = &self.question(variable).kind;
        let others: Vec<f64> = (0..self.said.len())
            .filter(|other| *other != variable && self.question(*other).kind == *kind)
            .filter_map(|other| match self.said[other] {
                Said::Quantity { si, .. } => Some(si),
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
        let kept = self.said.clone();
        for round in 0..MOST_TRIED / 4 {
            let variable = variables[round % variables.len()];
            if !matches!(self.question(variable).kind, Kind::Quantity(_)) {
                continue;
            }
            let (a, b) = (self.other(variable, round), self.other(variable, round + 3));
            if self.close_between(at, variable, a, b) {
                return true;
            }
            self.said.clone_from(&kept);
            if round % 4 == 3 {
                let moved = variables[self.roll(variables.len())];
                self.said[moved] = self.other(moved, round);
            }
        }
        self.said = kept;
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
        self.said[variable] = Said::Quantity { si, half_width: 0.0 };
        match self.verdict(&self.solution.judgements[at]) {
            Verdict::Yes(_) => Some(true),
            Verdict::No(_) => Some(false),
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
            self.said[variable] = Said::Quantity { si, half_width };
            self.all_hold(at)
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
