//! Actions.

use super::Resolver;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::RawAction;
use crate::document::{Scalar, Spanned};
use crate::formula::Kind;
use crate::handbook::model::Action;

impl Resolver<'_> {
    pub(super) fn actions(&mut self) {
        for raw in &self.raw.actions {
            if let Some(action) = self.action(raw) {
                self.parts.actions.push(action);
            }
        }
    }

    fn action(&mut self, raw: &RawAction) -> Option<Action> {
        let words = |names: &[Spanned<String>]| names.iter().map(|n| n.value.clone()).collect();
        let cautions = self.ids.cautions.find_all(&raw.cautions, &mut self.faults);
        // A rough time is for planning: it may do without a basis.
        self.basis("action", &raw.id, raw.basis.as_ref(), &[("takes", false), ("do", false)]);
        let takes = self.time(raw.takes.as_ref());
        let is_hazardous = raw.hazard.as_ref().is_some_and(|text| self.yes_or_no(text));
        let mut condition = |key: &str, text: Option<&Scalar>| {
            text.and_then(|text| {
                self.formula_as(&format!("{} {key}", raw.id.value), text, &Kind::YesNo)
            })
        };
        let done_if = condition("done_if", raw.done_if.as_ref());
        let not_if = condition("not_if", raw.not_if.as_ref());
        let outdates = self.ids.questions.find_all(&raw.outdates, &mut self.faults);
        Some(Action {
            id: raw.id.value.clone(),
            instruction: self.maybe_template(raw.text.as_ref())?,
            takes,
            parts: raw.parts.iter().map(|part| part.text.clone()).collect(),
            needs: words(&raw.needs),
            leaves: words(&raw.leaves),
            ends: words(&raw.ends),
            outdates,
            once_done: raw.once_done.as_ref().map(|text| text.text.trim().to_owned()),
            told_as: raw.told_as.iter().map(|words| words.text.trim().to_owned()).collect(),
            done_if,
            not_if,
            is_hazardous,
            cautions,
        })
    }

    pub(super) fn yes_or_no(&mut self, text: &Scalar) -> bool {
        match text.text.trim() {
            "yes" | "true" => true,
            "no" | "false" => false,
            word => {
                let title = format!("`{word}` is neither yes nor no");
                let label = "`yes` or `no` belongs here";
                self.faults.push(Diagnostic::at(Code::UnknownWord, title, text.span, label));
                false
            }
        }
    }
}
