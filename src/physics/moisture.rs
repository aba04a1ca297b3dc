//! Water as vapour: how much a volume holds, how long it takes to pump away, and what sweeps with
//! dry gas leave of what was there.

use super::gas::{GAS_CONSTANT, WATER_MOLAR_MASS};
use super::saturation::TRIPLE_POINT_TEMPERATURE;

/// The heat in J/kg that ice takes to turn into vapour, at 0 °C. Mark: memory; the slope of IAPWS
/// R14-08 gives the same within .3 % from -40 °C on.
pub const HEAT_OF_SUBLIMATION: f64 = 2.834e6;

/// The mass in kg of water vapour at a pressure in Pa in a volume in m³ at a temperature in K:
/// `p V M / (R T)`. Source: ideal gas; saturated at 20 °C it is .14 % less than the vapour's own
/// equation of state gives (computed: CoolProp 8.0.0).
#[must_use]
pub fn water_vapour_mass(pressure: f64, volume: f64, temperature: f64) -> f64 {
    pressure * volume * WATER_MOLAR_MASS / (GAS_CONSTANT * temperature)
}

/// The heat in J/kg that turns water at a temperature in K into vapour: 2.4536 MJ/kg at 20 °C.
///
/// Liquid: a straight line, within .1 % from 0 to 60 °C (computed: CoolProp 8.0.0). Below the
/// triple point [`HEAT_OF_SUBLIMATION`].
#[must_use]
pub fn heat_of_evaporation(temperature: f64) -> f64 {
    if temperature < TRIPLE_POINT_TEMPERATURE {
        HEAT_OF_SUBLIMATION
    } else {
        2.5010e6 - 2.37e3 * (temperature - 273.15)
    }
}

/// The time in s in which a speed in m³/s carries a mass of water in kg away as vapour of a
/// pressure in Pa and a temperature in K: `m R T / (M p S)`. Source: ideal gas at constant
/// pressure and speed; heat must come as fast as it is taken.
#[must_use]
pub fn vapour_limited_time(mass: f64, pressure: f64, speed: f64, temperature: f64) -> f64 {
    mass / (water_vapour_mass(pressure, 1.0, temperature) * speed)
}

/// The time in s in which a heat flow in W turns a mass of water in kg at a temperature in K into
/// vapour. Source: balance of energy.
#[must_use]
pub fn heat_limited_time(mass: f64, temperature: f64, heat: f64) -> f64 {
    mass * heat_of_evaporation(temperature) / heat
}

/// What share of a gas is left when a system was pumped to a pressure and broken with dry gas to
/// another, both in Pa, a number of times: `(pressure / break_pressure)^sweeps`.
///
/// Source: ideal mixing. It is about gas in the open; water on walls and in oil comes out at its
/// own pace, however often it is swept.
#[must_use]
pub fn sweep_dilution(pressure: f64, break_pressure: f64, sweeps: f64) -> f64 {
    libm::pow(pressure / break_pressure, sweeps)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::saturation::saturation_pressure;

    /// The heat in J/kg by the equation of Clausius and Clapeyron from the slope of the
    /// saturation pressure.
    fn by_the_slope(temperature: f64) -> f64 {
        let step = 0.01;
        let slope = libm::log(saturation_pressure(temperature + step))
            - libm::log(saturation_pressure(temperature - step));
        GAS_CONSTANT * temperature * temperature * slope / (2.0 * step) / WATER_MOLAR_MASS
    }

    #[test]
    fn the_heat_agrees_with_the_slope_of_the_saturation_pressure() {
        for celsius in [-40.0, -20.0, -5.0, 1.0, 20.0, 35.0] {
            let temperature = 273.15 + celsius;
            let ratio = heat_of_evaporation(temperature) / by_the_slope(temperature);
            assert!((ratio - 1.0).abs() < 4e-3, "{ratio} at {celsius}");
        }
    }

    #[test]
    fn all_vapour_of_a_volume_is_pumped_in_the_time_of_one_exchange() {
        let mass = water_vapour_mass(600.0, 0.01, 290.0);
        assert!((vapour_limited_time(mass, 600.0, 1e-3, 290.0) - 10.0).abs() < 1e-9);
        // 1 g by 7.5 W takes about five and a half minutes.
        assert!((heat_limited_time(1e-3, 293.15, 7.5) / 327.0 - 1.0).abs() < 2e-3);
    }

    #[test]
    fn sweeps_multiply() {
        let one = sweep_dilution(200.0, 101_325.0, 1.0);
        let three = sweep_dilution(200.0, 101_325.0, 3.0);
        assert!((three / (one * one * one) - 1.0).abs() < 1e-12);
        assert_eq!(sweep_dilution(200.0, 101_325.0, 0.0), 1.0);
    }
}
