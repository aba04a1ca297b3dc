//! One step of a tree.

use super::{RawNext, STEP_KEYS, STEP_KINDS};
use crate::diagnostic::{Code, Diagnostic};
use crate::document::shape::{check_id, nearest_id};
use crate::document::{Entry, MapReader, NodeValue, Scalar, Spanned};
use crate::source::Span;
use crate::text::{list_and, list_or};

/// A step as written.
#[derive(Clone, Debug, PartialEq)]
pub struct RawStep {
    /// Its id, local to its tree.
    pub id: Spanned<String>,
    /// The id that it had before.
    pub was: Option<Spanned<String>>,
    /// What the step is; exactly one kind must be written.
    pub work: Option<RawWork>,
    /// What follows; must be written on all but `stop` and `end`.
    pub next: Option<RawNext>,
    /// How often a step on a circle may be run.
    pub at_most: Option<Spanned<u32>>,
    /// The step that follows when that is used up (`then` of any step but `end`).
    pub then_step: Option<Spanned<String>>,
    /// The trees to offer (`then` of an `end`).
    pub then_trees: Vec<Spanned<String>>,
    /// Of an `end`: what it says of the work.
    pub closes: Option<Scalar>,
    /// Whether a question is asked anew though it has an answer.
    pub again: bool,
    /// Whether an action may be left undone: passed over, the tree goes on all the same.
    pub optional: Option<Spanned<bool>>,
    /// How long to wait after doing it.
    pub wait: Option<Scalar>,
    /// Cautions to show before it.
    pub cautions: Vec<Spanned<String>>,
    /// Why it is done, or why to stop.
    pub why: Option<Scalar>,
    /// Whom to ask.
    pub refer: Option<Scalar>,
    /// Of a `stop`: the tree that may be begun meanwhile, as a case of its own.
    pub meanwhile: Option<Spanned<String>>,
}

/// What a step is.
#[derive(Clone, Debug, PartialEq)]
pub enum RawWork {
    /// Something to do, in words.
    Do(Scalar),
    /// A question to ask.
    Ask(Spanned<String>),
    /// An action of the handbook.
    Action(Spanned<String>),
    /// Another tree to run and come back from.
    Visit(Spanned<String>),
    /// The end of the work for safety, in words.
    Stop(Scalar),
    /// The end of the tree: what has been done, in words.
    End(Scalar),
}

impl RawStep {
    pub(super) fn read(entry: &Entry, tree: &str, faults: &mut Vec<Diagnostic>) -> Self {
        let mut id = Spanned::new(entry.key.text.clone(), entry.key.span);
        check_id(&id.value, id.span, &format!("the id of a step in {tree}"), faults);
        let what = format!("step `{}` of {tree}", id.value);
        // Steps that lead to it as it should be called are not reported too.
        id.value = nearest_id(&id.value).unwrap_or(id.value);
        let mut reader = MapReader::new(&entry.value, what, id.span, faults);
        reader.know(STEP_KEYS);
        let kinds = kinds(&reader);
        if matches!(entry.value.value, NodeValue::Map(_)) {
            check_kinds(&mut reader, &kinds, id.span);
        }
        let work = work(&mut reader, kinds.first().copied());
        let is_last = matches!(kinds.first(), Some(&("stop" | "end")));
        check_next(&mut reader, &kinds, is_last);
        let is_end = kinds.first() == Some(&"end");
        let then_trees = if is_end { trees(&mut reader) } else { Vec::new() };
        let then_step = if is_end { None } else { reader.id("then") };
        let step = Self {
            was: reader.id("was"),
            work,
            next: RawNext::read(&mut reader),
            at_most: reader.whole_number("at_most"),
            then_step,
            then_trees,
            closes: closes(&mut reader, &kinds),
            again: again(&mut reader, &kinds),
            optional: reader.flag("optional"),
            wait: reader.text("wait"),
            cautions: reader.ids("cautions"),
            why: reader.text("why"),
            refer: reader.text("refer"),
            meanwhile: meanwhile(&mut reader, &kinds),
            id,
        };
        reader.finish();
        step
    }

    /// Where the id is written.
    #[must_use]
    pub fn span(&self) -> Span {
        self.id.span
    }
}

fn kinds(reader: &MapReader<'_, '_>) -> Vec<&'static str> {
    STEP_KINDS.iter().copied().filter(|kind| reader.has(kind)).collect()
}

fn check_kinds(reader: &mut MapReader<'_, '_>, kinds: &[&'static str], place: Span) {
    let quoted = |names: &[&str]| names.iter().map(|k| format!("`{k}`")).collect::<Vec<_>>();
    if kinds.is_empty() {
        let title = format!("{} is no kind of step", reader.what());
        let label = format!("one of {} belongs here", list_or(&quoted(STEP_KINDS)));
        reader.fault(Diagnostic::at(Code::StepKind, title, place, label));
        return;
    }
    let [first, second, ..] = kinds else { return };
    let title = format!("{} is {} at once", reader.what(), list_and(&quoted(kinds)));
    let span = |reader: &MapReader<'_, '_>, key: &str| reader.key_span(key).unwrap_or(place);
    let fault = Diagnostic::at(Code::StepKind, title, span(reader, second), "a second kind")
        .and_at(span(reader, first), "the first kind")
        .note("a step is one kind only; make two steps, the first with `next:` to the second");
    reader.fault(fault);
}

fn work(reader: &mut MapReader<'_, '_>, kind: Option<&str>) -> Option<RawWork> {
    // All kinds are read, so that each one's faults are told.
    let texts = (reader.text("do"), reader.text("stop"), reader.text("end"));
    let ask = reader.id("ask");
    let action = reader.id("action");
    let visit = reader.id("visit");
    match kind? {
        "do" => texts.0.map(RawWork::Do),
        "ask" => ask.map(RawWork::Ask),
        "action" => action.map(RawWork::Action),
        "visit" => visit.map(RawWork::Visit),
        "stop" => texts.1.map(RawWork::Stop),
        _ => texts.2.map(RawWork::End),
    }
}

fn check_next(reader: &mut MapReader<'_, '_>, kinds: &[&'static str], is_last: bool) {
    match kinds.first() {
        Some(kind) if is_last => {
            reader.refuse_together(kind, &["next"], "nothing follows a `stop` or an `end`");
        }
        Some(_) => reader.require(&["next"]),
        None => {}
    }
}

fn again(reader: &mut MapReader<'_, '_>, kinds: &[&'static str]) -> bool {
    let again = reader.flag("again");
    if let (Some(kind), Some(_)) = (kinds.first().filter(|&&kind| kind != "ask"), &again) {
        reader.refuse_together(kind, &["again"], "only a question can be asked again");
    }
    again.is_some_and(|again| again.value)
}

fn closes(reader: &mut MapReader<'_, '_>, kinds: &[&'static str]) -> Option<Scalar> {
    let closes = reader.text("closes")?;
    match kinds.first() {
        // A plan leads on to the work that it plans, and work that waits to the way back to it.
        Some(&"end") if matches!(closes.text.trim(), "planned" | "waits") => {}
        Some(&"end") => {
            let why = "only an end that closes as `planned` or `waits` offers what comes next";
            reader.refuse_together("closes", &["then"], why);
        }
        Some(kind) => {
            reader.refuse_together(
                kind,
                &["closes"],
                "only an `end` says what has come of the work",
            );
        }
        None => {}
    }
    Some(closes)
}

fn meanwhile(reader: &mut MapReader<'_, '_>, kinds: &[&'static str]) -> Option<Spanned<String>> {
    let tree = reader.id("meanwhile")?;
    if let Some(kind) = kinds.first().filter(|&&kind| kind != "stop") {
        let why = "only a `stop` says what may be begun meanwhile";
        reader.refuse_together(kind, &["meanwhile"], why);
    }
    Some(tree)
}

/// `then` of an `end`: one tree or a list of trees.
fn trees(reader: &mut MapReader<'_, '_>) -> Vec<Spanned<String>> {
    match reader.entry("then").map(|entry| &entry.value.value) {
        Some(NodeValue::Scalar(_)) => reader.id("then").into_iter().collect(),
        _ => reader.ids("then"),
    }
}
