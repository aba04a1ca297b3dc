//! What is done at a simulated rig for each question, action and step, as it is written.

use crate::diagnostic::{Code, Diagnostic, sort_in_file_order};
use crate::document::bound::bound;
use crate::document::shape::check_id;
use crate::document::{Entry, MapReader, NodeValue, Scalar, Spanned, read_id, read_yaml};
use crate::source::{SourceId, Sources, Span};
use crate::text::list_or;

/// A file of answers of the simulated rig as written.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RawRigAnswers {
    /// By question, what is done to answer it.
    pub questions: Vec<(Spanned<String>, RawWay)>,
    /// By action, what is done for it.
    pub actions: Vec<(Spanned<String>, RawWay)>,
    /// By tree and step, what is done there.
    pub steps: Vec<(Spanned<String>, Spanned<String>, Spanned<String>)>,
}

/// What is done for a question or an action.
#[derive(Clone, Debug, PartialEq)]
pub enum RawWay {
    /// A look of this name is taken at the rig.
    Look(Spanned<String>),
    /// The same is said at any rig.
    Says(Scalar),
    /// Nobody can say, and why.
    NotSure(Scalar),
    /// A deed of this name is done at the rig.
    Does(Spanned<String>),
    /// It is passed over, and why.
    Skips(Scalar),
    /// What stands there can't be read, which has been reported.
    Faulty,
}

/// Reads what is done at a rig: what could be read, and every fault in file order.
#[must_use]
pub fn read_rig_answers(
    sources: &Sources,
    id: SourceId,
) -> (Option<RawRigAnswers>, Vec<Diagnostic>) {
    let (root, mut faults) = read_yaml(sources, id);
    let Some(root) = root else { return (None, faults) };
    let start = Span::new(id, 0, 0);
    let mut reader = MapReader::new(&root, "a file of rig answers", start, &mut faults);
    reader.require(&["questions", "actions"]);
    let answers = RawRigAnswers {
        questions: ways(&mut reader, "questions", &["look", "says", "not_sure"]),
        actions: ways(&mut reader, "actions", &["does", "skips"]),
        steps: steps(&mut reader),
    };
    reader.finish();
    sort_in_file_order(&mut faults);
    bound(&mut faults);
    (Some(answers), faults)
}

fn ways(
    reader: &mut MapReader<'_, '_>,
    section: &'static str,
    possible: &[&'static str],
) -> Vec<(Spanned<String>, RawWay)> {
    let mut ways = Vec::new();
    for Entry { key, value } in reader.map(section) {
        let faults = reader.faults();
        check_id(&key.text, key.span, &format!("a name in `{section}`"), faults);
        let mut inner = MapReader::new(value, format!("`{}`", key.text), key.span, faults);
        let found = possible.iter().filter_map(|word| way(&mut inner, word));
        let found: Vec<RawWay> = found.collect();
        if let [first, rest @ ..] = possible {
            inner.refuse_together(first, rest, "one thing is done for each");
        }
        let is_written = possible.iter().any(|word| inner.has(word));
        if !is_written && value.entries().is_some() {
            let title = format!("`{}` doesn't say what is done", key.text);
            let words: Vec<String> = possible.iter().map(|word| format!("`{word}`")).collect();
            let label = format!("{} belongs behind it", list_or(&words));
            inner.fault(Diagnostic::at(Code::MissingKey, title, key.span, label));
        }
        inner.finish();
        let way = found.into_iter().next().unwrap_or(RawWay::Faulty);
        ways.push((Spanned::new(key.text.clone(), key.span), way));
    }
    ways
}

fn way(reader: &mut MapReader<'_, '_>, word: &'static str) -> Option<RawWay> {
    match word {
        "look" => reader.id(word).map(RawWay::Look),
        "does" => reader.id(word).map(RawWay::Does),
        "says" => reader.text(word).map(RawWay::Says),
        "not_sure" => reader.text(word).map(RawWay::NotSure),
        _ => reader.text(word).map(RawWay::Skips),
    }
}

fn steps(
    reader: &mut MapReader<'_, '_>,
) -> Vec<(Spanned<String>, Spanned<String>, Spanned<String>)> {
    let mut steps = Vec::new();
    for Entry { key: tree, value } in reader.map("steps") {
        let what = format!("`{}` in `steps`", tree.text);
        let faults = reader.faults();
        if !matches!(value.value, NodeValue::Map(_)) {
            let title = format!("{what} names no steps");
            let label = "a map of steps belongs behind it";
            faults.push(Diagnostic::at(Code::WrongShape, title, tree.span, label));
        }
        for Entry { key: step, value } in value.entries().unwrap_or(&[]) {
            if let Some(deed) = read_id(value, step.span, &format!("`{}`", step.text), faults) {
                steps.push((
                    Spanned::new(tree.text.clone(), tree.span),
                    Spanned::new(step.text.clone(), step.span),
                    deed,
                ));
            }
        }
    }
    steps
}
