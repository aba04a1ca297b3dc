//! The mapping that comes with the program, for the built-in handbook.

use crate::diagnostic::Diagnostic;
use crate::document::raw::{RawRigAnswers, read_rig_answers};
use crate::source::Sources;

/// What is done at the rig for each question of the built-in handbook, as it is written.
pub const RIG_ANSWERS: &str = include_str!("answers.yaml");

/// Keeps that file among the loaded ones, and reads it.
pub fn add_rig_answers(sources: &mut Sources) -> (Option<RawRigAnswers>, Vec<Diagnostic>) {
    let id = sources.add("src/rehearsal/rigged/answers.yaml", RIG_ANSWERS);
    read_rig_answers(sources, id)
}
