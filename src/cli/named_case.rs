//! The case that an argument names.

use anyhow::{Context, Result, bail};

use crate::book::{Book, CaseFile};
use crate::text::{inert, list_and};

/// The case of this id, or of this number where only one case of the book has it; without either
/// the one that was written last.
///
/// # Errors
/// No case, or more than one, is meant.
pub(super) fn find(book: &Book, wanted: Option<&str>) -> Result<CaseFile> {
    let Some(wanted) = wanted else {
        let last = book.cases().into_iter().next();
        return last.with_context(|| format!("there is no case in {}", book.folder().display()));
    };
    let mut meant = meant(book, wanted);
    match (meant.pop(), &meant[..]) {
        (Some(only), []) => Ok(only),
        (Some(one), others) => {
            let ids = others.iter().chain([&one]).map(|case| inert(&case.id));
            let ids: Vec<String> = ids.take(MOST_NAMED).collect();
            bail!("`{}` is the number of several cases, such as {}", inert(wanted), list_and(&ids))
        }
        (None, _) => {
            bail!("there is no case `{}` in {}", inert(wanted), book.folder().display())
        }
    }
}

/// Whether a text names a case of the book, or several.
pub(super) fn names_a_case(book: &Book, text: &str) -> bool {
    !meant(book, text).is_empty()
}

/// Whether a text can only be meant for a case: no id of a handbook is made of digits and hyphens.
pub(super) fn is_number(text: &str) -> bool {
    text.bytes().any(|byte| byte.is_ascii_digit())
        && text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'-')
}

/// The most cases that are named for a number (limit of ours).
const MOST_NAMED: usize = 3;

/// The case of an id; else those of a number, as in `3` or `-3` for `2026-03-31-3`.
fn meant(book: &Book, text: &str) -> Vec<CaseFile> {
    if let Some(case) = book.find(text) {
        return vec![case];
    }
    let number = text.strip_prefix('-').unwrap_or(text);
    if number.is_empty() || !number.bytes().all(|byte| byte.is_ascii_digit()) {
        return Vec::new();
    }
    let ending = format!("-{number}");
    book.cases().into_iter().filter(|case| case.id.ends_with(&ending)).collect()
}
