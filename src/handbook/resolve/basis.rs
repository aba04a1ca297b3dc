//! Where numbers come from: every entry that holds one says so.

use super::Resolver;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::Spanned;
use crate::document::raw::RawBasis;
use crate::handbook::model::Basis;
use crate::text::list_or;

/// The marks that are no published source.
const MARKS: [&str; 4] = ["common_practice", "memory", "estimate", "simulated"];

impl Resolver<'_> {
    /// The basis of an entry; a fault if the entry holds numbers and has none.
    pub(super) fn basis(
        &mut self,
        what: &str,
        id: &Spanned<String>,
        raw: Option<&RawBasis>,
        holds_numbers: bool,
    ) -> Basis {
        match raw {
            None => {
                if holds_numbers {
                    self.missing_basis(what, id);
                }
                Basis::default()
            }
            Some(RawBasis::One(mark)) => {
                self.check_mark(mark);
                Basis { whole: Some(mark.value.clone()), by_key: Vec::new() }
            }
            Some(RawBasis::ByKey(marks)) => {
                for (_, mark) in marks {
                    self.check_mark(mark);
                }
                let pair = |(key, mark): &(Spanned<String>, Spanned<String>)| {
                    (key.value.clone(), mark.value.clone())
                };
                Basis { whole: None, by_key: marks.iter().map(pair).collect() }
            }
        }
    }

    fn missing_basis(&mut self, what: &str, id: &Spanned<String>) {
        let title =
            format!("{what} `{}` holds numbers and doesn't say where they come from", id.value);
        self.faults.push(
            Diagnostic::at(Code::MissingBasis, title, id.span, "`basis` is missing").help(
                "add `basis: estimate`, or the id of a source, if that is where they are from",
            ),
        );
    }

    fn check_mark(&mut self, mark: &Spanned<String>) {
        let is_known =
            MARKS.contains(&mark.value.as_str()) || self.ids.references.get(&mark.value).is_some();
        if is_known {
            return;
        }
        let title = format!("`{}` is neither a source nor a mark", mark.value);
        let marks: Vec<String> = MARKS.iter().map(|mark| format!("`{mark}`")).collect();
        self.faults.push(
            Diagnostic::at(Code::UnknownName, title, mark.span, "no source has this id").note(
                format!("the marks for numbers that no source gives are {}", list_or(&marks)),
            ),
        );
    }
}
