//! What a quantity is: its dimension, and for pressures and temperatures their nature.

use serde::{Deserialize, Serialize};

use super::Dimension;

/// What zero means for a pressure or a temperature.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Nature {
    /// Everything that is neither a pressure nor a temperature.
    Plain,
    /// Counted from the true zero: absolute pressure, temperature.
    Absolute,
    /// Counted from the pressure of the air around: gauge pressure.
    Gauge,
    /// How far two of them lie apart.
    Difference,
    /// A literal such as `5 micron` or `300 K`, which may be absolute or a difference; what it
    /// meets decides.
    Open,
}

/// The kind of a quantity.
///
/// The nature is [`Nature::Plain`] exactly if the dimension is neither a pressure nor a
/// temperature to the first power.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct QuantityKind {
    /// Exponents of the base quantities.
    pub dimension: Dimension,
    /// What zero means.
    pub nature: Nature,
}

impl QuantityKind {
    /// A number or a ratio.
    pub const NUMBER: Self = Self::plain(Dimension::NONE);
    /// An absolute pressure.
    pub const PRESSURE: Self = Self { dimension: Dimension::PRESSURE, nature: Nature::Absolute };
    /// A gauge pressure.
    pub const GAUGE_PRESSURE: Self = Self { dimension: Dimension::PRESSURE, nature: Nature::Gauge };
    /// A difference of pressures.
    pub const PRESSURE_DIFFERENCE: Self =
        Self { dimension: Dimension::PRESSURE, nature: Nature::Difference };
    /// A temperature.
    pub const TEMPERATURE: Self =
        Self { dimension: Dimension::TEMPERATURE, nature: Nature::Absolute };
    /// A difference of temperatures.
    pub const TEMPERATURE_DIFFERENCE: Self =
        Self { dimension: Dimension::TEMPERATURE, nature: Nature::Difference };
    /// A time.
    pub const TIME: Self = Self::plain(Dimension::TIME);
    /// A length.
    pub const LENGTH: Self = Self::plain(Dimension::LENGTH);
    /// An area.
    pub const AREA: Self = Self::plain(Dimension::AREA);
    /// A volume.
    pub const VOLUME: Self = Self::plain(Dimension::VOLUME);
    /// A volume per time.
    pub const FLOW: Self = Self::plain(Dimension::FLOW);
    /// A pressure times a volume per time.
    pub const THROUGHPUT: Self = Self::plain(Dimension::THROUGHPUT);
    /// A pressure per time.
    pub const RISE_RATE: Self = Self::plain(Dimension::RISE_RATE);
    /// A mass.
    pub const MASS: Self = Self::plain(Dimension::MASS);
    /// An energy.
    pub const ENERGY: Self = Self::plain(Dimension::ENERGY);
    /// An energy per time.
    pub const POWER: Self = Self::plain(Dimension::POWER);
    /// An amount of substance.
    pub const AMOUNT: Self = Self::plain(Dimension::AMOUNT);

    const fn plain(dimension: Dimension) -> Self {
        Self { dimension, nature: Nature::Plain }
    }

    /// The kind that a computed dimension has: a pressure or temperature that comes out of a
    /// product or quotient is open, everything else is plain.
    #[must_use]
    pub fn computed(dimension: Dimension) -> Self {
        let is_natured = dimension == Dimension::PRESSURE || dimension == Dimension::TEMPERATURE;
        Self { dimension, nature: if is_natured { Nature::Open } else { Nature::Plain } }
    }

    /// What people call it: `pressure`, `rise rate`, or the dimension spelled out.
    #[must_use]
    pub fn name(self) -> String {
        let open = match self.nature {
            Nature::Open if self.dimension == Dimension::PRESSURE => return "pressure".to_owned(),
            Nature::Open => Self { nature: Nature::Difference, ..self },
            _ => self,
        };
        NAMED_KINDS
            .iter()
            .find(|named| named.kind == open)
            .map_or_else(|| self.dimension.to_string(), |named| named.name.to_owned())
    }

    /// Whether a value of this kind may stand where `wanted` is asked for: the same kind, or an
    /// open one of the same dimension where an absolute value or a difference is wanted.
    #[must_use]
    pub fn fits(self, wanted: Self) -> bool {
        self == wanted
            || self.dimension == wanted.dimension
                && self.nature == Nature::Open
                && wanted.nature != Nature::Gauge
    }
}

/// A kind that authors may write and people read, with the unit shown when nothing else is said.
#[derive(Clone, Copy, Debug)]
pub struct NamedKind {
    /// The name in a handbook.
    pub name: &'static str,
    /// The kind.
    pub kind: QuantityKind,
    /// The symbol of the unit shown by default.
    pub unit: &'static str,
}

/// Every kind that carries a name; where two names share a kind, the first is the one printed.
pub const NAMED_KINDS: &[NamedKind] = &[
    NamedKind { name: "number", kind: QuantityKind::NUMBER, unit: "1" },
    NamedKind { name: "ratio", kind: QuantityKind::NUMBER, unit: "%" },
    NamedKind { name: "pressure", kind: QuantityKind::PRESSURE, unit: "micron" },
    NamedKind { name: "gauge pressure", kind: QuantityKind::GAUGE_PRESSURE, unit: "barg" },
    NamedKind {
        name: "pressure difference",
        kind: QuantityKind::PRESSURE_DIFFERENCE,
        unit: "micron",
    },
    NamedKind { name: "temperature", kind: QuantityKind::TEMPERATURE, unit: "degC" },
    NamedKind {
        name: "temperature difference",
        kind: QuantityKind::TEMPERATURE_DIFFERENCE,
        unit: "K",
    },
    NamedKind { name: "time", kind: QuantityKind::TIME, unit: "min" },
    NamedKind { name: "length", kind: QuantityKind::LENGTH, unit: "m" },
    NamedKind { name: "area", kind: QuantityKind::AREA, unit: "cm2" },
    NamedKind { name: "volume", kind: QuantityKind::VOLUME, unit: "L" },
    NamedKind { name: "flow", kind: QuantityKind::FLOW, unit: "L/s" },
    NamedKind { name: "throughput", kind: QuantityKind::THROUGHPUT, unit: "Pa m3/s" },
    NamedKind { name: "rise rate", kind: QuantityKind::RISE_RATE, unit: "micron/min" },
    NamedKind { name: "mass", kind: QuantityKind::MASS, unit: "g" },
    NamedKind { name: "energy", kind: QuantityKind::ENERGY, unit: "kJ" },
    NamedKind { name: "power", kind: QuantityKind::POWER, unit: "W" },
    NamedKind { name: "amount", kind: QuantityKind::AMOUNT, unit: "mol" },
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_literal_fits_where_its_nature_is_settled_by_its_place() {
        let literal = QuantityKind::computed(Dimension::PRESSURE);
        assert!(literal.fits(QuantityKind::PRESSURE));
        assert!(literal.fits(QuantityKind::PRESSURE_DIFFERENCE));
        assert!(!literal.fits(QuantityKind::GAUGE_PRESSURE));
        assert!(!QuantityKind::PRESSURE.fits(QuantityKind::PRESSURE_DIFFERENCE));
        assert_eq!(QuantityKind::plain(Dimension::RISE_RATE).name(), "rise rate");
    }
}
