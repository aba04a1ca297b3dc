//! The path through the trees, worked out anew from the events.
//!
//! A step is passed by the event that belongs to it: an answer, a deed. Each branch is decided on
//! what was known when the step was passed, so the path so far does not jump when more becomes
//! known; an answer that is corrected or taken back keeps or loses its place in the order, and the
//! path follows.

mod branching;
mod held_back;
mod rounds;
mod stopping;
mod undone;

use std::collections::HashMap;

use super::event::Event;
use super::now::{Decided, Now, Passage, Passed, Place, RoundEnd};
use super::standing::Standing;
use crate::evidence::{Cells, Record, Streams, Worksheet};
use crate::formula::CheckedTemplate;
use crate::handbook::{
    ActionId, CautionSeverity, Closes, Handbook, QuestionId, Step, StepId, StepKind, Target, Tree,
    TreeId,
};
use crate::text::Line;

/// More steps than any case takes; past it the walk stops where it is.
const MOST_STEPS: usize = 20_000;

/// What a walk finds.
#[derive(Clone, Debug)]
pub struct Walk {
    /// What is wanted next.
    pub now: Now,
    /// The steps passed, in order.
    pub path: Vec<Passed>,
    /// Where each step passed led, in order.
    pub branches: Vec<(Place, Target)>,
    /// The same with what was known each time.
    pub decided: Vec<Decided>,
    /// The facts, with the rounds that the walk went through.
    pub record: Record,
    /// What has been evaluated of them.
    pub cells: Cells,
    /// What the rounds that have come to their end have said, in order.
    pub round_ends: Vec<RoundEnd>,
    /// The plans that the work has gone on from, and how it was left, in order, as it stood then.
    pub plans: Vec<(Closes, Line)>,
    /// Which time it is that the step that is wanted comes, and at most how often it may.
    pub times: Option<(u32, u32)>,
}

/// One tree on the way, and where in it.
#[derive(Debug)]
struct Frame {
    tree: TreeId,
    step: StepId,
    entered: HashMap<StepId, u32>,
    /// The place of the answer that named the present round.
    round_from: Option<usize>,
    /// The latest event passed when the present round's latest work was called for.
    work_from: Option<usize>,
}

/// What a step leads to.
enum Advance {
    /// On, as the step's `next` says.
    On,
    /// Nowhere yet: this is wanted.
    Wanted(Now),
    /// The frame or its step has been set already.
    Moved,
}

struct Walker<'a> {
    handbook: &'a Handbook,
    streams: &'a Streams,
    standing: &'a Standing,
    /// The same way before events were added.
    earlier: Option<&'a Walk>,
    acknowledged: Vec<&'a str>,
    record: Record,
    /// What has been evaluated of the record, with the rounds as far as the walk has come.
    cells: Cells,
    consumed: HashMap<QuestionId, usize>,
    done: HashMap<Place, usize>,
    went_on: usize,
    /// The latest event that the walk has passed.
    time: usize,
    frames: Vec<Frame>,
    path: Vec<Passed>,
    branches: Vec<(Place, Target)>,
    decided: Vec<Decided>,
    round_ends: Vec<RoundEnd>,
    plans: Vec<(Closes, Line)>,
}

/// Where a walk begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Start {
    /// The tree.
    pub tree: TreeId,
    /// The step, if it is not the tree's first.
    pub step: Option<StepId>,
    /// The events up to this place in their order are known from the beginning.
    pub known: usize,
}

impl Start {
    /// The first step of a tree, with nothing known.
    #[must_use]
    pub fn of(tree: TreeId) -> Self {
        Self { tree, step: None, known: 0 }
    }
}

/// Walks from a start through the events that stand. If they are those of an earlier walk with
/// others added at their end, the way begins as that walk's did, and what was decided then is not
/// worked out again: a decision looks at nothing that came after it.
#[must_use]
pub(super) fn walk(
    handbook: &Handbook,
    streams: &Streams,
    start: Start,
    standing: &Standing,
    earlier: Option<&Walk>,
) -> Walk {
    let acknowledged = standing.events.iter().flatten().filter_map(|event| match event {
        Event::Acknowledged { caution, .. } => Some(caution.as_str()),
        _ => None,
    });
    let mut walker = Walker {
        handbook,
        streams,
        standing,
        earlier,
        acknowledged: acknowledged.collect(),
        record: standing.record(handbook),
        cells: Cells::default(),
        consumed: HashMap::new(),
        done: HashMap::new(),
        went_on: 0,
        time: start.known,
        frames: Vec::new(),
        path: Vec::new(),
        branches: Vec::new(),
        decided: Vec::new(),
        round_ends: Vec::new(),
        plans: Vec::new(),
    };
    walker.keep_what_holds();
    let now = walker.run(start);
    let times = walker.times();
    let now = match now {
        Now::Stopped { .. } => now,
        _ => walker.stop_by_now().unwrap_or(now),
    };
    let Walker { path, branches, decided, record, cells, round_ends, plans, .. } = walker;
    Walk { now, path, branches, decided, record, cells, round_ends, plans, times }
}

impl<'a> Walker<'a> {
    fn run(&mut self, start: Start) -> Now {
        self.enter(start.tree);
        if let Some(step) = start.step {
            self.frame().step = step;
        }
        for _ in 0..MOST_STEPS {
            let place = self.place();
            match self.step(place) {
                Advance::Wanted(now) => return now,
                Advance::Moved => {}
                Advance::On => self.follow(place),
            }
        }
        let done = Line::plain("The path goes in circles and was cut.");
        Now::Ended { done, then: Vec::new(), closes: None }
    }

    fn frame(&mut self) -> &mut Frame {
        let last = self.frames.len() - 1;
        &mut self.frames[last]
    }

    fn place(&self) -> Place {
        let frame = &self.frames[self.frames.len() - 1];
        Place { tree: frame.tree, step: frame.step }
    }

    fn times(&self) -> Option<(u32, u32)> {
        let Place { tree, step } = self.place();
        let (most, _) = self.handbook.tree(tree).step(step).bound?;
        let entered = self.frames.last()?.entered.get(&step)?;
        Some((*entered, most))
    }

    fn tree(&self) -> &'a Tree {
        self.handbook.tree(self.place().tree)
    }

    fn enter(&mut self, tree: TreeId) {
        let step = self.handbook.tree(tree).start;
        let entered = HashMap::new();
        self.frames.push(Frame { tree, step, entered, round_from: None, work_from: None });
    }

    fn step(&mut self, place: Place) -> Advance {
        if let Some(moved) = self.begin_round() {
            return moved;
        }
        let step = self.handbook.tree(place.tree).step(place.step);
        let entered = self.frame().entered.entry(place.step).or_default();
        *entered += 1;
        if let Some((most, then)) = step.bound
            && *entered > most
        {
            self.lead(place, Target::Step(then), true);
            self.frame().step = then;
            return Advance::Moved;
        }
        if let Some(caution) = self.unacknowledged(step) {
            return Advance::Wanted(Now::Acknowledge { caution, place: Some(place) });
        }
        self.pass(step, place)
    }

    /// Notes where a step leads.
    fn lead(&mut self, place: Place, target: Target, is_by_bound: bool) {
        self.branches.push((place, target));
        let (known_until, passed) = (self.time + 1, self.path.len());
        self.decided.push(Decided { place, target, is_by_bound, known_until, passed });
    }

    fn pass(&mut self, step: &'a Step, place: Place) -> Advance {
        match &step.kind {
            StepKind::Do { text, wait } => match self.next_deed(place) {
                Some(order) => self.worked(place, order),
                None => {
                    Advance::Wanted(Now::Do { text: text.fill(&self.sheet()), wait: *wait, place })
                }
            },
            StepKind::Act { action, is_optional } => match self.held_back(*action, place) {
                Some(since) => self.leave_for_now(since, *action, place),
                None => self.act(*action, *is_optional, place),
            },
            StepKind::Ask { question, again } => self.ask(*question, *again, place),
            StepKind::Visit(tree) => {
                self.path.push(Passed { place, passage: Passage::Through });
                self.enter(*tree);
                Advance::Moved
            }
            StepKind::Stop { .. } => Advance::Wanted(self.stopped(place)),
            StepKind::End { done, then, closes } => {
                self.path.push(Passed { place, passage: Passage::Through });
                self.end(done, then, *closes)
            }
        }
    }

    fn act(&mut self, action: ActionId, is_optional: bool, place: Place) -> Advance {
        match self.next_deed(place) {
            Some(order) if !is_optional && self.is_passed_over(order) => {
                self.leave_undone(action, place, order)
            }
            Some(order) => self.worked(place, order),
            None => Advance::Wanted(Now::Act { action, place }),
        }
    }

    fn passed(&mut self, place: Place, passage: Passage) -> Advance {
        if let Passage::Event(order) = passage {
            self.time = self.time.max(order);
        }
        self.path.push(Passed { place, passage });
        Advance::On
    }

    fn end(&mut self, done: &CheckedTemplate, then: &[TreeId], closes: Option<Closes>) -> Advance {
        let done = |walker: &Self| done.fill_what_is_known(&walker.sheet());
        if self.tree().rounds.is_some() {
            self.end_round(done, None);
            return Advance::Moved;
        }
        let is_kept = matches!(closes, Some(Closes::Planned | Closes::Waits));
        // At its own end a plan is told by the end; once the work goes on, it is kept.
        if is_kept && self.frames.len() == 1 && self.goes_on() {
            self.plans.extend(closes.map(|closes| (closes, done(self))));
        }
        let then = then.to_vec();
        self.leave_tree(|walker| Now::Ended { done: done(walker), then, closes })
    }

    /// Goes back to the tree that called this one, on to the tree that somebody has gone on to, or
    /// to the end, which alone needs its words.
    fn leave_tree(&mut self, ended: impl FnOnce(&Self) -> Now) -> Advance {
        if self.frames.len() > 1 {
            self.frames.pop();
            let place = self.place();
            self.follow(place);
            return Advance::Moved;
        }
        match self.next_tree() {
            Some((order, tree)) => {
                self.time = self.time.max(order);
                self.frames.clear();
                self.enter(tree);
                Advance::Moved
            }
            None => Advance::Wanted(ended(self)),
        }
    }

    fn next_tree(&mut self) -> Option<(usize, TreeId)> {
        let found = self.trees_gone_on_to().nth(self.went_on);
        self.went_on += usize::from(found.is_some());
        found
    }

    /// Whether the work goes on with another tree from here.
    fn goes_on(&self) -> bool {
        self.trees_gone_on_to().nth(self.went_on).is_some()
    }

    fn trees_gone_on_to(&self) -> impl Iterator<Item = (usize, TreeId)> {
        self.standing.events.iter().enumerate().filter_map(|(order, event)| match event {
            Some(Event::WentOn { tree }) => Some((order, self.handbook.find_tree(tree)?)),
            _ => None,
        })
    }

    fn unacknowledged(&self, step: &Step) -> Option<crate::handbook::CautionId> {
        let own: &[_] = match &step.kind {
            StepKind::Ask { question, .. } => &self.handbook.question(*question).cautions,
            StepKind::Act { action, .. } => &self.handbook.action(*action).cautions,
            _ => &[],
        };
        step.cautions.iter().chain(own).copied().find(|&id| {
            let caution = self.handbook.caution(id);
            caution.severity == CautionSeverity::Stop
                && !self.acknowledged.contains(&caution.id.as_str())
        })
    }

    /// The next deed that belongs to a step and has not been counted for an earlier visit.
    fn next_deed(&mut self, at: Place) -> Option<usize> {
        let deed = self.deed_ahead(at);
        *self.done.entry(at).or_default() += usize::from(deed.is_some());
        deed
    }

    /// The same, not counted yet.
    fn deed_ahead(&self, at: Place) -> Option<usize> {
        let tree = self.handbook.tree(at.tree);
        let (tree_id, step_id) = (&tree.id, &tree.step(at.step).id);
        let is_here = |event: &Option<Event>| match event {
            Some(
                Event::Did { tree, step }
                | Event::Skipped { tree, step }
                | Event::Acted { tree, step, .. },
            ) => tree == tree_id && step == step_id,
            _ => false,
        };
        let deeds = self.standing.events.iter().enumerate().filter(|(_, event)| is_here(event));
        let counted = self.done.get(&at).copied().unwrap_or_default();
        deeds.map(|(order, _)| order).nth(counted)
    }

    /// The first answer of a question that no earlier step has taken.
    fn next_answer(&self, question: QuestionId) -> Option<usize> {
        let taken = self.consumed.get(&question).copied().unwrap_or(0);
        self.record.answers(question).nth(taken).map(|(_, given)| given.order)
    }

    fn consume(&mut self, question: QuestionId) {
        *self.consumed.entry(question).or_default() += 1;
    }

    /// Passes over answers that no step has taken and that don't stand for what is asked for here:
    /// something has outdated them since, or they were told before this round, of another thing.
    fn pass_over_others(&mut self, question: QuestionId, round: Option<usize>) {
        while let Some(order) = self.next_answer(question)
            && (round.is_some_and(|from| order <= from)
                || self.sheet().outdated(question, order).is_some())
        {
            self.consume(question);
        }
    }

    fn ask(&mut self, question: QuestionId, again: bool, place: Place) -> Advance {
        // Nobody can say of a reading that was skipped whether it still falls.
        if self.sheet().is_about_nothing(question) {
            return self.passed(place, Passage::Through);
        }
        let round = self.round_of(question, again);
        self.pass_over_others(question, round);
        let taken = self.consumed.get(&question).copied().unwrap_or(0);
        let last_taken = taken
            .checked_sub(1)
            .and_then(|last| self.record.answers(question).nth(last))
            .map(|(_, given)| given.order);
        let holds = |order| self.sheet().outdated(question, order).is_none();
        let is_fresh =
            last_taken.is_some_and(|order| holds(order) && round.is_none_or(|from| order > from));
        if let Some(order) = last_taken.filter(|_| is_fresh && !again) {
            return self.passed(place, Passage::Known(order));
        }
        let next = self.next_answer(question);
        let gap = self.standing.gap(question, last_taken.max(self.last_deed()), next);
        let is_of_round = |order: &usize| round.is_none_or(|from| *order > from);
        match next {
            Some(order) if gap.filter(is_of_round).is_none() => {
                self.consume(question);
                let was_volunteered = order < self.time;
                let passage =
                    if was_volunteered { Passage::Known(order) } else { Passage::Event(order) };
                self.passed(place, passage)
            }
            _ => Advance::Wanted(Now::Ask {
                question,
                place,
                asked_before: taken,
                in_place_of: gap.filter(is_of_round),
                names_a_round: false,
            }),
        }
    }

    /// A worksheet over what was known when the walk came here.
    fn sheet(&self) -> Worksheet<'_> {
        self.sheet_at(self.time)
    }

    /// The same over what was known once a place in the order was passed.
    fn sheet_at(&self, order: usize) -> Worksheet<'_> {
        let until = order + 1;
        let Record { given, done, .. } = &self.record;
        let is_all = given.last().is_none_or(|given| given.order < until)
            && done.last().is_none_or(|(_, order)| *order < until);
        // Where that is everything, what is evaluated here serves whoever judges the case.
        let until = if is_all { usize::MAX } else { until };
        Worksheet::kept(self.handbook, &self.record, self.streams, until, &self.cells)
    }

    /// Starts with what was evaluated on the earlier way and still holds; anew at each change of
    /// the rounds, which every cell may look at.
    fn keep_what_holds(&mut self) {
        self.cells = self.earlier.map_or_else(Cells::default, |earlier| {
            earlier.cells.gone_on(self.handbook, &earlier.record, &self.record)
        });
    }
}
