//! Where a step leads, judged on what was known when it was passed.

use super::Walker;
use crate::case::now::Place;
use crate::evidence::Reply;
use crate::formula::{Value, Verdict, verdict};
use crate::handbook::{Hazard, Next, Question, Rule, Step, StepKind, Target};

impl Walker<'_> {
    /// Goes where a step's `next` leads.
    pub(super) fn follow(&mut self, place: Place) {
        let step = self.handbook.tree(place.tree).step(place.step);
        let Some(target) = self.decided_earlier(place).or_else(|| self.target(step)) else {
            return;
        };
        self.lead(place, target, false);
        match target {
            Target::Step(step) => self.frame().step = step,
            Target::Tree(tree) => {
                self.frames.pop();
                self.enter(tree);
            }
        }
    }

    /// Where an earlier walk went on from here.
    fn decided_earlier(&self, place: Place) -> Option<Target> {
        let there = self.earlier?.decided.get(self.decided.len())?;
        let is_here = there.place == place
            && there.known_until == self.time + 1
            && there.passed == self.path.len()
            && !there.is_by_bound;
        is_here.then_some(there.target)
    }

    /// Where a step leads by what is known; nowhere from a step that ends or stops.
    pub(super) fn target(&self, step: &Step) -> Option<Target> {
        match &step.next {
            Next::Nothing => None,
            Next::Always(target) => Some(*target),
            Next::ByAnswer { targets, not_sure } => Some(self.by_answer(step, targets, *not_sure)),
            Next::ByRules { rules, otherwise, too_close, unknown } => {
                Some(self.by_rules(rules, *otherwise, *too_close, *unknown))
            }
        }
    }

    fn by_answer(&self, step: &Step, targets: &[Target], not_sure: Option<Target>) -> Target {
        let worst = targets[targets.len() - 1];
        let StepKind::Ask { question, .. } = &step.kind else { return worst };
        let is_asked = !self.sheet().is_about_nothing(*question);
        let given = self.record.answers(*question).filter(|(_, g)| g.order <= self.time).last();
        let given = given.filter(|_| is_asked);
        let question = self.handbook.question(*question);
        given
            .and_then(|(_, given)| outcome(question, &given.reply))
            .and_then(|outcome| targets.get(outcome).copied())
            .unwrap_or_else(|| not_sure.unwrap_or(worst))
    }

    fn by_rules(
        &self,
        rules: &[Rule],
        otherwise: Target,
        too_close: Option<Target>,
        unknown: Option<Target>,
    ) -> Target {
        let sheet = self.sheet().at_a_step();
        for rule in rules {
            let judged = match sheet.evaluate(&rule.condition) {
                Value::Truth(draws) => verdict(&draws),
                _ => Verdict::Unknown,
            };
            match judged {
                Verdict::Yes(_) => return rule.go,
                Verdict::No(_) => {}
                Verdict::TooClose(_) => return too_close.unwrap_or(otherwise),
                Verdict::Unknown => return unknown.unwrap_or(otherwise),
            }
        }
        otherwise
    }
}

/// Which branch an answer takes: no before yes, choices in their order; none when not sure,
/// except that a safety question then counts as its hazardous answer.
pub(super) fn outcome(question: &Question, reply: &Reply) -> Option<usize> {
    match (reply, question.hazard) {
        (Reply::YesNo(yes), _) => Some(usize::from(*yes)),
        (Reply::Choice(id), _) => question.choices.iter().position(|choice| &choice.id == id),
        (Reply::NotSure | Reply::Skipped, Some(Hazard::YesNo(yes))) => Some(usize::from(yes)),
        (Reply::NotSure | Reply::Skipped, Some(Hazard::Choice(choice))) => Some(choice.into()),
        _ => None,
    }
}
