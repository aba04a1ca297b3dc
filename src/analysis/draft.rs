//! A draft of answers: what is said, and which conditions are known to come out as they should.

use std::cell::Cell;

use super::effort::Effort;
use super::explored::Explored;
use super::moment::{Chances, Moment};
use super::route::Outcome;
use super::said::Said;
use super::solving::{Decided, Judgement, Solution};
use crate::formula::{Facts, Value, Verdict, verdict};
use crate::handbook::{Next, QuestionId};

/// What a search works with.
#[derive(Clone, Copy)]
pub(super) struct Bench<'a, 'h> {
    pub explored: &'a Explored<'h>,
    pub solution: &'a Solution,
    pub chances: &'a Chances,
    pub effort: &'a Effort,
}

/// Answers under trial, in the order of the variables.
pub(super) struct Draft<'a, 'h> {
    bench: Bench<'a, 'h>,
    said: Vec<Said>,
    /// For each variable, the judgements that rest on it.
    behind: Vec<Vec<usize>>,
    /// For each judgement, whether it comes out as it should, where that has been evaluated.
    known: Vec<Cell<Option<bool>>>,
}

impl<'a, 'h> Draft<'a, 'h> {
    pub fn new(bench: Bench<'a, 'h>, said: Vec<Said>) -> Self {
        let judgements = &bench.solution.judgements;
        let mut behind = vec![Vec::new(); said.len()];
        for (at, judgement) in judgements.iter().enumerate() {
            let questions = rests_on(bench.explored, judgement);
            let given = questions.iter().filter_map(|id| judgement.past.answers.get(id)).flatten();
            given.for_each(|answer| behind[answer.variable].push(at));
        }
        let known = vec![Cell::new(None); judgements.len()];
        Self { bench, said, behind, known }
    }

    /// What is said, in the order of the variables.
    pub fn all(&self) -> &[Said] {
        &self.said
    }

    /// What is said for one variable.
    pub fn get(&self, variable: usize) -> &Said {
        &self.said[variable]
    }

    /// Says something else for one variable.
    pub fn say(&mut self, variable: usize, said: Said) {
        if self.said[variable] != said {
            self.said[variable] = said;
            self.behind[variable].iter().for_each(|at| self.known[*at].set(None));
        }
    }

    /// Says again what was said before.
    pub fn restore(&mut self, kept: &[Said]) {
        for (variable, said) in kept.iter().enumerate() {
            self.say(variable, said.clone());
        }
    }

    /// Whether a condition comes out as it should.
    pub fn holds(&self, at: usize) -> bool {
        self.known[at].get().unwrap_or_else(|| {
            let Some(found) = self.verdict(at) else { return false };
            let holds = matches!(
                (found, self.bench.solution.judgements[at].outcome),
                (Verdict::Yes(_), Outcome::Yes)
                    | (Verdict::No(_), Outcome::No)
                    | (Verdict::TooClose(_), Outcome::TooClose)
                    | (Verdict::Unknown, Outcome::Unknown)
            );
            self.known[at].set(Some(holds));
            holds
        })
    }

    /// Whether every condition up to one comes out as it should.
    pub fn all_hold(&self, until: usize) -> bool {
        (0..=until).rev().all(|at| self.holds(at))
    }

    /// What a condition comes to; none where nothing more may be tried.
    pub fn verdict(&self, at: usize) -> Option<Verdict> {
        let Bench { explored, solution, chances, effort } = self.bench;
        if !effort.spend() {
            return None;
        }
        let (handbook, judgement) = (explored.handbook, &solution.judgements[at]);
        let moment = Moment::new(handbook, &judgement.past, &self.said, chances);
        Some(match judgement.decided {
            Decided::Rule(rule) => {
                let step = &handbook.tree(rule.tree).steps[rule.step];
                let Next::ByRules { rules, .. } = &step.next else { return None };
                moment.verdict(&rules[rule.place].condition)
            }
            Decided::Finding(finding) => match moment.latest(handbook.finding(finding).symbol) {
                Value::Truth(draws) => verdict(&draws),
                _ => Verdict::Unknown,
            },
        })
    }
}

/// Every question that a condition can be traced to.
fn rests_on(explored: &Explored<'_>, judgement: &Judgement) -> Vec<QuestionId> {
    let handbook = explored.handbook;
    let symbols = match judgement.decided {
        Decided::Finding(finding) => vec![handbook.finding(finding).symbol],
        Decided::Rule(rule) => match &handbook.tree(rule.tree).steps[rule.step].next {
            Next::ByRules { rules, .. } => {
                rules[rule.place].condition.uses().iter().map(|used| used.symbol).collect()
            }
            _ => Vec::new(),
        },
    };
    let under = symbols.into_iter().flat_map(|symbol| handbook.questions_under(symbol));
    let mut questions: Vec<QuestionId> = under.copied().collect();
    questions.sort_unstable();
    questions.dedup();
    questions
}
