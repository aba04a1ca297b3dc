//! Answers as an example in a message.

use std::cell::RefCell;
use std::collections::BTreeMap;

use crate::analysis::branch::{branches_of, target_of};
use crate::analysis::effort::Effort;
use crate::analysis::reach::Analysis;
use crate::analysis::witness::{Answering, Found, Goal, Witness};
use crate::handbook::{Handbook, StepId, Target, TreeId};
use crate::text::list_and;

/// How many conditions are evaluated for one example (limit of ours).
const EVALUATIONS_AN_EXAMPLE: u32 = 300;

/// How many conditions are evaluated for all examples of a handbook (limit of ours).
const EVALUATIONS: u32 = 6000;

/// The most answers that an example shows (limit of ours).
const MOST_ANSWERS: usize = 6;

/// Finds examples for messages.
pub(super) struct Examples<'a, 'h> {
    analysis: &'a Analysis<'h>,
    effort: Effort,
    /// By step, what was found, as many faults of one step may want it.
    found: RefCell<BTreeMap<(TreeId, StepId), Option<String>>>,
}

impl<'a, 'h> Examples<'a, 'h> {
    pub fn new(analysis: &'a Analysis<'h>) -> Self {
        Self { analysis, effort: Effort::of(EVALUATIONS), found: RefCell::default() }
    }

    /// Answers that lead to a step, and the step that follows there: `for example, with rain: yes
    /// one comes to inside and on to done`. None where no such answers were found.
    pub fn of_step(&self, tree: TreeId, step: StepId) -> Option<String> {
        if let Some(known) = self.found.borrow().get(&(tree, step)) {
            return known.clone();
        }
        let example = self.look(tree, step);
        self.found.borrow_mut().insert((tree, step), example.clone());
        example
    }

    fn look(&self, tree: TreeId, step: StepId) -> Option<String> {
        let handbook = self.analysis.handbook();
        let at = handbook.tree(tree).step(step);
        let on = branches_of(at).into_iter().filter_map(|branch| {
            let target = target_of(at, branch)?;
            Some((self.find(Goal::Branch(tree, step, branch))?, target))
        });
        let (witness, target) = on.into_iter().next()?;
        let to = match target {
            Target::Step(to) => format!("`{}`", handbook.tree(tree).step(to).id),
            Target::Tree(to) => format!("tree `{}`", handbook.tree(to).id),
        };
        let here = format!("`{}`", at.id);
        let with = with_answers(handbook, &witness)?;
        Some(format!("for example, {with} one comes to {here} and on to {to}"))
    }

    fn find(&self, goal: Goal) -> Option<Witness> {
        let effort = self.effort.lend(EVALUATIONS_AN_EXAMPLE);
        let found = self.analysis.look_for(goal, Answering::AnyTime, &effort);
        self.effort.take_back(&effort);
        match found {
            Found::Answers(witness) => Some(witness),
            Found::Nothing(_) | Found::GivenUp(_) => None,
        }
    }
}

/// Answers in the author's words and units: `with rain: yes`; none if they are too many to show.
pub(super) fn with_answers(handbook: &Handbook, witness: &Witness) -> Option<String> {
    let said = witness.beforehand.iter().chain(&witness.answers);
    let said: Vec<String> =
        said.map(|(id, typed)| format!("`{}: {typed}`", handbook.question(*id).id)).collect();
    match said.len() {
        0 => Some("without any answer".to_owned()),
        few if few <= MOST_ANSWERS => Some(format!("with {}", list_and(&said))),
        _ => None,
    }
}
