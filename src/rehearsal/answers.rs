//! From answers as written to answers that can be given.

use super::scenario::{found, question};
use crate::case::read_answer;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::Scalar;
use crate::document::raw::RawScenario;
use crate::handbook::{Handbook, QuestionId, TreeId};

/// Answers as typed, with what they are for. Every one of them can be read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct GivenAnswers {
    /// The tree to run, where one is named.
    pub tree: Option<TreeId>,
    /// Answers as typed, by question, in the order in which they are written.
    pub answers: Vec<(QuestionId, Vec<String>)>,
    /// The ids of the cautions that are acknowledged.
    pub acknowledge: Vec<String>,
}

/// Finds the names of a scenario or an answers file in a handbook, and reads its answers; what
/// can't be found or read is a fault at its place.
#[must_use]
pub fn resolve_answers(
    raw: &RawScenario,
    handbook: &Handbook,
    faults: &mut Vec<Diagnostic>,
) -> GivenAnswers {
    let tree = raw.tree.as_ref().and_then(|name| {
        let ids = handbook.trees().iter().map(|tree| tree.id.as_str());
        found(handbook.find_tree(&name.value), "tree", name, ids, Code::UnknownName, faults)
    });
    let mut answers = Vec::new();
    for (name, texts) in &raw.answers {
        if let Some(id) = question(handbook, name, Code::UnknownAnswer, faults) {
            faults.extend(texts.iter().filter_map(|text| unreadable(handbook, id, text)));
            answers.push((id, texts.iter().map(|text| text.text.clone()).collect()));
        }
    }
    for name in &raw.acknowledge {
        let ids = handbook.cautions().iter().map(|caution| caution.id.as_str());
        found(handbook.find_caution(&name.value), "caution", name, ids, Code::UnknownName, faults);
    }
    let acknowledge = raw.acknowledge.iter().map(|name| name.value.clone()).collect();
    GivenAnswers { tree, answers, acknowledge }
}

fn unreadable(handbook: &Handbook, id: QuestionId, text: &Scalar) -> Option<Diagnostic> {
    let question = handbook.question(id);
    let misunderstood = read_answer(question, &text.text).err()?;
    let title = format!("`{}` can't be read as an answer to `{}`", text.text, question.id);
    let label = misunderstood.message.replace("; type ", "; write ");
    Some(Diagnostic::at(Code::UnreadableAnswer, title, text.span, label))
}
