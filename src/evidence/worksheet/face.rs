//! Readings whose unit nobody knows: the number alone was given, and whoever was asked what the
//! gauge's face shows couldn't tell.
//!
//! A bare number is read in the question's own unit until somebody says what the face shows. Once
//! it was asked for and stayed unknown, the same figure may be a thousand times another one, so
//! that it says nothing.

use super::Worksheet;
use crate::evidence::record::{Given, Reply};
use crate::handbook::QuestionId;

impl Worksheet<'_> {
    /// The questions about a gauge's face that somebody was not sure of and that nobody has
    /// answered, in the order of the handbook. One that was passed over is as good as not asked.
    #[must_use]
    pub fn faces_in_doubt(&self) -> Vec<QuestionId> {
        let handbook = self.handbook;
        let is_face = |id: &QuestionId| !handbook.question(*id).units.is_empty();
        handbook.question_ids().filter(is_face).filter(|id| self.is_in_doubt(*id)).collect()
    }

    fn is_in_doubt(&self, face: QuestionId) -> bool {
        let told = self.record.answers(face).filter(|(_, given)| given.order < self.view.until);
        let told: Vec<&Reply> = told.map(|(_, given)| &given.reply).collect();
        let is_known = told.iter().any(|reply| reply.is_known());
        told.contains(&&Reply::NotSure) && !is_known
    }

    /// Whether an answer is a number alone, read from a gauge whose unit nobody knows.
    pub(super) fn is_without_unit(&self, given: &Given) -> bool {
        let face = given.bare_in.as_ref().and_then(|_| self.handbook.face(given.question));
        face.is_some_and(|face| self.is_in_doubt(face))
    }
}
