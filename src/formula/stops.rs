//! Where a system stops that never gets to where it was asked for.

use super::evaluate::evaluate_never;
use super::resolved::{Checked, Resolved};
use super::{Facts, Value};
use crate::quantity::QuantityKind;

/// Where a system stops, in words and over the draws.
#[derive(Clone, Debug, PartialEq)]
pub struct StopsAt {
    /// What is said before the place: "it stops at".
    pub says: &'static str,
    /// The kind of the place.
    pub kind: QuantityKind,
    /// The place.
    pub place: Value,
}

impl Checked {
    /// Where a system stops, if the formula is one call of a function that says so for a time
    /// that is never. It is there for every such formula, whether the time is never or not; none
    /// if some draw gives no place.
    #[must_use]
    pub fn stops_at(&self, facts: &dyn Facts) -> Option<StopsAt> {
        let Resolved::Apply(function, values) = &self.root.form else { return None };
        let never = function.never?;
        let draws = evaluate_never(self, function, never, values, facts)?;
        Some(StopsAt { says: never.says, kind: never.kind, place: Value::Quantity(draws) })
    }
}
