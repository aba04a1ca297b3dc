//! The face of a gauge: in which unit its bare numbers are, and which were taken in another.

use super::case::Case;
use super::event::Event;
use super::naming::{is_reading, no_reading};
use super::reading::{Misunderstood, ReadAnswer, read_answer};
use crate::evidence::{Given, Reply, Worksheet};
use crate::formula::{Facts, Kind, Value};
use crate::handbook::{Handbook, QuestionId, find_choice};
use crate::quantity::UnitExpression;
use crate::text::{Line, Role};

impl<'h> Case<'h> {
    /// The unit that the face shows which a question is read from, as far as somebody has said.
    #[must_use]
    pub fn face_unit(&self, id: QuestionId) -> Option<&'h UnitExpression> {
        unit(self.handbook(), &self.worksheet(), self.handbook().face(id)?)
    }

    /// Whether somebody was asked for the unit of the face that a question is read from, and nobody
    /// knows it.
    #[must_use]
    pub fn is_unit_unknown(&self, id: QuestionId) -> bool {
        let told = self.handbook().face(id).and_then(|face| self.latest_answer(face));
        told.is_some_and(|given| !given.reply.is_known())
    }

    /// Whether a question is answered with a quantity.
    #[must_use]
    pub fn takes_a_quantity(&self, id: QuestionId) -> bool {
        matches!(self.handbook().question(id).kind, Kind::Quantity(_))
    }

    /// The choice, by its id, that words are taken for; none where it is no list, or none is meant.
    #[must_use]
    pub fn choice_called(&self, id: QuestionId, typed: &str) -> Option<&str> {
        find_choice(&self.handbook().question(id).choices, typed).map(|choice| choice.id.as_str())
    }

    /// Reads an answer as it would be taken now.
    ///
    /// # Errors
    /// [`Misunderstood`] says what was typed and what the question takes.
    pub fn read(&self, id: QuestionId, typed: &str) -> Result<ReadAnswer, Misunderstood> {
        if self.names_rounds(id) && is_reading(typed) {
            return Err(Misunderstood { message: no_reading(typed) });
        }
        let read = read_answer(self.handbook().question(id), self.face_unit(id), typed)?;
        let slip = read.slip.clone().or_else(|| self.reading_for_rate(id, &read));
        Ok(ReadAnswer { slip, ..without_bare_unit(self.handbook(), id, read) })
    }
}

/// The unit that the answer to a question about a face stands for.
fn unit<'h>(
    handbook: &'h Handbook,
    sheet: &Worksheet<'_>,
    face: QuestionId,
) -> Option<&'h UnitExpression> {
    let question = handbook.question(face);
    let Value::Choice(draws) = sheet.latest(question.symbol) else { return None };
    question.units.get(usize::from(draws.at(0)))?.as_ref()
}

/// Reads an answer with the unit of a face; in which unit a bare number was taken is kept only
/// where a face could have shown another.
pub(super) fn read(
    handbook: &Handbook,
    id: QuestionId,
    face: Option<&UnitExpression>,
    typed: &str,
) -> Result<ReadAnswer, Misunderstood> {
    let read = read_answer(handbook.question(id), face, typed)?;
    Ok(without_bare_unit(handbook, id, read))
}

fn without_bare_unit(handbook: &Handbook, id: QuestionId, read: ReadAnswer) -> ReadAnswer {
    let has_face = handbook.face(id).is_some();
    ReadAnswer { bare_in: read.bare_in.filter(|_| has_face), ..read }
}

/// Whether a question tells which unit a face shows.
pub(super) fn tells_one(handbook: &Handbook, id: QuestionId) -> bool {
    !handbook.question(id).units.is_empty()
}

/// The unit of the face that a question is read from, as these events have it.
pub(super) fn said_in<'h>(
    handbook: &'h Handbook,
    id: QuestionId,
    events: &[Event],
) -> Option<&'h UnitExpression> {
    let face = handbook.question(handbook.face(id)?);
    let said = events.iter().rev().find_map(|event| match event {
        Event::Answered { question, reply: Reply::Choice(choice), .. } if *question == face.id => {
            Some(choice)
        }
        _ => None,
    })?;
    let place = face.choices.iter().position(|choice| choice.id == *said)?;
    face.units.get(place)?.as_ref()
}

/// After the answer about a face has changed: the readings that were taken in another unit than
/// their bare numbers would be taken in now. They stay as they are.
pub(super) fn taken_otherwise(before: &Worksheet<'_>, after: &Worksheet<'_>) -> Vec<Line> {
    let handbook = after.handbook();
    let mut lines = Vec::new();
    for face in handbook.question_ids().filter(|id| tells_one(handbook, *id)) {
        let (was, is) = (unit(handbook, before, face), unit(handbook, after, face));
        if was.map(|unit| &unit.symbol) == is.map(|unit| &unit.symbol) {
            continue;
        }
        let read_from = |given: &&Given| handbook.face(given.question) == Some(face);
        let readings = after.record().given.iter().filter(read_from);
        let told: Vec<Line> = readings.filter_map(|given| otherwise(after, given, is)).collect();
        if !told.is_empty() {
            let head = "Of these the number alone was typed, and they stay as they were taken:";
            lines.push(Line::plain(head));
            lines.extend(told);
            let mend = "Put right each that the gauge showed in another unit.";
            lines.push(Line::plain(mend));
        }
    }
    lines
}

/// A reading whose bare number was taken in another unit than it would be now.
fn otherwise(sheet: &Worksheet<'_>, given: &Given, face: Option<&UnitExpression>) -> Option<Line> {
    let question = sheet.handbook().question(given.question);
    let now = face.or(question.unit.as_ref())?;
    let taken = given.bare_in.as_ref().filter(|taken| **taken != now.symbol)?;
    let told = Line::plain("- ").join(question.ask.fill(sheet));
    let (typed, now) = (&given.typed, &now.symbol);
    Some(told.push(Role::Plain, format!(" [{typed}], taken in {taken} and not in {now}")))
}
