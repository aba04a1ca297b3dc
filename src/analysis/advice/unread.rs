//! Bounds that end a circle before what the last action did has been read.

use std::collections::{BTreeSet, VecDeque};

use super::{step, trees};
use crate::analysis::reach::Analysis;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::{RawHandbook, RawTree};
use crate::handbook::{Handbook, QuestionId, Step, StepId, StepKind, Target, Tree};

pub(super) fn advise(written: &RawHandbook, analysis: &Analysis<'_>, advice: &mut Vec<Diagnostic>) {
    let handbook = analysis.handbook();
    for (id, raw) in trees(written, handbook) {
        let tree = handbook.tree(id);
        let before = steps_before(tree);
        for (place, at) in tree.steps.iter().enumerate() {
            let StepKind::Ask { question, again: true } = at.kind else { continue };
            let Some((most, then)) = at.bound else { continue };
            if analysis.is_out_of_reach(id, StepId::at(place)) {
                continue;
            }
            let look = Look { tree, before: &before, place, most };
            let is_read_later = || {
                let later = look.following(then.index(), |_| true);
                let others = later.into_iter().filter(|at| *at != place);
                others.map(|at| &tree.steps[at]).any(|at| reads(analysis, at, question))
            };
            if let Some(action) = look.action().filter(|_| !is_read_later()) {
                advice.extend(fault(handbook, raw, &look, action));
            }
        }
    }
}

fn fault(handbook: &Handbook, raw: &RawTree, look: &Look<'_>, action: usize) -> Option<Diagnostic> {
    let (read, done) = (step(raw, look.place)?, step(raw, action)?);
    let StepKind::Act { action: id, .. } = look.tree.steps[action].kind else { return None };
    let action = &handbook.action(id).id;
    let title = format!(
        "when the bound of step `{}` is used up, what the last `{action}` did goes unread",
        read.id.value
    );
    let bound = read.at_most.as_ref()?.span;
    let then = read.then_step.as_ref()?;
    let fault = Diagnostic::at(Code::LastUnread, title, bound, "leaves before it asks once more")
        .and_at(done.id.span, format!("does `{action}`"))
        .note(format!(
            "this bound ends the circle between step `{}` and step `{}`, which goes on to `{}`",
            done.id.value, read.id.value, then.value
        ));
    Some(fault.help(format!(
        "put `at_most` and `then` on step `{}`: after its last time it is still read",
        done.id.value
    )))
}

/// A look at one question that is asked again and bounded.
struct Look<'a> {
    tree: &'a Tree,
    /// For each step, those that lead to it.
    before: &'a [Vec<usize>],
    place: usize,
    most: u32,
}

impl Look<'_> {
    /// An action from which the question is come to before anything else is measured, on a circle
    /// that this bound alone ends.
    fn action(&self) -> Option<usize> {
        let acts = self.acts_before();
        if acts.is_empty() {
            return None;
        }
        let from_here = self.following(self.place, |at| !self.ends_first(at));
        from_here.into_iter().find(|at| acts.contains(at))
    }

    /// The actions from which the question is come to before anything else is measured. Looked for
    /// from the question backwards, which ends at what is measured before it.
    fn acts_before(&self) -> BTreeSet<usize> {
        let mut reached = BTreeSet::from([self.place]);
        let mut open = vec![self.place];
        while let Some(at) = open.pop() {
            for &from in &self.before[at] {
                let is_passed = !self.ends_first(from) && !self.measures(from);
                if reached.insert(from) && is_passed {
                    open.push(from);
                }
            }
        }
        let is_act = |at: &usize| matches!(self.tree.steps[*at].kind, StepKind::Act { .. });
        reached.into_iter().filter(is_act).filter(|&at| !self.ends_first(at)).collect()
    }

    /// Whether a circle through this step is ended by its bound, before that of the question is
    /// used up or once the question has been asked.
    fn ends_first(&self, at: usize) -> bool {
        let step = &self.tree.steps[at];
        at != self.place
            && step.bound.is_some_and(|(most, _)| !self.measures(at) || most < self.most)
    }

    fn measures(&self, at: usize) -> bool {
        at != self.place && matches!(self.tree.steps[at].kind, StepKind::Ask { again: true, .. })
    }

    /// What may follow a step, itself included, while the steps passed are such.
    fn following(&self, from: usize, is_passed: impl Fn(usize) -> bool) -> BTreeSet<usize> {
        let mut reached = BTreeSet::from([from]);
        let mut open = VecDeque::from([from]);
        while let Some(at) = open.pop_front() {
            // A circle back to the question is none of what follows it.
            if at != from && (at == self.place || !is_passed(at)) {
                continue;
            }
            for to in targets(&self.tree.steps[at]) {
                if reached.insert(to) {
                    open.push_back(to);
                }
            }
        }
        reached
    }
}

/// For each step of a tree, those that lead to it.
fn steps_before(tree: &Tree) -> Vec<Vec<usize>> {
    let mut before = vec![Vec::new(); tree.steps.len()];
    for (from, step) in tree.steps.iter().enumerate() {
        for to in targets(step) {
            before[to].push(from);
        }
    }
    before
}

fn targets(step: &Step) -> impl Iterator<Item = usize> + '_ {
    let next = step.next.targets().into_iter().filter_map(|target| match target {
        Target::Step(to) => Some(to.index()),
        Target::Tree(_) => None,
    });
    next.chain(step.bound.map(|(_, then)| then.index()))
}

/// Whether a step asks the question anew, itself or in a tree that it leads to.
fn reads(analysis: &Analysis<'_>, step: &Step, question: QuestionId) -> bool {
    let visited = match step.kind {
        StepKind::Ask { question: asked, again: true } if asked == question => return true,
        StepKind::Visit(visited) => Some(visited),
        _ => None,
    };
    let onward = step.next.targets().into_iter().filter_map(|target| match target {
        Target::Tree(tree) => Some(tree),
        Target::Step(_) => None,
    });
    let doings = &analysis.explored.doings;
    visited.into_iter().chain(onward).any(|id| doings[id.index()].asked.contains_key(&question))
}
