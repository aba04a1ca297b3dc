//! Sweeping a tree: the regions in which each of its steps is entered, from its start on.

use std::cell::Cell;
use std::collections::{BTreeMap, VecDeque};

use super::branch::{Branch, target_of};
use super::cells::Cells;
use super::conditions::Conditions;
use super::graph::PartId;
use super::journey::{Asking, Doings, Shaken, act, after_visit, ask, outdated_by_asking};
use super::layout::Layout;
use super::region::Region;
use super::truths::Truths;
use crate::handbook::{Handbook, Hazard, Next, Step, StepKind, Target, Tree, TreeId};

/// The most regions in which one step is entered before they are joined.
const MOST_AT_A_STEP: usize = 24;

/// The most of its ends that say nothing new and are kept as ways to go.
const MOST_OTHER_EXITS: usize = 12;

/// The most that the entries of a handbook may hold their slots to, all together; what is entered
/// beyond holds nothing, as if anything had been answered before (limit of ours: 100 MB).
pub(super) const MOST_HELD: usize = 2_000_000;

/// How many other ways of entering a step are kept for each of its entries.
const MOST_OTHERS: usize = 3;

/// How far a way is followed back for whether it leads in a circle (limit of ours).
const LONGEST_FOLLOWED: usize = 500;

/// How many ways of taking a branch are kept.
const MOST_WAYS: usize = 8;

/// The most regions in which a tree ends.
const MOST_EXITS: usize = 8;

/// One way of entering a step.
#[derive(Clone, Debug)]
pub(super) struct Entered {
    pub step: usize,
    pub region: Region,
    /// Where it is entered from; nowhere at the start.
    pub from: Option<From>,
    /// Other ways of entering it, with nothing that was not known before.
    pub others: Vec<From>,
    is_open: bool,
}

/// Where a step is entered from.
#[derive(Clone, Copy, Debug)]
pub(super) struct From {
    /// The entry of the step before.
    pub entry: usize,
    pub branch: Branch,
    /// Which condition of the list decided, where it was too close or not known.
    pub place: usize,
    /// By which end of the tree that the step before visits.
    pub exit: Option<usize>,
}

impl From {
    /// By a branch that no condition and no visit decides.
    fn plain(entry: usize, branch: Branch) -> Self {
        Self { entry, branch, place: 0, exit: None }
    }
}

/// How a tree ends by going on to another.
#[derive(Clone, Copy, Debug)]
pub(super) struct Through {
    pub branch: Branch,
    pub place: usize,
    /// By which end of the tree that the last step visits.
    pub visited: Option<usize>,
    pub tree: TreeId,
    /// By which of its ends.
    pub exit: usize,
}

/// What a condition of a list came to where it was asked.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Came {
    pub to: Truths,
    pub is_close: bool,
}

/// One way in which a tree ends.
#[derive(Clone, Debug)]
pub(super) struct Exit {
    pub region: Region,
    /// Which entry it ends at; none where a tree of rounds ends before its next round.
    pub at: Option<usize>,
    /// How it goes on to another tree, if it does.
    pub through: Option<Through>,
}

/// What a sweep of one tree has found.
#[derive(Debug, Default)]
pub(super) struct Swept {
    pub entered: Vec<Entered>,
    /// For each step, its entries.
    pub by_step: Vec<Vec<usize>>,
    /// By step and branch, some ways of taking it.
    pub taken: BTreeMap<(usize, Branch), Vec<From>>,
    /// For each step, what each condition of its list came to.
    pub came: Vec<Vec<Came>>,
    pub exits: Vec<Exit>,
    /// Ends that say nothing new, by other ways.
    pub other_exits: Vec<Exit>,
    /// Whether regions had to be joined so that some were lost.
    pub is_coarse: bool,
}

/// What every sweep of a handbook works with.
#[derive(Clone, Copy)]
pub(super) struct Ground<'a, 'h> {
    pub handbook: &'h Handbook,
    pub conditions: &'a Conditions<'h>,
    pub shaken: &'a Shaken,
    /// For each tree, what a visit may do.
    pub doings: &'a [Doings],
    /// The trees swept already; those that a tree leads to come before it.
    pub done: &'a [Swept],
    /// How many slots may still be held, of [`MOST_HELD`].
    pub room: &'a Cell<usize>,
}

/// One sweep under way.
struct Sweep<'a, 'h> {
    ground: Ground<'a, 'h>,
    tree: &'h Tree,
    rules: &'a [Vec<PartId>],
    layout: &'a Layout,
    swept: Swept,
    open: VecDeque<usize>,
}

/// Sweeps a tree from its start, where anything may have been answered before. `rules` are the
/// conditions of its steps; `is_late` says that it may follow an action.
pub(super) fn sweep(
    ground: Ground<'_, '_>,
    tree: TreeId,
    rules: &[Vec<PartId>],
    layout: &Layout,
    is_late: bool,
) -> Swept {
    let tree = ground.handbook.tree(tree);
    let swept = Swept {
        by_step: vec![Vec::new(); tree.steps.len()],
        came: rules.iter().map(|rules| vec![Came::default(); rules.len()]).collect(),
        ..Swept::default()
    };
    let mut sweep = Sweep { ground, tree, rules, layout, swept, open: VecDeque::new() };
    let is_in_rounds = tree.rounds.is_some();
    let mut start = Region::default();
    start.has_acted = is_late || is_in_rounds;
    if is_in_rounds {
        sweep.swept.exits.push(Exit { region: start.clone(), at: None, through: None });
    }
    ground.conditions.was_joined.set(false);
    sweep.enter(tree.start.index(), start, None);
    while let Some(entry) = sweep.open.pop_front() {
        sweep.pass(entry);
    }
    sweep.swept.is_coarse |= ground.conditions.was_joined.get();
    sweep.swept
}

impl Sweep<'_, '_> {
    fn enter(&mut self, step: usize, mut region: Region, from: Option<From>) {
        if from.as_ref().is_none_or(|from| {
            !self.layout.are_on_one_circle(self.swept.entered[from.entry].step, step)
        }) {
            region.may_have_entered = 0;
            region.has_entered = 0;
        }
        let has_room = region.held().len() <= self.ground.room.get();
        self.swept.is_coarse |= !has_room;
        region.keep(|slot| has_room && self.layout.is_live(step, slot));
        let known = &self.swept.by_step[step];
        let mut wider = known.iter();
        if let Some(at) =
            wider.find(|at| region.lies_within(&self.swept.entered[**at].region)).copied()
        {
            let is_full = self.swept.entered[at].others.len() >= MOST_OTHERS;
            let other = from.filter(|from| !is_full && !self.comes_by(from.entry, at));
            self.swept.entered[at].others.extend(other);
            return;
        }
        if let (true, Some(&last)) = (known.len() >= MOST_AT_A_STEP, known.last()) {
            self.swept.is_coarse = true;
            let entered = &mut self.swept.entered[last];
            entered.region = entered.region.joined(&region);
            if !std::mem::replace(&mut entered.is_open, true) {
                self.open.push_back(last);
            }
            return;
        }
        let room = self.ground.room;
        room.set(room.get().saturating_sub(region.held().len()));
        let entry = self.swept.entered.len();
        self.swept.entered.push(Entered { step, region, from, others: Vec::new(), is_open: true });
        self.swept.by_step[step].push(entry);
        self.open.push_back(entry);
    }

    /// Whether the way to an entry leads by another one, as far as it is followed. An entry comes
    /// after the one that it is entered from.
    fn comes_by(&self, entry: usize, by: usize) -> bool {
        let way = std::iter::successors(Some(entry), |at| {
            self.swept.entered[*at].from.map(|from| from.entry)
        });
        let mut way = way.take_while(|at| *at >= by);
        way.by_ref().take(LONGEST_FOLLOWED).any(|at| at == by) || way.next().is_some()
    }

    /// Goes through a step from one of its entries.
    fn pass(&mut self, entry: usize) {
        self.swept.entered[entry].is_open = false;
        let Entered { step, mut region, .. } = self.swept.entered[entry].clone();
        if let Some((most, _)) = self.tree.steps[step].bound {
            let bit = self.layout.bit(step).unwrap_or(0);
            let may_be_used_up = most == 0
                || region.may_have_entered & bit != 0
                || bit == 0 && self.layout.is_on_circle(step);
            if may_be_used_up {
                self.lead(region.clone(), From::plain(entry, Branch::UsedUp));
            }
            if most == 0 || most == 1 && region.has_entered & bit != 0 {
                return;
            }
            region.may_have_entered |= bit;
            region.has_entered |= bit;
        }
        self.work(entry, &self.tree.steps[step], region);
    }

    fn work(&mut self, entry: usize, step: &Step, mut region: Region) {
        let Ground { conditions, shaken, .. } = self.ground;
        match &step.kind {
            StepKind::Do { .. } => self.follow(entry, region, None),
            StepKind::Act { action, .. } => {
                let outdates = &self.ground.handbook.action(*action).outdates;
                act(conditions, &mut region, (*action, outdates));
                self.follow(entry, region, None);
            }
            StepKind::Ask { question, again } => {
                let again = *again || self.is_asked_each_round(*question);
                let before = region.clone();
                let outdates = outdated_by_asking(self.ground.handbook, *question, again);
                let asking = Asking { question: *question, outdates, again };
                ask(conditions, shaken, &mut region, asking);
                match &step.next {
                    Next::ByAnswer { targets, .. } => {
                        self.by_answer(entry, step, targets.len(), &before, &region);
                    }
                    _ => self.follow(entry, region, None),
                }
            }
            StepKind::Visit(visited) => {
                let doings = &self.ground.doings[visited.index()];
                let exits = &self.ground.done[visited.index()].exits;
                for (number, exit) in exits.iter().enumerate() {
                    let after = after_visit(conditions, shaken, &region, doings, &exit.region);
                    if let Some(after) = after {
                        self.follow(entry, after, Some(number));
                    }
                }
            }
            StepKind::Stop { .. } => {}
            StepKind::End { .. } => self.leave(Exit { region, at: Some(entry), through: None }),
        }
    }

    /// In a tree of rounds, what is no setting is asked anew for each thing.
    fn is_asked_each_round(&self, question: crate::handbook::QuestionId) -> bool {
        self.tree.rounds.is_some() && !self.ground.handbook.question(question).is_setting()
    }

    fn by_answer(
        &mut self,
        entry: usize,
        step: &Step,
        targets: usize,
        before: &Region,
        region: &Region,
    ) {
        let StepKind::Ask { question: id, again } = &step.kind else { return };
        let question = self.ground.handbook.question(*id);
        let hazard = match question.hazard {
            Some(Hazard::YesNo(yes)) => Some(usize::from(yes)),
            Some(Hazard::Choice(place)) => Some(place.into()),
            None => None,
        };
        let slot = self.ground.conditions.graph.slots.latest(*id);
        // A skipped answer leaves the one before it standing.
        let standing = slot
            .filter(|_| *again)
            .map_or(Cells::NONE, |slot| self.ground.conditions.cells(before, slot).known());
        let says_nothing = Cells::EMPTY.with(standing);
        let branches = (0..targets).map(|place| {
            let is_hazard = hazard == Some(place);
            let more = if is_hazard { says_nothing } else { Cells::NONE };
            (Branch::Answer(place), Cells::one(place).with(more))
        });
        let unsure = hazard.is_none().then_some((Branch::NotSure, says_nothing));
        for (branch, cells) in branches.chain(unsure) {
            let mut taken = region.clone();
            if let Some(slot) = slot {
                let cells = self.ground.conditions.cells(region, slot).within(cells);
                if cells.is_none() {
                    continue;
                }
                taken.fill(slot, cells);
            }
            self.lead(taken, From::plain(entry, branch));
        }
    }

    /// Where a step leads by what follows it.
    fn follow(&mut self, entry: usize, region: Region, exit: Option<usize>) {
        let step = self.swept.entered[entry].step;
        match &self.tree.steps[step].next {
            Next::Nothing => {}
            Next::Always(_) => {
                self.lead(region, From { exit, ..From::plain(entry, Branch::Always) })
            }
            // Only a question has branches by its answer.
            Next::ByAnswer { .. } => {}
            Next::ByRules { .. } => self.by_rules(entry, step, region, exit),
        }
    }

    fn by_rules(&mut self, entry: usize, step: usize, region: Region, exit: Option<usize>) {
        let conditions = self.ground.conditions;
        let mut left = vec![region];
        for (place, &rule) in self.rules[step].iter().enumerate() {
            let mut still = Vec::new();
            for region in &left {
                // What nobody has said comes first: it asks for the fewest answers beforehand.
                for (truth, branch) in
                    [(Truths::UNKNOWN, Branch::Unknown), (Truths::YES, Branch::Rule(place))]
                {
                    let judged = conditions.narrowed(region, rule, truth);
                    let came = if judged.is_empty() { Truths::NONE } else { truth };
                    self.came(step, place, came, false);
                    self.lead_all(judged, From { entry, branch, place, exit });
                }
                let close = conditions.too_close(region, rule);
                self.came(step, place, Truths::NONE, !close.is_empty());
                self.lead_all(close, From { entry, branch: Branch::TooClose, place, exit });
                still.extend(conditions.narrowed(region, rule, Truths::NO));
            }
            conditions.tidy(&mut still);
            let came = if still.is_empty() { Truths::NONE } else { Truths::NO };
            self.came(step, place, came, false);
            left = still;
        }
        self.lead_all(left, From { exit, ..From::plain(entry, Branch::Otherwise) });
    }

    fn came(&mut self, step: usize, place: usize, to: Truths, is_close: bool) {
        let came = &mut self.swept.came[step][place];
        came.to = came.to.and_those_of(to);
        came.is_close |= is_close;
    }

    fn lead_all(&mut self, regions: Vec<Region>, from: From) {
        for region in regions {
            self.lead(region, from);
        }
    }

    /// Takes a branch.
    fn lead(&mut self, region: Region, from: From) {
        let step = self.swept.entered[from.entry].step;
        let Some(target) = target_of(&self.tree.steps[step], from.branch) else { return };
        let ways = self.swept.taken.entry((step, from.branch)).or_default();
        if ways.len() < MOST_WAYS {
            ways.push(from);
        }
        match target {
            Target::Step(step) => self.enter(step.index(), region, Some(from)),
            Target::Tree(tree) => self.go_on(region, from, tree),
        }
    }

    /// Goes on to another tree, whose end is then this one's.
    fn go_on(&mut self, region: Region, from: From, tree: TreeId) {
        let Ground { conditions, shaken, doings, done, .. } = self.ground;
        for (number, exit) in done[tree.index()].exits.iter().enumerate() {
            let doings = &doings[tree.index()];
            let after = after_visit(conditions, shaken, &region, doings, &exit.region);
            if let Some(region) = after {
                let From { entry, branch, place, exit: visited } = from;
                let through = Through { branch, place, visited, tree, exit: number };
                self.leave(Exit { region, at: Some(entry), through: Some(through) });
            }
        }
    }

    fn leave(&mut self, mut exit: Exit) {
        exit.region.may_have_entered = 0;
        exit.region.has_entered = 0;
        let exits = &mut self.swept.exits;
        if exits.iter().any(|known| exit.region.lies_within(&known.region)) {
            if self.swept.other_exits.len() < MOST_OTHER_EXITS {
                self.swept.other_exits.push(exit);
            }
            return;
        }
        if let (true, Some(last)) = (exits.len() >= MOST_EXITS, exits.last_mut()) {
            last.region = last.region.joined(&exit.region);
            return;
        }
        exits.push(exit);
    }
}
