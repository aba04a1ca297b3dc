//! The stages of reading one file, in order.

use super::build::{Built, build};
use super::screen::{Screened, screen};
use super::{curly, silent, stopped, syntax};
use crate::diagnostic::{Code, Diagnostic, sort_in_file_order};
use crate::document::Node;
use crate::document::bound::bound;
use crate::document::prepared::unpack;
use crate::source::{SourceId, Sources, Span};

/// The largest file that is read, in bytes: 1 MiB. Estimate: a hundred times a large section.
pub const MAX_FILE_BYTES: usize = 1 << 20;

/// How deep maps and lists may stand in each other. Estimate: a handbook needs eight.
pub const MAX_DEPTH: usize = 64;

/// The longest text, in characters. Estimate: ten pages.
pub const MAX_TEXT_CHARACTERS: usize = 20_000;

/// How many syntax faults are passed over in one file before reading stops.
const MAX_MENDS: usize = 50;

/// How much text is read again for that, in bytes, so that a large file stays quick.
const MAX_REREAD_BYTES: usize = 8 << 20;

/// Reads one file: its tree, unless the text breaks off, and every fault, in file order.
///
/// An empty file is [`NodeValue::Null`](crate::document::NodeValue::Null). Nodes whose text
/// could not be read are [`NodeValue::Faulty`](crate::document::NodeValue::Faulty). Of a text that
/// was read before, what came of it is unpacked.
#[must_use]
pub fn read_yaml(sources: &Sources, id: SourceId) -> (Option<Node>, Vec<Diagnostic>) {
    let source = sources.get(id);
    if let Some(root) = source.prepared().and_then(|bytes| unpack(bytes, id)) {
        return (Some(root), Vec::new());
    }
    let text = source.text();
    if text.len() > MAX_FILE_BYTES {
        let title = format!(
            "`{}` is larger than the {} KiB that a handbook's file may have",
            source.name(),
            MAX_FILE_BYTES >> 10
        );
        return (None, vec![Diagnostic::nowhere(Code::TooLarge, title)]);
    }
    let Screened { text: mut screened, mut damaged, mut faults, is_readable } = screen(text, id);
    if !is_readable {
        return (None, faults);
    }
    let mut built = build(&screened, id, &damaged);
    for _ in 0..MAX_MENDS.min(MAX_REREAD_BYTES / text.len().max(1)) {
        let Some(stopped) = &built.stopped else { break };
        let Some(slip) = syntax::name_slip(&screened, id, stopped) else { break };
        faults.push(slip.fault);
        screened.replace_range(slip.from..slip.from + slip.with.len(), &slip.with);
        damaged.push(slip.damaged);
        built = build(&screened, id, &damaged);
    }
    let (root, mut faults) = finish(&screened, id, built, faults);
    if faults.is_empty() {
        faults.extend(second_opinion(&screened, id));
    }
    (root, faults)
}

fn finish(
    text: &str,
    id: SourceId,
    built: Built,
    mut faults: Vec<Diagnostic>,
) -> (Option<Node>, Vec<Diagnostic>) {
    faults.extend(built.faults);
    if let Some(reason) = &built.stopped {
        faults.push(stopped::fault(text, id, reason));
    }
    let mut root = built.root;
    if let Some(root) = &mut root {
        silent::find_slips(text, root, &mut faults);
        faults.extend(curly::find(text, root));
    }
    sort_in_file_order(&mut faults);
    bound(&mut faults);
    (root, faults)
}

/// What the other parser says, which reads the same files elsewhere: a text that only one of
/// the two accepts is not safe to pass around.
fn second_opinion(text: &str, id: SourceId) -> Option<Diagnostic> {
    // A byte order mark does no harm, but this parser takes it for a document of its own.
    let marked = text.strip_prefix('\u{feff}').unwrap_or(text);
    let error = serde_yaml::from_str::<serde_yaml::Value>(marked).err()?;
    let from = text.len() - marked.len();
    let at = error.location().map_or(0, |place| (from + place.index()).min(text.len()));
    let span = Span::new(id, at, at);
    let fault = Diagnostic::at(Code::NotYaml, "the text is not YAML", span, "here or before");
    Some(fault.note(error.to_string()))
}
