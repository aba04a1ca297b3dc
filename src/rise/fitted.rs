//! The fitted curves of a reading, at any times, for whoever draws them.

use super::condense::Points;
use super::reading::Reading;
use super::spread::Columns;

/// What was fitted: a start, a slope and settling parts.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Fitted {
    /// The time of the first reading in s, as the hold counts.
    origin: f64,
    /// Pressure in Pa at the origin.
    start: f64,
    /// Rate of the straight part in Pa/s.
    slope: f64,
    /// Time constants in s and the rise in Pa that each heads for.
    parts: Vec<(f64, f64)>,
    /// What settles within this time in s is a step.
    step_time: f64,
}

/// Fitted pressures in Pa, one for each time that was asked for.
///
/// All begin at one pressure at the first reading, and the rises of the parts add up to that of
/// the whole.
#[derive(Debug, Clone, PartialEq)]
pub struct Curves {
    /// All parts together.
    pub fit: Vec<f64>,
    /// The straight part alone.
    pub straight: Vec<f64>,
    /// The part that levels off alone.
    pub levelling: Vec<f64>,
    /// The step at the start alone.
    pub step: Vec<f64>,
}

impl Fitted {
    /// The fit with a straight part of `slope` Pa/s and `amounts` in Pa of the settling parts. Its
    /// start is the one that leaves nothing over on average, each point weighted by its noise.
    pub fn new(
        origin: f64,
        points: &Points,
        columns: &Columns,
        slope: f64,
        amounts: &[f64],
        step_time: f64,
    ) -> Self {
        let pairs = columns.time_constants.iter().copied().zip(amounts.iter().copied());
        let parts = pairs.filter(|(_, amount)| *amount > 0.0).collect();
        let mut fitted = Self { origin, start: 0.0, slope, parts, step_time };
        let (mut over, mut weights) = (0.0, 0.0);
        for ((time, pressure), noise) in
            points.times.iter().zip(&points.pressures).zip(&points.noise)
        {
            let weight = 1.0 / (noise * noise);
            over += weight * (pressure - fitted.rise(*time, |_| true, true));
            weights += weight;
        }
        fitted.start = over / weights;
        fitted
    }

    /// Pressure in Pa at `time` s of the parts whose time constant is wanted, with the straight
    /// part or without.
    fn rise(&self, time: f64, is_wanted: impl Fn(f64) -> bool, with_straight: bool) -> f64 {
        let straight = if with_straight { self.slope * time } else { 0.0 };
        let wanted = self.parts.iter().filter(|(tau, _)| is_wanted(*tau));
        let settled: f64 = wanted.map(|(tau, amount)| -amount * libm::expm1(-time / tau)).sum();
        self.start + straight + settled
    }

    fn is_step(&self, time_constant: f64) -> bool {
        time_constant <= self.step_time / 3.0
    }
}

impl Reading {
    /// The fitted curves at `times` in s, counted as the hold's times are; before the first
    /// reading each stands at its start.
    ///
    /// ```
    /// use dryhold::rise::{Gauge, Hold, read};
    /// let times: Vec<f64> = (0..=30).map(|minute| f64::from(minute) * 60.0).collect();
    /// let leak: Vec<f64> = times.iter().map(|t| (50.0 + 0.05 * t).round()).collect();
    /// let reading = read(&Hold::new(times, leak, Gauge::default(), 0.01)).unwrap();
    /// let curves = reading.curves(&[0.0, 1800.0]);
    /// assert!((curves.fit[1] - 140.0).abs() < 1.0);
    /// assert!((curves.straight[1] - curves.straight[0] - 90.0).abs() < 5.0);
    /// ```
    #[must_use]
    pub fn curves(&self, times: &[f64]) -> Curves {
        let fitted = &self.fitted;
        let since: Vec<f64> = times.iter().map(|time| (time - fitted.origin).max(0.0)).collect();
        let all = |at: &dyn Fn(f64) -> f64| since.iter().map(|time| at(*time)).collect();
        Curves {
            fit: all(&|time| fitted.rise(time, |_| true, true)),
            straight: all(&|time| fitted.rise(time, |_| false, true)),
            levelling: all(&|time| fitted.rise(time, |tau| !fitted.is_step(tau), false)),
            step: all(&|time| fitted.rise(time, |tau| fitted.is_step(tau), false)),
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::rise::{Gauge, Hold, Reading, read};

    /// A step of 20 Pa, 60 Pa that level off within 8 min, and 0.02 Pa/s; from 1000 s on.
    fn both() -> (Hold, Reading) {
        let times: Vec<f64> = (0..=60).map(|k| 1000.0 + 30.0 * f64::from(k)).collect();
        let at = |t: f64| {
            let settled = -20.0 * libm::expm1(-t / 25.0) - 60.0 * libm::expm1(-t / 480.0);
            ((50.0 + settled + 0.02 * t) * 10.0).round() / 10.0
        };
        let pressures = times.iter().map(|time| at(time - 1000.0)).collect();
        let hold = Hold::new(times, pressures, Gauge::default(), 0.005);
        let reading = read(&hold).unwrap();
        (hold, reading)
    }

    #[test]
    fn the_fit_runs_through_the_readings() {
        let (hold, reading) = both();
        let fit = reading.curves(&hold.times).fit;
        for (fitted, pressure) in fit.iter().zip(&hold.pressures) {
            assert!((fitted - pressure).abs() < 0.5, "{fitted} for {pressure}");
        }
    }

    #[test]
    fn the_parts_begin_together_and_add_up() {
        let (hold, reading) = both();
        let curves = reading.curves(&hold.times);
        let start = curves.fit[0];
        for at in 0..hold.times.len() {
            let parts = [&curves.straight, &curves.levelling, &curves.step];
            let sum: f64 = parts.iter().map(|part| part[at] - start).sum();
            assert!((start + sum - curves.fit[at]).abs() < 1e-9);
        }
        let slope = (curves.straight[60] - curves.straight[0]) / 1800.0;
        assert!((slope - 0.02).abs() < 0.005, "{slope}");
        assert!((curves.step[60] - start - 20.0).abs() < 8.0, "{}", curves.step[60] - start);
        assert_eq!(reading.curves(&[0.0]).fit, [start], "nothing is told of before");
    }
}
