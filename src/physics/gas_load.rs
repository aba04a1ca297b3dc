//! What a rise of pressure in a closed volume says about the gas that comes in, and what that gas
//! does to a pump.

use super::gas::GAS_CONSTANT;

/// The gas load in Pa m³/s that makes the pressure in a closed volume in m³ rise at a rate in
/// Pa/s: `V dp/dt`. Source: definition of throughput at constant temperature.
#[must_use]
pub fn gas_load(volume: f64, rise_rate: f64) -> f64 {
    volume * rise_rate
}

/// The rate in Pa/s at which a leak in Pa m³/s lets the pressure in a closed volume in m³ rise:
/// `Q / V`, the inverse of [`gas_load`].
///
/// Steady while the pressure inside is small against the one outside: from 0 to 5000 Pa a
/// laminar leak fades by .24 %.
#[must_use]
pub fn rise_from_leak(leak: f64, volume: f64) -> f64 {
    leak / volume
}

/// The pressure in Pa at which a pump with a floor in Pa and a speed at the system in m³/s stops
/// getting lower under a gas load in Pa m³/s: `floor + Q / S`. Source: balance of throughput.
#[must_use]
pub fn stall_pressure(floor: f64, gas_load: f64, speed: f64) -> f64 {
    floor + gas_load / speed
}

/// How much higher a pull-down stalled than the rise of the closed system explains: the stall
/// above the floor, both in Pa, over `V (dp/dt) / S`, with the volume in m³, the rise rate in
/// Pa/s and the speed at the system in m³/s.
///
/// 1 where volume, speed and rise agree. Below 0 where the stall lies below the floor; infinite
/// without a rise.
#[must_use]
pub fn stall_ratio(stall: f64, floor: f64, volume: f64, rise_rate: f64, speed: f64) -> f64 {
    (stall - floor) / (gas_load(volume, rise_rate) / speed)
}

/// A state of a gas: pressure in Pa and temperature in K.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct State {
    /// The absolute pressure in Pa.
    pub pressure: f64,
    /// The temperature in K.
    pub temperature: f64,
}

/// The amount of ideal gas in mol/s that comes into a closed volume in m³ while it goes from one
/// state to another in a time in s: `V (p2/T2 - p1/T1) / (R t)`. Negative for a loss.
///
/// Source: 40 CFR 1065.644 (vacuum-decay leak rate). An ideal gas; at 4 MPa and 20 °C nitrogen
/// holds .6 % more than that.
#[must_use]
pub fn molar_leak_rate(volume: f64, before: State, after: State, duration: f64) -> f64 {
    let per_volume = |state: State| state.pressure / state.temperature;
    volume * (per_volume(after) - per_volume(before)) / (GAS_CONSTANT * duration)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stall_that_the_rise_explains_has_the_ratio_of_one() {
        let (volume, rate, speed, floor) = (12e-3, 0.02, 1.5e-3, 4.0);
        let stall = stall_pressure(floor, gas_load(volume, rate), speed);
        assert!((stall_ratio(stall, floor, volume, rate, speed) - 1.0).abs() < 1e-12);
        assert!(stall_ratio(floor - 1.0, floor, volume, rate, speed) < 0.0);
    }

    #[test]
    fn a_sealed_volume_that_only_warms_takes_nothing_in() {
        let before = State { pressure: 60.0, temperature: 290.0 };
        let after = State { pressure: 60.0 * 305.0 / 290.0, temperature: 305.0 };
        assert!(molar_leak_rate(0.01, before, after, 600.0).abs() < 1e-18);
        assert!(molar_leak_rate(0.01, after, before, 600.0).abs() < 1e-18);
    }
}
