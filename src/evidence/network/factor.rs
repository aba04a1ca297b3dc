//! What one piece of evidence multiplies the states by.

use super::block::Block;
use super::scope::Scope;
use std::borrow::Cow;

/// What a finding seen normal multiplies the states by, where nothing hides it: a constant, and
/// a ratio for every cause there. It leaves independent causes independent, so it can be taken
/// into the causes' own priors instead of state by state.
#[derive(Clone, Debug)]
pub(super) struct Product {
    pub(super) start: f64,
    /// One ratio per cause.
    pub(super) ratios: Vec<f64>,
}

impl Product {
    /// The product of many.
    pub(super) fn of<'p>(causes: usize, products: impl Iterator<Item = &'p Self>) -> Self {
        let mut all = Self { start: 1.0, ratios: vec![1.0; causes] };
        for product in products {
            all.start *= product.start;
            for (ratio, other) in all.ratios.iter_mut().zip(&product.ratios) {
                *ratio *= other;
            }
        }
        all
    }

    /// The ratio of a cause; a bit beyond the last cause has none.
    pub(super) fn ratio(&self, cause: usize) -> f64 {
        self.ratios.get(cause).copied().unwrap_or(1.0)
    }
}

/// A table of factors and where each block of states finds its row. All factors are between 0
/// and 1 (to rounding).
#[derive(Debug)]
pub(super) struct Factor<'a> {
    pub(super) rows: Cow<'a, [Block]>,
    /// The causes above the lowest that tell the rows apart.
    pub(super) mask: u32,
    row_of: Cow<'a, [u32]>,
    /// The same factors as a product, where they are one.
    pub(super) product: Option<&'a Product>,
}

/// The least number that is divided by: far above where weights lose digits, which the total of
/// the states of a [quick](super::weights::Care::Quick) product is as well (limit of ours).
const LEAST_UNDONE: f64 = 1e-60;

impl<'a> Factor<'a> {
    /// A table that stands in the network.
    pub(super) fn borrowed(
        rows: &'a [Block],
        scope: &'a Scope,
        product: Option<&'a Product>,
    ) -> Self {
        let row_of = Cow::Borrowed(scope.row_of());
        Self { rows: Cow::Borrowed(rows), mask: scope.mask(), row_of, product }
    }

    /// A table made for the occasion in a scope of the network.
    pub(super) fn made(rows: Vec<Block>, scope: &'a Scope) -> Self {
        let row_of = Cow::Borrowed(scope.row_of());
        Self { rows: Cow::Owned(rows), mask: scope.mask(), row_of, product: None }
    }

    /// A table and a scope made for the occasion.
    pub(super) fn owned(rows: Vec<Block>, scope: Scope) -> Self {
        let mask = scope.mask();
        let row_of = Cow::Owned(scope.into_row_of());
        Self { rows: Cow::Owned(rows), mask, row_of, product: None }
    }

    /// The same factor without a copy of its table.
    pub(super) fn view(&self) -> Factor<'_> {
        Factor {
            rows: Cow::Borrowed(&self.rows),
            mask: self.mask,
            row_of: Cow::Borrowed(&self.row_of),
            product: self.product,
        }
    }

    /// What undoes the factor; none where a number of it is below [`LEAST_UNDONE`].
    pub(super) fn turned(&self) -> Option<Factor<'static>> {
        let is_undone = |number: &f64| *number >= LEAST_UNDONE;
        if !self.rows.as_flattened().iter().all(is_undone) {
            return None;
        }
        let rows = self.rows.iter().map(|row| row.map(|number| 1.0 / number)).collect();
        let row_of = Cow::Owned(self.row_of.to_vec());
        Some(Factor { rows: Cow::Owned(rows), mask: self.mask, row_of, product: None })
    }

    /// The rows, and which of them each block of states uses.
    pub(super) fn table(&self) -> (&[Block], &[u32]) {
        (&self.rows, &self.row_of)
    }

    /// The row for a block of states.
    pub(super) fn row(&self, block: usize) -> &Block {
        &self.rows[self.row_of[block] as usize]
    }
}
