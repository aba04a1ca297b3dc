//! Where numbers come from: every entry that holds one says so.

use super::Resolver;
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::Spanned;
use crate::document::raw::RawBasis;
use crate::handbook::citations::MARKS;
use crate::handbook::model::Basis;
use crate::source::Span;
use crate::text::{list_and, list_or};

/// The keys of an entry that may hold numbers, each with whether it holds any that need a basis.
/// Numbers in prose, and rough times for planning, may have one.
pub(super) type NumberKeys<'a> = &'a [(&'static str, bool)];

impl Resolver<'_> {
    /// The basis of an entry; a fault if the entry holds numbers that have none.
    pub(super) fn basis(
        &mut self,
        what: &str,
        id: &Spanned<String>,
        raw: Option<&RawBasis>,
        keys: NumberKeys<'_>,
    ) -> Basis {
        let mut holding = keys.iter().filter(|(_, holds)| *holds).map(|(key, _)| *key);
        match raw {
            None => {
                let held: Vec<&str> = holding.collect();
                if !held.is_empty() {
                    self.missing_basis(what, id, &held);
                }
                Basis::default()
            }
            Some(RawBasis::One(mark)) => {
                self.check_mark(mark);
                Basis { whole: Some(mark.value.clone()), by_key: Vec::new() }
            }
            Some(RawBasis::ByKey(marks)) => {
                for (key, mark) in marks {
                    self.check_key(what, id, key, keys);
                    self.check_mark(mark);
                }
                let is_key = |key: &str| keys.iter().any(|(known, _)| *known == key);
                let is_misspelt = marks.iter().any(|(key, _)| !is_key(&key.value));
                let has_mark = |key: &str| marks.iter().any(|(marked, _)| marked.value == key);
                let lacking = holding.find(|key| !has_mark(key)).filter(|_| !is_misspelt);
                if let Some(key) = lacking {
                    let place = marks.first().map_or(id.span, |(first, _)| first.span);
                    self.basis_lacks(what, id, key, place);
                }
                let pair = |(key, mark): &(Spanned<String>, Spanned<String>)| {
                    (key.value.clone(), mark.value.clone())
                };
                Basis { whole: None, by_key: marks.iter().map(pair).collect() }
            }
        }
    }

    fn missing_basis(&mut self, what: &str, id: &Spanned<String>, held: &[&str]) {
        let title =
            format!("{what} `{}` holds numbers and doesn't say where they come from", id.value);
        let quoted: Vec<String> = held.iter().map(|key| format!("`{key}`")).collect();
        self.faults.push(
            Diagnostic::at(Code::MissingBasis, title, id.span, "`basis` is missing")
                .note(format!("the numbers stand under {}", list_and(&quoted)))
                .help("add `basis:` with the id of a source, or with `estimate` if it is yours"),
        );
    }

    fn basis_lacks(&mut self, what: &str, id: &Spanned<String>, key: &str, place: Span) {
        let title = format!("`basis` of {what} `{}` leaves out `{key}`", id.value);
        let label = format!("`{key}` belongs here too");
        let fault = Diagnostic::at(Code::MissingBasis, title, place, label);
        self.faults.push(fault.note(format!("`{key}` holds numbers")));
    }

    /// A basis by key must name keys that may hold numbers.
    fn check_key(
        &mut self,
        what: &str,
        id: &Spanned<String>,
        key: &Spanned<String>,
        keys: NumberKeys<'_>,
    ) {
        if keys.iter().any(|(known, _)| *known == key.value) {
            return;
        }
        let title = format!("`basis` of {what} `{}` speaks of `{}`", id.value, key.value);
        let quoted: Vec<String> = keys.iter().map(|(key, _)| format!("`{key}`")).collect();
        let near = near_name(&key.value, keys.iter().map(|(key, _)| *key));
        self.faults.push(
            Diagnostic::at(Code::UnknownKey, title, key.span, "no key that holds numbers")
                .note(format!("numbers can stand under {}", list_or(&quoted)))
                .maybe_help(near.map(|near| format!("did you mean `{near}`?"))),
        );
    }

    fn check_mark(&mut self, mark: &Spanned<String>) {
        let is_known = MARKS.iter().any(|(known, _)| *known == mark.value)
            || self.ids.references.get(&mark.value).is_some();
        if is_known {
            return;
        }
        let title = format!("`{}` is neither a source nor a mark", mark.value);
        let marks: Vec<String> = MARKS.iter().map(|(mark, _)| format!("`{mark}`")).collect();
        let sources = self.raw.sources.iter().map(|source| source.id.value.as_str());
        let near = near_name(&mark.value, sources.chain(MARKS.map(|(mark, _)| mark)));
        self.faults.push(
            Diagnostic::at(Code::UnknownName, title, mark.span, "no source has this id")
                .note(format!(
                    "the marks for numbers that no source gives are {}",
                    list_and(&marks)
                ))
                .maybe_help(near.map(|near| format!("did you mean `{near}`?"))),
        );
    }
}
