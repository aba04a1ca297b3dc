//! From answers as written to answers that can be given.

use super::scenario::{found, question};
use crate::case::{check_answer, named_log};
use crate::diagnostic::{Code, Diagnostic};
use crate::document::Scalar;
use crate::document::raw::RawScenario;
use crate::handbook::{Handbook, QuestionId, TreeId};

/// What gives the text of a log by its name, or why it can't be read.
pub type Logs<'a> = &'a dyn Fn(&str) -> Result<String, String>;

/// What gives no log, for whoever opens no files.
///
/// # Errors
/// Always.
pub fn no_logs(name: &str) -> Result<String, String> {
    Err(format!("the log `{name}` can't be read: no files are read here"))
}

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
/// can't be found or read is a fault at its place. `logs` gives the logs that answers name.
#[must_use]
pub fn resolve_answers(
    raw: &RawScenario,
    handbook: &Handbook,
    logs: Logs<'_>,
    faults: &mut Vec<Diagnostic>,
) -> GivenAnswers {
    let tree = raw.tree.as_ref().and_then(|name| {
        let ids = handbook.trees().iter().map(|tree| tree.id.as_str());
        found(handbook.find_tree(&name.value), "tree", name, ids, Code::UnknownName, faults)
    });
    let mut answers = Vec::new();
    for (name, texts) in &raw.answers {
        if let Some(id) = question(handbook, name, Code::UnknownAnswer, faults) {
            let read = texts.iter().map(|text| typed(handbook, id, text, logs));
            answers.push((
                id,
                read.filter_map(|read| read.map_err(|f| faults.push(f)).ok()).collect(),
            ));
        }
    }
    for name in &raw.acknowledge {
        let ids = handbook.cautions().iter().map(|caution| caution.id.as_str());
        found(handbook.find_caution(&name.value), "caution", name, ids, Code::UnknownName, faults);
    }
    let acknowledge = raw.acknowledge.iter().map(|name| name.value.clone()).collect();
    GivenAnswers { tree, answers, acknowledge }
}

/// An answer as it would be typed; that of readings may name a log behind an `@`.
fn typed(
    handbook: &Handbook,
    id: QuestionId,
    written: &Scalar,
    logs: Logs<'_>,
) -> Result<String, Diagnostic> {
    let question = handbook.question(id);
    let unreadable = |label: String| {
        let title = format!("`{}` can't be read as an answer to `{}`", written.text, question.id);
        Diagnostic::at(Code::UnreadableAnswer, title, written.span, label)
    };
    let text = match named_log(question, &written.text) {
        Some(name) => logs(name).map_err(unreadable)?,
        None => written.text.clone(),
    };
    match check_answer(handbook, id, &text) {
        Ok(()) => Ok(text),
        Err(misunderstood) => Err(unreadable(misunderstood.message.replace("; type ", "; write "))),
    }
}
