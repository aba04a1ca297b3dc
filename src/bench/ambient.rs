//! The air around a rig: what leaks in, and what warms and cools everything.

use crate::physics::gas::{REFERENCE_TEMPERATURE, STANDARD_ATMOSPHERE};
use crate::physics::saturation::saturation_pressure;

use super::mixture::Each;

/// The air around.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ambient {
    /// Its temperature in K when the work begins, 250 to 320.
    pub temperature: f64,
    /// How fast it warms in K/s; negative where it cools.
    pub drift: f64,
    /// Its pressure in Pa.
    pub barometer: f64,
    /// Its relative humidity, 0 to 1.
    pub humidity: f64,
}

impl Default for Ambient {
    /// A steady room of 20 °C at sea level, half damp. Mark: estimate.
    fn default() -> Self {
        Self {
            temperature: REFERENCE_TEMPERATURE,
            drift: 0.0,
            barometer: STANDARD_ATMOSPHERE,
            humidity: 0.5,
        }
    }
}

impl Ambient {
    /// The temperature in K at a time in s since the work began.
    #[must_use]
    pub fn temperature_at(&self, time: f64) -> f64 {
        self.temperature + self.drift * time
    }

    /// The partial pressures in Pa of the air around, with the moisture that it had when the
    /// work began.
    #[must_use]
    pub fn pressures(&self) -> Each {
        let water = self.humidity * saturation_pressure(self.temperature);
        [self.barometer - water, water, 0.0]
    }
}

/// How far a place is warmer than the air around: from where it was towards a goal.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Warming {
    /// How far above ambient in K it was at the time 0.
    pub start: f64,
    /// How far above ambient in K it tends to.
    pub goal: f64,
}

/// How long in s a warmed or cooling part takes for 63 % of its way. Mark: estimate.
pub const WARMING_TIME: f64 = 300.0;

impl Warming {
    /// How far above ambient in K it is a time in s later.
    #[must_use]
    pub fn after(&self, time: f64) -> f64 {
        self.with_left(Self::left_after(time))
    }

    /// The share of its way that is left a time in s later; the same for all that warms.
    #[must_use]
    pub fn left_after(time: f64) -> f64 {
        libm::exp(-time / WARMING_TIME)
    }

    /// How far above ambient in K it is while a share of its way is left.
    #[must_use]
    pub fn with_left(&self, left: f64) -> f64 {
        self.goal + (self.start - self.goal) * left
    }

    /// Whether it changes with time.
    #[must_use]
    pub fn is_moving(&self) -> bool {
        self.start != self.goal
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn damp_air_holds_half_of_what_it_could() {
        let pressures = Ambient::default().pressures();
        // IAPWS R7-97 at 20 °C: 2339.21 Pa.
        assert!((pressures[1] - 1169.6).abs() < 0.1, "{pressures:?}");
        assert!((pressures.iter().sum::<f64>() - STANDARD_ATMOSPHERE).abs() < 1e-9);
    }

    #[test]
    fn a_warmed_part_gets_there_and_stays() {
        let warming = Warming { start: 0.0, goal: 20.0 };
        assert!((warming.after(WARMING_TIME) - 12.642).abs() < 1e-3);
        assert!((warming.after(1e5) - 20.0).abs() < 1e-9);
        assert!(!Warming { start: 3.0, goal: 3.0 }.is_moving() && warming.is_moving());
    }
}
