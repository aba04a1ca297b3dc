//! A gauge that senses the loss of heat: what it shows of what is there.

use crate::physics::gas::STANDARD_ATMOSPHERE;

use super::mixture::Each;

/// A micrometre of mercury in Pa, as gauges count it. Source: a torr is 1/760 of the standard
/// atmosphere.
pub const MICRON: f64 = STANDARD_ATMOSPHERE / 760_000.0;

/// A gauge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gauge {
    /// What it shows of each gas, over what is there. 1 for air; for water vapour 2 and for a
    /// refrigerant 1.4 (published for one heat-loss sensor between 1 and 100 Pa: a combination
    /// gauge's operating manual of 2011).
    pub response: Each,
    /// How much too high it reads, as a share of the reading.
    pub scale_error: f64,
    /// How much too high it reads in Pa.
    pub offset: f64,
    /// The step of its display in Pa up to 1000 micron; above, it is ten times as large.
    pub resolution: f64,
    /// How long in s it takes for 63 % of a change.
    pub lag: f64,
    /// The spread of single readings, as a share of the reading.
    pub noise: f64,
    /// How dirty it is, from 0 to 1: at 1 it reads 300 micron and 20 % too high and takes ten
    /// times as long (estimate).
    pub dirt: f64,
    /// Above this pressure in Pa it shows nothing but that it is over its range.
    pub full_scale: f64,
}

impl Default for Gauge {
    /// A clean gauge that is right in air and shows single micron. Mark: estimate.
    fn default() -> Self {
        Self {
            response: [1.0, 2.0, 1.4],
            scale_error: 0.0,
            offset: 0.0,
            resolution: MICRON,
            lag: 4.0,
            noise: 0.0,
            dirt: 0.0,
            full_scale: 25_000.0 * MICRON,
        }
    }
}

/// What a gauge shows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reading {
    /// A pressure in Pa.
    Pressure(f64),
    /// More than its full scale.
    OverRange,
}

impl Reading {
    /// The pressure in Pa, if it shows one.
    #[must_use]
    pub fn pressure(self) -> Option<f64> {
        match self {
            Self::Pressure(pressure) => Some(pressure),
            Self::OverRange => None,
        }
    }
}

impl Gauge {
    /// What the sensor tends to in Pa at partial pressures in Pa.
    #[must_use]
    pub fn signal(&self, pressures: &Each) -> f64 {
        pressures.iter().zip(self.response).map(|(pressure, response)| pressure * response).sum()
    }

    /// How long in s it takes for 63 % of a change, dirt counted.
    #[must_use]
    pub fn slowness(&self) -> f64 {
        self.lag * (1.0 + 9.0 * self.dirt)
    }

    /// What it shows for a sensor at a pressure in Pa and a draw from the standard normal
    /// distribution.
    #[must_use]
    pub fn show(&self, sensed: f64, draw: f64) -> Reading {
        let error = self.scale_error + 0.2 * self.dirt + self.noise * draw;
        let value = sensed * (1.0 + error) + self.offset + 300.0 * MICRON * self.dirt;
        let step = self.resolution * if value > 1000.0 * MICRON { 10.0 } else { 1.0 };
        let shown = libm::round(value.max(0.0) / step) * step;
        if shown > self.full_scale { Reading::OverRange } else { Reading::Pressure(shown) }
    }

    /// The gauge after it was cleaned.
    #[must_use]
    pub fn cleaned(&self) -> Self {
        Self { dirt: 0.0, ..*self }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn water_vapour_shows_twice_its_pressure() {
        let gauge = Gauge::default();
        assert_eq!(gauge.signal(&[10.0, 20.0, 0.0]), 50.0);
        assert_eq!(gauge.show(500.4 * MICRON, 0.0), Reading::Pressure(500.0 * MICRON));
    }

    #[test]
    fn its_steps_get_coarse_and_end() {
        let gauge = Gauge::default();
        let shown = gauge.show(1234.0 * MICRON, 0.0).pressure().unwrap();
        assert!((shown / MICRON - 1230.0).abs() < 1e-9);
        assert_eq!(gauge.show(1e5, 0.0), Reading::OverRange);
        assert_eq!(gauge.show(-5.0, 0.0), Reading::Pressure(0.0));
    }

    #[test]
    fn dirt_reads_high_and_late_until_it_is_cleaned() {
        let dirty = Gauge { dirt: 0.5, ..Gauge::default() };
        assert!(
            (dirty.show(100.0 * MICRON, 0.0).pressure().unwrap() / MICRON - 260.0).abs() < 1e-6
        );
        assert_eq!(dirty.slowness(), 22.0);
        assert_eq!(dirty.cleaned(), Gauge::default());
    }
}
