//! A danger that was taken back: what its stop asks for is said once more, and acknowledged by name.

use super::answering::Person;
use crate::case::{Case, Now, QuestionId, Response};

/// The question of a danger that was taken back and not acknowledged; none while the case stands at a
/// stop or asks just that.
pub(in crate::terminal) fn danger_to_mind(case: &Case<'_>) -> Option<QuestionId> {
    let id = case.danger_to_mind()?;
    match case.now() {
        Now::Stopped { .. } => None,
        Now::Ask { question, .. } if *question == id => None,
        _ => Some(id),
    }
}

impl Person<'_> {
    /// Says what the stop of a danger asks for, though it was taken back.
    pub(super) fn mind(&mut self, case: &Case<'_>, id: QuestionId) -> Option<Response> {
        let ask = case.ask(id).to_text();
        let stop = case.stop_of_danger(id).map(|stop| stop.to_text());
        let warning = format!(
            "a danger was told first and is taken back now: {ask} If the danger is there after all: {} {}",
            stop.unwrap_or_else(|| "stop the work, and leave everything as it is.".to_owned()),
            case.after_danger(id)
        );
        match self.acknowledged_by_name(case, &warning, " and leave everything as it is") {
            Ok(name) => Some(Response::Mind(id, name)),
            Err(response) => response,
        }
    }
}
