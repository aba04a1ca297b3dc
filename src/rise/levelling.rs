//! The part that levels off: whether, how high, toward what.

use super::condense::Points;
use super::input::{Doubted, Hold};
use super::profile::Profile;
use super::reading::Range;
use super::slopes::Slopes;
use super::spread::{Columns, settled};
use crate::physics::saturation::saturation_pressure;

/// The part that levels off.
#[derive(Debug, Clone, PartialEq)]
pub struct Levelling {
    /// Probability that there is one, at odds 1:1.
    pub probability: f64,
    /// Rise from it over the hold in Pa, with the range that the readings allow.
    pub height: Range,
    /// Pressure in Pa it heads for, the straight part left out; as the gauge reads.
    pub level: Range,
    /// Time constants in s and the rise in Pa that each heads for; only those above zero.
    pub spread: Vec<(f64, f64)>,
    /// Level over the saturation pressure of water at the coldest spot, from both doubts; a
    /// heat-loss gauge may read water vapour twofold (estimate), which widens the low side.
    pub over_saturation: Option<Range>,
}

pub(super) fn levelling(
    hold: &Hold,
    points: &Points,
    columns: &Columns,
    profile: &mut Profile<'_>,
    slopes: &Slopes,
    amounts: &[f64],
    rate: Range,
) -> Levelling {
    let head = |amounts: &[f64]| {
        let height = settled(columns, amounts, points.duration, hold.step_time);
        let slow = columns.time_constants.iter().zip(amounts);
        let still: f64 = slow.map(|(tau, a)| a * libm::exp(-points.duration / tau)).sum();
        (height, height + still)
    };
    let (height, headed) = head(amounts);
    let ends = [rate.low, rate.high].map(|slope| head(profile.at(slope).1));
    let range = |value: f64, one: f64, other: f64| Range {
        value,
        low: value.min(one).min(other),
        high: value.max(one).max(other),
    };
    let start = points.pressures[0] + step(columns, amounts, points.duration, hold.step_time);
    let level = range(start + headed, start + ends[0].1, start + ends[1].1);
    Levelling {
        probability: levelling_probability(points, columns, slopes, hold.step_time),
        height: range(height, ends[0].0, ends[1].0),
        level,
        spread: spread(columns, amounts, hold.step_time),
        over_saturation: hold.surroundings.coldest.map(|spot| over_saturation(level, spot, hold)),
    }
}

fn spread(columns: &Columns, amounts: &[f64], step_time: f64) -> Vec<(f64, f64)> {
    let pairs = columns.time_constants.iter().copied().zip(amounts.iter().copied());
    pairs.filter(|(tau, amount)| *tau > step_time / 3.0 && *amount > 0.0).collect()
}

/// Compares the fit with one that has a step and a straight part only, at the price of two more
/// numbers (Schwarz 1978, from memory).
fn levelling_probability(
    points: &Points,
    columns: &Columns,
    slopes: &Slopes,
    step_time: f64,
) -> f64 {
    let short = columns.time_constants.iter().take_while(|tau| **tau <= step_time / 3.0).count();
    let only_steps = Columns {
        time_constants: columns.time_constants[..short].to_vec(),
        settling: columns.settling[..short].to_vec(),
        slope: columns.slope.clone(),
        target: columns.target.clone(),
    };
    let steepest = points.steepest();
    let mut profile = Profile::new(&only_steps);
    let lowest = profile.lowest(-steepest, steepest);
    let gain = (profile.at(lowest).0 - slopes.least).max(0.0) / slopes.widening;
    let price = 2.0 * libm::log(points.times.len() as f64);
    1.0 / (1.0 + libm::exp(-0.5 * (gain - price)))
}

fn over_saturation(level: Range, spot: Doubted, hold: &Hold) -> Range {
    let at = |kelvin: f64| saturation_pressure(kelvin).max(f64::MIN_POSITIVE);
    let twofold = hold.gauge.response.most_over_read();
    let scale = 1.96 * hold.gauge.scale_doubt.abs();
    let doubt = 1.96 * spot.doubt.abs();
    Range {
        value: level.value / at(spot.value),
        low: level.low * (1.0 - scale).max(0.0) / twofold / at(spot.value + doubt),
        high: level.high * (1.0 + scale) / at(spot.value - doubt),
    }
}

/// Rise in Pa within the step time.
pub(super) fn step(columns: &Columns, amounts: &[f64], duration: f64, step_time: f64) -> f64 {
    let all = settled(columns, amounts, duration, 0.0);
    all - settled(columns, amounts, duration, step_time)
}
