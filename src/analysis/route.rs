//! Routes: what is asked, done and judged on one way through the trees.

use std::collections::BTreeMap;

use super::branch::Branch;
use super::cells::{Cell, Cells};
use super::explored::Explored;
use super::sweep::{Exit, From, Swept};
use crate::handbook::{ActionId, Hazard, Next, QuestionId, StepKind, TreeId};

/// The longest route that is looked at, in steps (limit of ours).
const LONGEST: usize = 4000;

/// How a condition has to come out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Outcome {
    Yes,
    No,
    Unknown,
    TooClose,
}

/// A condition of a list, by its tree, step and place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct RuleAt {
    pub tree: TreeId,
    pub step: usize,
    pub place: usize,
}

/// One thing that happens on a route.
#[derive(Clone, Debug)]
pub(super) enum Event {
    /// A round begins; the question names what it is about.
    Round(QuestionId),
    /// A question is come to.
    Ask {
        question: QuestionId,
        again: bool,
        /// Whether what was answered before the round does not count.
        each_round: bool,
    },
    /// Its answer lies in one of these cells.
    Answered(QuestionId, Cells),
    /// Its answer is a quantity within these bounds.
    Between(QuestionId, Cell),
    Act(ActionId),
    Judge(RuleAt, Outcome),
}

impl Event {
    /// Whether a question is come to.
    pub fn asks(&self, sought: QuestionId) -> bool {
        matches!(self, Self::Ask { question, .. } if *question == sought)
    }

    /// Whether a question is come to that is asked even where it has an answer.
    pub fn asks_anew(&self) -> bool {
        matches!(self, Self::Ask { again, each_round, .. } if *again || *each_round)
    }
}

/// A step left by a branch.
#[derive(Clone, Copy, Debug)]
struct Hop {
    step: usize,
    from: From,
}

/// Builds routes from what sweeps have found.
pub(super) struct Routes<'a, 'h> {
    explored: &'a Explored<'h>,
    /// Which of the ends of visited trees is taken: 0 for the one that was swept on from.
    variant: usize,
    /// Whether only the last tree that the begun one visits takes that end. Others may ask what
    /// it asks, and would have to be told the same.
    is_of_last: bool,
    /// How deep in visited trees.
    depth: usize,
    detours: Vec<Detour>,
    /// The end of each tree that the begun one visits by the way of another one.
    within: BTreeMap<TreeId, &'a Exit>,
    /// By which end a tree that the begun one visits itself is left.
    left_by: BTreeMap<TreeId, &'a Exit>,
    left: usize,
}

/// Another way of entering a step than the one that was swept on from.
#[derive(Clone, Copy, Debug)]
pub(super) struct Detour {
    pub entry: usize,
    pub from: From,
}

/// The detours on the way to an entry of a step of a tree, those near it first.
pub(super) fn detours(swept: &Swept, entry: usize) -> Vec<Detour> {
    let mut found = Vec::new();
    let mut at = Some(entry);
    while let Some(entry) = at {
        // Another way does not lead by this entry, so that it comes to the start in the end.
        found.extend(swept.entered[entry].others.iter().map(|from| Detour { entry, from: *from }));
        at = swept.entered[entry].from.map(|from| from.entry);
        if found.len() > LONGEST {
            break;
        }
    }
    found
}

/// Two detours at once: each of some detours with those that lie before it on its own way.
pub(super) fn two_detours(swept: &Swept, entry: usize, most: usize) -> Vec<Vec<Detour>> {
    let some = |entry: usize| detours(swept, entry).into_iter().take(most);
    let before = |first: Detour| some(first.from.entry).map(move |second| vec![first, second]);
    some(entry).flat_map(before).collect()
}

impl<'a, 'h> Routes<'a, 'h> {
    pub fn new(explored: &'a Explored<'h>, variant: usize) -> Self {
        Self {
            explored,
            variant,
            is_of_last: false,
            depth: 0,
            detours: Vec::new(),
            within: BTreeMap::new(),
            left_by: BTreeMap::new(),
            left: LONGEST,
        }
    }

    /// Routes that take detours in the tree that is begun, and this end of the last tree that it
    /// visits.
    pub fn by(explored: &'a Explored<'h>, detours: &[Detour], variant: usize) -> Self {
        Self { detours: detours.to_vec(), is_of_last: true, ..Self::new(explored, variant) }
    }

    /// The same route where a tree that is visited once more within another is left as it is left
    /// there: what it asked the first time it does not ask again. None where there is no such tree.
    pub fn alike(
        explored: &'a Explored<'h>,
        detours: &[Detour],
        variant: usize,
        first: Self,
    ) -> Option<Self> {
        let left_by = first.within;
        (!left_by.is_empty()).then(|| Self { left_by, ..Self::by(explored, detours, variant) })
    }

    /// The way to an entry of a step, and on by a branch where one is given.
    pub fn to(&mut self, tree: TreeId, entry: usize, on: Option<From>) -> Option<Vec<Event>> {
        let swept = self.swept(tree);
        // The trees that are visited have no detour.
        let detours = std::mem::take(&mut self.detours);
        let mut hops = hops(swept, entry, detours)?;
        hops.extend(on.map(|from| Hop { step: swept.entered[entry].step, from }));
        let hops = self.with_loops(tree, hops)?;
        let mut events: Vec<Event> =
            self.explored.handbook.tree(tree).rounds.map(Event::Round).into_iter().collect();
        let steps = &self.explored.handbook.tree(tree).steps;
        let visits = |hop: &Hop| matches!(steps[hop.step].kind, StepKind::Visit(_));
        let last_visit = hops.iter().rposition(visits);
        for (place, hop) in hops.into_iter().enumerate() {
            self.left = self.left.checked_sub(1)?;
            let is_last = self.depth == 0 && Some(place) == last_visit;
            let variant = if is_last || !self.is_of_last { self.variant } else { 0 };
            self.pass(tree, hop, variant, &mut events)?;
        }
        Some(events)
    }

    fn swept(&self, tree: TreeId) -> &'a Swept {
        &self.explored.swept[tree.index()]
    }

    /// Goes round a circle as often as its bounds ask for.
    fn with_loops(&self, tree: TreeId, hops: Vec<Hop>) -> Option<Vec<Hop>> {
        let steps = &self.explored.handbook.tree(tree).steps;
        let mut all: Vec<Hop> = Vec::new();
        for hop in hops {
            let Some((most, _)) = steps[hop.step].bound else {
                all.push(hop);
                continue;
            };
            let passes = |all: &[Hop]| all.iter().filter(|h| is_pass(h, hop.step)).count();
            if hop.from.branch == Branch::UsedUp {
                let last = all.iter().rposition(|h| is_pass(h, hop.step));
                let round: Vec<Hop> = last.map_or_else(Vec::new, |at| all[at..].to_vec());
                while passes(&all) < most as usize {
                    if round.is_empty() || all.len() > LONGEST {
                        return None;
                    }
                    all.extend(&round);
                }
                // A circle that leads by another step with a bound is not gone round more often.
                let is_beyond = |met: &Hop| {
                    let most = steps[met.step].bound.map(|(most, _)| most as usize);
                    most.is_some_and(|most| {
                        all.iter().filter(|h| is_pass(h, met.step)).count() > most
                    })
                };
                if round.iter().any(is_beyond) {
                    return None;
                }
            } else if passes(&all) >= most as usize {
                return None;
            }
            all.push(hop);
        }
        Some(all)
    }

    /// What happens when a step is passed and left by a branch.
    fn pass(
        &mut self,
        tree: TreeId,
        hop: Hop,
        variant: usize,
        events: &mut Vec<Event>,
    ) -> Option<()> {
        let Hop { step, from } = hop;
        if from.branch == Branch::UsedUp {
            return Some(());
        }
        let explored = self.explored;
        let in_tree = explored.handbook.tree(tree);
        match &in_tree.steps[step].kind {
            StepKind::Ask { question, again } => {
                let is_setting = explored.handbook.question(*question).is_setting();
                let each_round = in_tree.rounds.is_some() && !is_setting;
                events.push(Event::Ask { question: *question, again: *again, each_round });
                events.extend(self.answered(*question, from.branch));
            }
            StepKind::Act { action, .. } => events.push(Event::Act(*action)),
            StepKind::Visit(visited) => {
                let swept = self.swept(*visited);
                let other = variant.checked_sub(1).and_then(|at| swept.other_exits.get(at));
                let by_default = other.or(swept.exits.get(from.exit?))?;
                let exit = match self.left_by.get(visited) {
                    Some(exit) if self.depth == 0 => *exit,
                    _ => by_default,
                };
                if self.depth > 0 {
                    self.within.insert(*visited, exit);
                }
                self.depth += 1;
                let passed = self.exit(*visited, exit, events);
                self.depth -= 1;
                passed?;
            }
            StepKind::Do { .. } | StepKind::Stop { .. } | StepKind::End { .. } => {}
        }
        if let Next::ByRules { rules, .. } = &in_tree.steps[step].next {
            judged(RuleAt { tree, step, place: from.place }, from.branch, rules.len(), events);
        }
        Some(())
    }

    /// The way to an end of a visited tree.
    fn exit(&mut self, tree: TreeId, exit: &Exit, events: &mut Vec<Event>) -> Option<()> {
        // A tree of rounds may end before its first one: there is no more to name.
        let Some(at) = exit.at else { return Some(()) };
        let on = exit.through.map(|through| From {
            entry: at,
            branch: through.branch,
            place: through.place,
            exit: through.visited,
        });
        events.extend(self.to(tree, at, on)?);
        match exit.through {
            None => Some(()),
            Some(through) => {
                let next = self.swept(through.tree).exits.get(through.exit)?;
                self.exit(through.tree, next, events)
            }
        }
    }

    /// Which answers take a branch of a question.
    fn answered(&self, question: QuestionId, branch: Branch) -> Option<Event> {
        let cells = match branch {
            Branch::Answer(place) => Cells::one(place),
            Branch::NotSure => Cells::EMPTY,
            _ => return None,
        };
        let is_hazard = match (self.explored.handbook.question(question).hazard, branch) {
            (Some(Hazard::YesNo(yes)), Branch::Answer(place)) => usize::from(yes) == place,
            (Some(Hazard::Choice(choice)), Branch::Answer(place)) => usize::from(choice) == place,
            _ => false,
        };
        let more = if is_hazard { Cells::EMPTY } else { Cells::NONE };
        Some(Event::Answered(question, cells.with(more)))
    }
}

fn is_pass(hop: &Hop, step: usize) -> bool {
    hop.step == step && hop.from.branch != Branch::UsedUp
}

/// The steps passed on the way to an entry, from the start on; none where the detours lead in a
/// circle.
fn hops(swept: &Swept, entry: usize, mut detours: Vec<Detour>) -> Option<Vec<Hop>> {
    let mut hops = Vec::new();
    let mut at = entry;
    loop {
        let detour = detours.iter().position(|detour| detour.entry == at);
        // A detour that was taken is not taken again, so that the way comes to its start.
        let from = detour.map(|place| detours.swap_remove(place).from).or(swept.entered[at].from);
        let Some(from) = from else { break };
        if hops.len() > LONGEST {
            return None;
        }
        hops.push(Hop { step: swept.entered[from.entry].step, from });
        at = from.entry;
    }
    hops.reverse();
    Some(hops)
}

/// How the conditions of a list come out for a branch.
fn judged(at: RuleAt, branch: Branch, rules: usize, events: &mut Vec<Event>) {
    let (until, last) = match branch {
        Branch::Rule(place) => (place, Some(Outcome::Yes)),
        Branch::TooClose => (at.place, Some(Outcome::TooClose)),
        Branch::Unknown => (at.place, Some(Outcome::Unknown)),
        _ => (rules, None),
    };
    let rule = |place| RuleAt { place, ..at };
    events.extend((0..until).map(|place| Event::Judge(rule(place), Outcome::No)));
    events.extend(last.map(|outcome| Event::Judge(rule(until), outcome)));
}
