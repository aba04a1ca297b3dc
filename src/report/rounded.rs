//! Readings that somebody has rounded, which may be all that leaves a finding open.

use crate::case::{Case, FindingId, Reply};
use crate::formula::{Kind, is_even_row};
use crate::handbook::{Question, QuestionId};
use crate::quantity::{QuantityKind, show_rounded};

/// Readings in steps this many times those of their gauge look rounded (`estimate`: a display
/// that is coarser than somebody said is hardly that coarse).
const LOOKS_ROUNDED: f64 = 5.0;

/// What a finding's rounded readings leave open: `The readings look rounded to 20 micron; read to
/// every digit that the gauge shows, they may settle it.`
pub(super) fn rounding(case: &Case<'_>, finding: FindingId) -> Option<String> {
    let handbook = case.handbook();
    let under = handbook.questions_under(handbook.finding(finding).symbol);
    let step = under.iter().find_map(|id| rounded_to(case, *id))?;
    Some(format!(
        " The readings look rounded to {step}; read to every digit that the gauge shows, they may \
         settle it."
    ))
}

/// The step that the latest readings of a question were rounded to. What all of an even row are
/// multiples of tells of the rise and not of the display.
fn rounded_to(case: &Case<'_>, id: QuestionId) -> Option<String> {
    let question = case.handbook().question(id);
    let Kind::Readings(kind) = question.kind else { return None };
    // What was passed over since leaves the readings as they are.
    let steps = case.answers(id).filter_map(|given| match &given.reply {
        Reply::Readings { times, pressures, resolution } => {
            Some(resolution.filter(|_| !is_even_row(times, pressures)))
        }
        _ => None,
    });
    let step = steps.last()??;
    if step < LOOKS_ROUNDED * step_of_gauge(case, question)? {
        return None;
    }
    let difference = QuantityKind { nature: crate::quantity::Nature::Difference, ..kind };
    Some(show_rounded(step, Some(0.01 * step), question.unit.as_ref()?, difference))
}

/// The step of the display that a question's readings are taken from, in SI units.
fn step_of_gauge(case: &Case<'_>, question: &Question) -> Option<f64> {
    case.worksheet().resolution(question.instrument?)
}
