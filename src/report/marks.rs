//! Where a number of the handbook is from, in words.

use crate::case::Case;
use crate::handbook::Basis;

/// `estimate`, `common practice`, or the title of the source; `no mark` where none is given.
pub(super) fn mark(case: &Case<'_>, basis: &Basis, key: &str) -> String {
    given(case, basis, key).unwrap_or_else(|| "no mark".to_owned())
}

/// The same; none where none is given.
pub(super) fn given(case: &Case<'_>, basis: &Basis, key: &str) -> Option<String> {
    let by_key = basis.by_key.iter().find(|(of, _)| of == key).map(|(_, mark)| mark);
    let mark = by_key.or(basis.whole.as_ref())?;
    let source = case.handbook().references().iter().find(|source| source.id == *mark);
    Some(source.map_or_else(|| mark.replace('_', " "), |source| source.title.clone()))
}
