//! Findings and how causes show in them.

use super::Resolver;
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::Spanned;
use crate::document::raw::{RawFinding, RawLikelihood, RawStrength, RawTest};
use crate::formula::Kind;
use crate::handbook::model::{Choice, Finding, Observes, QuestionId};
use crate::handbook::strength::SMALLEST_SHARE;
use crate::source::Span;

impl Resolver<'_> {
    pub(super) fn findings(&mut self) {
        for raw in &self.raw.findings {
            if let Some(finding) = self.finding(raw) {
                self.parts.findings.push(finding);
            }
        }
    }

    fn finding(&mut self, raw: &RawFinding) -> Option<Finding> {
        let observes = self.observes(raw);
        let choices = self.choices_of(observes.as_ref());
        let only_if = raw.only_if.as_ref().and_then(|text| {
            self.formula_as(&format!("{} only_if", raw.id.value), text, &Kind::YesNo)
        });
        let (background, shown_by) = self.shares(raw, choices.as_deref());
        let hidden_by = self.hidden_by(raw);
        let same_measurement = self.ids.findings.find_all(&raw.same_measurement, &mut self.faults);
        let replaces = raw
            .replaces_finding
            .as_ref()
            .and_then(|name| self.ids.findings.find(name, &mut self.faults));
        let basis = self.basis("finding", &raw.id, raw.basis.as_ref(), raw.anyway.is_some());
        let (so, so_not) =
            (self.maybe_template(raw.so.as_ref()), self.maybe_template(raw.so_not.as_ref()));
        Some(Finding {
            id: raw.id.value.clone(),
            symbol: self.names.get(&raw.id.value)?.symbol,
            observes: observes?,
            only_if,
            so,
            so_not,
            background,
            shown_by,
            hidden_by,
            same_measurement,
            replaces,
            basis,
        })
    }

    fn observes(&mut self, raw: &RawFinding) -> Option<Observes> {
        match raw.test.as_ref()? {
            RawTest::When(text) => {
                self.formula_as(&raw.id.value, text, &Kind::YesNo).map(Observes::When)
            }
            RawTest::Of(name) => {
                let question = self.ids.questions.find(name, &mut self.faults)?;
                match self.names.get(&name.value).and_then(|known| known.kind.clone()) {
                    Some(Kind::Choice(_)) => Some(Observes::Of(question)),
                    Some(kind) => {
                        let title = format!(
                            "`{}` is {}, and `of` takes a choice",
                            name.value,
                            kind.with_article()
                        );
                        let fault =
                            Diagnostic::at(Code::WrongKind, title, name.span, kind.with_article());
                        self.faults.push(fault.help("write a formula under `when` instead"));
                        None
                    }
                    None => None,
                }
            }
        }
    }

    fn choices_of(&self, observes: Option<&Observes>) -> Option<Vec<Choice>> {
        let Some(Observes::Of(question)) = observes else { return None };
        let question: QuestionId = *question;
        self.parts.questions.get(question.index()).map(|question| question.choices.clone())
    }

    /// The background and each cause's shares, outcome by outcome.
    fn shares(
        &mut self,
        raw: &RawFinding,
        choices: Option<&[Choice]>,
    ) -> (Vec<f64>, Vec<(crate::handbook::model::CauseId, Vec<f64>)>) {
        let outcomes = choices.map_or(2, <[Choice]>::len);
        let Some(anyway) = &raw.anyway else {
            if !raw.shown_by.is_empty() {
                self.missing_background(raw);
            }
            return (vec![1.0 / outcomes as f64; outcomes], Vec::new());
        };
        let Some(background) = self.distribution(anyway, raw.id.span, choices) else {
            return (vec![1.0 / outcomes as f64; outcomes], Vec::new());
        };
        let mut shown_by = Vec::new();
        for (name, likelihood) in &raw.shown_by {
            let cause = self.ids.causes.find(name, &mut self.faults);
            let shares = self.distribution(likelihood, name.span, choices);
            if let (Some(cause), Some(shares)) = (cause, shares)
                && self.is_above_background(raw, name, &shares, &background)
            {
                shown_by.push((cause, shares));
            }
        }
        (background, shown_by)
    }

    fn missing_background(&mut self, raw: &RawFinding) {
        let title = format!("finding `{}` doesn't say how often it is there anyway", raw.id.value);
        let fault = Diagnostic::at(Code::MissingKey, title, raw.id.span, "`anyway` is missing");
        self.faults.push(fault.note("`anyway` is how often it is true with no fault at all"));
    }

    /// The share of each outcome, from one strength or from a map of choices.
    fn distribution(
        &mut self,
        raw: &RawLikelihood,
        place: Span,
        choices: Option<&[Choice]>,
    ) -> Option<Vec<f64>> {
        match (raw, choices) {
            (RawLikelihood::One(strength), None) => {
                self.share(strength).map(|share| vec![1.0 - share, share])
            }
            (RawLikelihood::ByChoice(shares), Some(choices)) => {
                self.shares_of_choices(shares, place, choices)
            }
            (RawLikelihood::One(strength), Some(_)) => {
                let title = "one strength stands where each choice needs a share";
                let label = "a map from choices to shares belongs here";
                self.faults.push(Diagnostic::at(Code::WrongShape, title, strength.span(), label));
                None
            }
            (RawLikelihood::ByChoice(_), None) => {
                let title = "shares of choices stand under a finding that is a yes or no";
                let label = "one strength belongs here";
                self.faults.push(Diagnostic::at(Code::WrongShape, title, place, label));
                None
            }
        }
    }

    fn shares_of_choices(
        &mut self,
        raw: &[(Spanned<String>, RawStrength)],
        place: Span,
        choices: &[Choice],
    ) -> Option<Vec<f64>> {
        let mut shares = vec![None; choices.len()];
        for (name, strength) in raw {
            match choices.iter().position(|choice| choice.id == name.value) {
                Some(at) => shares[at] = self.share(strength),
                None => self.unknown_choice(name, choices),
            }
        }
        let missing: Vec<&str> = choices
            .iter()
            .filter(|choice| !raw.iter().any(|(name, _)| name.value == choice.id))
            .map(|choice| choice.id.as_str())
            .collect();
        if !missing.is_empty() {
            let title = format!("no share is given for {}", crate::text::list_and(&missing));
            let label = "each choice needs a share";
            self.faults.push(Diagnostic::at(Code::NotADistribution, title, place, label));
            return None;
        }
        let shares: Vec<f64> = shares.into_iter().collect::<Option<_>>()?;
        self.whole(shares, place)
    }

    /// Shares that add up to a whole, none nearer to zero than anybody knows.
    fn whole(&mut self, shares: Vec<f64>, place: Span) -> Option<Vec<f64>> {
        let sum: f64 = shares.iter().sum();
        if (sum - 1.0).abs() > 0.011 {
            let title = format!("the shares add up to {sum:.3}, not to 1");
            let label = "these shares";
            self.faults.push(Diagnostic::at(Code::NotADistribution, title, place, label));
            return None;
        }
        let raised: Vec<f64> = shares.iter().map(|share| share.max(SMALLEST_SHARE)).collect();
        let sum: f64 = raised.iter().sum();
        Some(raised.iter().map(|share| share / sum).collect())
    }

    fn unknown_choice(&mut self, name: &Spanned<String>, choices: &[Choice]) {
        let near = near_name(&name.value, choices.iter().map(|choice| choice.id.as_str()));
        let title = format!("`{}` is not a choice of this question", name.value);
        let fault = Diagnostic::at(Code::UnknownChoice, title, name.span, "no choice has this id");
        self.faults.push(fault.maybe_help(near.map(|near| format!("did you mean `{near}`?"))));
    }

    /// A cause must not make a finding less likely than it is with no fault: its outcomes must
    /// reach at least as far toward the worst as the background's, each step of the way.
    fn is_above_background(
        &mut self,
        raw: &RawFinding,
        cause: &Spanned<String>,
        shares: &[f64],
        background: &[f64],
    ) -> bool {
        let (mut own, mut anyway) = (0.0, 0.0);
        for (outcome, (share, back)) in shares.iter().zip(background).enumerate() {
            own += share;
            anyway += back;
            if own > anyway + 1e-9 && outcome + 1 < shares.len() {
                self.below_background(raw, cause, 1.0 - own, 1.0 - anyway);
                return false;
            }
        }
        true
    }

    fn below_background(
        &mut self,
        raw: &RawFinding,
        cause: &Spanned<String>,
        own: f64,
        anyway: f64,
    ) {
        let title = format!(
            "`{}` shows `{}` with {own:.3}, less often than nothing at all does with {anyway:.3}",
            cause.value, raw.id.value,
        );
        let mut fault =
            Diagnostic::at(Code::BelowBackground, title, cause.span, "below the background");
        if let Some(RawLikelihood::One(strength)) = &raw.anyway {
            fault = fault.and_at(strength.span(), "the background is set here");
        }
        self.faults.push(fault.help(
            "say `hidden_by` if the cause hides the finding, or turn the finding round so that true is what a fault produces",
        ));
    }

    fn hidden_by(&mut self, raw: &RawFinding) -> Vec<(crate::handbook::model::CauseId, f64)> {
        let mut hidden = Vec::new();
        for (name, strength) in &raw.hidden_by {
            let cause = self.ids.causes.find(name, &mut self.faults);
            if let (Some(cause), Some(share)) = (cause, self.share(strength)) {
                hidden.push((cause, share));
            }
        }
        hidden
    }
}
