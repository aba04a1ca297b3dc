//! When two quantities are of one kind.

use crate::quantity::{Nature, QuantityKind, find_unit};

/// The kind of two quantities that stand for each other, such as the two sides of a comparison:
/// their kind if it is one, and an open one takes the kind of the other unless that is a gauge
/// pressure.
pub(super) fn join(a: QuantityKind, b: QuantityKind) -> Option<QuantityKind> {
    if a.fits(b) {
        Some(b)
    } else if b.fits(a) {
        Some(a)
    } else {
        None
    }
}

/// The gauge unit that belongs to a unit of pressure: `psig` to `psi`.
pub(super) fn gauge_unit(symbol: &str) -> Option<String> {
    let gauge = match symbol {
        "inHg" | "cmHg" => format!("{symbol}_vac"),
        _ => format!("{symbol}g"),
    };
    find_unit(&gauge).filter(|unit| unit.kind.nature == Nature::Gauge).map(|_| gauge)
}
