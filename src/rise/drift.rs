//! A temperature that drifts: a slope and bends that look like a source.

use super::condense::Points;
use super::input::Hold;
use super::profile::Profile;
use super::spread::{Columns, settled};
use crate::physics::saturation::saturation_pressure;

/// Growth of a dry gas per K at room temperature, 1/293 (ideal gas, computed).
const DRY: f64 = 0.003_41;
/// Growth per K of a level held by water, the middle of 6 to 8.5 % between 0 and 30 °C
/// (computed from the saturation pressure of water).
pub(super) const WATER: f64 = 0.07;
/// Doubt of it, relative: an even spread from 6 to 8.5 % (computed).
const WATER_DOUBT: f64 = 0.1;
/// Whether water holds a pressure that is near its saturation is half known (`estimate`): half of
/// its answer is taken out, and half of it is left as doubt.
const UNSURE: f64 = 0.5;

/// A drift of temperature that is not even bends the readings: 0.15 of the drift as a half
/// wave, 0.2 as a full one (estimate), acting on what has settled as on a level held by water.
pub(super) fn bends(hold: &Hold, points: &Points, held_by_water: &[f64]) -> Vec<Vec<f64>> {
    let drift = libm::hypot(hold.surroundings.drift, hold.surroundings.warmed_by);
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

/// Systematic doubt of the slope in Pa/s from a drift of temperature over the hold: what the
/// change is not known to, and how each part answers to what is known of it.
pub(super) fn systematic(hold: &Hold, points: &Points, held_by_water: f64) -> f64 {
    let mean = points.pressures.iter().sum::<f64>() / points.pressures.len() as f64;
    let begun = held_at_start(hold, points.pressures[0]);
    let per_kelvin = DRY * mean.abs() + WATER * (held_by_water.max(0.0) + begun);
    let (warmed, drift) = (hold.surroundings.warmed_by, hold.surroundings.drift);
    let doubt = libm::hypot(drift, WATER_DOUBT * warmed) * per_kelvin;
    libm::hypot(doubt, UNSURE * warmed * WATER * begun) / points.duration
}

/// The part of the first pressure that water may hold: all of it where it is that of water at the
/// coldest spot, to half or double (`estimate`: a heat-loss gauge reads vapour up to twofold).
fn held_at_start(hold: &Hold, first: f64) -> f64 {
    let saturated = hold.surroundings.coldest.map(|spot| saturation_pressure(spot.value));
    let is_near = |saturated: f64| (0.5..=2.0).contains(&(first / saturated));
    if saturated.is_some_and(is_near) { first } else { 0.0 }
}

/// Takes a known change of temperature out of what a dry gas does: `p T0 / (T0 + dT)`, the change
/// taken as even over the hold.
pub(super) fn without_dry_change(hold: &Hold, points: &mut Points) {
    let warmed = hold.surroundings.warmed_by;
    for (time, pressure) in points.times.iter().zip(&mut points.pressures) {
        *pressure /= 1.0 + DRY * warmed * time / points.duration;
    }
}

/// Takes it out of what water holds as well, over what a dry gas does.
pub(super) fn without_wet_change(hold: &Hold, points: &mut Points, held_by_water: &[f64]) {
    let warmed = hold.surroundings.warmed_by;
    let begun = UNSURE * held_at_start(hold, points.pressures[0]);
    let times = points.times.iter().zip(&mut points.pressures);
    for ((time, pressure), held) in times.zip(held_by_water) {
        let kelvin = warmed * time / points.duration;
        *pressure -= (held.max(0.0) + begun) * (libm::exp(WATER * kelvin) - 1.0 - DRY * kelvin)
            / (1.0 + DRY * kelvin);
    }
}
