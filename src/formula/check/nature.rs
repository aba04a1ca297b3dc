//! What comes of two quantities under the operators: dimensions, and the natures of pressures
//! and temperatures.

use crate::quantity::{Dimension, Nature, QuantityKind};

/// Why two quantities can't be joined by an operator.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Clash {
    /// Different dimensions in a sum.
    Dimensions,
    /// Two temperatures added.
    TwoTemperatures,
    /// A temperature taken from a difference.
    TemperatureTakenAway,
    /// Two gauge pressures added.
    TwoGauges,
    /// A gauge pressure beside an absolute one, or taken from a difference.
    GaugeAndAbsolute,
    /// A temperature as a factor.
    TemperatureFactor,
    /// A gauge pressure as a factor.
    GaugeFactor,
    /// Exponents beyond what can be held.
    Exponents,
}

type Outcome = Result<QuantityKind, Clash>;

/// The kind of `a + b` or `a - b`.
pub(super) fn sum(a: QuantityKind, b: QuantityKind, is_taken_away: bool) -> Outcome {
    if a.dimension != b.dimension {
        return Err(Clash::Dimensions);
    }
    let nature = if a.dimension == Dimension::TEMPERATURE {
        temperatures(a.nature, b.nature, is_taken_away)?
    } else if a.dimension == Dimension::PRESSURE {
        pressures(a.nature, b.nature, is_taken_away)?
    } else {
        Nature::Plain
    };
    Ok(QuantityKind { nature, ..a })
}

/// Temperatures: a literal such as `5 K` is a difference beside a temperature, except before
/// one that is taken away from it.
fn temperatures(a: Nature, b: Nature, is_taken_away: bool) -> Result<Nature, Clash> {
    use Nature::{Absolute, Open};
    match (a, b, is_taken_away) {
        (Absolute, Absolute, false) => Err(Clash::TwoTemperatures),
        (Absolute | Open, Absolute, true) => Ok(Nature::Difference),
        (_, Absolute, true) => Err(Clash::TemperatureTakenAway),
        (Absolute, _, _) | (_, Absolute, false) => Ok(Absolute),
        (Open, _, _) | (_, Open, false) => Ok(Open),
        _ => Ok(Nature::Difference),
    }
}

/// Pressures: absolute ones add up like partial pressures, two subtracted give a difference. A
/// literal may be either, and so may what is left of a pressure when a literal is taken away.
fn pressures(a: Nature, b: Nature, is_taken_away: bool) -> Result<Nature, Clash> {
    use Nature::{Absolute, Difference, Gauge, Open};
    match (a, b, is_taken_away) {
        (Gauge, Gauge, true) => Ok(Difference),
        (Gauge, Gauge, false) => Err(Clash::TwoGauges),
        (Gauge, Difference | Open, _) | (Difference | Open, Gauge, false) => Ok(Gauge),
        (Gauge, _, _) | (_, Gauge, _) => Err(Clash::GaugeAndAbsolute),
        (Absolute, _, false) | (_, Absolute, false) => Ok(Absolute),
        (Absolute, Absolute, true) => Ok(Difference),
        (Absolute, Difference, true) => Ok(Absolute),
        (Absolute, Open, true) => Ok(Open),
        (_, Absolute, true) => Ok(Difference),
        (Difference, Difference, _) | (Difference, Open, true) => Ok(Difference),
        _ => Ok(Open),
    }
}

/// The kind of `a * b` or `a / b`.
pub(super) fn product(a: QuantityKind, b: QuantityKind, is_divisor: bool) -> Outcome {
    for kind in [a, b] {
        if kind.nature == Nature::Gauge {
            return Err(Clash::GaugeFactor);
        }
    }
    let is_temperature = |kind: QuantityKind| kind == QuantityKind::TEMPERATURE;
    if is_temperature(a) || is_temperature(b) {
        let is_ratio =
            is_divisor && a.fits(QuantityKind::TEMPERATURE) && b.fits(QuantityKind::TEMPERATURE);
        return if is_ratio { Ok(QuantityKind::NUMBER) } else { Err(Clash::TemperatureFactor) };
    }
    // A number leaves the kind as it is; only two quantities make a new one.
    if b == QuantityKind::NUMBER {
        return Ok(a);
    }
    if a == QuantityKind::NUMBER && !is_divisor {
        return Ok(b);
    }
    let dimension =
        if is_divisor { a.dimension.per(b.dimension) } else { a.dimension.times(b.dimension) };
    dimension.map(QuantityKind::computed).ok_or(Clash::Exponents)
}

/// The kind of `a ^ exponent`.
pub(super) fn power(a: QuantityKind, exponent: i8) -> Outcome {
    match a.nature {
        Nature::Gauge => return Err(Clash::GaugeFactor),
        Nature::Absolute if a.dimension == Dimension::TEMPERATURE => {
            return Err(Clash::TemperatureFactor);
        }
        _ if exponent == 1 => return Ok(a),
        _ => {}
    }
    a.dimension.to_power(exponent).map(QuantityKind::computed).ok_or(Clash::Exponents)
}

/// The kind of `-a`.
pub(super) fn negated(a: QuantityKind) -> Outcome {
    match a.nature {
        Nature::Gauge => Err(Clash::GaugeFactor),
        Nature::Absolute if a.dimension == Dimension::TEMPERATURE => Err(Clash::TemperatureFactor),
        // What is taken away from nothing is a difference.
        Nature::Absolute => Ok(QuantityKind { nature: Nature::Difference, ..a }),
        _ => Ok(a),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const P: QuantityKind = QuantityKind::PRESSURE;
    const G: QuantityKind = QuantityKind::GAUGE_PRESSURE;
    const D: QuantityKind = QuantityKind::PRESSURE_DIFFERENCE;
    const T: QuantityKind = QuantityKind::TEMPERATURE;
    const DT: QuantityKind = QuantityKind::TEMPERATURE_DIFFERENCE;

    fn open(dimension: Dimension) -> QuantityKind {
        QuantityKind::computed(dimension)
    }

    #[test]
    fn pressures_follow_their_natures() {
        let literal = open(Dimension::PRESSURE);
        for (a, b, minus, gives) in [
            (P, P, true, Ok(D)),
            (P, P, false, Ok(P)),
            (P, D, true, Ok(P)),
            (P, D, false, Ok(P)),
            (D, P, false, Ok(P)),
            (D, P, true, Ok(D)),
            (D, D, true, Ok(D)),
            (P, literal, false, Ok(P)),
            (P, literal, true, Ok(literal)),
            (literal, P, true, Ok(D)),
            (literal, D, false, Ok(literal)),
            (literal, literal, true, Ok(literal)),
            (G, G, true, Ok(D)),
            (G, D, true, Ok(G)),
            (G, literal, false, Ok(G)),
            (D, G, false, Ok(G)),
            (G, G, false, Err(Clash::TwoGauges)),
            (G, P, true, Err(Clash::GaugeAndAbsolute)),
            (P, G, false, Err(Clash::GaugeAndAbsolute)),
            (D, G, true, Err(Clash::GaugeAndAbsolute)),
        ] {
            assert_eq!(sum(a, b, minus), gives, "{a:?} {minus} {b:?}");
        }
    }

    #[test]
    fn temperatures_follow_their_natures() {
        let kelvins = open(Dimension::TEMPERATURE);
        for (a, b, minus, gives) in [
            (T, T, true, Ok(DT)),
            (T, T, false, Err(Clash::TwoTemperatures)),
            (T, DT, true, Ok(T)),
            (DT, T, false, Ok(T)),
            (DT, T, true, Err(Clash::TemperatureTakenAway)),
            (T, kelvins, true, Ok(T)),
            (T, kelvins, false, Ok(T)),
            (kelvins, T, true, Ok(DT)),
            (DT, kelvins, true, Ok(DT)),
            (DT, DT, false, Ok(DT)),
            (kelvins, kelvins, false, Ok(kelvins)),
        ] {
            assert_eq!(sum(a, b, minus), gives, "{a:?} {minus} {b:?}");
        }
    }

    #[test]
    fn a_temperature_is_a_factor_only_in_a_ratio() {
        let kelvins = open(Dimension::TEMPERATURE);
        assert_eq!(product(T, T, true), Ok(QuantityKind::NUMBER));
        assert_eq!(product(T, kelvins, true), Ok(QuantityKind::NUMBER));
        assert_eq!(product(T, T, false), Err(Clash::TemperatureFactor));
        assert_eq!(product(T, QuantityKind::NUMBER, true), Err(Clash::TemperatureFactor));
        assert_eq!(product(QuantityKind::NUMBER, T, false), Err(Clash::TemperatureFactor));
        assert_eq!(product(DT, T, true), Err(Clash::TemperatureFactor));
        assert_eq!(product(DT, QuantityKind::NUMBER, false), Ok(DT));
        assert_eq!(product(DT, QuantityKind::TIME, true).map(|k| k.nature), Ok(Nature::Plain));
    }

    #[test]
    fn a_number_keeps_the_kind_and_gauge_is_no_factor() {
        let number = QuantityKind::NUMBER;
        assert_eq!(product(P, number, true), Ok(P));
        assert_eq!(product(number, P, false), Ok(P));
        assert_eq!(product(P, P, true), Ok(number));
        assert_eq!(product(G, number, false), Err(Clash::GaugeFactor));
        assert_eq!(product(G, G, true), Err(Clash::GaugeFactor));
        assert_eq!(negated(G), Err(Clash::GaugeFactor));
        assert_eq!(power(G, 1), Err(Clash::GaugeFactor));
        assert_eq!(power(P, 1), Ok(P));
        assert_eq!(power(P, 0), Ok(number));
        assert_eq!(power(P, 127).and_then(|k| product(k, P, false)), Err(Clash::Exponents));
    }
}
