//! Steps: all can be reached, all can reach an end, and no circle goes on for ever.
//!
//! Looked at as written, so that a fault elsewhere hides none of these. A step with a fault in
//! where it leads might lead anywhere: nothing that could follow from it is reported.

use std::collections::{BTreeMap, BTreeSet};

use super::ring::{Edges, knots, rings};
use crate::diagnostic::{Code, Diagnostic};
use crate::document::Spanned;
use crate::document::raw::{RawHandbook, RawStep, RawTarget, RawTree, RawWork};
use crate::text::list_and;

pub(super) fn check(raw: &RawHandbook, faults: &mut Vec<Diagnostic>) {
    for tree in &raw.trees {
        let ways = Ways::of(tree);
        if let Some(reached) = ways.reached() {
            ways.unreachable(&reached, faults);
            ways.without_end(&reached, faults);
            ways.endless(&reached, faults);
        }
    }
}

/// Where the steps of a tree lead.
struct Ways<'a> {
    tree: &'a RawTree,
    start: Option<usize>,
    /// Every step that may follow, that behind `then` among them.
    edges: Edges,
    /// The step behind `then`, where a step is bounded.
    then: Vec<Option<usize>>,
    /// Whether the tree can be left here.
    is_exit: Vec<bool>,
    /// Whether it might lead anywhere, since something about it is faulty.
    is_open: Vec<bool>,
}

impl<'a> Ways<'a> {
    fn of(tree: &'a RawTree) -> Self {
        let mut numbers: BTreeMap<&str, usize> = BTreeMap::new();
        for (i, step) in tree.steps.iter().enumerate() {
            numbers.entry(&step.id.value).or_insert(i);
        }
        let number = |name: &Spanned<String>| numbers.get(name.value.as_str()).copied();
        let mut ways = Self {
            tree,
            start: tree.start.as_ref().and_then(number),
            edges: Vec::new(),
            then: Vec::new(),
            is_exit: Vec::new(),
            is_open: Vec::new(),
        };
        for step in &tree.steps {
            ways.add(step, &number);
        }
        ways
    }

    fn add(&mut self, step: &RawStep, number: &impl Fn(&Spanned<String>) -> Option<usize>) {
        let is_last = matches!(step.work, Some(RawWork::End(_) | RawWork::Stop(_)));
        let targets = step.next.as_ref().map(|next| next.targets()).unwrap_or_default();
        let named = |target: &&RawTarget| match target {
            RawTarget::Step(name) => Some(name.clone()),
            RawTarget::Tree(_) => None,
        };
        let steps: Vec<Spanned<String>> = targets.iter().filter_map(named).collect();
        let mut edges: Vec<usize> = steps.iter().filter_map(number).collect();
        let mut is_open = edges.len() < steps.len()
            || step.work.is_none()
            || !is_last && !step.next.as_ref().is_some_and(|next| next.is_whole());
        let then = step.then_step.as_ref().and_then(number);
        edges.extend(then);
        is_open |= step.at_most.is_some() != then.is_some();
        edges.sort_unstable();
        edges.dedup();
        self.edges.push(edges);
        self.then.push(then);
        self.is_exit.push(is_last || targets.iter().any(|target| target.tree().is_some()));
        self.is_open.push(is_open);
    }

    /// Which steps can be reached from the start; nothing if the start is faulty.
    fn reached(&self) -> Option<Vec<bool>> {
        Some(following(&self.edges, [self.start?]))
    }

    fn name(&self, step: usize) -> &'a str {
        &self.tree.steps[step].id.value
    }

    fn at(&self, code: Code, title: String, step: usize, label: &str) -> Diagnostic {
        Diagnostic::at(code, title, self.tree.steps[step].id.span, label)
    }

    /// Steps that nothing leads to; not those that only such a step leads to.
    fn unreachable(&self, reached: &[bool], faults: &mut Vec<Diagnostic>) {
        let might_lead_anywhere =
            (0..reached.len()).any(|step| reached[step] && self.is_open[step]);
        if might_lead_anywhere {
            return;
        }
        let lost: Vec<usize> = (0..reached.len()).filter(|&step| !reached[step]).collect();
        let is_led_to: BTreeSet<usize> = lost
            .iter()
            .flat_map(|&from| self.edges[from].iter().copied().filter(move |&to| to != from))
            .collect();
        let roots = lost.iter().copied().filter(|step| !is_led_to.contains(step));
        let mut told = vec![false; reached.len()];
        for step in roots.chain(lost.iter().copied()) {
            if told[step] {
                continue;
            }
            let follows = following(&self.edges, [step]);
            told.iter_mut().zip(&follows).for_each(|(told, follows)| *told |= follows);
            let tree = &self.tree.id.value;
            let title = format!("nothing leads to step `{}` of tree `{tree}`", self.name(step));
            faults.push(self.at(Code::UnreachableStep, title, step, "never reached"));
        }
    }

    /// Steps that can reach an end, a stop or another tree.
    fn can_end(&self) -> Vec<bool> {
        let mut backwards: Edges = vec![Vec::new(); self.edges.len()];
        for (from, targets) in self.edges.iter().enumerate() {
            targets.iter().for_each(|&to| backwards[to].push(from));
        }
        let exits = (0..self.edges.len()).filter(|&step| self.is_exit[step] || self.is_open[step]);
        following(&backwards, exits)
    }

    /// Circles that can't be left at all.
    fn without_end(&self, reached: &[bool], faults: &mut Vec<Diagnostic>) {
        let ends = self.can_end();
        for knot in knots(&self.edges) {
            let leaves =
                |&step: &usize| self.edges[step].iter().any(|to| knot.binary_search(to).is_err());
            if ends[knot[0]] || !reached[knot[0]] || knot.iter().any(leaves) {
                continue;
            }
            let title = format!(
                "from {} of tree `{}` no end can be reached",
                self.steps(&knot),
                self.tree.id.value
            );
            let label = "no way out of here";
            let fault = self.at(Code::NoWayToEnd, title, knot[0], label);
            faults.push(fault.note("a way out ends at an `end`, a `stop` or another tree"));
        }
    }

    /// Circles that can be gone round for ever: in the long run every bound is used up, and only
    /// the step behind `then` follows a bounded step.
    fn endless(&self, reached: &[bool], faults: &mut Vec<Diagnostic>) {
        let ends = self.can_end();
        let in_the_long_run: Edges = (0..self.edges.len())
            .map(|step| self.then[step].map_or_else(|| self.edges[step].clone(), |then| vec![then]))
            .collect();
        for ring in rings(&in_the_long_run) {
            let might_lead_out = ring.iter().any(|&step| self.is_open[step]);
            if !reached[ring[0]] || !ends[ring[0]] || might_lead_out {
                continue;
            }
            let tree = &self.tree.id.value;
            let title = format!("{} of tree `{tree}` can go round for ever", self.steps(&ring));
            let label = "the circle goes through here";
            let mut fault = self.at(Code::EndlessCycle, title, ring[0], label);
            let bounded = ring.iter().find(|&&step| self.then[step].is_some());
            fault = match bounded.and_then(|&step| self.tree.steps[step].then_step.as_ref()) {
                Some(then) => fault
                    .and_at(then.span, "leads back into it")
                    .note("when `at_most` is used up, `then` has to lead out of the circle"),
                None => fault.help(self.where_to_bound(&ring)),
            };
            faults.push(fault);
        }
    }

    /// Which step of a circle should carry the bound: the one with an action, since a bound on the
    /// reading leaves before the last one is read.
    fn where_to_bound(&self, ring: &[usize]) -> String {
        let acts = |step: &&usize| matches!(self.tree.steps[**step].work, Some(RawWork::Action(_)));
        match ring.iter().find(acts) {
            Some(&step) => format!(
                "give step `{}` `at_most:` with a number and `then:` with a step outside the \
                 circle; on the action, so that what its last time did is still read",
                self.name(step)
            ),
            None => "give one of these steps `at_most:` with a number and `then:` with a step \
                     outside the circle"
                .to_owned(),
        }
    }

    /// `` step `a` ``, `` steps `a` and `b` ``.
    fn steps(&self, steps: &[usize]) -> String {
        let names: Vec<String> =
            steps.iter().map(|&step| format!("`{}`", self.name(step))).collect();
        let noun = if names.len() == 1 { "step" } else { "steps" };
        format!("{noun} {}", list_and(&names))
    }
}

/// What can be reached from some things, themselves included.
fn following(edges: &Edges, from: impl IntoIterator<Item = usize>) -> Vec<bool> {
    let mut reached = vec![false; edges.len()];
    let mut open: Vec<usize> = from.into_iter().collect();
    while let Some(at) = open.pop() {
        if !std::mem::replace(&mut reached[at], true) {
            open.extend(&edges[at]);
        }
    }
    reached
}
