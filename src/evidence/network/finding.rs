//! What a network knows of one finding.

use super::block::Block;
use super::check::{cumulative, net_cumulative};
use super::factor::{Factor, Product};
use super::fault::ModelError;
use super::model::FindingModel;
use super::scope::Scope;
use std::sync::OnceLock;

/// A finding, with its tables once somebody has asked for them: a case tells a part of the findings
/// of a handbook, and a network for its repairs is made anew with every repair.
#[derive(Clone, Debug)]
pub(super) struct Finding {
    pub(super) scope: Scope,
    /// For each outcome, the probability of it or one nearer to normal where nothing hides it.
    up_to: Vec<Product>,
    /// The probability that it is not hidden; none where nothing hides it.
    stays: Option<Product>,
    tables: OnceLock<Vec<Vec<Block>>>,
    /// The bits by which the outcome is uncertain when the state is known, by row and lane.
    pub(super) doubt: OnceLock<Vec<Block>>,
}

impl Finding {
    /// A finding, checked but for its distributions.
    ///
    /// # Errors
    /// [`ModelError`] where a cause shows as less than the background does.
    pub(super) fn new(
        finding: usize,
        scope: Scope,
        told: &FindingModel,
        causes: usize,
    ) -> Result<Self, ModelError> {
        let background = cumulative(&told.background);
        let mut net = Vec::with_capacity(told.shown_by.len());
        for (cause, shown) in &told.shown_by {
            net.push((*cause, net_cumulative(finding, *cause, &background, &cumulative(shown))?));
        }
        let up_to = products(causes, &background, &net);
        let stays = (!told.hidden_by.is_empty()).then(|| {
            let mut stays = Product::of(causes, std::iter::empty());
            for (cause, chance) in &told.hidden_by {
                stays.ratios[*cause] = 1.0 - chance;
            }
            stays
        });
        Ok(Self { scope, up_to, stays, tables: OnceLock::new(), doubt: OnceLock::new() })
    }

    /// How many outcomes it has.
    pub(super) fn outcomes(&self) -> usize {
        self.up_to.len()
    }

    /// The probability of each outcome by row and lane.
    pub(super) fn tables(&self) -> &[Vec<Block>] {
        self.tables.get_or_init(|| {
            let up_to = self.up_to.iter().map(|product| self.scope.product(product)).collect();
            let mut tables = differences(up_to);
            if let Some(stays) = &self.stays {
                hide(&mut tables, &self.scope.product(stays));
            }
            tables
        })
    }

    /// The factor of an outcome, which must exist.
    pub(super) fn factor(&self, outcome: usize) -> Factor<'_> {
        // Where nothing hides it, the normal outcome is a product.
        let product = self.up_to.first().filter(|_| outcome == 0 && self.stays.is_none());
        Factor::borrowed(&self.tables()[outcome], &self.scope, product)
    }
}

/// For each outcome, the probability of it or one nearer to normal, as a product over the causes.
fn products(causes: usize, background: &[f64], net: &[(usize, Vec<f64>)]) -> Vec<Product> {
    let product_of = |(outcome, start): (usize, &f64)| {
        let mut ratios = vec![1.0; causes];
        for (cause, net) in net {
            ratios[*cause] = net[outcome];
        }
        Product { start: *start, ratios }
    };
    background.iter().enumerate().map(product_of).collect()
}

/// From the probability of each outcome or one nearer to normal to that of each outcome.
fn differences(mut up_to: Vec<Vec<Block>>) -> Vec<Vec<Block>> {
    for outcome in (1..up_to.len()).rev() {
        let (nearer, this) = up_to.split_at_mut(outcome);
        for (this, nearer) in this[0].iter_mut().zip(&nearer[outcome - 1]) {
            for (this, nearer) in this.iter_mut().zip(nearer) {
                *this = (*this - nearer).max(0.0);
            }
        }
    }
    up_to
}

/// Moves what is hidden to the normal outcome.
fn hide(outcomes: &mut [Vec<Block>], stays: &[Block]) {
    let Some((normal, others)) = outcomes.split_first_mut() else { return };
    for (row, stays) in normal.iter_mut().zip(stays) {
        for (chance, stays) in row.iter_mut().zip(stays) {
            *chance += (1.0 - *chance) * (1.0 - stays);
        }
    }
    for (row, stays) in others.iter_mut().flat_map(|rows| rows.iter_mut().zip(stays)) {
        for (chance, stays) in row.iter_mut().zip(stays) {
            *chance *= stays;
        }
    }
}
