//! What a worksheet has worked out already.

use std::cell::RefCell;
use std::collections::HashMap;
use std::ops::Deref;

use crate::evidence::finding::Judged;
use crate::formula::{Symbol, Value};
use crate::handbook::FindingId;

/// The cells of a worksheet that have been evaluated. Kept beside a record that changes no more,
/// they serve every worksheet over the whole of it.
#[derive(Debug, Default)]
pub struct Cells {
    pub(super) values: RefCell<HashMap<Symbol, Value>>,
    pub(super) findings: RefCell<HashMap<FindingId, Judged>>,
}

/// The cells of a worksheet: its own, or kept by somebody else.
#[derive(Debug)]
pub(super) enum Kept<'a> {
    Own(Cells),
    Elsewhere(&'a Cells),
}

impl Deref for Kept<'_> {
    type Target = Cells;

    fn deref(&self) -> &Cells {
        match self {
            Self::Own(cells) => cells,
            Self::Elsewhere(cells) => cells,
        }
    }
}
