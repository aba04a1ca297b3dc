//! What one piece of evidence multiplies the states by.

use super::block::Block;
use super::scope::Scope;
use std::borrow::Cow;

/// A table of factors and where each block of states finds its row. All factors are between 0
/// and 1 (to rounding).
pub(super) struct Factor<'a> {
    pub(super) rows: Cow<'a, [Block]>,
    pub(super) row_of: Cow<'a, [u32]>,
}

impl<'a> Factor<'a> {
    /// A table that stands in the network.
    pub(super) fn borrowed(rows: &'a [Block], scope: &'a Scope) -> Self {
        Self { rows: Cow::Borrowed(rows), row_of: Cow::Borrowed(scope.row_of()) }
    }

    /// A table made for the occasion in a scope of the network.
    pub(super) fn made(rows: Vec<Block>, scope: &'a Scope) -> Self {
        Self { rows: Cow::Owned(rows), row_of: Cow::Borrowed(scope.row_of()) }
    }

    /// A table and a scope made for the occasion.
    pub(super) fn owned(rows: Vec<Block>, scope: &Scope) -> Self {
        Self { rows: Cow::Owned(rows), row_of: Cow::Owned(scope.row_of().to_vec()) }
    }

    /// The row for a block of states.
    pub(super) fn row(&self, block: usize) -> &Block {
        &self.rows[self.row_of[block] as usize]
    }
}
