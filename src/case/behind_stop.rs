//! Which answer a stop comes from: not always the last one, since an answer that was known already
//! may stop the work at the step that asks for it.

use super::case::Case;
use super::now::{Now, Place};
use crate::evidence::Given;
use crate::handbook::{Hazard, Next, QuestionId, Step, StepKind, Target};

impl Case<'_> {
    /// The answer that the stop before which the case stands comes from; none before anything else,
    /// or where a caution stops it.
    #[must_use]
    pub fn answer_behind_stop(&self) -> Option<&Given> {
        let Now::Stopped { place: stop, .. } = self.now() else { return None };
        let tree = self.handbook().tree(stop.tree);
        let stops = |target: &Target| *target == Target::Step(stop.step);
        let taken = self
            .branches()
            .last()
            .filter(|(place, target)| place.tree == stop.tree && stops(target));
        let leading: Vec<&Step> = match taken {
            Some((Place { step, .. }, _)) => vec![tree.step(*step)],
            None => {
                tree.steps.iter().filter(|step| step.next.targets().iter().any(stops)).collect()
            }
        };
        let asked = leading.into_iter().flat_map(|step| self.looked_at(step));
        let latest = asked.filter_map(|question| self.latest_answer(question));
        let led_here = self.answer_leading_to_last_branch();
        // An answer that was put right is told later than its place in the order says.
        latest.chain(led_here).max_by_key(|given| self.told_at(given.order))
    }

    /// The same, and behind it the answer before from which its question came, where another one would
    /// have led past that question. A danger that was told is no matter of how it came to be asked.
    #[must_use]
    pub fn answers_behind_stop(&self) -> Vec<&Given> {
        let first = self.answer_behind_stop();
        let hazard = |given: &&Given| self.handbook().question(given.question).hazard;
        let is_not_ready = |given: &&Given| hazard(given) == Some(Hazard::YesNo(false));
        let before = first.filter(is_not_ready).and_then(|first| self.answer_before(first));
        first.into_iter().chain(before).collect()
    }

    /// The answer that led to the question of another one in its tree, be it over work to be done, where
    /// another answer would have led past that question and to no stop.
    fn answer_before(&self, given: &Given) -> Option<&Given> {
        let asked = |place: &Place| match self.handbook().tree(place.tree).step(place.step).kind {
            StepKind::Ask { question, .. } => Some(question),
            _ => None,
        };
        let at = self.branches().iter().rposition(|(p, _)| asked(p) == Some(given.question))?;
        let tree = self.branches()[at].0.tree;
        let earlier = self.branches()[..at].iter().rev().take_while(|(p, _)| p.tree == tree);
        let (question, place, taken) = earlier
            .filter_map(|(place, target)| Some((asked(place)?, place, target)))
            .find(|(question, ..)| *question != given.question)?;
        let leads_past = |other: &Target| match other {
            Target::Step(step) => {
                !matches!(self.handbook().tree(tree).step(*step).kind, StepKind::Stop { .. })
            }
            Target::Tree(_) => true,
        };
        let step = self.handbook().tree(tree).step(place.step);
        let others = step.next.targets();
        let is_way_past = others.iter().any(|other| other != taken && leads_past(other));
        self.latest_answer(question).filter(|_| is_way_past)
    }

    /// The answer by which the way came to the step that branched last: what that step asks may have
    /// been known long before.
    fn answer_leading_to_last_branch(&self) -> Option<&Given> {
        let [.., (before, target), (last, _)] = self.branches() else { return None };
        let leads_here = before.tree == last.tree && *target == Target::Step(last.step);
        let step = self.handbook().tree(before.tree).step(before.step);
        let asked = self.looked_at(step).into_iter().filter(|_| leads_here);
        let latest = asked.filter_map(|question| self.latest_answer(question));
        latest.max_by_key(|given| self.told_at(given.order))
    }

    /// The questions that say where a step leads.
    #[must_use]
    pub fn looked_at(&self, step: &Step) -> Vec<QuestionId> {
        let StepKind::Ask { question, .. } = step.kind else { return Vec::new() };
        let Next::ByRules { rules, .. } = &step.next else { return vec![question] };
        let uses = rules.iter().flat_map(|rule| rule.condition.uses());
        let under = uses.flat_map(|used| self.handbook().questions_under(used.symbol));
        under.copied().chain([question]).collect()
    }
}
