//! Whether a unit may stand where a kind is asked for, and which one was meant if not.

use super::expected::with_article;
use super::product::zero_based;
use super::{Dimension, Misread, Nature, QuantityKind, UNITS, UnitExpression};

/// The unit, if it may stand where `wanted` is asked for.
pub(super) fn fitting(
    unit: UnitExpression,
    wanted: QuantityKind,
    accepted: &str,
) -> Result<UnitExpression, Misread> {
    if unit.kind.fits(wanted) {
        return Ok(unit);
    }
    let accepted = accepted.to_owned();
    let is_pressure =
        wanted.dimension == Dimension::PRESSURE && unit.kind.dimension == Dimension::PRESSURE;
    match (is_pressure, unit.kind.nature) {
        (true, Nature::Gauge) => Err(Misread::CountsFromAir {
            unit: unit.symbol,
            wanted: with_article(wanted),
            accepted,
        }),
        (true, _) if wanted.nature == Nature::Gauge => {
            Err(Misread::NotGauge { mend: gauge_unit_for(&unit.symbol), unit: unit.symbol })
        }
        _ => Err(Misread::WrongKind {
            mend: often_meant(&unit.symbol, wanted),
            found: unit.kind.name(),
            unit: unit.symbol,
            wanted: with_article(wanted),
            accepted,
        }),
    }
}

/// The gauge unit that is the twin of an absolute one, or else `barg`.
fn gauge_unit_for(symbol: &str) -> &'static str {
    let plain = match symbol {
        "psia" => "psi",
        "bara" => "bar",
        other => other,
    };
    UNITS
        .iter()
        .filter(|unit| unit.kind == QuantityKind::GAUGE_PRESSURE)
        .find(|unit| zero_based(unit.symbol) == plain)
        .map_or("barg", |unit| unit.symbol)
}

/// The unit that a unit of another kind is often written for.
fn often_meant(symbol: &str, wanted: QuantityKind) -> Option<&'static str> {
    match (wanted.dimension, symbol) {
        (Dimension::TIME, "m") => Some("min"),
        (Dimension::PRESSURE, "mm") => Some("mmHg"),
        (Dimension::PRESSURE, "in") => Some("inHg"),
        (Dimension::RISE_RATE, "micron") => Some("micron/min"),
        (Dimension::FLOW, "L") => Some("L/s"),
        _ => None,
    }
}
