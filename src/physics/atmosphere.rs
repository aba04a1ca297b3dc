//! The pressure of the air around, and gauge pressures that count from it.

use super::gas::STANDARD_ATMOSPHERE;
use super::warming::sealed_gas;

/// The temperature of the standard atmosphere at sea level in K.
const SEA_LEVEL_TEMPERATURE: f64 = 288.15;
/// How the temperature falls with height in K/m.
const LAPSE_RATE: f64 = 6.5e-3;
/// Standard gravity times the molar mass of air over gas constant and lapse rate.
const EXPONENT: f64 = 9.806_65 * 28.9644e-3 / (8.314_32 * LAPSE_RATE);

/// The pressure in Pa of the standard atmosphere at an altitude in m above sea level: `101325
/// (1 - .0065 h / 288.15)^5.2559`.
///
/// Holds from -5000 to 11000 m (the troposphere). Source: U.S. Standard Atmosphere 1976, the same
/// as ICAO's. The weather moves the true pressure by up to about 3 % (memory).
#[must_use]
pub fn barometer(altitude: f64) -> f64 {
    let ratio = 1.0 - LAPSE_RATE * altitude / SEA_LEVEL_TEMPERATURE;
    STANDARD_ATMOSPHERE * libm::pow(ratio, EXPONENT)
}

/// The absolute pressure of a gauge pressure at a barometer, all in Pa. Source: definition.
#[must_use]
pub fn absolute(gauge: f64, barometer: f64) -> f64 {
    gauge + barometer
}

/// The gauge pressure in Pa that a tight system shows after its temperature went from `from` to
/// `to`, both in K: `(p + barometer) to / from - barometer`, with the barometer in Pa.
///
/// Source: ideal gas at constant volume, the form of fuel-gas piping codes. For its error with
/// nitrogen see [`sealed_gas`].
#[must_use]
pub fn standing_pressure(gauge: f64, from: f64, to: f64, barometer: f64) -> f64 {
    sealed_gas(absolute(gauge, barometer), from, to) - barometer
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_air_has_the_pressures_of_its_table() {
        // U.S. Standard Atmosphere 1976, table I, by geopotential altitude.
        for (altitude, published) in
            [(0.0, 101_325.0), (1000.0, 89_874.6), (5000.0, 54_019.9), (11_000.0, 22_632.1)]
        {
            let pressure = barometer(altitude);
            assert!((pressure / published - 1.0).abs() < 3e-6, "{pressure} at {altitude} m");
        }
    }

    #[test]
    fn a_standing_pressure_comes_back_with_its_temperature() {
        let cold = standing_pressure(4e6, 293.15, 283.15, 95e3);
        assert!(cold < 4e6);
        assert!((standing_pressure(cold, 283.15, 293.15, 95e3) - 4e6).abs() < 1e-6);
        // Absolute and gauge mixed up would cool 0 gauge to 0.
        assert!(standing_pressure(0.0, 293.15, 283.15, 101_325.0) < -3000.0);
    }
}
