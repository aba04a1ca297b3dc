//! Exponents of the base quantities of the trade.

use std::fmt;

use serde::{Deserialize, Serialize};

/// Exponents over pressure, length, time, temperature, mass, energy and amount of substance.
///
/// Pressure and energy are base quantities here and are not reduced to mass, length and time:
/// no law of the trade needs that reduction, and without it a gas throughput (pressure times
/// volume per time) can't be mistaken for a heat flow (energy per time).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Dimension {
    /// Exponent of pressure (Pa).
    pub pressure: i8,
    /// Exponent of length (m).
    pub length: i8,
    /// Exponent of time (s).
    pub time: i8,
    /// Exponent of temperature (K).
    pub temperature: i8,
    /// Exponent of mass (kg).
    pub mass: i8,
    /// Exponent of energy (J).
    pub energy: i8,
    /// Exponent of amount of substance (mol).
    pub amount: i8,
}

impl Dimension {
    /// No dimension: a number or a ratio.
    pub const NONE: Self =
        Self { pressure: 0, length: 0, time: 0, temperature: 0, mass: 0, energy: 0, amount: 0 };
    /// A pressure.
    pub const PRESSURE: Self = Self { pressure: 1, ..Self::NONE };
    /// A length.
    pub const LENGTH: Self = Self { length: 1, ..Self::NONE };
    /// An area.
    pub const AREA: Self = Self { length: 2, ..Self::NONE };
    /// A volume.
    pub const VOLUME: Self = Self { length: 3, ..Self::NONE };
    /// A time.
    pub const TIME: Self = Self { time: 1, ..Self::NONE };
    /// A temperature.
    pub const TEMPERATURE: Self = Self { temperature: 1, ..Self::NONE };
    /// A mass.
    pub const MASS: Self = Self { mass: 1, ..Self::NONE };
    /// An energy.
    pub const ENERGY: Self = Self { energy: 1, ..Self::NONE };
    /// An amount of substance.
    pub const AMOUNT: Self = Self { amount: 1, ..Self::NONE };
    /// A volume per time.
    pub const FLOW: Self = Self { length: 3, time: -1, ..Self::NONE };
    /// A pressure times a volume per time.
    pub const THROUGHPUT: Self = Self { pressure: 1, length: 3, time: -1, ..Self::NONE };
    /// A pressure per time.
    pub const RISE_RATE: Self = Self { pressure: 1, time: -1, ..Self::NONE };
    /// An energy per time.
    pub const POWER: Self = Self { energy: 1, time: -1, ..Self::NONE };

    fn exponents(self) -> [i8; 7] {
        [
            self.pressure,
            self.length,
            self.time,
            self.temperature,
            self.mass,
            self.energy,
            self.amount,
        ]
    }

    fn from_exponents(e: [i8; 7]) -> Self {
        let [pressure, length, time, temperature, mass, energy, amount] = e;
        Self { pressure, length, time, temperature, mass, energy, amount }
    }

    fn combine(self, other: Self, sign: i8) -> Option<Self> {
        let mut sum = [0; 7];
        for (slot, (a, b)) in
            sum.iter_mut().zip(self.exponents().into_iter().zip(other.exponents()))
        {
            *slot = a.checked_add(b.checked_mul(sign)?)?;
        }
        Some(Self::from_exponents(sum))
    }

    /// The dimension of a product; none if an exponent leaves -128..127.
    #[must_use]
    pub fn times(self, other: Self) -> Option<Self> {
        self.combine(other, 1)
    }

    /// The dimension of a quotient; none if an exponent leaves -128..127.
    #[must_use]
    pub fn per(self, other: Self) -> Option<Self> {
        self.combine(other, -1)
    }

    /// The dimension of a power; none if an exponent leaves -128..127.
    #[must_use]
    pub fn to_power(self, power: i8) -> Option<Self> {
        let mut raised = self.exponents();
        for exponent in &mut raised {
            *exponent = exponent.checked_mul(power)?;
        }
        Some(Self::from_exponents(raised))
    }

    /// The dimension whose square this is, if every exponent is even.
    #[must_use]
    pub fn square_root(self) -> Option<Self> {
        let halves = self.exponents();
        halves.iter().all(|e| e % 2 == 0).then(|| Self::from_exponents(halves.map(|e| e / 2)))
    }
}

impl fmt::Display for Dimension {
    /// `pressure x length^3 / time`, for dimensions that have no name of their own.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        const NAMES: [&str; 7] =
            ["pressure", "length", "time", "temperature", "mass", "energy", "amount"];
        let part = |over: bool| {
            let mut words = Vec::new();
            for (name, e) in NAMES.iter().zip(self.exponents()) {
                match (if over { e } else { e.saturating_neg() }, e) {
                    (1, _) => words.push((*name).to_owned()),
                    (n, _) if n > 1 => words.push(format!("{name}^{n}")),
                    _ => {}
                }
            }
            words
        };
        let (over, under) = (part(true), part(false));
        f.write_str(&if over.is_empty() { "1".to_owned() } else { over.join(" x ") })?;
        if !under.is_empty() {
            write!(f, " / {}", under.join(" / "))?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn throughput_is_not_power() {
        let throughput = Dimension::PRESSURE.times(Dimension::FLOW).unwrap();
        assert_eq!(throughput, Dimension::THROUGHPUT);
        assert_ne!(throughput, Dimension::POWER);
        assert_eq!(throughput.to_string(), "pressure x length^3 / time");
    }

    #[test]
    fn an_exponent_that_leaves_its_range_gives_nothing() {
        assert_eq!(Dimension::LENGTH.to_power(100).and_then(|d| d.to_power(2)), None);
        assert_eq!(Dimension::AREA.square_root(), Some(Dimension::LENGTH));
        assert_eq!(Dimension::VOLUME.square_root(), None);
    }
}
