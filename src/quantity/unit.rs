//! Units, how they are found by name, and products of them.

use serde::{Deserialize, Serialize};

use super::{NAMED_KINDS, NamedKind, Nature, QuantityKind, UNITS};
use crate::text::near_name;

/// What the symbols of differences end with where their unit has a zero of its own.
pub(super) const DIFFERENCE: &str = "_diff";

/// One unit of the table.
#[derive(Clone, Copy, Debug)]
pub struct Unit {
    /// The symbol it is printed with.
    pub symbol: &'static str,
    /// Other spellings that are understood.
    pub aliases: &'static [&'static str],
    /// What it measures. Units of pressure that don't say whether they are absolute, and `K`,
    /// are [open](Nature::Open).
    pub kind: QuantityKind,
    /// SI units in one of this unit; negative for a vacuum counted downward from the barometer.
    pub factor: f64,
    /// SI value at this unit's zero; 0 except for degC and degF.
    pub offset: f64,
    /// Where the factor comes from.
    pub basis: &'static str,
}

impl Unit {
    /// The symbol and the aliases.
    pub fn spellings(&self) -> impl Iterator<Item = &'static str> + use<> {
        std::iter::once(self.symbol).chain(self.aliases.iter().copied())
    }

    /// Whether this unit can be part of a product: not if its zero is not the zero of what it
    /// measures, as with degC and psig.
    #[must_use]
    pub fn has_true_zero(&self) -> bool {
        self.offset == 0.0 && self.kind.nature != Nature::Gauge
    }
}

/// The unit with this symbol or alias, letter for letter; nothing is guessed.
#[must_use]
pub fn find_unit(word: &str) -> Option<&'static Unit> {
    UNITS
        .iter()
        .find(|unit| unit.symbol == word)
        .or_else(|| UNITS.iter().find(|unit| unit.aliases.contains(&word)))
}

/// The spelling of a unit that a mistyped one most likely meant: one that differs in upper and
/// lower case only, or else, from three letters on, one within a third of its letters (at most
/// three). Ties go to the first in the alphabet.
#[must_use]
pub fn near_unit(mistyped: &str) -> Option<&'static str> {
    let spellings = || UNITS.iter().flat_map(Unit::spellings);
    if let Some(same) = spellings().find(|spelling| {
        *spelling != mistyped && spelling.to_lowercase() == mistyped.to_lowercase()
    }) {
        return Some(same);
    }
    // No unit has a longer spelling that a slip could have made of it.
    let is_short = mistyped.chars().count() <= 20;
    is_short.then(|| near_name(mistyped, spellings().filter(|spelling| spelling.len() > 2)))?
}

/// The units of each kind that has any of its own, in the order of [`NAMED_KINDS`]; open units
/// of pressure stand under `pressure`, `K` under both kinds of temperature.
///
/// Kinds that have only products of units, such as a rise rate, are left out, and so is `number`,
/// which shares its units with `ratio`.
#[must_use]
pub fn units_by_kind() -> Vec<(&'static NamedKind, Vec<&'static Unit>)> {
    let listed = |kind: QuantityKind, unit: &Unit| {
        unit.kind == kind
            || unit.kind.fits(kind)
                && unit.kind.nature == Nature::Open
                && kind != QuantityKind::PRESSURE_DIFFERENCE
    };
    NAMED_KINDS
        .iter()
        .filter(|named| named.name != "number")
        .map(|named| (named, UNITS.iter().filter(|unit| listed(named.kind, unit)).collect()))
        .filter(|(_, units): &(_, Vec<_>)| !units.is_empty())
        .collect()
}

/// A unit, or a product of powers of units, such as `micron/min` or `Pa m3/s`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct UnitExpression {
    /// As it is printed.
    pub symbol: String,
    /// What it measures.
    pub kind: QuantityKind,
    /// SI units in one of this unit; negative for a vacuum counted downward from the barometer.
    pub factor: f64,
    /// SI value at this unit's zero; 0 except for degC and degF.
    pub offset: f64,
}

impl From<&Unit> for UnitExpression {
    fn from(unit: &Unit) -> Self {
        Self {
            symbol: unit.symbol.to_owned(),
            kind: unit.kind,
            factor: unit.factor,
            offset: unit.offset,
        }
    }
}

impl UnitExpression {
    /// The SI value of `number` of this unit.
    #[must_use]
    pub fn to_si(&self, number: f64) -> f64 {
        number * self.factor + self.offset
    }

    /// The same as it is said to a person where it is plain that a difference is told: `degF` for
    /// `degF_diff`, which is a word of formulas. Its symbol is not read back as itself.
    ///
    /// ```
    /// use dryhold::quantity::parse_unit;
    /// let unit = parse_unit("degF_diff").unwrap().said();
    /// assert_eq!((unit.symbol.as_str(), unit.offset), ("degF", 0.0));
    /// ```
    #[must_use]
    pub fn said(mut self) -> Self {
        if let Some(said) = self.symbol.strip_suffix(DIFFERENCE) {
            self.symbol = said.to_owned();
        }
        self
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_spelling_means_one_unit() {
        let mut seen = std::collections::BTreeMap::new();
        for unit in UNITS {
            for spelling in unit.spellings() {
                let other = seen.insert(spelling, unit.symbol);
                assert_eq!(other, None, "`{spelling}` means two units");
                assert_eq!(find_unit(spelling).unwrap().symbol, unit.symbol);
            }
            assert!(unit.factor.is_finite() && unit.factor != 0.0);
            assert!(!unit.basis.is_empty());
        }
    }

    #[test]
    fn no_spelling_is_a_word_of_the_language() {
        let words = [
            "and", "or", "not", "if", "then", "else", "is", "one", "of", "includes", "as", "to",
            "over", "under", "yes", "no", "true", "false", "never", "unknown", "first", "previous",
            "before", "every", "max", "abs", "sqrt", "exp", "ln", "sum", "count",
        ];
        for word in words {
            assert!(find_unit(word).is_none(), "`{word}` is a unit");
        }
    }

    #[test]
    fn case_is_kept_and_only_suggested() {
        assert!(find_unit("PA").is_none());
        assert_eq!(near_unit("PA"), Some("Pa"));
        assert_eq!(near_unit("micorn"), Some("micron"));
        assert_eq!(near_unit("minuts"), Some("minute"));
        assert_eq!(near_unit("furlong"), None);
        assert_eq!(near_unit("qq"), None);
    }

    #[test]
    fn every_named_kind_has_units_or_is_a_product() {
        let listed = units_by_kind();
        let names: Vec<&str> = listed.iter().map(|(named, _)| named.name).collect();
        assert!(names.contains(&"gauge pressure") && names.contains(&"ratio"));
        assert!(!names.contains(&"rise rate") && !names.contains(&"number"));
        let shown: usize = listed.iter().map(|(_, units)| units.len()).sum();
        assert_eq!(shown, UNITS.len() + 1, "each unit once, and K twice");
    }

    #[test]
    fn a_vacuum_counts_downward_from_the_barometer() {
        let vacuum = UnitExpression::from(find_unit("inHg_vac").unwrap());
        assert!((vacuum.to_si(29.0) + 98_205.27).abs() < 0.01);
    }
}
