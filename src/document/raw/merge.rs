//! Putting the entries of many files together: one id, one entry.

use std::collections::HashMap;

use super::columns::{Named, put_right};
use super::entry::{keys_of, read_entry};
use super::{RawEntry, Section};
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::Entry;
use crate::source::Span;

/// Whether a file belongs to the handbook itself or was added to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Origin {
    BuiltIn,
    Added,
}

/// Which ids are taken, and by what.
#[derive(Default)]
pub(super) struct Taken {
    ids: HashMap<(Section, String), (Span, Origin)>,
}

impl Taken {
    /// Reads the entries of one section of one file into the list that holds the section.
    pub(super) fn add<T: RawEntry>(
        &mut self,
        list: &mut Vec<T>,
        entries: &[Entry],
        origin: Origin,
        faults: &mut Vec<Diagnostic>,
    ) {
        let keys = keys_of(T::SECTION);
        let named = Named { one: T::SECTION.entry(), keys: &keys };
        for entry in put_right(entries, &named, faults).iter() {
            let read: T = read_entry(entry, faults);
            let id = read.id().clone();
            let holder = self.holder(T::SECTION, &id.value);
            let may_replace = origin == Origin::Added
                && matches!(holder, Some((section, _, Origin::BuiltIn)) if section == T::SECTION);
            match holder {
                Some(_) if read.replaces() && may_replace => {
                    if let Some(old) = list.iter_mut().find(|old| old.id().value == id.value) {
                        *old = read;
                    }
                }
                Some((section, span, _)) => {
                    let fault = duplicate(T::SECTION, &id.value, id.span, section, span);
                    faults.push(fault.maybe_help(may_replace.then(|| {
                        "give yours another id; to replace the built-in one, write `replaces: built_in` \
                         in yours, and write it out whole"
                            .to_owned()
                    })));
                    continue;
                }
                None if read.replaces() => {
                    let others = list.iter().map(|other| other.id().as_str());
                    let near = near_name(&id.value, others);
                    faults.push(not_replacing(T::SECTION, &id.value, id.span, near));
                    // Kept, so that those who name it are not reported too.
                    list.push(read);
                }
                None => list.push(read),
            }
            self.ids.insert((T::SECTION, id.value), (id.span, origin));
        }
    }

    /// Who has a name that an entry of `section` would like to have.
    fn holder(&self, section: Section, id: &str) -> Option<(Section, Span, Origin)> {
        Section::ALL.iter().filter(|other| section.shares_names_with(**other)).find_map(|&other| {
            let &(span, origin) = self.ids.get(&(other, id.to_owned()))?;
            Some((other, span, origin))
        })
    }
}

fn duplicate(section: Section, id: &str, span: Span, other: Section, first: Span) -> Diagnostic {
    let fault = if section == other {
        let title = format!("two {} are called `{id}`", section.key());
        Diagnostic::at(Code::DuplicateId, title, span, "second one")
    } else {
        let title =
            format!("{} and {} are both called `{id}`", other.one_entry(), section.one_entry());
        Diagnostic::at(Code::DuplicateId, title, span, format!("this {}", section.entry()))
            .note("questions, formulas and findings share their names")
    };
    let first_label =
        if section == other { "first one".to_owned() } else { format!("this {}", other.entry()) };
    fault.and_at(first, first_label)
}

fn not_replacing(section: Section, id: &str, span: Span, near: Option<&str>) -> Diagnostic {
    let word = section.entry();
    let title = format!("{word} `{id}` replaces a built-in one, and there is none");
    Diagnostic::at(Code::NotReplacing, title, span, format!("no built-in {word} has this id")).help(
        match near {
            Some(name) => format!("did you mean `{name}`?"),
            None => "take `replaces: built_in` out".to_owned(),
        },
    )
}
