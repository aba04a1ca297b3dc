//! From what a person types to an answer, or to the reason why it can't be one.

mod hold;
mod loose;
mod two_ends;

pub use hold::{named_log, read_reading};

use crate::evidence::{Reach, Reply};
use crate::formula::Kind;
use crate::handbook::{Handbook, Question, QuestionId, find_choice};
use crate::quantity::{
    Bound, Expected, NAMED_KINDS, QuantityKind, Slip, UnitExpression, likely_slip, parse_unit,
    read_typed, sizes_in_figures,
};
use crate::text::{also_said, as_said, list_or, near_name, says_not_sure};

/// An answer that can be taken.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadAnswer {
    /// The answer.
    pub reply: Reply,
    /// The answer as it was understood, with its unit.
    pub echo: String,
    /// The unit that it was taken in, where a number was typed without one.
    pub bare_in: Option<String>,
    /// What it may have been meant for, when it lies outside the usual.
    pub slip: Option<Slip>,
}

impl ReadAnswer {
    fn plain(reply: Reply, echo: impl Into<String>) -> Self {
        Self { reply, echo: echo.into(), bare_in: None, slip: None }
    }
}

/// An answer that can't be taken: what was read and what is accepted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misunderstood {
    /// The whole message.
    pub message: String,
}

/// Reads an answer to a question. `not sure` and `skip` are understood everywhere, and so are the
/// words that the handbook gives for an answer. `face` is the unit that the instrument's face shows, where it is known: a bare number is taken in it.
///
/// # Errors
/// [`Misunderstood`] says what was typed and what the question takes.
pub fn read_answer(
    question: &Question,
    face: Option<&UnitExpression>,
    typed: &str,
) -> Result<ReadAnswer, Misunderstood> {
    let text = typed.trim();
    if text.eq_ignore_ascii_case("skip") {
        return Ok(ReadAnswer::plain(Reply::Skipped, "skipped"));
    }
    if says_not_sure(text) && !is_choice(question, text) {
        return Ok(ReadAnswer::plain(Reply::NotSure, "not sure"));
    }
    match question.answer_in_words(text) {
        Some(answer) => by_kind(question, None, answer),
        None => by_kind(question, face, text),
    }
}

fn by_kind(
    question: &Question,
    face: Option<&UnitExpression>,
    text: &str,
) -> Result<ReadAnswer, Misunderstood> {
    match &question.kind {
        Kind::Quantity(kind) => quantity(question, *kind, face, text),
        Kind::YesNo => yes_no(text),
        Kind::Choice(_) => {
            let choice = choice(question, text)?;
            Ok(ReadAnswer::plain(Reply::Choice(choice.0), choice.1))
        }
        Kind::Choices(_) => choices(question, text),
        Kind::Date => date(text),
        Kind::Readings(kind) => hold::read_hold(question, *kind, face, text),
        Kind::Text | Kind::List(_) => words(text),
    }
}

/// Whether what was typed says that there is nothing left to run a round about.
#[must_use]
pub fn ends_rounds(typed: &str) -> bool {
    let said = typed.trim().to_lowercase();
    matches!(said.as_str(), "no more" | "no" | "none" | "nothing" | "done")
}

fn refuse(message: impl Into<String>) -> Misunderstood {
    Misunderstood { message: message.into() }
}

fn quantity(
    question: &Question,
    kind: QuantityKind,
    face: Option<&UnitExpression>,
    text: &str,
) -> Result<ReadAnswer, Misunderstood> {
    let expected = expected(question, kind, face)?;
    let said = (kind == QuantityKind::LENGTH).then(|| sizes_in_figures(text));
    let text = said.as_deref().unwrap_or(text);
    if let Some(read) = loose::loose(text, &expected) {
        return read;
    }
    let typed = read_typed(text, &expected).map_err(|misread| refuse(misread.to_string()))?;
    let reach = match typed.bound {
        Bound::Exact => Reach::Exact,
        Bound::Over => Reach::Over,
        Bound::Under => Reach::Under,
    };
    let slip = likely_slip(&typed, &expected);
    let reply = Reply::Quantity { si: typed.value, half_width: typed.half_width, reach };
    let bare_in = typed.is_bare.then_some(typed.unit.symbol);
    Ok(ReadAnswer { reply, echo: typed.echo, bare_in, slip })
}

/// What a question for quantities asks for, in the unit of the face where that is known.
fn expected(
    question: &Question,
    kind: QuantityKind,
    face: Option<&UnitExpression>,
) -> Result<Expected, Misunderstood> {
    let own = question.unit.clone().or_else(|| default_unit(kind));
    let Some(own) = own else {
        return Err(refuse("this question has no unit to read a number in"));
    };
    let (unit, told_in) = match face {
        Some(face) => (face.clone(), Some(own)),
        None => (own, None),
    };
    Ok(Expected { kind, unit, told_in, range: question.range, usual: question.usual })
}

/// Checks that an answer can be read in the unit of its question or in one that the face which it
/// is read from may show: which of them counts is known when it is given.
///
/// # Errors
/// [`Misunderstood`] as the unit of the question has it.
pub fn check_answer(handbook: &Handbook, id: QuestionId, typed: &str) -> Result<(), Misunderstood> {
    let question = handbook.question(id);
    let face = handbook.face(id).map(|face| handbook.question(face));
    let mut units = face.iter().flat_map(|face| face.units.iter().flatten());
    let read = read_answer(question, None, typed).map(|_| ());
    read.or_else(|misunderstood| {
        let is_read = |unit: &UnitExpression| read_answer(question, Some(unit), typed).is_ok();
        if units.any(is_read) { Ok(()) } else { Err(misunderstood) }
    })
}

fn default_unit(kind: QuantityKind) -> Option<UnitExpression> {
    let named = NAMED_KINDS.iter().find(|named| named.kind == kind)?;
    parse_unit(named.unit).ok()
}

fn yes_no(text: &str) -> Result<ReadAnswer, Misunderstood> {
    let said = as_said(text);
    match said.as_str() {
        "yes" | "y" | "true" => Ok(ReadAnswer::plain(Reply::YesNo(true), "yes")),
        "no" | "n" | "false" => Ok(ReadAnswer::plain(Reply::YesNo(false), "no")),
        said if also_said(true).contains(&said) => Ok(ReadAnswer::plain(Reply::YesNo(true), "yes")),
        said if also_said(false).contains(&said) => {
            Ok(ReadAnswer::plain(Reply::YesNo(false), "no"))
        }
        _ => Err(refuse(format!("`{text}` is neither yes nor no; type yes, no or not sure"))),
    }
}

/// Whether this is the id or the label of a choice, also where it would mean something else.
fn is_choice(question: &Question, text: &str) -> bool {
    let wanted = text.to_lowercase();
    let mut choices = question.choices.iter();
    choices.any(|c| c.id.to_lowercase() == wanted || c.label.to_lowercase() == wanted)
}

/// The id and the label of the choice that was typed.
fn choice(question: &Question, text: &str) -> Result<(String, String), Misunderstood> {
    if let Some(choice) = find_choice(&question.choices, text) {
        return Ok((choice.id.clone(), choice.label.clone()));
    }
    let ids: Vec<String> = question.choices.iter().map(|c| format!("`{}`", c.id)).collect();
    let near = near_name(text, question.choices.iter().map(|choice| choice.id.as_str()));
    let meant = near.map(|near| format!("did you mean `{near}`? ")).unwrap_or_default();
    let takes = list_or(&ids);
    Err(refuse(format!("`{text}` is not one of the choices; {meant}it takes {takes}")))
}

fn choices(question: &Question, text: &str) -> Result<ReadAnswer, Misunderstood> {
    let mut ids = Vec::new();
    let mut labels = Vec::new();
    for part in text.split([',', ';']).map(str::trim).filter(|part| !part.is_empty()) {
        if part.eq_ignore_ascii_case("none") {
            continue;
        }
        let (id, label) = choice(question, part)?;
        if !ids.contains(&id) {
            ids.push(id);
            labels.push(label);
        }
    }
    if text.trim().is_empty() {
        return Err(refuse("name one or more of the choices with commas between, or `none`"));
    }
    let echo = if labels.is_empty() { "none".to_owned() } else { labels.join(", ") };
    Ok(ReadAnswer::plain(Reply::Choices(ids), echo))
}

fn date(text: &str) -> Result<ReadAnswer, Misunderstood> {
    let day: jiff::civil::Date = text
        .parse()
        .map_err(|_| refuse(format!("`{text}` is not a date; type it as 2026-03-31")))?;
    Ok(ReadAnswer::plain(Reply::Date(day.to_string()), day.to_string()))
}

/// The longest text that an answer may hold, in bytes.
const LONGEST_TEXT: usize = 20_000;

fn words(text: &str) -> Result<ReadAnswer, Misunderstood> {
    match text.len() {
        0 => Err(refuse("nothing was typed; type a few words, or `skip`")),
        length if length > LONGEST_TEXT => {
            Err(refuse(format!("{length} bytes are too long; at most {LONGEST_TEXT} are kept")))
        }
        _ => Ok(ReadAnswer::plain(Reply::Text(text.to_owned()), text)),
    }
}

#[cfg(test)]
mod tests {
    use super::yes_no;
    use crate::evidence::Reply;

    #[test]
    fn yes_and_no_are_taken_as_people_say_them() {
        for (typed, yes) in [("Yep.", true), ("yeah", true), ("nope!", false), ("Nah", false)] {
            assert_eq!(yes_no(typed).unwrap().reply, Reply::YesNo(yes), "{typed}");
        }
        assert!(yes_no("perhaps").is_err());
    }
}
