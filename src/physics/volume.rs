//! The inner volume of a system, measured by what a gas does in it.

/// The volume in m³ of a system at a pressure, into which a vessel of known volume in m³ and
/// pressure is let until both have the final pressure: `vessel (p_vessel - p_final) / (p_final -
/// p_system)`, all pressures absolute and in Pa.
///
/// Source: ideal gas at one temperature. A number above 0 only while the final pressure lies
/// between the other two.
#[must_use]
pub fn by_expansion(vessel: f64, vessel_pressure: f64, system: f64, last: f64) -> f64 {
    vessel * (vessel_pressure - last) / (last - system)
}

/// The volume in m³ of a system that a constant speed in m³/s pumps from one pressure to another,
/// both in Pa, in a time in s: `S t / ln(from / to)`.
///
/// Source: pump-down at constant speed. Best between 30 000 and 5000 Pa (memory), where hoses
/// hardly slow a pump and neither its floor nor water counts.
#[must_use]
pub fn by_pull_down(speed: f64, from: f64, to: f64, duration: f64) -> f64 {
    speed * duration / libm::log(from / to)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_expansion_finds_the_volume_it_was_made_with() {
        let (vessel, system) = (2.5e-3, 11e-3);
        let (high, low) = (400e3, 20.0);
        let last = (vessel * high + system * low) / (vessel + system);
        assert!((by_expansion(vessel, high, low, last) / system - 1.0).abs() < 1e-12);
    }

    #[test]
    fn a_pull_down_by_e_takes_the_time_of_one_exchange() {
        let volume = by_pull_down(2e-3, 1e4 * std::f64::consts::E, 1e4, 5.0);
        assert!((volume - 10e-3).abs() < 1e-15, "{volume}");
    }
}
