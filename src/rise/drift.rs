//! A temperature that drifts: a slope and bends that look like a source.

use super::condense::Points;
use super::input::Hold;
use super::profile::Profile;
use super::spread::{Columns, settled};

/// Growth of a dry gas per K at room temperature, 1/293 (ideal gas, computed).
const DRY: f64 = 0.003_41;
/// Growth per K of a level held by water, the middle of 6 to 8.5 % between 0 and 30 °C
/// (computed from the saturation pressure of water).
pub(super) const WATER: f64 = 0.07;

/// A drift of temperature that is not even bends the readings: 0.15 of the drift as a half
/// wave, 0.2 as a full one (estimate), acting on what has settled as on a level held by water.
pub(super) fn bends(hold: &Hold, points: &Points, held_by_water: &[f64]) -> Vec<Vec<f64>> {
    let drift = hold.surroundings.drift.abs();
    let wave = |share: f64, halves: f64| {
        let bend = points.times.iter().zip(&points.pressures).zip(held_by_water);
        let bend = bend.map(|((time, pressure), water)| {
            let per_kelvin = DRY * pressure.abs() + WATER * water;
            let phase = core::f64::consts::PI * halves * time / points.duration;
            share * drift * per_kelvin * libm::sin(phase)
        });
        bend.collect::<Vec<f64>>()
    };
    vec![wave(0.15, 1.0), wave(0.2, 2.0)]
}

/// The rise of the parts slower than the step at each point, in Pa, at the best slope.
pub(super) fn held_by_water(hold: &Hold, points: &Points, columns: &Columns) -> Vec<f64> {
    let steepest = points.steepest();
    let mut profile = Profile::new(columns);
    let lowest = profile.lowest(0.0, steepest);
    let amounts = profile.at(lowest).1;
    points.times.iter().map(|time| settled(columns, amounts, *time, hold.step_time)).collect()
}

/// Systematic doubt of the slope in Pa/s from a drift of temperature over the hold.
pub(super) fn systematic(hold: &Hold, points: &Points, held_by_water: f64) -> f64 {
    let mean = points.pressures.iter().sum::<f64>() / points.pressures.len() as f64;
    let per_kelvin = DRY * mean.abs() + WATER * held_by_water.max(0.0);
    hold.surroundings.drift.abs() * per_kelvin / points.duration
}
