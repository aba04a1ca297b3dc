//! What has been asked on every way to a step, whatever the answers were.

use std::collections::{BTreeMap, VecDeque};

use crate::handbook::{Handbook, QuestionId, Step, StepKind, Target, TreeId};

/// A set of the questions that are looked at, by their places.
type Bits = Vec<u64>;

/// Follows some questions through trees.
pub(super) struct Asked<'a> {
    handbook: &'a Handbook,
    /// The questions that are looked at, in order.
    questions: &'a [QuestionId],
    ends: BTreeMap<TreeId, Bits>,
}

impl<'a> Asked<'a> {
    pub fn new(handbook: &'a Handbook, questions: &'a [QuestionId]) -> Self {
        Self { handbook, questions, ends: BTreeMap::new() }
    }

    /// For each step of a tree, which of the questions every way from its start has asked.
    pub fn before(&mut self, tree: TreeId) -> Vec<Vec<QuestionId>> {
        let bits = self.bits_before(tree);
        let named = |bits: &Bits| {
            let places = 0..self.questions.len();
            let asked = places.filter(|place| bits[place / 64] >> (place % 64) & 1 == 1);
            asked.map(|place| self.questions[place]).collect()
        };
        bits.iter().map(named).collect()
    }

    fn bits_before(&mut self, tree: TreeId) -> Vec<Bits> {
        let tree = self.handbook.tree(tree);
        let mut before = vec![self.all(); tree.steps.len()];
        let mut start = self.none();
        tree.rounds.iter().for_each(|question| self.add(&mut start, *question));
        before[tree.start.index()] = start;
        let mut open = VecDeque::from([tree.start.index()]);
        let mut seen = vec![false; tree.steps.len()];
        while let Some(place) = open.pop_front() {
            let step = &tree.steps[place];
            let after = self.after(step, &before[place]);
            for to in followers(step) {
                let is_less = keep_only(&mut before[to], &after);
                if is_less || !std::mem::replace(&mut seen[to], true) {
                    open.push_back(to);
                }
            }
        }
        before
    }

    fn after(&mut self, step: &Step, before: &Bits) -> Bits {
        let mut after = before.clone();
        match step.kind {
            StepKind::Ask { question, .. } => self.add(&mut after, question),
            StepKind::Visit(visited) => {
                let end = self.end(visited);
                after.iter_mut().zip(end).for_each(|(own, more)| *own |= more);
            }
            _ => {}
        }
        after
    }

    /// What every way through a tree asks that comes to its end.
    fn end(&mut self, id: TreeId) -> Bits {
        if let Some(known) = self.ends.get(&id) {
            return known.clone();
        }
        let tree = self.handbook.tree(id);
        let before = self.bits_before(id);
        // There may be nothing to go round.
        let mut end = if tree.rounds.is_some() { self.none() } else { self.all() };
        for (step, before) in tree.steps.iter().zip(&before) {
            let after = self.after(step, before);
            if matches!(step.kind, StepKind::End { .. }) {
                keep_only(&mut end, &after);
            }
            for target in step.next.targets() {
                if let Target::Tree(next) = target {
                    let beyond = self.end(next);
                    let both = after.iter().zip(beyond).map(|(own, more)| own | more).collect();
                    keep_only(&mut end, &both);
                }
            }
        }
        self.ends.insert(id, end.clone());
        end
    }

    fn all(&self) -> Bits {
        vec![u64::MAX; self.questions.len().div_ceil(64)]
    }

    fn none(&self) -> Bits {
        vec![0; self.questions.len().div_ceil(64)]
    }

    fn add(&self, bits: &mut Bits, question: QuestionId) {
        if let Ok(place) = self.questions.binary_search(&question) {
            bits[place / 64] |= 1 << (place % 64);
        }
    }
}

/// The steps of its own tree that may follow a step.
fn followers(step: &Step) -> Vec<usize> {
    let own = step.next.targets().into_iter().filter_map(|target| match target {
        Target::Step(to) => Some(to.index()),
        Target::Tree(_) => None,
    });
    own.chain(step.bound.map(|(_, then)| then.index())).collect()
}

/// Keeps only what is in both; says whether that is less than before.
fn keep_only(bits: &mut Bits, other: &Bits) -> bool {
    let mut is_less = false;
    for (own, other) in bits.iter_mut().zip(other) {
        is_less |= *own & other != *own;
        *own &= other;
    }
    is_less
}
