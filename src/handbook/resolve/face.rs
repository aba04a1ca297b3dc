//! The face of an instrument: the unit that it shows, which a choice question tells.

use super::Resolver;
use super::instrument::Reading;
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::raw::{RawInstrument, RawQuestion};
use crate::document::{Scalar, Spanned};
use crate::formula::Kind;
use crate::handbook::model::QuestionId;
use crate::quantity::{QuantityKind, UnitExpression, parse_unit};
use crate::text::list_and;

/// What stands for a choice that says no unit.
const NO_UNIT: &str = "none";
/// The choice that says that none of the others fits, and so says no unit.
const OTHER: &str = "other";

impl Resolver<'_> {
    /// The question that tells the face of an instrument; its units must measure what is read.
    pub(super) fn face(&mut self, raw: &RawInstrument, read: &[Reading<'_>]) -> Option<QuestionId> {
        let name = raw.face.as_ref()?;
        let id = self.ids.questions.find(name, &mut self.faults)?;
        let question = self.raw.questions.get(id.index())?;
        if question.units.is_empty() {
            self.faults.push(no_face(raw, name, question));
            return None;
        }
        for (_, unit) in &question.units {
            let Ok(known) = parse_unit(unit.text.trim()) else { continue };
            let misfit = read.iter().find(|(_, kind, _)| !known.kind.fits(*kind));
            if let Some((reading, kind, place)) = misfit {
                let title = format!(
                    "`{}` is a unit of {}, and `{reading}`, read from this face, is {}",
                    unit.text.trim(),
                    known.kind.name(),
                    Kind::Quantity(*kind).with_article(),
                );
                let fault = Diagnostic::at(Code::WrongUnit, title, unit.span, "of another kind")
                    .and_at(*place, format!("`{reading}` is read from `{}`", raw.id.value))
                    .and_at(name.span, format!("whose face `{}` tells", name.value))
                    .help(format!("write a unit of {}, or `{NO_UNIT}`", kind.name()));
                self.faults.push(fault);
            }
        }
        Some(id)
    }

    /// The units that the choices of a question stand for, in their order; none at all where it
    /// tells of no face.
    pub(super) fn face_units(&mut self, raw: &RawQuestion) -> Vec<Option<UnitExpression>> {
        let Some((first, _)) = raw.units.first() else { return Vec::new() };
        let known = self.names.get(&raw.id.value).and_then(|known| known.kind.as_ref());
        if !matches!(known, Some(Kind::Choice(_)) | None) {
            let title = format!("question `{}` has `units` and takes no choice", raw.id.value);
            let label = "each of these would belong to a choice";
            self.faults.push(Diagnostic::at(Code::KeysTogether, title, first.span, label));
            return Vec::new();
        }
        self.of_no_choice(raw, &raw.units);
        raw.choices.iter().map(|choice| self.face_unit(raw, &choice.id)).collect()
    }

    fn face_unit(&mut self, raw: &RawQuestion, choice: &Spanned<String>) -> Option<UnitExpression> {
        let written = raw.units.iter().find(|(id, _)| id.value == choice.value);
        let Some((_, unit)) = written else {
            if choice.value != OTHER {
                self.faults.push(unit_unsaid(raw, choice));
            }
            return None;
        };
        match unit.text.trim() {
            NO_UNIT => None,
            text => match parse_unit(text) {
                Ok(unit) => Some(unit),
                Err(_) => self.unit(unit, QuantityKind::PRESSURE),
            },
        }
    }

    /// The smallest steps that the choices of a question stand for, in their order, in SI units;
    /// none at all where it tells of no step.
    pub(super) fn face_resolutions(&mut self, raw: &RawQuestion) -> Vec<Option<f64>> {
        let Some((first, _)) = raw.resolutions.first() else { return Vec::new() };
        let unit = raw.units.iter().find_map(|(_, unit)| parse_unit(unit.text.trim()).ok());
        let Some(unit) = unit else {
            let title = format!("question `{}` has `resolutions` and no `units`", raw.id.value);
            let label = "the step of a face belongs to the unit that it shows";
            self.faults.push(Diagnostic::at(Code::KeysTogether, title, first.span, label));
            return Vec::new();
        };
        self.of_no_choice(raw, &raw.resolutions);
        let mut steps = Vec::new();
        for choice in &raw.choices {
            let written = raw.resolutions.iter().find(|(id, _)| id.value == choice.id.value);
            steps.push(written.and_then(|(_, step)| self.scatter(step, unit.kind)));
        }
        steps
    }

    /// Names of choices that the question doesn't offer.
    pub(super) fn of_no_choice(&mut self, raw: &RawQuestion, named: &[(Spanned<String>, Scalar)]) {
        if !raw.choices_are_whole {
            return;
        }
        let ids: Vec<&str> = raw.choices.iter().map(|choice| choice.id.as_str()).collect();
        for (name, _) in named.iter().filter(|(name, _)| !ids.contains(&name.as_str())) {
            let title = format!("question `{}` offers no choice `{}`", raw.id.value, name.value);
            let quoted: Vec<String> = ids.iter().map(|id| format!("`{id}`")).collect();
            let near = near_name(&name.value, ids.iter().copied());
            let fault = Diagnostic::at(Code::UnknownChoice, title, name.span, "not offered")
                .note(format!("the choices are {}", list_and(&quoted)))
                .maybe_help(near.map(|near| format!("did you mean `{near}`?")));
            self.faults.push(fault);
        }
    }
}

fn no_face(raw: &RawInstrument, name: &Spanned<String>, question: &RawQuestion) -> Diagnostic {
    let title =
        format!("`face` of instrument `{}` is `{}`, which says no unit", raw.id.value, name.value);
    let is_choice = !question.choices.is_empty();
    let label = match is_choice {
        true => "this question has no `units`",
        false => "a choice question with `units` belongs here",
    };
    let mend = format!(
        "give `{}` a `units:` with the unit of each choice, such as `pascal: Pa`",
        name.value
    );
    Diagnostic::at(Code::NoFace, title, name.span, label)
        .and_at(question.id.span, "the question stands here")
        .note("the face shows the unit that the answer to this question stands for")
        .maybe_help(is_choice.then_some(mend))
}

fn unit_unsaid(raw: &RawQuestion, choice: &Spanned<String>) -> Diagnostic {
    let title =
        format!("`units` of question `{}` leaves out its choice `{}`", raw.id.value, choice.value);
    let label = format!("which unit does `{}` stand for?", choice.value);
    Diagnostic::at(Code::UnitUnsaid, title, choice.span, label)
        .note("a bare number would be read in the unit of its question, in silence")
        .help(format!("write its unit under `units:`, or `{}: {NO_UNIT}`", choice.value))
}
