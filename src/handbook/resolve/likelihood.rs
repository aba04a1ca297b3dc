//! How likely each outcome of a finding is, with each cause and with nothing wrong.

use super::Resolver;
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::Spanned;
use crate::document::raw::{RawFinding, RawLikelihood, RawStrength, RawTest};
use crate::formula::Kind;
use crate::handbook::model::CauseId;
use crate::handbook::strength::SMALLEST_SHARE;
use crate::source::Span;
use crate::text::list_and;

/// How far from 1 the sum of shares may lie (`computed`: three shares, each rounded to two
/// digits, are off by 3 x .005 at most).
const ROUNDING: f64 = 0.0155;

/// The outcomes that a finding may have.
pub(super) enum Outcomes {
    /// Of a formula.
    YesOrNo,
    /// Of a choice question, from normal to worst.
    Choices(Vec<String>),
    /// Of something faulty: nothing that follows from it is reported.
    NotKnown,
}

impl Outcomes {
    fn count(&self) -> usize {
        match self {
            Self::Choices(choices) => choices.len(),
            Self::YesOrNo | Self::NotKnown => 2,
        }
    }
}

impl Resolver<'_> {
    pub(super) fn outcomes(&self, raw: &RawFinding) -> Outcomes {
        match &raw.test {
            Some(RawTest::When(_)) => Outcomes::YesOrNo,
            Some(RawTest::Of(name)) => match self.names.get(&name.value).map(|known| &known.kind) {
                Some(Some(Kind::Choice(set))) => Outcomes::Choices(set.ids().to_vec()),
                _ => Outcomes::NotKnown,
            },
            None => Outcomes::NotKnown,
        }
    }

    /// The background and each cause's shares, outcome by outcome.
    pub(super) fn shares(
        &mut self,
        raw: &RawFinding,
        outcomes: &Outcomes,
    ) -> (Vec<f64>, Vec<(CauseId, Vec<f64>)>) {
        if raw.anyway.is_none() && !raw.shown_by.is_empty() {
            self.missing_background(raw);
        }
        let anyway = raw.anyway.as_ref();
        let background = anyway.and_then(|a| self.distribution(a, place(a, raw.id.span), outcomes));
        let mut shown_by = Vec::new();
        for (name, likelihood) in &raw.shown_by {
            let cause = self.ids.causes.find(name, &mut self.faults);
            let shares = self.distribution(likelihood, name.span, outcomes);
            if let (Some(shares), Some(background)) = (&shares, &background) {
                self.check_above_background(raw, name, likelihood, [shares, background], outcomes);
            }
            shown_by.extend(cause.zip(shares));
        }
        let count = outcomes.count();
        (background.unwrap_or_else(|| vec![1.0 / count as f64; count]), shown_by)
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
        outcomes: &Outcomes,
    ) -> Option<Vec<f64>> {
        match (raw, outcomes) {
            (RawLikelihood::One(strength), Outcomes::YesOrNo) => {
                self.share(strength).map(|share| vec![1.0 - share, share])
            }
            (RawLikelihood::ByChoice(shares), Outcomes::Choices(choices)) => {
                self.shares_of_choices(shares, place, choices)
            }
            (RawLikelihood::One(strength), Outcomes::Choices(choices)) => {
                let title = "one strength stands where each choice needs a share";
                let label =
                    format!("a share for each of {} belongs here", list_and(&quoted(choices)));
                self.faults.push(Diagnostic::at(Code::WrongShape, title, strength.span(), label));
                None
            }
            (RawLikelihood::ByChoice(_), Outcomes::YesOrNo) => {
                let title = "shares of choices stand under a finding that is a yes or no";
                let label = "one strength belongs here";
                self.faults.push(Diagnostic::at(Code::WrongShape, title, place, label));
                None
            }
            (RawLikelihood::One(strength), Outcomes::NotKnown) => {
                self.share(strength);
                None
            }
            (RawLikelihood::ByChoice(shares), Outcomes::NotKnown) => {
                for (_, strength) in shares {
                    self.share(strength);
                }
                None
            }
        }
    }

    fn shares_of_choices(
        &mut self,
        raw: &[(Spanned<String>, RawStrength)],
        place: Span,
        choices: &[String],
    ) -> Option<Vec<f64>> {
        let mut shares = vec![None; choices.len()];
        let before = self.faults.len();
        for (name, strength) in raw {
            let share = self.share(strength);
            match choices.iter().position(|choice| *choice == name.value) {
                Some(at) => shares[at] = share,
                None => self.unknown_choice(name, choices),
            }
        }
        let is_named = |choice: &&String| raw.iter().any(|(name, _)| name.value == **choice);
        let missing: Vec<String> =
            choices.iter().filter(|choice| !is_named(choice)).cloned().collect();
        let is_misspelt = self.faults[before..].iter().any(|f| f.code == Code::UnknownChoice);
        if !missing.is_empty() && !is_misspelt {
            let title = format!("no share is given for {}", list_and(&quoted(&missing)));
            let label = "each choice needs a share";
            self.faults.push(Diagnostic::at(Code::NotADistribution, title, place, label));
        }
        self.whole(shares.into_iter().collect::<Option<_>>()?, place)
    }

    /// Shares that add up to a whole, none nearer to zero than anybody knows.
    fn whole(&mut self, shares: Vec<f64>, place: Span) -> Option<Vec<f64>> {
        let sum: f64 = shares.iter().sum();
        if (sum - 1.0).abs() > ROUNDING {
            let title = format!("the shares add up to {}, not to 1", three_digits(sum));
            let label = "these shares";
            self.faults.push(Diagnostic::at(Code::NotADistribution, title, place, label));
            return None;
        }
        let raised: Vec<f64> = shares.iter().map(|share| share.max(SMALLEST_SHARE)).collect();
        let sum: f64 = raised.iter().sum();
        Some(raised.iter().map(|share| share / sum).collect())
    }

    fn unknown_choice(&mut self, name: &Spanned<String>, choices: &[String]) {
        let near = near_name(&name.value, choices.iter().map(String::as_str));
        let title = format!("`{}` is not a choice of this question", name.value);
        let fault = Diagnostic::at(Code::UnknownChoice, title, name.span, "no choice has this id");
        self.faults.push(
            fault
                .note(format!("the choices are {}", list_and(&quoted(choices))))
                .maybe_help(near.map(|near| format!("did you mean `{near}`?"))),
        );
    }

    /// A cause must not make a finding less likely than it is with no fault: its outcomes must
    /// reach at least as far toward the worst as the background's, each step of the way.
    fn check_above_background(
        &mut self,
        raw: &RawFinding,
        cause: &Spanned<String>,
        likelihood: &RawLikelihood,
        [shares, background]: [&[f64]; 2],
        outcomes: &Outcomes,
    ) {
        let (mut own, mut anyway, mut reached) = (0.0, 0.0, 0.0);
        for (outcome, (share, back)) in shares.iter().zip(background).enumerate() {
            own += share;
            anyway += back;
            if own <= anyway + 1e-9 || outcome + 1 == shares.len() {
                let least = reached * anyway - (own - share);
                if *share < least - 1e-9 {
                    self.too_rare(raw, cause, likelihood, (*share, least), outcomes, outcome);
                    return;
                }
                reached = own / anyway;
                continue;
            }
            let what = match outcomes {
                Outcomes::Choices(choices) => {
                    let worse = if outcome + 2 < choices.len() { " or worse" } else { "" };
                    format!("`{}` is `{}`{worse}", raw.id.value, choices[outcome + 1])
                }
                _ => format!("`{}` is true", raw.id.value),
            };
            let title = format!(
                "{what} less often with cause `{}` ({}) than with nothing wrong ({})",
                cause.value,
                three_digits(1.0 - own),
                three_digits(1.0 - anyway),
            );
            let own_place = place(likelihood, cause.span);
            let mut fault =
                Diagnostic::at(Code::BelowBackground, title, own_place, "below the background");
            if let Some(anyway) = &raw.anyway {
                fault = fault.and_at(place(anyway, raw.id.span), "the background");
            }
            self.faults.push(fault.note(
                "a cause that makes a finding rarer hides it (`hidden_by`), or the finding has to \
                 be turned round, so that true is what a fault produces",
            ));
            return;
        }
    }
}

impl Resolver<'_> {
    /// A choice that a cause leaves rarer than it is: whatever the cause does, what happens with
    /// nothing wrong goes on happening beside it, and the worse of the two is seen.
    fn too_rare(
        &mut self,
        raw: &RawFinding,
        cause: &Spanned<String>,
        likelihood: &RawLikelihood,
        (share, least): (f64, f64),
        outcomes: &Outcomes,
        outcome: usize,
    ) {
        let what = match outcomes {
            Outcomes::Choices(choices) => format!("`{}`", choices[outcome]),
            _ => "true".to_owned(),
        };
        let title = format!(
            "`{}` is {what} too rarely with cause `{}`: {} is given, and it can't be below {}",
            raw.id.value,
            cause.value,
            three_digits(share),
            three_digits(least),
        );
        let own_place = place(likelihood, cause.span);
        let fault = Diagnostic::at(Code::BelowBackground, title, own_place, "these shares");
        self.faults.push(fault.note(
            "what happens with nothing wrong goes on beside the cause, and the worse of the two is \
             seen; so a choice keeps its part of the background",
        ));
    }
}

/// Where a likelihood is written: of a map its first choice.
fn place(likelihood: &RawLikelihood, otherwise: Span) -> Span {
    match likelihood {
        RawLikelihood::One(strength) => strength.span(),
        RawLikelihood::ByChoice(shares) => shares.first().map_or(otherwise, |(name, _)| name.span),
    }
}

fn quoted(names: &[String]) -> Vec<String> {
    names.iter().map(|name| format!("`{name}`")).collect()
}

/// A share for people: `0.08`, not `0.08000000000000007`.
fn three_digits(share: f64) -> f64 {
    (share * 1000.0).round() / 1000.0
}
