//! What a prompt asks for.

use super::digits::to_significant;
use super::unit::DIFFERENCE;
use super::{Dimension, Nature, QuantityKind, UnitExpression};

/// Below this pressure, in Pa, a usual reading is a deep vacuum: about 75 mmHg, well under what
/// the vacuum side of a manifold gauge can tell (`common_practice`).
const DEEP_VACUUM: f64 = 1.0e4;

/// What a prompt asks for.
#[derive(Clone, Debug, PartialEq)]
pub struct Expected {
    /// The kind of the value.
    pub kind: QuantityKind,
    /// The unit of a bare number: that of the face it is read from, where that is known.
    pub unit: UnitExpression,
    /// The unit that the value is said in once more, where that is another one.
    pub told_in: Option<UnitExpression>,
    /// Values that are accepted, in SI units, both ends included.
    pub range: Option<(f64, f64)>,
    /// Values that need no second look, in SI units.
    pub usual: Option<(f64, f64)>,
}

impl Expected {
    /// A value of this kind, without limits.
    #[must_use]
    pub fn new(kind: QuantityKind, unit: UnitExpression) -> Self {
        Self { kind, unit, told_in: None, range: None, usual: None }
    }

    /// What is accepted, with an example from the middle of what is usual:
    /// `a pressure, such as 45 micron`.
    #[must_use]
    pub fn hint(&self) -> String {
        format!("{}, such as {}", article(&self.kind.name()), self.example())
    }

    fn example(&self) -> String {
        let limits = self.usual.or(self.range).map(|(low, high)| {
            let (a, b) = (self.unit.from_si(low), self.unit.from_si(high));
            (a.min(b), a.max(b))
        });
        let number = match limits {
            Some((low, high)) if low > 0.0 && high / low > 10.0 => {
                to_significant(libm::sqrt(low) * libm::sqrt(high), 1)
            }
            Some((low, high)) => to_significant(low / 2.0 + high / 2.0, 2),
            None if self.unit.symbol == "micron" => "45".to_owned(),
            None => "10".to_owned(),
        };
        with_unit(&number, &self.unit.symbol)
    }

    /// Whether this asks for an absolute pressure far below the air's.
    pub(super) fn is_deep_vacuum(&self) -> bool {
        let is_usually_low = self.usual.is_some_and(|(_, high)| high < DEEP_VACUUM);
        let mut units = std::iter::once(&self.unit).chain(&self.told_in);
        let is_fine = units.any(|unit| (0.0..1.0).contains(&unit.factor));
        self.kind == QuantityKind::PRESSURE && (is_fine || is_usually_low)
    }
}

/// `an absolute pressure`, `a time`.
pub(super) fn with_article(kind: QuantityKind) -> String {
    let name = match kind.nature {
        Nature::Absolute if kind.dimension == Dimension::PRESSURE => "absolute pressure".to_owned(),
        _ => kind.name(),
    };
    article(&name)
}

/// The name with `a` or `an`.
fn article(name: &str) -> String {
    let article = if name.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
    format!("{article} {name}")
}

/// A number with the symbol of its unit, which is silent for bare numbers. That a unit is one of a
/// difference is plain where it is asked for.
pub(super) fn with_unit(number: &str, symbol: &str) -> String {
    let symbol = symbol.strip_suffix(DIFFERENCE).unwrap_or(symbol);
    if symbol == "1" { number.to_owned() } else { format!("{number} {symbol}") }
}
