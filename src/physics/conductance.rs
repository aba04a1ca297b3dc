//! How easily gas passes a tube, a hole and a valve core.
//!
//! A conductance is a volume per time: the throughput over the difference of the pressures at
//! both ends. That of a tube depends on the mean of the two in all but the thinnest gas.

use std::f64::consts::PI;

use super::gas::{AIR_HEAT_CAPACITY_RATIO, GAS_CONSTANT, Gas};

/// The bore in m of the hole that stands for a valve core in line. Mark: estimate.
pub const CORE_BORE: f64 = 1.5e-3;

/// The number in the denominator of Knudsen's bend, which sets how deep the minimum of the
/// conductance is. Source: Knudsen 1909, from memory.
const BEND: f64 = 1.24;

/// A round tube filled with a gas of one temperature.
///
/// ```
/// use dryhold::physics::conductance::Tube;
/// use dryhold::physics::gas::{Gas, REFERENCE_TEMPERATURE};
/// let hose = Tube::new(Gas::Air, 9.525e-3, 1.5, REFERENCE_TEMPERATURE);
/// assert!(hose.conductance(1e5) > 100.0 * hose.conductance(10.0));
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tube {
    /// Laminar conductance over mean pressure, in m³/(s Pa).
    laminar: f64,
    /// Molecular conductance with its correction for the ends, in m³/s.
    molecular: f64,
    /// Knudsen's variable over mean pressure, in 1/Pa.
    crowding: f64,
}

impl Tube {
    /// A tube of a bore and a length in m, with gas at a temperature in K.
    ///
    /// Bore and length above 0. Holds for tubes longer than about ten bores; the correction for
    /// the ends keeps shorter ones within some 10 % in molecular flow.
    #[must_use]
    pub fn new(gas: Gas, bore: f64, length: f64, temperature: f64) -> Self {
        let viscosity = gas.viscosity(temperature);
        Self {
            laminar: laminar_conductance(viscosity, bore, length, 1.0),
            molecular: molecular_conductance(gas, bore, length, temperature)
                * end_correction(bore, length),
            crowding: knudsen_variable(gas, bore, 1.0, temperature),
        }
    }

    /// The conductance in m³/s at a mean pressure in Pa: laminar flow plus molecular flow bent by
    /// Knudsen's formula, `C = C_laminar + C_molecular (1 + x) / (1 + 1.24 x)` with
    /// `x = p d sqrt(M / (R T)) / viscosity`.
    ///
    /// Holds from molecular to laminar flow. Near atmospheric pressure a short wide tube is
    /// choked or turbulent and passes less. Source: Knudsen 1909, from memory.
    #[must_use]
    pub fn conductance(&self, mean_pressure: f64) -> f64 {
        self.with_slope(mean_pressure).0
    }

    /// The conductance in m³/s and its slope in m³/(s Pa) at a mean pressure in Pa.
    pub(super) fn with_slope(&self, mean_pressure: f64) -> (f64, f64) {
        let x = self.crowding * mean_pressure;
        let bend = crowded_share(x);
        let conductance = self.laminar * mean_pressure + self.molecular * (1.0 + x) * bend;
        let slope = self.laminar - self.molecular * self.crowding * (BEND - 1.0) * bend * bend;
        (conductance, slope)
    }

    /// The conductance in m³/s that the tube keeps however thin the gas is.
    #[must_use]
    pub fn molecular(&self) -> f64 {
        self.molecular
    }
}

/// The conductance in m³/s of a long tube in laminar flow, from the viscosity in Pa s, bore and
/// length in m and the mean pressure in Pa: `pi d⁴ p / (128 viscosity L)`. Source: Poiseuille's
/// law for a compressible gas.
#[must_use]
pub fn laminar_conductance(viscosity: f64, bore: f64, length: f64, mean_pressure: f64) -> f64 {
    let square = bore * bore;
    PI * square * square * mean_pressure / (128.0 * viscosity * length)
}

/// The conductance in m³/s of a long tube in molecular flow, from bore and length in m and the
/// temperature in K: `pi d³ v / (12 L)` with the mean speed `v`. Source: Knudsen and
/// Smoluchowski, in any textbook of vacuum technology.
#[must_use]
pub fn molecular_conductance(gas: Gas, bore: f64, length: f64, temperature: f64) -> f64 {
    PI * bore * bore * bore * gas.mean_speed(temperature) / (12.0 * length)
}

/// What is left of the molecular conductance of a long tube when its ends count:
/// `1 / (1 + 4 d / (3 L))`, for bore and length in the same unit. Source: Dushman, from memory;
/// up to 13 % above Clausing's exact values, see [`transmission_probability`].
#[must_use]
pub fn end_correction(bore: f64, length: f64) -> f64 {
    1.0 / (1.0 + 4.0 * bore / (3.0 * length))
}

/// The share of molecules that pass a tube of a bore and a length in the same unit without meeting
/// each other; times the conductance of its opening it is the tube's. Within 1e-4 of Clausing's
/// exact values for tubes up to a bore long, and about .1 % for longer ones. Source: Berman 1965,
/// from memory.
///
/// It tells how far [`end_correction`] is off; [`Tube`] keeps to the simpler one.
#[must_use]
pub fn transmission_probability(bore: f64, length: f64) -> f64 {
    let l = 2.0 * length / bore;
    let root = libm::sqrt(l * l + 4.0);
    let over = (8.0 - l * l) * root + l * l * l - 16.0;
    let under = 72.0 * l * root - 288.0 * libm::log((l + root) / 2.0);
    1.0 + l * l / 4.0 - l / 4.0 * root - over * over / under
}

/// Knudsen's variable `p d sqrt(M / (R T)) / viscosity`, about the bore over the mean free path.
#[must_use]
pub fn knudsen_variable(gas: Gas, bore: f64, pressure: f64, temperature: f64) -> f64 {
    pressure * bore * libm::sqrt(gas.molar_mass() / (GAS_CONSTANT * temperature))
        / gas.viscosity(temperature)
}

/// What Knudsen's bend leaves of the molecular conductance of a tube at a [`knudsen_variable`]:
/// `(1 + x) / (1 + 1.24 x)`, from 1 in thin gas to .81 in dense gas. Source: Knudsen 1909, from
/// memory.
#[must_use]
pub fn knudsen_bend(x: f64) -> f64 {
    (1.0 + x) * crowded_share(x)
}

/// `1 / (1 + 1.24 x)`, the part of Knudsen's bend that falls as the gas gets dense.
fn crowded_share(x: f64) -> f64 {
    1.0 / (1.0 + BEND * x)
}

/// The conductance in m³/s of a hole in a thin wall in molecular flow, from its bore in m and the
/// temperature in K: area times mean speed over 4. Source: kinetic theory of gases.
#[must_use]
pub fn orifice_conductance(gas: Gas, bore: f64, temperature: f64) -> f64 {
    area(bore) * gas.mean_speed(temperature) / 4.0
}

/// The volume of air in m³/s, at the pressure and temperature in front of it, that an ideal hole
/// passes when choked: area times speed of sound times
/// `(2 / (gamma + 1))^((gamma + 1) / (2 (gamma - 1)))`. Holds while the pressure behind is below
/// [`critical_pressure_ratio`] times the one in front. Source: isentropic flow of an ideal gas.
#[must_use]
pub fn choked_conductance(bore: f64, temperature: f64) -> f64 {
    let gamma = AIR_HEAT_CAPACITY_RATIO;
    let sound = libm::sqrt(gamma * GAS_CONSTANT * temperature / Gas::Air.molar_mass());
    let power = (gamma + 1.0) / (2.0 * (gamma - 1.0));
    area(bore) * sound * libm::pow(2.0 / (gamma + 1.0), power)
}

/// The pressure behind a hole over the one in front at which air just chokes, .528. Source:
/// isentropic flow of an ideal gas.
#[must_use]
pub fn critical_pressure_ratio() -> f64 {
    let gamma = AIR_HEAT_CAPACITY_RATIO;
    libm::pow(2.0 / (gamma + 1.0), gamma / (gamma - 1.0))
}

/// The lowest and the highest conductance in m³/s of a valve core for air at a temperature in K:
/// a hole of 1.5 mm in molecular and in choked flow. Mark: estimate; cores differ.
#[must_use]
pub fn core_conductance(temperature: f64) -> (f64, f64) {
    (
        orifice_conductance(Gas::Air, CORE_BORE, temperature),
        choked_conductance(CORE_BORE, temperature),
    )
}

/// The conductance in m³/s of parts that the gas passes one after another: the reciprocal of the
/// sum of the reciprocals. Infinite for no parts, 0 if a part is closed.
#[must_use]
pub fn in_series(conductances: &[f64]) -> f64 {
    1.0 / conductances.iter().fold(0.0, |sum, conductance| sum + 1.0 / conductance)
}

/// The conductance in m³/s of parts that the gas passes side by side: their sum.
#[must_use]
pub fn in_parallel(conductances: &[f64]) -> f64 {
    conductances.iter().fold(0.0, |sum, conductance| sum + conductance)
}

/// The area of a round hole in m² from its bore in m.
fn area(bore: f64) -> f64 {
    PI * bore * bore / 4.0
}

#[cfg(test)]
mod tests {
    use super::super::gas::REFERENCE_TEMPERATURE;
    use super::*;

    #[test]
    fn the_slope_is_that_of_the_conductance() {
        let tube = Tube::new(Gas::Air, 4.8e-3, 1.5, REFERENCE_TEMPERATURE);
        for pressure in [0.1, 1.0, 5.0, 30.0, 1000.0] {
            let step = 1e-5 * pressure;
            let rise = tube.conductance(pressure + step) - tube.conductance(pressure - step);
            let slope = tube.with_slope(pressure).1;
            assert!((rise / (2.0 * step) / slope - 1.0).abs() < 1e-4, "{pressure}");
        }
    }

    #[test]
    fn the_correction_for_the_ends_stays_near_the_exact_values() {
        let opening = orifice_conductance(Gas::Air, 0.01, REFERENCE_TEMPERATURE);
        for bores in [0.5, 1.0, 2.0, 5.0, 10.0, 50.0] {
            let long = molecular_conductance(Gas::Air, 0.01, 0.01 * bores, REFERENCE_TEMPERATURE);
            let tube = long * end_correction(1.0, bores) / opening;
            let ratio = tube / transmission_probability(1.0, bores);
            assert!(ratio > 1.0 && ratio < 1.125, "{ratio} at {bores} bores");
        }
    }

    #[test]
    fn a_core_lies_between_its_two_bounds() {
        let (low, high) = core_conductance(REFERENCE_TEMPERATURE);
        assert!((low - 0.2045e-3).abs() < 1e-7 && (high - 0.3510e-3).abs() < 1e-7, "{low} {high}");
    }
}
