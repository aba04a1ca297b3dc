//! The ranges that rigs of a population are drawn from, as they are written.

use super::RawBasis;
use crate::diagnostic::{Code, Diagnostic, sort_in_file_order};
use crate::document::bound::bound;
use crate::document::shape::{check_id, read_text};
use crate::document::{Entry, MapReader, Scalar, Spanned, read_yaml};
use crate::source::{SourceId, Sources, Span};

/// Texts by their names, as written.
pub type RawTexts = Vec<(Spanned<String>, Scalar)>;

/// A file of ranges as written.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RawRigRanges {
    /// What the population is called.
    pub population: Option<Scalar>,
    /// By what nobody sees or is told, its range.
    pub unknowns: RawTexts,
    /// By slip, how often a rig has it.
    pub slips: RawTexts,
    /// By what is told of the past, how often it is so with each cause.
    pub past: Vec<(Spanned<String>, RawTexts)>,
    /// By cause, how it shows at a rig.
    pub causes: Vec<(Spanned<String>, Vec<RawDrawn>)>,
}

/// A fault that a cause may be at a rig.
#[derive(Clone, Debug, PartialEq)]
pub struct RawDrawn {
    /// The fault.
    pub fault: Spanned<String>,
    /// How often it is this one, over the sum of all shares of its cause.
    pub share: Option<Scalar>,
    /// The range of its size.
    pub size: Option<Scalar>,
}

/// Reads a file of ranges: what could be read, and every fault in file order.
#[must_use]
pub fn read_rig_ranges(sources: &Sources, id: SourceId) -> (Option<RawRigRanges>, Vec<Diagnostic>) {
    let (root, mut faults) = read_yaml(sources, id);
    let Some(root) = root else { return (None, faults) };
    let start = Span::new(id, 0, 0);
    let mut reader = MapReader::new(&root, "a file of ranges", start, &mut faults);
    reader.require(&["population", "unknowns", "slips", "past", "causes"]);
    let ranges = RawRigRanges {
        population: reader.text("population"),
        unknowns: texts(&mut reader, "unknowns"),
        slips: texts(&mut reader, "slips"),
        past: past(&mut reader),
        causes: causes(&mut reader),
    };
    reader.finish();
    sort_in_file_order(&mut faults);
    bound(&mut faults);
    (Some(ranges), faults)
}

/// A section of texts by id, with the basis of its numbers.
fn texts(reader: &mut MapReader<'_, '_>, section: &'static str) -> RawTexts {
    let Some(entry) = reader.entry(section) else { return Vec::new() };
    let (span, faults) = (entry.key.span, reader.faults());
    based_texts(entry, format!("`{section}`"), span, faults)
}

/// The texts of one map, its `basis` left out: it must be there.
fn based_texts(entry: &Entry, what: String, span: Span, faults: &mut Vec<Diagnostic>) -> RawTexts {
    let mut texts = Vec::new();
    for Entry { key, value } in entry.value.entries().unwrap_or(&[]) {
        if key.text == "basis" {
            continue;
        }
        check_id(&key.text, key.span, &format!("a name in {what}"), faults);
        if let Some(text) = read_text(value, key.span, &format!("`{}`", key.text), faults) {
            texts.push((Spanned::new(key.text.clone(), key.span), text));
        }
    }
    needs_basis(entry, &what, span, faults);
    texts
}

fn needs_basis(entry: &Entry, what: &str, span: Span, faults: &mut Vec<Diagnostic>) {
    let entries = entry.value.entries().unwrap_or(&[]);
    if entry.value.entries().is_none() {
        let title = format!("{what} is no map");
        faults.push(Diagnostic::at(Code::WrongShape, title, span, "a map belongs behind it"));
        return;
    }
    let mut alone = MapReader::new(&entry.value, what.to_owned(), span, faults);
    if RawBasis::read(&mut alone).is_none() && !entries.iter().any(|e| e.key.text == "basis") {
        let title = format!("{what} has numbers and no `basis`");
        let label = "`basis: estimate`, or another mark, belongs here";
        faults.push(Diagnostic::at(Code::MissingBasis, title, span, label));
    }
}

fn past(reader: &mut MapReader<'_, '_>) -> Vec<(Spanned<String>, RawTexts)> {
    let mut past = Vec::new();
    for entry in reader.map("past") {
        let key = &entry.key;
        let texts = based_texts(entry, format!("`{}`", key.text), key.span, reader.faults());
        past.push((Spanned::new(key.text.clone(), key.span), texts));
    }
    past
}

fn causes(reader: &mut MapReader<'_, '_>) -> Vec<(Spanned<String>, Vec<RawDrawn>)> {
    let mut causes = Vec::new();
    for entry in reader.map("causes") {
        let (cause, faults) = (&entry.key, reader.faults());
        let mut drawn = Vec::new();
        for Entry { key, value } in entry.value.entries().unwrap_or(&[]) {
            if key.text == "basis" {
                continue;
            }
            let what = format!("`{}` of `{}`", key.text, cause.text);
            let mut inner = MapReader::new(value, what, key.span, faults);
            drawn.push(RawDrawn {
                fault: Spanned::new(key.text.clone(), key.span),
                share: inner.text("share"),
                size: inner.text("size"),
            });
            inner.finish();
        }
        needs_basis(entry, &format!("`{}`", cause.text), cause.span, faults);
        causes.push((Spanned::new(cause.text.clone(), cause.span), drawn));
    }
    causes
}
