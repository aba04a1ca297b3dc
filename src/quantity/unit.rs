//! Units and products of units.

use super::QuantityKind;

/// One unit of the table.
#[derive(Clone, Copy, Debug)]
pub struct Unit {
    /// The symbol it is printed with.
    pub symbol: &'static str,
    /// Other spellings that are understood.
    pub aliases: &'static [&'static str],
    /// What it measures.
    pub kind: QuantityKind,
    /// SI units in one of this unit.
    pub factor: f64,
    /// SI value at this unit's zero; 0 except for degC and degF.
    pub offset: f64,
    /// Where the factor comes from.
    pub basis: &'static str,
}

/// A unit, or a product of powers of units, such as `micron/min` or `Pa m3/s`.
#[derive(Clone, Debug, PartialEq)]
pub struct UnitExpression {
    /// As it is printed.
    pub symbol: String,
    /// What it measures.
    pub kind: QuantityKind,
    /// SI units in one of this unit; positive.
    pub factor: f64,
    /// SI value at this unit's zero; 0 except for degC and degF.
    pub offset: f64,
}

impl UnitExpression {
    /// The SI value of `number` of this unit.
    #[must_use]
    pub fn to_si(&self, number: f64) -> f64 {
        number * self.factor + self.offset
    }

    /// How many of this unit an SI value is.
    #[must_use]
    pub fn from_si(&self, si: f64) -> f64 {
        (si - self.offset) / self.factor
    }

    /// How many of this unit an SI difference is: the offset plays no part.
    #[must_use]
    pub fn difference_from_si(&self, si: f64) -> f64 {
        si / self.factor
    }
}
