//! What every entry of a handbook has in common.

use super::{BASIS_KEYS, ENTRY_KEYS, RawBasis, Section};
use crate::diagnostic::{Code, Diagnostic};
use crate::document::quote::shortened;
use crate::document::shape::{check_id, nearest_id};
use crate::document::{Entry, MapReader, Spanned};

/// An entry of a section.
pub trait RawEntry: Sized {
    /// The section that it belongs to.
    const SECTION: Section;

    /// Its id.
    fn id(&self) -> &Spanned<String>;

    /// Whether it says that it replaces a built-in entry.
    fn replaces(&self) -> bool;

    /// Reads its keys; `id` and the keys of every entry have been read.
    fn read(head: Head, reader: &mut MapReader<'_, '_>) -> Self;
}

/// The keys that every entry may have.
pub struct Head {
    pub(super) id: Spanned<String>,
    pub(super) replaces: bool,
    pub(super) was: Option<Spanned<String>>,
    pub(super) basis: Option<RawBasis>,
}

/// Reads one entry of a section.
pub(super) fn read_entry<T: RawEntry>(entry: &Entry, faults: &mut Vec<Diagnostic>) -> T {
    let word = T::SECTION.entry();
    let mut id = Spanned::new(entry.key.text.clone(), entry.key.span);
    check_id(&id.value, id.span, &format!("the id of {}", T::SECTION.one_entry()), faults);
    let what = format!("{word} `{}`", id.value);
    // Those who name it as it should be are not reported too.
    id.value = nearest_id(&id.value).unwrap_or(id.value);
    let mut reader = MapReader::new(&entry.value, what, id.span, faults);
    reader.know(T::SECTION.keys());
    reader.know(ENTRY_KEYS);
    if has_basis(T::SECTION) {
        reader.know(BASIS_KEYS);
    }
    let replaces = replaces(&mut reader);
    let was = reader.id("was");
    let basis = has_basis(T::SECTION).then(|| RawBasis::read(&mut reader)).flatten();
    let from = reader.faults().len();
    let read = T::read(Head { id, replaces, was, basis }, &mut reader);
    reader.finish();
    if replaces {
        faults.iter_mut().skip(from).for_each(stands_alone);
    }
    read
}

/// Says of a key that a replacement lacks why it is not taken from what it replaces.
fn stands_alone(fault: &mut Diagnostic) {
    if fault.code == Code::MissingKey && fault.help.is_none() {
        let mend = "a replacement stands alone: write it out whole, with what is kept copied";
        fault.help = Some(mend.to_owned());
    }
}

/// Every key that entries of a section may have.
pub(super) fn keys_of(section: Section) -> Vec<&'static str> {
    let basis = if has_basis(section) { BASIS_KEYS } else { &[] };
    section.keys().iter().chain(ENTRY_KEYS).chain(basis).map(|known| known.key).collect()
}

/// Whether entries of a section may say where their numbers come from.
#[must_use]
pub fn has_basis(section: Section) -> bool {
    !matches!(section, Section::Cautions | Section::Sources)
}

fn replaces(reader: &mut MapReader<'_, '_>) -> bool {
    let Some(word) = reader.text("replaces") else { return false };
    if word.text.trim() == "built_in" {
        return true;
    }
    let title = format!("{} replaces `{}`", reader.what(), shortened(&word.text));
    let fault = Diagnostic::at(Code::UnknownWord, title, word.span, "`built_in` belongs here");
    reader.fault(fault.note("an entry can replace the built-in one of the same id only"));
    false
}
