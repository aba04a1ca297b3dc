//! Witnesses: answers that lead somewhere, as a person would type them.

use std::cell::Cell as Flag;
use std::cmp::Reverse;

use super::branch::Branch;
use super::cells::{Cell, Cells};
use super::dead_ends::{DeadEnds, stuck};
use super::draft::Bench;
use super::effort::Effort;
use super::reach::Analysis;
use super::route::{Event, Outcome, Routes, detours, two_detours};
use super::said::Said;
use super::search::Search;
use super::solving::{Solution, Sought, solve};
use super::sweep::From;
use crate::handbook::{FindingId, Handbook, QuestionId, StepId, StepKind, TreeId};

/// How many ways to one place are tried before it is given up (limit of ours).
const MOST_WAYS: usize = 8;

/// How many ways of one branch are tried for what is not about the branch (limit of ours).
const MOST_OF_A_BRANCH: usize = 2;

/// How many ends of visited trees are tried (limit of ours).
const MOST_VARIANTS: usize = 13;

/// How many other ways of entering the steps on a way are tried (limit of ours).
const MOST_DETOURS: usize = 12;

/// Of how many ways two steps are entered by another way at once (limit of ours).
const MOST_BY_TWO: usize = 2;

/// How many conditions are evaluated in the search for one goal (limit of ours).
pub const EVALUATIONS_A_GOAL: u32 = 8000;

/// How many of them for one way at least. It may take half of what is left, so that one on which
/// the answers can't go together leaves some for the others (limit of ours).
const EVALUATIONS_A_ROUTE: u32 = 250;

/// What answers are looked for, from the start of a tree.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Goal {
    /// Answers that lead to a step.
    Step(TreeId, StepId),
    /// Answers that take a branch of a step.
    Branch(TreeId, StepId, Branch),
    /// Answers by which a yes or no finding is true, or false, at the end of the tree.
    Finding(TreeId, FindingId, bool),
    /// Answers to a question with this choice, by its place; no before yes.
    Choice(TreeId, QuestionId, usize),
    /// Answers to a question between these values in SI units, both included.
    Between(TreeId, QuestionId, f64, f64),
}

/// Answers that lead to a goal, verified by evaluating every condition on the way.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Witness {
    /// What is answered before the tree begins, as typed.
    pub beforehand: Vec<(QuestionId, String)>,
    /// What is answered when it is asked, in that order, as typed. What a round is about is among
    /// them; whatever is asked after these makes no difference.
    pub answers: Vec<(QuestionId, String)>,
}

/// When a question may be answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answering {
    /// When it is asked, or before the tree begins.
    AnyTime,
    /// When it is asked; before the tree begins only where no step on any way asks it. A list of
    /// answers, as scenarios hold, is given so.
    InTurn,
}

/// How a search came out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Found {
    /// With these answers.
    Answers(Witness),
    /// With none, though every way that is looked at has been. That proves nothing.
    Nothing(Option<Stuck>),
    /// It was given up, for as much had been tried as may be. That proves nothing either.
    GivenUp(Option<Stuck>),
}

/// Where the way that came furthest could not be gone on with: a condition that no answers tried
/// made come out as the way needs it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stuck {
    /// The tree.
    pub tree: TreeId,
    /// The step.
    pub step: StepId,
    /// Which of the conditions in its list.
    pub rule: usize,
    /// How it would have to come out: `true`, `false`, `too close` or `not known`.
    pub wanted: &'static str,
}

/// One way to a goal: where it ends in a tree, by which branch, and what is asked of it there.
struct Way {
    entry: usize,
    on: Option<From>,
}

impl Analysis<'_> {
    /// Answers that lead to a goal. None says that none were found, not that there are none; see
    /// [`is_out_of_reach`](Self::is_out_of_reach) and [`is_never_taken`](Self::is_never_taken) for
    /// proofs.
    #[must_use]
    pub fn witness_for(&self, goal: Goal) -> Option<Witness> {
        match self.look_for(goal, Answering::AnyTime, &Effort::of(EVALUATIONS_A_GOAL)) {
            Found::Answers(witness) => Some(witness),
            Found::Nothing(_) | Found::GivenUp(_) => None,
        }
    }

    /// Looks for answers that lead to a goal, with no more effort than this.
    #[must_use]
    pub fn look_for(&self, goal: Goal, answering: Answering, effort: &Effort) -> Found {
        self.look_beside(goal, answering, effort, &DeadEnds::default())
    }

    /// The same, passing over ways that other searches found dead; what this one finds is noted.
    #[must_use]
    pub fn look_beside(
        &self,
        goal: Goal,
        answering: Answering,
        effort: &Effort,
        dead: &DeadEnds,
    ) -> Found {
        let hunt = Hunt { dead: Some(dead), ..Hunt::new(self, goal, answering, effort) };
        let mut tried = Tried::default();
        match hunt.run(&mut tried) {
            Some(witness) => Found::Answers(witness),
            None if effort.is_spent() || tried.was_cut => Found::GivenUp(tried.stuck()),
            None => Found::Nothing(tried.stuck()),
        }
    }
}

impl Goal {
    /// The tree that is begun.
    #[must_use]
    pub fn tree(self) -> TreeId {
        match self {
            Self::Step(tree, _)
            | Self::Branch(tree, ..)
            | Self::Finding(tree, ..)
            | Self::Choice(tree, ..)
            | Self::Between(tree, ..) => tree,
        }
    }
}

/// A search for one goal.
pub(super) struct Hunt<'a, 'h> {
    analysis: &'a Analysis<'h>,
    goal: Goal,
    answering: Answering,
    effort: &'a Effort,
    /// Ways that are dead whatever they would lead to.
    dead: Option<&'a DeadEnds>,
    /// Whether the last way was given up for having had its share.
    was_cut: Flag<bool>,
    /// How much that was, of what there was for the goal.
    share: Flag<u32>,
    whole: u32,
}

/// What a search has come to without success.
#[derive(Default)]
struct Tried {
    /// Ways that are dead for this goal alone.
    own: DeadEnds,
    /// Whether some way was given up.
    was_cut: bool,
    /// Of the way that came furthest: how far, and what it came to there.
    furthest: Option<(usize, Event)>,
}

impl Tried {
    fn came(&mut self, events: &[Event], until: usize, was_cut: bool) {
        self.was_cut |= was_cut;
        let is_further = self.furthest.as_ref().is_none_or(|(far, _)| until > *far);
        if let (true, Some(last)) = (is_further, until.checked_sub(1)) {
            self.furthest = events.get(last).map(|event| (until, event.clone()));
        }
    }

    fn stuck(&self) -> Option<Stuck> {
        stuck(&self.furthest.as_ref()?.1)
    }
}

impl<'a, 'h> Hunt<'a, 'h> {
    pub fn new(
        analysis: &'a Analysis<'h>,
        goal: Goal,
        answering: Answering,
        effort: &'a Effort,
    ) -> Self {
        let (was_cut, share) = Default::default();
        let whole = effort.left();
        Self { analysis, goal, answering, effort, dead: None, was_cut, share, whole }
    }

    /// Answers by the first route for which there are any.
    fn run(&self, tried: &mut Tried) -> Option<Witness> {
        let mut found = None;
        self.each_route(|events| {
            found = self.attempt(events, tried);
            found.is_some()
        });
        found
    }

    /// Each route to the goal, until one is taken or nothing more may be tried. First visited
    /// trees are left by one of their ends after the other, then steps of the tree itself are
    /// entered by other ways, each with one of those ends after the other.
    pub fn each_route(&self, mut take: impl FnMut(&[Event]) -> bool) {
        let (explored, tree) = (&self.analysis.explored, self.goal.tree());
        let ways = self.ways();
        let steps = &explored.handbook.tree(tree).steps;
        let visits = steps.iter().any(|step| matches!(step.kind, StepKind::Visit(_)));
        let variants = if visits { MOST_VARIANTS } else { 1 };
        let by_ends = (0..variants).flat_map(|variant| ways.iter().map(move |way| (variant, way)));
        let by_ends = by_ends
            .map(|(variant, way)| Routes::new(explored, variant).to(tree, way.entry, way.on));
        let swept = &explored.swept[tree.index()];
        let by_one = |way: &Way| {
            let one = detours(swept, way.entry).into_iter().take(MOST_DETOURS);
            one.map(|detour| vec![detour]).collect::<Vec<_>>()
        };
        let by_detours = (0..variants).flat_map(|variant| {
            ways.iter().flat_map(move |way| {
                by_one(way).into_iter().flat_map(move |detours| {
                    let mut routes = Routes::by(explored, &detours, variant);
                    let first = routes.to(tree, way.entry, way.on);
                    let alike = Routes::alike(explored, &detours, variant, routes);
                    [first, alike.and_then(|mut routes| routes.to(tree, way.entry, way.on))]
                })
            })
        });
        let by_two = ways.iter().take(MOST_BY_TWO).flat_map(|way| {
            two_detours(swept, way.entry, MOST_DETOURS)
                .into_iter()
                .map(move |detours| Routes::by(explored, &detours, 0).to(tree, way.entry, way.on))
        });
        for mut events in by_ends.chain(by_detours).chain(by_two).flatten() {
            events.extend(self.asked_last());
            if self.effort.is_spent() || take(&events) {
                return;
            }
        }
    }

    fn attempt(&self, events: &[Event], tried: &mut Tried) -> Option<Witness> {
        // What could not be made to come out so before is not tried again.
        let tree = self.goal.tree();
        let of_all = self.dead.and_then(|dead| dead.on(tree, events));
        if let Some((until, was_cut)) = of_all.or_else(|| tried.own.on(tree, events)) {
            tried.came(events, until, was_cut);
            return None;
        }
        match self.along(events) {
            Ok((solution, said)) => Some(solution.witness(self.analysis.handbook(), &said)),
            Err(until) => {
                let was_cut = self.was_cut.get();
                tried.came(events, until, was_cut);
                // What failed at the end may be the goal, and the way as good as any for others; and
                // what had but a small share may be made to come out yet.
                let is_of_all =
                    until < events.len() && (!was_cut || self.share.get() >= self.whole / 2);
                let dead = self.dead.filter(|_| is_of_all).unwrap_or(&tried.own);
                dead.note(tree, &events[..until], was_cut);
                None
            }
        }
    }

    fn ways(&self) -> Vec<Way> {
        let swept = &self.analysis.explored.swept[self.goal.tree().index()];
        let entered = |entries: &[usize]| -> Vec<Way> {
            let entries = entries.iter().take(MOST_WAYS);
            entries.map(|entry| Way { entry: *entry, on: None }).collect()
        };
        match self.goal {
            Goal::Step(_, step) => swept.by_step.get(step.index()).map(|at| entered(at)),
            Goal::Branch(_, step, branch) => swept.taken.get(&(step.index(), branch)).map(|ways| {
                ways.iter().map(|from| Way { entry: from.entry, on: Some(*from) }).collect()
            }),
            Goal::Finding(_, finding, _) => {
                let symbol = self.analysis.handbook().finding(finding).symbol;
                Some(self.ends(self.analysis.handbook().questions_under(symbol)))
            }
            Goal::Choice(_, question, _) | Goal::Between(_, question, ..) => {
                Some(self.ends(&[question]))
            }
        }
        .unwrap_or_default()
    }

    /// Ways to the ends of the tree and through steps that ask: those first on which most of some
    /// questions are asked, and of equals the shortest.
    fn ends(&self, questions: &[QuestionId]) -> Vec<Way> {
        let Analysis { explored, .. } = self.analysis;
        let tree = explored.handbook.tree(self.goal.tree());
        let swept = &explored.swept[self.goal.tree().index()];
        let mut ways: Vec<(usize, usize, Way)> = Vec::new();
        let mut add = |entry: usize, on: Option<From>| {
            let events = Routes::new(explored, 0).to(self.goal.tree(), entry, on);
            let (asked, length) =
                events.map_or((0, 0), |events| (asked_of(&events, questions), events.len()));
            if asked > 0 {
                ways.push((asked, length, Way { entry, on }));
            }
        };
        for (step, entries) in tree.steps.iter().zip(&swept.by_step) {
            if matches!(step.kind, StepKind::End { .. }) {
                entries.iter().take(MOST_WAYS).for_each(|entry| add(*entry, None));
            }
        }
        for ((step, _), taken) in &swept.taken {
            if let StepKind::Ask { question, .. } = &tree.steps[*step].kind
                && questions.contains(question)
            {
                taken.iter().take(MOST_OF_A_BRANCH).for_each(|from| add(from.entry, Some(*from)));
            }
        }
        ways.sort_by_key(|(asked, length, _)| (Reverse(*asked), *length));
        ways.truncate(4 * MOST_WAYS);
        ways.into_iter().map(|(_, _, way)| way).collect()
    }

    /// What is asked of the answers at the end of a way.
    fn asked_last(&self) -> Option<Event> {
        match self.goal {
            Goal::Choice(_, question, place) => Some(Event::Answered(question, Cells::one(place))),
            Goal::Between(_, question, low, high) => {
                Some(Event::Between(question, Cell { low, high }))
            }
            _ => None,
        }
    }

    /// Answers along a route; else how many of its events are too many.
    pub fn along(&self, events: &[Event]) -> Result<(Solution, Vec<Said>), usize> {
        let Analysis { explored, chances } = self.analysis;
        self.was_cut.set(false);
        let doings = &explored.doings[self.goal.tree().index()];
        let in_turn = (self.answering == Answering::InTurn).then_some(doings);
        let last = match self.goal {
            Goal::Finding(_, finding, yes) => {
                Some((finding, if yes { Outcome::Yes } else { Outcome::No }))
            }
            _ => None,
        };
        let solution = solve(explored, Sought { events, last, in_turn })?;
        let share = EVALUATIONS_A_ROUTE.max(self.effort.left() / 2);
        self.share.set(share);
        let effort = self.effort.lend(share);
        let bench = Bench { explored, solution: &solution, chances, effort: &effort };
        let said = Search::new(bench).run();
        self.was_cut.set(effort.is_spent());
        self.effort.take_back(&effort);
        let said = said.map_err(|at| solution.judgements[at].until)?;
        Ok((solution, said))
    }
}

impl Solution {
    /// What is said for its variables, as it is typed.
    pub(super) fn witness(&self, handbook: &Handbook, said: &[Said]) -> Witness {
        let mut witness = Witness::default();
        for (variable, said) in self.variables.iter().zip(said) {
            if *said == Said::NotAsked {
                continue;
            }
            let typed = said.typed(handbook.question(variable.question));
            let list =
                if variable.is_beforehand { &mut witness.beforehand } else { &mut witness.answers };
            list.push((variable.question, typed));
        }
        witness
    }
}

/// How many of some questions a route asks.
fn asked_of(events: &[Event], questions: &[QuestionId]) -> usize {
    let is_asked = |question: &&QuestionId| events.iter().any(|event| event.asks(**question));
    questions.iter().filter(is_asked).count()
}
