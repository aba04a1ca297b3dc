//! Causes.

use super::Resolver;
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::Spanned;
use crate::document::raw::{RawCause, RawStrength};
use crate::formula::{Kind, Names};
use crate::handbook::model::{Cause, History};

impl Resolver<'_> {
    pub(super) fn causes(&mut self) {
        for raw in &self.raw.causes {
            if let Some(cause) = self.cause(raw) {
                self.parts.causes.push(cause);
            }
        }
    }

    fn cause(&mut self, raw: &RawCause) -> Option<Cause> {
        let id = raw.id.value.clone();
        let how_common = raw.how_common.as_ref().and_then(|strength| self.share(strength));
        let mut history = self.history(&raw.more_if, true);
        history.extend(self.history(&raw.less_if, false));
        let brings = self.shares_by(&raw.brings, |ids, name, faults| ids.causes.find(name, faults));
        let cured_by =
            self.shares_by(&raw.cured_by, |ids, name, faults| ids.actions.find(name, faults));
        let fix = self.ids.actions.find_all(&raw.fix, &mut self.faults);
        let cautions = self.ids.cautions.find_all(&raw.cautions, &mut self.faults);
        let numbers = [
            ("how_common", raw.how_common.is_some()),
            ("more_if", !raw.more_if.is_empty()),
            ("less_if", !raw.less_if.is_empty()),
            ("brings", !raw.brings.is_empty()),
            ("cured_by", !raw.cured_by.is_empty()),
            ("because", false),
        ];
        let basis = self.basis("cause", &raw.id, raw.basis.as_ref(), &numbers);
        let because = self.maybe_template(raw.because.as_ref());
        if raw.because.is_none() {
            let title = format!("cause `{id}` doesn't say how it comes about");
            let label = "`because` is missing";
            self.faults.push(Diagnostic::at(Code::MissingKey, title, raw.id.span, label));
        }
        let name = raw.name.as_ref().map(|name| name.text.clone())?;
        Some(Cause {
            in_short: raw
                .in_short
                .as_ref()
                .map_or_else(|| name.clone(), |short| short.text.clone()),
            name,
            group: raw.group.as_ref().map_or_else(|| id.clone(), |group| group.value.clone()),
            how_common: how_common?,
            history,
            brings,
            because: because?,
            fix,
            cured_by,
            cautions,
            basis,
            id,
        })
    }

    /// Shares by the id of a cause or an action.
    fn shares_by<I>(
        &mut self,
        raw: &[(Spanned<String>, RawStrength)],
        find: impl Fn(&super::Ids, &Spanned<String>, &mut Vec<Diagnostic>) -> Option<I>,
    ) -> Vec<(I, f64)> {
        let mut shares = Vec::new();
        for (name, strength) in raw {
            let found = find(&self.ids, name, &mut self.faults);
            if let (Some(found), Some(share)) = (found, self.share(strength)) {
                shares.push((found, share));
            }
        }
        shares
    }

    /// Odds factors by the id of a yes/no question or formula: at least 1 in `more_if`, at most 1
    /// in `less_if`.
    fn history(&mut self, raw: &[(Spanned<String>, Spanned<f64>)], is_more: bool) -> Vec<History> {
        let mut history = Vec::new();
        for (name, factor) in raw {
            let fits = if is_more { factor.value >= 1.0 } else { factor.value <= 1.0 };
            if !fits || factor.value <= 0.0 || !factor.value.is_finite() {
                self.wrong_factor(factor, is_more);
                continue;
            }
            match self.names.lookup(&name.value) {
                Some(info) if info.kind == Kind::YesNo => {
                    history.push(History { when: info.symbol, factor: factor.value });
                }
                Some(info) => self.not_a_yes_or_no(name, &info.kind, is_more),
                None if self.names.faulty.contains(&name.value) => {}
                None => self.unknown_history(name),
            }
        }
        history
    }

    fn unknown_history(&mut self, name: &Spanned<String>) {
        let title = format!("there is no question, formula or finding `{}`", name.value);
        let is_yes_or_no =
            |id: &&str| self.names.get(id).is_some_and(|known| known.kind == Some(Kind::YesNo));
        let near = near_name(&name.value, self.names.all_names().into_iter().filter(is_yes_or_no));
        let label = "nothing has this id";
        let fault = Diagnostic::at(Code::UnknownName, title, name.span, label)
            .maybe_help(near.map(|near| format!("did you mean `{near}`?")));
        self.faults.push(fault);
    }

    fn wrong_factor(&mut self, factor: &Spanned<f64>, is_more: bool) {
        let (key, range) = if is_more {
            ("more_if", "1 or more")
        } else {
            ("less_if", "more than 0 and at most 1")
        };
        let title = format!("the factor {} can't stand under `{key}`", factor.value);
        let label = format!("it must be {range}");
        self.faults.push(Diagnostic::at(Code::OutOfRange, title, factor.span, label));
    }

    fn not_a_yes_or_no(&mut self, name: &Spanned<String>, kind: &Kind, is_more: bool) {
        let key = if is_more { "more_if" } else { "less_if" };
        let title =
            format!("`{}` is {}, and `{key}` takes a yes or no", name.value, kind.with_article());
        let mut fault = Diagnostic::at(Code::WrongKind, title, name.span, kind.with_article());
        if let Some(known) = self.names.get(&name.value) {
            fault = fault.and_at(known.declared, "declared here");
        }
        self.faults.push(fault);
    }
}
