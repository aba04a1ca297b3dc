//! Witnesses: answers that lead somewhere, as a person would type them.

use super::branch::Branch;
use super::reach::Analysis;
use super::route::{Event, Outcome, Routes};
use super::said::Said;
use super::search::Search;
use super::solving::{Solution, solve};
use super::sweep::From;
use crate::handbook::{FindingId, QuestionId, StepId, TreeId};

/// How many ways to one place are tried before it is given up (limit of ours).
const MOST_WAYS: usize = 8;

/// How many ends of visited trees are tried (limit of ours).
const MOST_VARIANTS: usize = 13;

/// What answers are looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Goal {
    /// Answers that lead to a step when its tree is begun.
    Step(TreeId, StepId),
    /// Answers that take a branch of a step when its tree is begun.
    Branch(TreeId, StepId, Branch),
    /// Answers that make a yes or no finding true, or false.
    Finding(FindingId, bool),
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

impl Analysis<'_> {
    /// Answers that lead to a goal. None says that none were found, not that there are none; see
    /// [`is_out_of_reach`](Self::is_out_of_reach) and [`is_never_taken`](Self::is_never_taken) for
    /// proofs.
    #[must_use]
    pub fn witness_for(&self, goal: Goal) -> Option<Witness> {
        match goal {
            Goal::Step(tree, step) => {
                let entries = self.explored.swept[tree.index()].by_step.get(step.index())?;
                let entries: Vec<usize> = entries.iter().take(MOST_WAYS).copied().collect();
                self.by_any(tree, &entries.iter().map(|at| (*at, None)).collect::<Vec<_>>())
            }
            Goal::Branch(tree, step, branch) => {
                let taken = &self.explored.swept[tree.index()].taken;
                let ways = taken.get(&(step.index(), branch))?;
                self.by_any(
                    tree,
                    &ways.iter().map(|from| (from.entry, Some(*from))).collect::<Vec<_>>(),
                )
            }
            Goal::Finding(finding, yes) => {
                let outcome = if yes { Outcome::Yes } else { Outcome::No };
                let solution = solve(&self.explored, &[], Some((finding, outcome)))?;
                self.said(&solution)
            }
        }
    }

    /// Answers by the first of some ways for which there are any: an entry of a step, and a
    /// branch from there. Visited trees are left by one of their ends after the other.
    fn by_any(&self, tree: TreeId, ways: &[(usize, Option<From>)]) -> Option<Witness> {
        let mut tried: Vec<String> = Vec::new();
        (0..MOST_VARIANTS).find_map(|variant| {
            ways.iter().find_map(|(entry, on)| {
                let events = Routes::new(&self.explored, variant).to(tree, *entry, *on)?;
                let route = format!("{events:?}");
                if tried.contains(&route) {
                    return None;
                }
                tried.push(route);
                self.along(&events)
            })
        })
    }

    /// Answers along a route.
    fn along(&self, events: &[Event]) -> Option<Witness> {
        self.said(&solve(&self.explored, events, None)?)
    }

    fn said(&self, solution: &Solution) -> Option<Witness> {
        let said = Search::new(&self.explored, solution, &self.chances).run()?;
        let mut witness = Witness::default();
        for (variable, said) in solution.variables.iter().zip(said) {
            if said == Said::NotAsked {
                continue;
            }
            let typed = said.typed(self.handbook().question(variable.question));
            let list =
                if variable.is_beforehand { &mut witness.beforehand } else { &mut witness.answers };
            list.push((variable.question, typed));
        }
        Some(witness)
    }
}
