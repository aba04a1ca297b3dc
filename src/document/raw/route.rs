//! Where a step leads.

use super::{BRANCH_KEYS, DOUBT_KEYS, TARGET_KEYS};
use crate::diagnostic::{Code, Diagnostic};
use crate::document::quote::shortened;
use crate::document::shape::{is_id, read_id, wrong_shape};
use crate::document::{Entry, MapReader, Node, NodeValue, Scalar, Spanned};
use crate::source::Span;

/// What follows a step, as written.
#[derive(Clone, Debug, PartialEq)]
pub enum RawNext {
    /// Always the same.
    Always(RawTarget),
    /// By the answer to the question that the step asks. A choice is kept as written, since
    /// `yes` and `no` are choices too.
    ByChoice(Vec<(Spanned<String>, RawTarget)>),
    /// By formulas, the first that is true.
    ByFormula(RawBranches),
}

/// A step of the same tree, or the start of another tree.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RawTarget {
    /// A step of the same tree.
    Step(Spanned<String>),
    /// Another tree: `tree: ID`.
    Tree(Spanned<String>),
}

/// A list of conditions with what follows each.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RawBranches {
    /// The conditions in order.
    pub branches: Vec<RawBranch>,
    /// Where none is true (`else`); must be written.
    pub otherwise: Option<RawTarget>,
    /// Where a condition is too close to call.
    pub too_close: Option<RawTarget>,
    /// Where a condition can't be told.
    pub unknown: Option<RawTarget>,
}

/// A condition and what follows where it is true.
#[derive(Clone, Debug, PartialEq)]
pub struct RawBranch {
    /// The formula (`if`); must be written.
    pub condition: Option<Scalar>,
    /// What follows (`go`); must be written.
    pub go: Option<RawTarget>,
}

impl RawTarget {
    /// The name of the step or tree.
    #[must_use]
    pub fn name(&self) -> &Spanned<String> {
        match self {
            Self::Step(name) | Self::Tree(name) => name,
        }
    }

    /// The name of the tree that it goes on to.
    #[must_use]
    pub fn tree(&self) -> Option<&Spanned<String>> {
        match self {
            Self::Step(_) => None,
            Self::Tree(name) => Some(name),
        }
    }

    pub(super) fn read(
        node: &Node,
        place: Span,
        what: &str,
        faults: &mut Vec<Diagnostic>,
    ) -> Option<Self> {
        match &node.value {
            NodeValue::Map(_) => {
                let mut reader = MapReader::new(node, what, node.span, faults);
                reader.know(TARGET_KEYS);
                let tree = reader.id("tree");
                reader.finish();
                tree.map(Self::Tree)
            }
            NodeValue::List(_) => {
                wrong_shape(node, place, what, "a step, or `tree:` and a tree,", faults);
                None
            }
            NodeValue::Scalar(scalar) if behind_go(&scalar.text).is_some() => {
                let step = behind_go(&scalar.text).unwrap_or_default();
                let title = format!("{what} is `{}`", shortened(&scalar.text));
                let label = "the id of a step alone belongs here";
                let fault = Diagnostic::at(Code::BadId, title, scalar.span, label);
                faults.push(fault.help(format!("write `{step}`")));
                None
            }
            _ => read_id(node, place, what, faults).map(Self::Step),
        }
    }
}

impl RawNext {
    /// Every target, in the order written; `else`, `too_close` and `unknown` come last.
    #[must_use]
    pub fn targets(&self) -> Vec<&RawTarget> {
        match self {
            Self::Always(target) => vec![target],
            Self::ByChoice(choices) => choices.iter().map(|(_, target)| target).collect(),
            Self::ByFormula(all) => {
                let ruled = all.branches.iter().filter_map(|branch| branch.go.as_ref());
                ruled.chain(&all.otherwise).chain(&all.too_close).chain(&all.unknown).collect()
            }
        }
    }

    /// Whether every branch written could be read.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        match self {
            Self::Always(_) => true,
            Self::ByChoice(choices) => !choices.is_empty(),
            Self::ByFormula(all) => {
                all.otherwise.is_some() && all.branches.iter().all(|branch| branch.go.is_some())
            }
        }
    }

    pub(super) fn read(reader: &mut MapReader<'_, '_>) -> Option<Self> {
        let entry = reader.entry("next")?;
        let what = format!("`next` of {}", reader.what());
        let faults = reader.faults();
        match &entry.value.value {
            NodeValue::List(items) => {
                Some(Self::ByFormula(branches(items, entry.key.span, &what, faults)))
            }
            NodeValue::Map(entries) if !is_tree(entries) => {
                Some(Self::ByChoice(by_choice(entries, &what, faults)))
            }
            _ => RawTarget::read(&entry.value, entry.key.span, &what, faults).map(Self::Always),
        }
    }
}

/// The id in `go to floor`, which is an order in words.
fn behind_go(text: &str) -> Option<&str> {
    let id = text.trim().strip_prefix("go ")?.trim_start();
    let id = id.strip_prefix("to ").unwrap_or(id).trim_start();
    is_id(id).then_some(id)
}

/// `{tree: pump_alone}` names a tree, not a choice called `tree`: that is a word of the
/// language and so no choice.
fn is_tree(entries: &[Entry]) -> bool {
    matches!(entries, [only] if only.key.text == "tree")
}

fn by_choice(
    entries: &[Entry],
    what: &str,
    faults: &mut Vec<Diagnostic>,
) -> Vec<(Spanned<String>, RawTarget)> {
    let mut choices = Vec::new();
    for Entry { key, value } in entries {
        let what = format!("`{}` in {what}", key.text);
        if let Some(target) = RawTarget::read(value, key.span, &what, faults) {
            choices.push((Spanned::new(key.text.clone(), key.span), target));
        }
    }
    choices
}

fn branches(items: &[Node], place: Span, what: &str, faults: &mut Vec<Diagnostic>) -> RawBranches {
    let mut read = RawBranches::default();
    for (index, item) in items.iter().enumerate() {
        let what = format!("branch {} in {what}", index + 1);
        let place = item.entries().and_then(|all| all.first()).map_or(item.span, |e| e.key.span);
        if let Some(before) = parted_from(items, index) {
            faults.push(parted(&what, place, before));
            let go = item.entries().and_then(|all| all.first());
            let go = go.and_then(|go| RawTarget::read(&go.value, go.key.span, &what, faults));
            if let Some(branch) = read.branches.last_mut() {
                branch.go = go;
            }
            continue;
        }
        let mut reader = MapReader::new(item, what, place, faults);
        if parted_from(items, index + 1).is_some() {
            let condition = reader.text("if");
            read.branches.push(RawBranch { condition, go: None });
            continue;
        }
        if reader.has("if") || reader.has("go") {
            reader.know(BRANCH_KEYS);
            let condition = reader.text("if");
            let go = target(&mut reader, "go");
            read.branches.push(RawBranch { condition, go });
        } else {
            reader.know(DOUBT_KEYS);
            // Looked up so that a wrong key is told of these two as well.
            let _ = (reader.entry("if"), reader.entry("go"));
            for (key, slot) in [
                ("else", &mut read.otherwise),
                ("too_close", &mut read.too_close),
                ("unknown", &mut read.unknown),
            ] {
                *slot = target(&mut reader, key).or(slot.take());
            }
        }
        reader.finish();
    }
    let names_else = |item: &Node| {
        item.value == NodeValue::Faulty
            || item.entries().is_some_and(|all| all.iter().any(|e| e.key.text == "else"))
    };
    if !items.iter().any(names_else) {
        let title = format!("{what} has no `else`");
        let label = "a last `- else: STEP` belongs below";
        faults.push(Diagnostic::at(Code::MissingKey, title, place, label));
    }
    read
}

/// Where the `if` stands that a `go` was parted from by a dash of its own.
fn parted_from(items: &[Node], at: usize) -> Option<Span> {
    let only = |at: usize, key: &str| match items.get(at)?.entries()? {
        [entry] if entry.key.text == key => Some(entry.key.span),
        _ => None,
    };
    only(at, "go")?;
    only(at.checked_sub(1)?, "if")
}

fn parted(what: &str, go: Span, condition: Span) -> Diagnostic {
    let title = format!("{what} is parted from its `if` by a dash");
    Diagnostic::at(Code::MissingKey, title, go, "no dash belongs before this")
        .and_at(condition, "the condition that it belongs to")
        .help("write two spaces for the dash and its space, so that `go` stands under `if`")
}

fn target(reader: &mut MapReader<'_, '_>, key: &'static str) -> Option<RawTarget> {
    let what = format!("`{key}` of {}", reader.what());
    let entry = reader.entry(key)?;
    RawTarget::read(&entry.value, entry.key.span, &what, reader.faults())
}
