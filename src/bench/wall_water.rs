//! What is bound in walls, in seals, in a drier and in a compressor's oil, and how it comes out.
//!
//! A store holds gas in proportion to the pressure with which it would be in balance, and tends
//! to that of the gas around with one time constant. Walls hold water in several stores whose
//! times lie evenly over the decades: pumped on, all together give the well-known `1 / t`; shut
//! off, they level where all are in balance.

use crate::physics::gas::{GAS_CONSTANT, REFERENCE_TEMPERATURE};

use super::mixture::Species;

/// The times in s of the stores of a wall, from the outermost layer to the depth of a seal.
/// Mark: estimate; their even spacing by fives gives the `1 / t` of unbaked surfaces.
pub const WALL_TIMES: [f64; 6] = [30.0, 150.0, 750.0, 3750.0, 18_750.0, 93_750.0];

/// What binds water to a wall in J/mol: it moves a level by 6 to 7 % per kelvin at 20 °C.
/// Mark: memory; 45 to 60 kJ/mol are told of bound water.
pub const WALL_BINDING: f64 = 50e3;

/// Walls that hold water.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Walls {
    /// How much they hold per pressure, as the volume in m³ of vapour of 20 °C that would hold
    /// the same. Copper walls of 4 m² have about 1e-3, a litre of oil that draws water 0.1
    /// (estimate).
    pub capacity: f64,
    /// The pressure in Pa of water vapour with which they were in balance before any pumping.
    pub level: f64,
}

/// A store of one gas beside a volume.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Store {
    /// The gas.
    pub species: Species,
    /// How much it holds per pressure, as a volume in m³ at 20 °C.
    pub capacity: f64,
    /// How long in s it takes for 63 % of its way at 20 °C.
    pub time: f64,
    /// What binds the gas, in J/mol.
    pub binding: f64,
    /// The pressure in Pa at 20 °C with which it was in balance before any pumping.
    pub level: f64,
}

impl Walls {
    /// Dry walls that hold nothing.
    pub const NONE: Self = Self { capacity: 0.0, level: 0.0 };

    /// The stores of these walls, none if they hold nothing.
    pub fn stores(&self) -> impl Iterator<Item = Store> + use<> {
        let Self { capacity, level } = *self;
        WALL_TIMES.into_iter().filter(move |_| capacity > 0.0).map(move |time| Store {
            species: Species::Water,
            capacity: capacity / WALL_TIMES.len() as f64,
            time,
            binding: WALL_BINDING,
            level,
        })
    }
}

impl Store {
    /// Refrigerant in the oil of a compressor, from what the oil holds per pressure as a volume
    /// in m³ and the pressure in Pa over it: two thirds come out in minutes, what lies deep takes
    /// an hour. Mark: estimate; .1 % of a refrigerant in a kilogram of oil is about .01 m³ at
    /// 5000 Pa.
    #[must_use]
    pub fn in_compressor_oil(capacity: f64, level: f64) -> [Self; 2] {
        [(2.0 / 3.0, 300.0), (1.0 / 3.0, 3600.0)].map(|(share, time)| Self {
            species: Species::Refrigerant,
            capacity: share * capacity,
            time,
            binding: 25e3,
            level,
        })
    }

    /// Water in a drier, from its capacity as a volume in m³ and the pressure in Pa over it: it
    /// comes out over hours. Mark: estimate; 5 g at 100 Pa are about 7 m³.
    #[must_use]
    pub fn in_drier(capacity: f64, level: f64) -> [Self; 2] {
        [(0.3, 3600.0), (0.7, 36_000.0)].map(|(share, time)| Self {
            species: Species::Water,
            capacity: share * capacity,
            time,
            binding: WALL_BINDING,
            level,
        })
    }

    /// What it held in Pa m³ at 20 °C before any pumping.
    #[must_use]
    pub fn content(&self) -> f64 {
        self.capacity * self.level
    }

    /// How much faster gas comes out at a temperature in K than at 20 °C. Source: Arrhenius's law.
    #[must_use]
    pub fn haste(&self, temperature: f64) -> f64 {
        let exponent =
            self.binding / GAS_CONSTANT * (1.0 / REFERENCE_TEMPERATURE - 1.0 / temperature);
        libm::exp(exponent)
    }

    /// What comes out in Pa m³/s at 20 °C, for a content in Pa m³, the pressure of the gas around
    /// in Pa and [`Store::haste`].
    #[must_use]
    pub fn outflow(&self, content: f64, pressure: f64, haste: f64) -> f64 {
        (haste * content - self.capacity * pressure) / self.time
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bound_water_levels_seven_percent_higher_per_kelvin() {
        let store = Walls { capacity: 1e-3, level: 100.0 }.stores().next().unwrap();
        assert_eq!(store.outflow(store.content(), 100.0, store.haste(293.15)), 0.0);
        let rise = libm::log(store.haste(298.15)) / 5.0;
        assert!((0.06..0.085).contains(&rise), "{rise}");
    }

    #[test]
    fn walls_hold_all_their_water_in_their_stores() {
        let held: f64 = Walls { capacity: 2e-3, level: 50.0 }.stores().map(|s| s.content()).sum();
        assert!((held - 0.1).abs() < 1e-15);
        assert_eq!(Walls::NONE.stores().count(), 0);
    }
}
