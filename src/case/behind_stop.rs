//! Which answer a stop comes from: not always the last one, since an answer that was known already
//! may stop the work at the step that asks for it.

use super::case::Case;
use super::now::{Now, Place};
use crate::evidence::Given;
use crate::handbook::{Next, QuestionId, Step, StepKind, Target};

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
