//! What a sweep needs to know of a tree beforehand: which slots still matter where, and which
//! bounded steps lie on a circle.

use std::collections::BTreeSet;

use petgraph::algo::kosaraju_scc;
use petgraph::graph::{DiGraph, NodeIndex};

use super::conditions::Conditions;
use super::graph::PartId;
use super::slot::SlotId;
use crate::formula::How;
use crate::handbook::{Next, Step, StepKind, Target, Tree};

/// The most bounded steps of one circle whose entries are told apart.
const MOST_BOUNDED: u32 = 64;

/// A tree, laid out for a sweep.
#[derive(Debug)]
pub(super) struct Layout {
    /// For each step, which circle it lies on; steps on none have a number of their own.
    circle: Vec<usize>,
    /// For each bounded step on a circle, its bit there.
    bit: Vec<Option<u32>>,
    /// Whether a step lies on a circle at all.
    is_on_circle: Vec<bool>,
    live: Live,
}

/// Which slots a condition may still look at, by step.
#[derive(Debug)]
struct Live {
    slots: Vec<SlotId>,
    words: usize,
    bits: Vec<u64>,
}

impl Layout {
    /// Lays out a tree whose steps have these conditions. `wanted_after` are the slots that still
    /// matter when the tree is done.
    pub fn of(
        tree: &Tree,
        rules: &[Vec<PartId>],
        conditions: &Conditions<'_>,
        wanted_after: &BTreeSet<SlotId>,
    ) -> Self {
        let edges: Vec<Vec<usize>> = tree.steps.iter().map(edges).collect();
        let circles = circles(&edges);
        let mut layout = Self {
            circle: vec![0; edges.len()],
            bit: vec![None; edges.len()],
            is_on_circle: vec![false; edges.len()],
            live: live(tree, &edges, rules, conditions, wanted_after),
        };
        let backwards: Vec<usize> = circles.iter().flatten().copied().collect();
        layout.live.spread(&edges, &backwards, tree, conditions);
        for (number, steps) in circles.iter().enumerate() {
            let mut bits = 0..MOST_BOUNDED;
            let is_circle = steps.len() > 1 || edges[steps[0]].contains(&steps[0]);
            for &step in steps {
                layout.circle[step] = number;
                layout.is_on_circle[step] = is_circle;
                if is_circle && tree.steps[step].bound.is_some() {
                    layout.bit[step] = bits.next();
                }
            }
        }
        layout
    }

    /// Whether two steps lie on one circle.
    pub fn are_on_one_circle(&self, a: usize, b: usize) -> bool {
        self.circle[a] == self.circle[b]
    }

    /// The bit of a bounded step on its circle.
    pub fn bit(&self, step: usize) -> Option<u64> {
        self.bit[step].map(|bit| 1 << bit)
    }

    /// Whether a step can be entered twice.
    pub fn is_on_circle(&self, step: usize) -> bool {
        self.is_on_circle[step]
    }

    /// Whether some condition from a step on may look at a slot before it is asked anew.
    pub fn is_live(&self, step: usize, slot: SlotId) -> bool {
        let Ok(place) = self.live.slots.binary_search(&slot) else { return false };
        self.live.bits[step * self.live.words + place / 64] >> (place % 64) & 1 == 1
    }
}

/// The steps of its own tree that a step may lead to.
fn edges(step: &Step) -> Vec<usize> {
    let own = step.next.targets().into_iter().filter_map(|target| match target {
        Target::Step(step) => Some(step.index()),
        Target::Tree(_) => None,
    });
    own.chain(step.bound.map(|(_, then)| then.index())).collect()
}

/// Steps by circle; a step on none is alone.
fn circles(edges: &[Vec<usize>]) -> Vec<Vec<usize>> {
    let mut graph: DiGraph<(), ()> = DiGraph::new();
    for _ in edges {
        graph.add_node(());
    }
    for (from, targets) in edges.iter().enumerate() {
        for &to in targets {
            graph.add_edge(NodeIndex::new(from), NodeIndex::new(to), ());
        }
    }
    let scc = kosaraju_scc(&graph);
    scc.into_iter().map(|nodes| nodes.iter().map(|node| node.index()).collect()).collect()
}

fn live(
    tree: &Tree,
    edges: &[Vec<usize>],
    rules: &[Vec<PartId>],
    conditions: &Conditions<'_>,
    wanted_after: &BTreeSet<SlotId>,
) -> Live {
    let mut used: BTreeSet<SlotId> = wanted_after.clone();
    for part in rules.iter().flatten() {
        used.extend(looked_at(conditions, *part));
    }
    let slots: Vec<SlotId> = used.into_iter().collect();
    let words = slots.len().div_ceil(64).max(1);
    let mut live = Live { slots, words, bits: vec![0; words * edges.len()] };
    let place = |slots: &[SlotId], slot: SlotId| slots.binary_search(&slot).ok();
    for (step, rules) in rules.iter().enumerate() {
        let after = leaves(&tree.steps[step]).then_some(wanted_after).into_iter().flatten();
        let own = rules.iter().flat_map(|part| looked_at(conditions, *part));
        for slot in own.chain(after.copied()) {
            if let Some(place) = place(&live.slots, slot) {
                live.bits[step * words + place / 64] |= 1 << (place % 64);
            }
        }
    }
    live
}

/// Whether a step may end the tree or go on to another.
fn leaves(step: &Step) -> bool {
    matches!(step.kind, StepKind::End { .. })
        || step.next.targets().iter().any(|target| matches!(target, Target::Tree(_)))
}

/// The slots of a condition, and the latest values that those looking back come from.
fn looked_at(conditions: &Conditions<'_>, part: PartId) -> Vec<SlotId> {
    let slots = &conditions.graph.slots;
    let mut looked: Vec<SlotId> = Vec::new();
    for &slot in &conditions.graph.node(part).slots {
        looked.push(slot);
        if slots.get(slot).how != How::Latest {
            looked.extend(slots.latest(slots.get(slot).question));
        }
    }
    looked
}

/// The slot that a step fills anew, whatever it held, if nothing looks back at it.
fn asked_anew(step: &Step, conditions: &Conditions<'_>) -> Option<SlotId> {
    let StepKind::Ask { question, again: true } = step.kind else { return None };
    // A step with branches looks at its own answer, and a skipped answer leaves the old one.
    if matches!(step.next, Next::ByAnswer { .. }) {
        return None;
    }
    let slots = &conditions.graph.slots;
    if slots.of(question).len() == 1 { slots.latest(question) } else { None }
}

impl Live {
    /// Spreads what is live against the steps' order, given from the ends on, until nothing changes.
    fn spread(
        &mut self,
        edges: &[Vec<usize>],
        backwards: &[usize],
        tree: &Tree,
        conditions: &Conditions<'_>,
    ) {
        let own = std::mem::replace(&mut self.bits, vec![0; self.words * edges.len()]);
        let mut is_changed = true;
        while is_changed {
            is_changed = false;
            for &step in backwards {
                let asked = asked_anew(&tree.steps[step], conditions);
                let asked = asked.and_then(|slot| self.slots.binary_search(&slot).ok());
                is_changed |= self.update(step, &edges[step], &own, asked);
            }
        }
    }

    fn update(&mut self, step: usize, after: &[usize], own: &[u64], asked: Option<usize>) -> bool {
        let words = self.words;
        let mut is_changed = false;
        for word in 0..words {
            let later = after.iter().fold(0, |bits, to| bits | self.bits[to * words + word]);
            let mut bits = own[step * words + word] | later;
            if let Some(place) = asked.filter(|place| place / 64 == word) {
                // The step's own conditions see the new answer.
                bits &= !(1 << (place % 64));
            }
            is_changed |= self.bits[step * words + word] != bits;
            self.bits[step * words + word] = bits;
        }
        is_changed
    }
}
