//! The handbook: all files put together.

use super::edge::put_sections_right;
use super::merge::{Origin, Taken};
use super::{
    FILE_KEYS, RawAction, RawCause, RawCaution, RawEntry, RawFinding, RawFormula, RawInstrument,
    RawQuestion, RawSource, RawTree, RawWaiver, Section,
};
use crate::diagnostic::{Code, Diagnostic, sort_in_file_order};
use crate::document::bound::bound;
use crate::document::quote::shortened;
use crate::document::{Entry, MapReader, NodeValue, Scalar, Spanned, read_yaml};
use crate::source::{SourceId, Sources, Span};

/// The only format there is.
const FORMAT: u32 = 1;

/// A handbook as written, all files put together. Entries stand in the order of the files.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RawHandbook {
    /// The format of the language; 1 is the only one.
    pub format: Option<Spanned<u32>>,
    /// Its name; that of an added file wins.
    pub name: Option<Scalar>,
    /// Its version, as a text; that of an added file wins.
    pub version: Option<Scalar>,
    /// Whom to call in where its advice ends; that of an added file wins.
    pub call_in: Option<Scalar>,
    /// The tree that says how to leave the work safely; that of an added file wins.
    pub leave_by: Option<Spanned<String>>,
    /// What is asked.
    pub questions: Vec<RawQuestion>,
    /// What measures.
    pub instruments: Vec<RawInstrument>,
    /// What is computed.
    pub formulas: Vec<RawFormula>,
    /// What counts as evidence.
    pub findings: Vec<RawFinding>,
    /// What may be wrong.
    pub causes: Vec<RawCause>,
    /// What may be done.
    pub actions: Vec<RawAction>,
    /// What is asked in which order.
    pub trees: Vec<RawTree>,
    /// What could hurt.
    pub cautions: Vec<RawCaution>,
    /// Where numbers come from.
    pub sources: Vec<RawSource>,
    /// What authors know of and keep.
    pub waivers: Vec<RawWaiver>,
    /// Whether every file was read to its end. If not, a name that seems to lead nowhere may
    /// stand in what was not read.
    pub is_whole: bool,
}

impl RawHandbook {
    /// The id of every entry, with its section.
    pub fn ids(&self) -> impl Iterator<Item = (Section, &Spanned<String>)> {
        ids_of(&self.questions)
            .chain(ids_of(&self.instruments))
            .chain(ids_of(&self.formulas))
            .chain(ids_of(&self.findings))
            .chain(ids_of(&self.causes))
            .chain(ids_of(&self.actions))
            .chain(ids_of(&self.trees))
            .chain(ids_of(&self.cautions))
            .chain(ids_of(&self.sources))
    }
}

fn ids_of<T: RawEntry>(entries: &[T]) -> impl Iterator<Item = (Section, &Spanned<String>)> {
    entries.iter().map(|entry| (T::SECTION, entry.id()))
}

/// Reads the files of a handbook and those added to it, in this order, and gives what could be
/// read with every fault, in file order.
///
/// Any file may hold any section. An id is given once; an entry of an added file that says
/// `replaces: built_in` takes the place of the built-in entry of its section and id.
#[must_use]
pub fn read_handbook(
    sources: &Sources,
    built_in: &[SourceId],
    added: &[SourceId],
) -> (RawHandbook, Vec<Diagnostic>) {
    read_part(sources, built_in, added, true)
}

/// Reads files as [`read_handbook`] does; where they are not the whole of the handbook, what seems
/// to be missing is no fault.
#[must_use]
pub fn read_part(
    sources: &Sources,
    built_in: &[SourceId],
    added: &[SourceId],
    is_whole: bool,
) -> (RawHandbook, Vec<Diagnostic>) {
    let mut handbook = RawHandbook { is_whole, ..RawHandbook::default() };
    let mut taken = Taken::default();
    let mut faults = Vec::new();
    let built_in_files = built_in.iter().map(|&id| (id, Origin::BuiltIn));
    let added_files = added.iter().map(|&id| (id, Origin::Added));
    for (id, origin) in built_in_files.chain(added_files) {
        read_file(sources, id, origin, &mut handbook, &mut taken, &mut faults);
    }
    check_header(&handbook, sources, built_in.iter().chain(added).copied(), &mut faults);
    sort_in_file_order(&mut faults);
    bound(&mut faults);
    (handbook, faults)
}

fn read_file(
    sources: &Sources,
    id: SourceId,
    origin: Origin,
    handbook: &mut RawHandbook,
    taken: &mut Taken,
    faults: &mut Vec<Diagnostic>,
) {
    let (root, found) = read_yaml(sources, id);
    faults.extend(found);
    let Some(mut root) = root else {
        handbook.is_whole = false;
        return;
    };
    put_sections_right(&mut root, faults);
    if root.value == NodeValue::Null {
        return;
    }
    let mut reader = MapReader::new(&root, "a handbook's file", Span::new(id, 0, 0), faults);
    reader.know(FILE_KEYS);
    read_header(&mut reader, origin, handbook);
    for &section in Section::ALL {
        let entries = section_entries(&mut reader, section);
        let faults = reader.faults();
        handbook.waivers.extend(entries.iter().flat_map(|entry| RawWaiver::of(entry, faults)));
        match section {
            Section::Questions => taken.add(&mut handbook.questions, entries, origin, faults),
            Section::Instruments => taken.add(&mut handbook.instruments, entries, origin, faults),
            Section::Formulas => taken.add(&mut handbook.formulas, entries, origin, faults),
            Section::Findings => taken.add(&mut handbook.findings, entries, origin, faults),
            Section::Causes => taken.add(&mut handbook.causes, entries, origin, faults),
            Section::Actions => taken.add(&mut handbook.actions, entries, origin, faults),
            Section::Trees => taken.add(&mut handbook.trees, entries, origin, faults),
            Section::Cautions => taken.add(&mut handbook.cautions, entries, origin, faults),
            Section::Sources => taken.add(&mut handbook.sources, entries, origin, faults),
        }
    }
    reader.finish();
}

/// The entries of a section; a section without anything in it is an empty one.
fn section_entries<'n>(reader: &mut MapReader<'n, '_>, section: Section) -> &'n [Entry] {
    match reader.entry(section.key()) {
        Some(entry) if entry.value.value == NodeValue::Null => &[],
        _ => reader.map(section.key()),
    }
}

fn read_header(reader: &mut MapReader<'_, '_>, origin: Origin, handbook: &mut RawHandbook) {
    let format = reader.text("format");
    if let Some(text) = format {
        match text.text.trim().parse() {
            Ok(FORMAT) => {
                let format = Spanned::new(FORMAT, text.span);
                check_once(reader, "format", handbook.format.as_ref().map(|f| f.span), origin);
                handbook.format = Some(format);
            }
            _ => {
                let title = format!("format `{}` is not known", shortened(&text.text));
                let label = format!("`{FORMAT}` is the only format");
                reader.fault(Diagnostic::at(Code::WrongFormat, title, text.span, label));
                handbook.format = Some(Spanned::new(FORMAT, text.span));
            }
        }
    }
    if let Some(name) = reader.text("name") {
        check_once(reader, "name", handbook.name.as_ref().map(|name| name.span), origin);
        handbook.name = Some(name);
    }
    if let Some(version) = reader.text("version") {
        check_once(reader, "version", handbook.version.as_ref().map(|v| v.span), origin);
        handbook.version = Some(version);
    }
    if let Some(call_in) = reader.text("call_in") {
        check_once(reader, "call_in", handbook.call_in.as_ref().map(|c| c.span), origin);
        handbook.call_in = Some(call_in);
    }
    if let Some(leave_by) = reader.id("leave_by") {
        check_once(reader, "leave_by", handbook.leave_by.as_ref().map(|l| l.span), origin);
        handbook.leave_by = Some(leave_by);
    }
}

/// Within the built-in files a line of the header stands once; an added file has its own.
fn check_once(reader: &mut MapReader<'_, '_>, key: &str, first: Option<Span>, origin: Origin) {
    let (Some(first), Some(span)) = (first, reader.key_span(key)) else { return };
    if origin == Origin::BuiltIn {
        let title = format!("`{key}` of the handbook is written in two files");
        let fault = Diagnostic::at(Code::DuplicateKey, title, span, "second time");
        reader.fault(fault.and_at(first, "first time"));
    }
}

fn check_header(
    handbook: &RawHandbook,
    sources: &Sources,
    files: impl Iterator<Item = SourceId>,
    faults: &mut Vec<Diagnostic>,
) {
    if !handbook.is_whole {
        return;
    }
    let is_written = [
        ("format", handbook.format.is_some()),
        ("name", handbook.name.is_some()),
        ("version", handbook.version.is_some()),
    ];
    let files: Vec<SourceId> = files.collect();
    let is_header = |id: &SourceId| sources.get(*id).name().ends_with("handbook.yaml");
    let place = files.iter().copied().find(is_header).map(|id| Span::new(id, 0, 0));
    for (key, _) in is_written.iter().filter(|(_, is_written)| !is_written) {
        let title = format!("the handbook has no `{key}`");
        let fault = match place {
            Some(span) => {
                let label = format!("`{key}` belongs in this file");
                Diagnostic::at(Code::MissingKey, title, span, label)
            }
            None => Diagnostic::nowhere(Code::MissingKey, title)
                .help("add a file `handbook.yaml` with `format: 1`, `name:` and `version:`"),
        };
        faults.push(fault);
    }
}
