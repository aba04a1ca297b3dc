//! Steps and where they lead.

use super::Resolver;
use super::tree::StepNames;
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::raw::{RawBranches, RawNext, RawStep, RawTarget, RawWork};
use crate::document::{Scalar, Spanned, means_not_sure};
use crate::formula::Kind;
use crate::handbook::model::{Next, QuestionId, Rule, Step, StepId, StepKind, Target};
use crate::text::list_and;

impl Resolver<'_> {
    pub(super) fn step(&mut self, raw: &RawStep, names: &StepNames<'_>) -> Option<Step> {
        let cautions = self.ids.cautions.find_all(&raw.cautions, &mut self.faults);
        let bound = self.bound(raw, names);
        let kind = self.step_kind(raw);
        let next = self.next(raw, names);
        self.keys_of_other_kinds(raw);
        Some(Step { id: raw.id.value.clone(), kind: kind?, next: next?, cautions, bound })
    }

    /// Keys that only one kind of step heeds.
    fn keys_of_other_kinds(&mut self, raw: &RawStep) {
        let Some(work) = &raw.work else { return };
        let wait = raw.wait.as_ref().filter(|_| !matches!(work, RawWork::Do(_)));
        let refer = raw.refer.as_ref().filter(|_| !matches!(work, RawWork::Stop(_)));
        let optional = raw.optional.as_ref().filter(|_| !matches!(work, RawWork::Action(_)));
        let keys = [
            ("wait", wait.map(|text| text.span), "do"),
            ("refer", refer.map(|text| text.span), "stop"),
            ("optional", optional.map(|flag| flag.span), "action"),
        ];
        for (key, span, kind) in keys {
            if let Some(span) = span {
                let title = format!("step `{}` is no `{kind}` and has a `{key}`", raw.id.value);
                let label = format!("only a `{kind}` has one");
                self.faults.push(Diagnostic::at(Code::KeysTogether, title, span, label));
            }
        }
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
            RawWork::Do(text) => {
                let wait = self.time(raw.wait.as_ref());
                Some(StepKind::Do { text: self.template(text)?, wait })
            }
            RawWork::Ask(name) => {
                let question = self.ids.questions.find(name, &mut self.faults)?;
                Some(StepKind::Ask { question, again: raw.again })
            }
            RawWork::Action(name) => {
                let is_optional = raw.optional.as_ref().is_some_and(|flag| flag.value);
                let action = self.ids.actions.find(name, &mut self.faults)?;
                Some(StepKind::Act { action, is_optional })
            }
            RawWork::Visit(name) => {
                self.ids.trees.find(name, &mut self.faults).map(StepKind::Visit)
            }
            RawWork::Stop(text) => self.stop(raw, text),
            RawWork::End(text) => {
                let then = self.ids.trees.find_all(&raw.then_trees, &mut self.faults);
                let closes = self.closing(raw);
                Some(StepKind::End { done: self.template(text)?, then, closes })
            }
        }
    }

    fn stop(&mut self, raw: &RawStep, text: &Scalar) -> Option<StepKind> {
        if raw.refer.is_none() {
            let title = format!("step `{}` stops the work and refers to nobody", raw.id.value);
            let fault = Diagnostic::at(Code::MissingKey, title, raw.id.span, "`refer` is missing");
            self.faults.push(fault.help("add `refer:` with the person or body to ask"));
        }
        let stop = self.template(text);
        let why = self.maybe_template(raw.why.as_ref());
        let refer = self.maybe_template(raw.refer.as_ref());
        let named = raw.meanwhile.as_ref();
        let meanwhile = named.and_then(|name| self.ids.trees.find(name, &mut self.faults));
        Some(StepKind::Stop { text: stop?, why, refer: refer?, meanwhile })
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
        let found: Vec<(&Spanned<String>, Option<Target>)> =
            branches.iter().map(|(answer, to)| (answer, self.target(to, names))).collect();
        let (question, answers) = self.answers_of(raw)?;
        let mut targets: Vec<Option<Target>> = vec![None; answers.len()];
        let mut not_sure = None;
        let mut is_misspelt = false;
        for (answer, target) in found {
            match answers.iter().position(|known| *known == answer.value) {
                Some(at) => targets[at] = target,
                None if answer.value == "not_sure" => {
                    self.unsure_is_hazard(question, answer);
                    not_sure = target;
                }
                None => {
                    is_misspelt = true;
                    self.no_such_answer(question, answer, &answers);
                }
            }
        }
        let is_named = |answer: &&String| branches.iter().any(|(name, _)| name.value == **answer);
        let missing: Vec<&str> =
            answers.iter().filter(|answer| !is_named(answer)).map(String::as_str).collect();
        if !missing.is_empty() && !is_misspelt {
            self.branch_missing(raw, question, &missing);
        }
        Some(Next::ByAnswer { targets: targets.into_iter().collect::<Option<_>>()?, not_sure })
    }

    /// The question and the answers that a map under `next` must cover, in order.
    fn answers_of<'r>(&mut self, raw: &'r RawStep) -> Option<(&'r Spanned<String>, Vec<String>)> {
        let Some(RawWork::Ask(name)) = &raw.work else {
            if raw.work.is_some() {
                self.goes_by_no_answer(raw);
            }
            return None;
        };
        let id: QuestionId = self.ids.questions.get(&name.value)?;
        let known = self.names.get(&self.raw.questions[id.index()].id.value)?;
        let kind = known.kind.as_ref()?;
        match kind {
            Kind::YesNo => Some((name, vec!["no".to_owned(), "yes".to_owned()])),
            Kind::Choice(set) => Some((name, set.ids().to_vec())),
            kind => {
                let found = kind.with_article();
                let title = format!("`next` goes by the answer, and `{}` is {found}", name.value);
                let fault = Diagnostic::at(Code::WrongKind, title, name.span, found)
                    .and_at(known.declared, "declared here")
                    .help("write a list of `if` and `go` under `next` instead");
                self.faults.push(fault);
                None
            }
        }
    }

    /// Of a safety question "not sure" is the dangerous answer, so a way of its own is never taken.
    fn unsure_is_hazard(&mut self, question: &Spanned<String>, answer: &Spanned<String>) {
        let asked = self.ids.questions.get(&question.value);
        let raw = self.raw;
        let Some(hazard) = asked.and_then(|id| raw.questions[id.index()].hazard.as_ref()) else {
            return;
        };
        let title = format!("\"not sure\" of `{}` counts as its dangerous answer", question.value);
        let label = "this way is never taken";
        self.faults.push(
            Diagnostic::at(Code::UnsureIsHazard, title, answer.span, label)
                .and_at(hazard.span, "the dangerous answer")
                .help(format!("take `not_sure` out: it goes the way of `{}`", hazard.text.trim())),
        );
    }

    fn goes_by_no_answer(&mut self, raw: &RawStep) {
        let title =
            format!("step `{}` asks nothing, and its `next` goes by the answer", raw.id.value);
        let fault = Diagnostic::at(Code::KeysTogether, title, raw.id.span, "no `ask` here");
        self.faults.push(fault.help("write one step under `next`, or a list of `if` and `go`"));
    }

    fn no_such_answer(
        &mut self,
        question: &Spanned<String>,
        answer: &Spanned<String>,
        answers: &[String],
    ) {
        let title = format!("`{}` is not an answer to `{}`", answer.value, question.value);
        let near = near_name(&answer.value, answers.iter().map(String::as_str));
        let quoted: Vec<String> = answers.iter().map(|answer| format!("`{answer}`")).collect();
        self.faults.push(
            Diagnostic::at(Code::UnknownChoice, title, answer.span, "no such answer")
                .and_at(question.span, "asked here")
                .note(format!("the answers are {}", list_and(&quoted)))
                .maybe_help(match means_not_sure(&answer.value) {
                    true => {
                        Some("write `not_sure`, where somebody goes who is not sure".to_owned())
                    }
                    false => near.map(|near| format!("did you mean `{near}`?")),
                }),
        );
    }

    fn branch_missing(&mut self, raw: &RawStep, question: &Spanned<String>, missing: &[&str]) {
        let quoted: Vec<String> = missing.iter().map(|answer| format!("`{answer}`")).collect();
        let list = list_and(&quoted);
        let verb = if missing.len() == 1 { "leads" } else { "lead" };
        let title = format!("step `{}` doesn't say where {list} {verb}", raw.id.value);
        let label = format!("no branch for {list}");
        let fault = Diagnostic::at(Code::BranchMissing, title, raw.id.span, label);
        let asked = format!("`{}` can be answered so", question.value);
        let rows: Vec<String> = missing.iter().map(|answer| format!("`{answer}: STEP`")).collect();
        let mend = format!("add {} under `next`, with the step that follows", list_and(&rows));
        self.faults.push(fault.and_at(question.span, asked).help(mend));
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
