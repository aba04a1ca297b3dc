//! Steps and where they lead.

use super::Resolver;
use super::tree::StepNames;
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::raw::{RawBranches, RawNext, RawStep, RawTarget, RawWork};
use crate::document::{Scalar, Spanned};
use crate::formula::Kind;
use crate::handbook::model::{Next, QuestionId, Rule, Step, StepId, StepKind, Target};

impl Resolver<'_> {
    pub(super) fn step(&mut self, raw: &RawStep, names: &StepNames<'_>) -> Option<Step> {
        let cautions = self.ids.cautions.find_all(&raw.cautions, &mut self.faults);
        let bound = self.bound(raw, names);
        let kind = self.step_kind(raw);
        let next = self.next(raw, names);
        Some(Step { id: raw.id.value.clone(), kind: kind?, next: next?, cautions, bound })
    }

    fn bound(&mut self, raw: &RawStep, names: &StepNames<'_>) -> Option<(u32, StepId)> {
        let then = raw.then_step.as_ref().and_then(|name| names.find(name, &mut self.faults));
        let (most, then_name) = (raw.at_most.as_ref(), raw.then_step.as_ref());
        match (most, then_name) {
            (Some(most), None) => {
                let title = format!("step `{}` says how often and not what then", raw.id.value);
                let fault = Diagnostic::at(Code::MissingKey, title, most.span, "`then` is missing");
                self.faults.push(fault.help("add `then:` with the step to go on with"));
            }
            (None, Some(then)) => {
                let title = format!("step `{}` says what then and not how often", raw.id.value);
                let fault =
                    Diagnostic::at(Code::MissingKey, title, then.span, "`at_most` is missing");
                self.faults.push(fault.help("add `at_most:` with a number"));
            }
            _ => {}
        }
        match most {
            Some(most) if most.value == 0 => {
                let title = format!("step `{}` may never be entered", raw.id.value);
                self.faults.push(Diagnostic::at(Code::OutOfRange, title, most.span, "at least 1"));
                None
            }
            Some(most) => then.map(|then| (most.value, then)),
            None => None,
        }
    }

    fn step_kind(&mut self, raw: &RawStep) -> Option<StepKind> {
        match raw.work.as_ref()? {
            RawWork::Do(text) => Some(StepKind::Do {
                text: self.template(text)?,
                wait: self.time(raw.wait.as_ref()),
            }),
            RawWork::Ask(name) => {
                let question = self.ids.questions.find(name, &mut self.faults)?;
                Some(StepKind::Ask { question, again: raw.again })
            }
            RawWork::Action(name) => {
                self.ids.actions.find(name, &mut self.faults).map(StepKind::Act)
            }
            RawWork::Visit(name) => {
                self.ids.trees.find(name, &mut self.faults).map(StepKind::Visit)
            }
            RawWork::Stop(text) => self.stop(raw, text),
            RawWork::End(text) => Some(StepKind::End {
                done: self.template(text)?,
                then: self.ids.trees.find_all(&raw.then_trees, &mut self.faults),
            }),
        }
    }

    fn stop(&mut self, raw: &RawStep, text: &Scalar) -> Option<StepKind> {
        if raw.refer.is_none() {
            let title = format!("step `{}` stops the work and refers to nobody", raw.id.value);
            let fault = Diagnostic::at(Code::MissingKey, title, raw.id.span, "`refer` is missing");
            self.faults.push(fault.help("add `refer:` with the person or body to ask"));
        }
        Some(StepKind::Stop {
            text: self.template(text)?,
            why: self.maybe_template(raw.why.as_ref()),
            refer: self.maybe_template(raw.refer.as_ref())?,
        })
    }

    fn next(&mut self, raw: &RawStep, names: &StepNames<'_>) -> Option<Next> {
        match &raw.next {
            None => Some(Next::Nothing),
            Some(RawNext::Always(target)) => self.target(target, names).map(Next::Always),
            Some(RawNext::ByChoice(branches)) => self.by_answer(raw, branches, names),
            Some(RawNext::ByFormula(branches)) => self.by_rules(raw, branches, names),
        }
    }

    fn target(&mut self, raw: &RawTarget, names: &StepNames<'_>) -> Option<Target> {
        match raw {
            RawTarget::Step(name) => names.find(name, &mut self.faults).map(Target::Step),
            RawTarget::Tree(name) => self.ids.trees.find(name, &mut self.faults).map(Target::Tree),
        }
    }

    fn by_answer(
        &mut self,
        raw: &RawStep,
        branches: &[(Spanned<String>, RawTarget)],
        names: &StepNames<'_>,
    ) -> Option<Next> {
        let answers = self.answers_of(raw)?;
        let mut targets: Vec<Option<Target>> = vec![None; answers.len()];
        let mut not_sure = None;
        for (answer, target) in branches {
            let target = self.target(target, names);
            match answers.iter().position(|known| *known == answer.value) {
                Some(at) => targets[at] = target,
                None if answer.value == "not_sure" => not_sure = target,
                None => self.no_such_answer(answer, &answers),
            }
        }
        let missing: Vec<&str> = answers
            .iter()
            .filter(|answer| !branches.iter().any(|(named, _)| &named.value == *answer))
            .map(String::as_str)
            .collect();
        if !missing.is_empty() {
            self.branch_missing(raw, &missing);
        }
        Some(Next::ByAnswer { targets: targets.into_iter().collect::<Option<_>>()?, not_sure })
    }

    /// The answers that a map under `next` must cover, in order.
    fn answers_of(&mut self, raw: &RawStep) -> Option<Vec<String>> {
        let Some(RawWork::Ask(name)) = &raw.work else {
            let title =
                format!("step `{}` asks nothing, and its `next` goes by the answer", raw.id.value);
            let fault = Diagnostic::at(Code::KeysTogether, title, raw.id.span, "no `ask` here");
            self.faults.push(fault.help("write one step under `next`, or a list of `if` and `go`"));
            return None;
        };
        let id: QuestionId = self.ids.questions.get(&name.value)?;
        match &self.names.get(&self.raw.questions[id.index()].id.value)?.kind {
            Some(Kind::YesNo) => Some(vec!["no".to_owned(), "yes".to_owned()]),
            Some(Kind::Choice(set)) => Some(set.ids().to_vec()),
            Some(kind) => {
                let title = format!(
                    "`next` goes by the answer, and `{}` is {}",
                    name.value,
                    kind.with_article()
                );
                let fault = Diagnostic::at(Code::WrongKind, title, name.span, kind.with_article());
                self.faults.push(fault.help("write a list of `if` and `go` under `next` instead"));
                None
            }
            None => None,
        }
    }

    fn no_such_answer(&mut self, answer: &Spanned<String>, answers: &[String]) {
        let title = format!("`{}` is not an answer to this question", answer.value);
        let near = near_name(&answer.value, answers.iter().map(String::as_str));
        let fault = Diagnostic::at(Code::UnknownChoice, title, answer.span, "no such answer");
        let quoted: Vec<String> = answers.iter().map(|answer| format!("`{answer}`")).collect();
        self.faults.push(
            fault
                .note(format!("the answers are {}", crate::text::list_and(&quoted)))
                .maybe_help(near.map(|near| format!("did you mean `{near}`?"))),
        );
    }

    fn branch_missing(&mut self, raw: &RawStep, missing: &[&str]) {
        let quoted: Vec<String> = missing.iter().map(|answer| format!("`{answer}`")).collect();
        let list = crate::text::list_and(&quoted);
        let title = format!("step `{}` doesn't say where {list} leads", raw.id.value);
        let label = format!("no branch for {list}");
        self.faults.push(Diagnostic::at(Code::BranchMissing, title, raw.id.span, label));
    }

    fn by_rules(
        &mut self,
        raw: &RawStep,
        branches: &RawBranches,
        names: &StepNames<'_>,
    ) -> Option<Next> {
        let mut rules = Vec::new();
        for (number, branch) in branches.branches.iter().enumerate() {
            let origin = format!("{} {} rule {number}", names.tree, raw.id.value);
            let condition = branch.condition.as_ref();
            let condition = condition.and_then(|text| self.formula_as(&origin, text, &Kind::YesNo));
            let go = branch.go.as_ref().and_then(|target| self.target(target, names));
            rules.push(condition.zip(go).map(|(condition, go)| Rule { condition, go }));
        }
        let mut maybe =
            |target: &Option<RawTarget>| target.as_ref().and_then(|t| self.target(t, names));
        let (otherwise, too_close, unknown) =
            (maybe(&branches.otherwise), maybe(&branches.too_close), maybe(&branches.unknown));
        let rules = rules.into_iter().collect::<Option<Vec<Rule>>>()?;
        Some(Next::ByRules { rules, otherwise: otherwise?, too_close, unknown })
    }
}
