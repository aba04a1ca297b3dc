//! Constants, and how the molecules of a thin gas move: viscosity, speed, free path, regime.

use std::f64::consts::PI;

/// The molar gas constant in J/(mol K). Source: CODATA 2018, exact to the digits shown.
pub const GAS_CONSTANT: f64 = 8.314_462_618;
/// The Boltzmann constant in J/K. Source: definition of the SI, 2019.
pub const BOLTZMANN: f64 = 1.380_649e-23;
/// The molar mass of dry air in kg/mol. Source: U.S. Standard Atmosphere 1976, rounded.
pub const AIR_MOLAR_MASS: f64 = 28.9647e-3;
/// The molar mass of water in kg/mol. Source: IAPWS-95.
pub const WATER_MOLAR_MASS: f64 = 18.015_268e-3;
/// The viscosity of air at [`REFERENCE_TEMPERATURE`] in Pa s. Mark: common practice; published
/// values lie between 1.81e-5 and 1.83e-5.
pub const AIR_VISCOSITY: f64 = 1.82e-5;
/// The ratio of the heat capacities of air. Source: diatomic ideal gas.
pub const AIR_HEAT_CAPACITY_RATIO: f64 = 1.4;
/// The temperature that stands where none is given, 20 °C, in K.
pub const REFERENCE_TEMPERATURE: f64 = 293.15;
/// The pressure of the standard atmosphere in Pa. Source: definition.
pub const STANDARD_ATMOSPHERE: f64 = 101_325.0;
/// A year in s: 365.25 days.
pub const YEAR: f64 = 31_557_600.0;

/// Sutherland's temperature for air in K. Source: U.S. Standard Atmosphere 1976.
const SUTHERLAND_TEMPERATURE: f64 = 110.4;

/// Below this Knudsen number molecules meet each other far more often than the wall. Mark:
/// memory; other authors put it between .001 and .01.
pub const VISCOUS_BELOW: f64 = 0.01;
/// Above this Knudsen number molecules meet the wall and hardly each other. Mark: memory;
/// other authors put it between .3 and 1.
pub const MOLECULAR_ABOVE: f64 = 0.5;

/// A gas that flows through a rig.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gas {
    /// Dry air.
    Air,
    /// Water vapour.
    Water,
}

/// How a gas moves in a bore.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Regime {
    /// Molecules meet each other: the gas flows like a liquid.
    Viscous,
    /// Both kinds of meetings count.
    Transitional,
    /// Molecules meet only the wall: each flies by itself.
    Molecular,
}

impl Gas {
    /// The molar mass in kg/mol.
    #[must_use]
    pub fn molar_mass(self) -> f64 {
        match self {
            Self::Air => AIR_MOLAR_MASS,
            Self::Water => WATER_MOLAR_MASS,
        }
    }

    /// The viscosity in Pa s of the thin gas at a temperature in K; it does not depend on the
    /// pressure.
    ///
    /// Air: 1.82e-5 Pa s at 293.15 K, scaled by Sutherland's law, from about 170 to 1900 K.
    /// Water vapour: the limit of low density of IAPWS R12-08, known from 273.16 K and used
    /// below; 9.55e-6 Pa s at 293.15 K.
    #[must_use]
    pub fn viscosity(self, temperature: f64) -> f64 {
        match self {
            Self::Air => {
                let ratio = temperature / REFERENCE_TEMPERATURE;
                AIR_VISCOSITY
                    * (ratio * libm::sqrt(ratio) * (REFERENCE_TEMPERATURE + SUTHERLAND_TEMPERATURE)
                        / (temperature + SUTHERLAND_TEMPERATURE))
            }
            Self::Water => thin_water_viscosity(temperature),
        }
    }

    /// The mean speed of the molecules in m/s at a temperature in K: `sqrt(8 R T / (pi M))`.
    /// Source: kinetic theory of gases (Maxwell's distribution).
    #[must_use]
    pub fn mean_speed(self, temperature: f64) -> f64 {
        libm::sqrt(8.0 * GAS_CONSTANT * temperature / (PI * self.molar_mass()))
    }

    /// The mean free path in m at a pressure in Pa and a temperature in K:
    /// `(viscosity / p) sqrt(pi R T / (2 M))`. Source: kinetic theory of gases.
    #[must_use]
    pub fn mean_free_path(self, pressure: f64, temperature: f64) -> f64 {
        self.viscosity(temperature) / pressure
            * libm::sqrt(PI * GAS_CONSTANT * temperature / (2.0 * self.molar_mass()))
    }

    /// The Knudsen number: the mean free path over the bore, for a pressure in Pa, a bore in m
    /// and a temperature in K.
    #[must_use]
    pub fn knudsen_number(self, pressure: f64, bore: f64, temperature: f64) -> f64 {
        self.mean_free_path(pressure, temperature) / bore
    }
}

impl Regime {
    /// Every regime, from dense to thin gas.
    pub const ALL: [Self; 3] = [Self::Viscous, Self::Transitional, Self::Molecular];

    /// The regime at a Knudsen number.
    #[must_use]
    pub fn at(knudsen_number: f64) -> Self {
        if knudsen_number < VISCOUS_BELOW {
            Self::Viscous
        } else if knudsen_number > MOLECULAR_ABOVE {
            Self::Molecular
        } else {
            Self::Transitional
        }
    }
}

/// The mean free path in m of hard spheres with a diameter in m, at a pressure in Pa and a
/// temperature in K: `k T / (sqrt(2) pi d² p)`. Source: kinetic theory of gases.
///
/// It needs no viscosity and so checks [`Gas::mean_free_path`] from another side.
#[must_use]
pub fn hard_sphere_free_path(diameter: f64, pressure: f64, temperature: f64) -> f64 {
    BOLTZMANN * temperature / (std::f64::consts::SQRT_2 * PI * diameter * diameter * pressure)
}

/// The viscosity of water vapour in Pa s in the limit of low density. Source: IAPWS R12-08,
/// equation 11.
fn thin_water_viscosity(temperature: f64) -> f64 {
    const COEFFICIENTS: [f64; 4] = [1.677_52, 2.204_62, 0.636_656_4, -0.241_605];
    let ratio = temperature / 647.096;
    let sum = COEFFICIENTS.iter().rev().fold(0.0, |sum, coefficient| sum / ratio + coefficient);
    100e-6 * libm::sqrt(ratio) / sum
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn air_has_its_own_viscosity_at_the_reference_temperature() {
        assert_eq!(Gas::Air.viscosity(REFERENCE_TEMPERATURE), AIR_VISCOSITY);
        // U.S. Standard Atmosphere 1976: 1.7894e-5 Pa s at 288.15 K, .3 % below this scale.
        assert!((Gas::Air.viscosity(288.15) / 1.7894e-5 - 1.0).abs() < 4e-3);
    }

    #[test]
    fn thin_water_vapour_has_the_viscosity_of_its_release() {
        // IAPWS R12-08, table 4, at 873.15 K and 1 kg/m³: 32.619135e-6 Pa s.
        assert!((Gas::Water.viscosity(873.15) / 32.619e-6 - 1.0).abs() < 2e-3);
        assert!((Gas::Water.viscosity(REFERENCE_TEMPERATURE) / 9.55e-6 - 1.0).abs() < 1e-3);
    }

    #[test]
    fn molecules_of_air_fly_at_463_metres_a_second() {
        assert!((Gas::Air.mean_speed(REFERENCE_TEMPERATURE) - 462.9).abs() < 0.1);
        let hard = hard_sphere_free_path(0.37e-9, 1.0, REFERENCE_TEMPERATURE);
        let path = Gas::Air.mean_free_path(1.0, REFERENCE_TEMPERATURE);
        assert!((path / hard - 1.0).abs() < 0.01, "{path} {hard}");
    }

    #[test]
    fn the_regime_follows_the_knudsen_number() {
        let regime = |pressure| {
            Regime::at(Gas::Air.knudsen_number(pressure, 9.525e-3, REFERENCE_TEMPERATURE))
        };
        assert_eq!(regime(101_325.0), Regime::Viscous);
        assert_eq!(regime(20.0), Regime::Transitional);
        assert_eq!(regime(1.0), Regime::Molecular);
        assert_eq!(Regime::at(VISCOUS_BELOW), Regime::Transitional);
    }
}
