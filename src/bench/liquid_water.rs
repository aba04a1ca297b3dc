//! A puddle of water at a cold spot: it evaporates, cools itself, freezes, thaws, and is gone.
//!
//! Its heat is counted from liquid of the triple point, so that what is frozen follows from the
//! heat: below 0 some of the water is ice, and the temperature stays until all of it is.

use crate::physics::gas::{GAS_CONSTANT, REFERENCE_TEMPERATURE, WATER_MOLAR_MASS};
use crate::physics::moisture::{HEAT_OF_SUBLIMATION, heat_of_evaporation};
use crate::physics::saturation::{TRIPLE_POINT_TEMPERATURE, saturation_pressure};

/// Water that lies at a spot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Puddle {
    /// Its mass in kg when the work begins.
    pub mass: f64,
    /// How far the spot is from ambient in K; negative where it is colder.
    pub offset: f64,
    /// How easily vapour leaves it, as a conductance in m³/s; .02 for some cm² in a pipe
    /// (estimate).
    pub openness: f64,
    /// What warms and cools with it in J/K: the pipe around and the water itself.
    pub heat_capacity: f64,
    /// How much heat flows in per kelvin in W/K; .5 for .05 m² of bare pipe in still air
    /// (memory: 10 W/(m² K)).
    pub heat_inflow: f64,
}

/// A puddle at a moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wetness {
    /// Its temperature in K.
    pub temperature: f64,
    /// Ice in kg.
    pub ice: f64,
}

/// What happens at a puddle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exchange {
    /// Vapour that leaves, in kg/s; negative where it condenses.
    pub evaporated: f64,
    /// Heat that comes from around, in W.
    pub heat: f64,
    /// How the heat of the spot changes, in W.
    pub warmed: f64,
}

/// The pressure in Pa of other gas at which vapour leaves half as easily, as it must diffuse.
/// Mark: estimate.
const CROWDED: f64 = 1000.0;

/// The mass in kg at which the last water no longer covers half of its spot. Mark: estimate.
const LAST_DROP: f64 = 2e-6;

/// The heat in J/kg that melts ice at the triple point: what sublimation takes more than
/// evaporation.
#[must_use]
pub fn heat_of_fusion() -> f64 {
    HEAT_OF_SUBLIMATION - heat_of_evaporation(TRIPLE_POINT_TEMPERATURE)
}

/// What a mass of water in kg is as vapour of 20 °C, in Pa m³. Source: ideal gas.
#[must_use]
pub fn vapour_of(mass: f64) -> f64 {
    mass * GAS_CONSTANT * REFERENCE_TEMPERATURE / WATER_MOLAR_MASS
}

impl Puddle {
    /// The heat in J, counted from liquid of the triple point, of a mass of water in kg at a
    /// temperature in K; all frozen below the triple point.
    #[must_use]
    pub fn heat_at(&self, temperature: f64, mass: f64) -> f64 {
        let frozen = if temperature < TRIPLE_POINT_TEMPERATURE { mass } else { 0.0 };
        self.heat_capacity * (temperature - TRIPLE_POINT_TEMPERATURE) - heat_of_fusion() * frozen
    }

    /// Temperature and ice of a mass of water in kg with a heat in J.
    #[must_use]
    pub fn wetness(&self, mass: f64, heat: f64) -> Wetness {
        let mass = mass.max(0.0);
        let all_frozen = -heat_of_fusion() * mass;
        let (above, ice) = if heat >= 0.0 {
            (heat, 0.0)
        } else if heat >= all_frozen {
            (0.0, -heat / heat_of_fusion())
        } else {
            (heat - all_frozen, mass)
        };
        Wetness { temperature: TRIPLE_POINT_TEMPERATURE + above / self.heat_capacity, ice }
    }

    /// What happens at a mass of water in kg with a heat in J, below vapour and all gas of
    /// pressures in Pa, with surroundings of a temperature in K.
    ///
    /// What leaves takes the heat of evaporation, from ice also that of fusion.
    #[must_use]
    pub fn exchange(
        &self,
        (mass, heat): (f64, f64),
        (vapour, total): (f64, f64),
        around: f64,
    ) -> Exchange {
        let temperature = self.wetness(mass, heat).temperature;
        let drive = saturation_pressure(temperature) - vapour;
        let covered = if drive > 0.0 { mass.max(0.0) / (mass.max(0.0) + LAST_DROP) } else { 1.0 };
        let openness = self.openness / (1.0 + (total - vapour).max(0.0) / CROWDED);
        let volume = openness * drive * covered;
        let evaporated = volume / vapour_of(1.0);
        // As heat counts from liquid, ice brings its heat of fusion along.
        let taken = heat_of_evaporation(temperature.max(TRIPLE_POINT_TEMPERATURE));
        let inflow = self.heat_inflow * (around - temperature);
        Exchange { evaporated, heat: inflow, warmed: inflow - evaporated * taken }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PUDDLE: Puddle =
        Puddle { mass: 5e-3, offset: 0.0, openness: 0.02, heat_capacity: 100.0, heat_inflow: 0.5 };

    #[test]
    fn heat_tells_water_from_ice_and_back() {
        for temperature in [263.15, 280.0, 293.15] {
            let found = PUDDLE.wetness(5e-3, PUDDLE.heat_at(temperature, 5e-3));
            assert!((found.temperature - temperature).abs() < 1e-9);
            assert_eq!(found.ice > 0.0, temperature < TRIPLE_POINT_TEMPERATURE);
        }
        let half = PUDDLE.wetness(5e-3, -0.5 * 5e-3 * heat_of_fusion());
        assert_eq!(half.temperature, TRIPLE_POINT_TEMPERATURE);
        assert!((half.ice - 2.5e-3).abs() < 1e-15);
    }

    #[test]
    fn ice_melts_with_a_third_of_a_megajoule_a_kilogram() {
        // 333.4 kJ/kg at 0 °C, IAPWS R10-06, from memory.
        assert!((heat_of_fusion() / 333.4e3 - 1.0).abs() < 3e-3, "{}", heat_of_fusion());
    }

    #[test]
    fn vapour_above_saturation_condenses_even_on_a_dry_spot() {
        let heat = PUDDLE.heat_at(283.15, 0.0);
        let wet = PUDDLE.exchange((0.0, heat), (1500.0, 1500.0), 283.15);
        assert!(wet.evaporated < 0.0 && wet.warmed > 0.0);
        let dry = PUDDLE.exchange((0.0, heat), (1000.0, 1000.0), 283.15);
        assert_eq!((dry.evaporated, dry.warmed), (0.0, 0.0));
    }
}
