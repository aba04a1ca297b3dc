//! The part that levels off: whether, how high, toward what.

use super::condense::Points;
use super::input::{Doubted, Hold};
use super::nonnegative::dot;
use super::profile::Profile;
use super::reading::{Range, TWO_SIDED};
use super::room::room;
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
    /// Pressure in Pa it heads for, the straight part left out; as the gauge reads, and no lower
    /// than zero.
    pub level: Range,
    /// Time constants in s and the rise in Pa that each heads for; only those above zero.
    pub spread: Vec<(f64, f64)>,
    /// Level over the saturation pressure of water at the coldest spot, from both doubts; a
    /// heat-loss gauge may read water vapour twofold (estimate), which widens the low side.
    pub over_saturation: Option<Range>,
}

/// The best fit: the slope of the straight part in Pa/s, and the settling parts in Pa.
pub(super) struct Best<'a> {
    pub slope: f64,
    pub amounts: &'a [f64],
}

pub(super) fn levelling(
    hold: &Hold,
    points: &Points,
    columns: &Columns,
    profile: &mut Profile<'_>,
    slopes: &Slopes,
    best: &Best<'_>,
    rate: Range,
) -> Levelling {
    let (amounts, sums) = (best.amounts, Sums::of(hold, points, columns));
    let start = points.pressures[0];
    let both = |amounts: &[f64]| [dot(&sums.height, amounts), start + dot(&sums.level, amounts)];
    let [height, level] = both(amounts);
    let ends = [rate.low, rate.high].map(|slope| both(profile.at(slope).1));
    let growth = TWO_SIDED * slopes.widening;
    let scale = points.steepest() * points.duration;
    let around = |weights: &[f64]| room(profile, best.slope, weights, growth, scale);
    // The level is counted from the first reading, which scatters as all do.
    let first = libm::sqrt(growth) * points.noise[0];
    let (heights, levels) = (around(&sums.height), around(&sums.level));
    let level = range(level, [ends[0][1], ends[1][1]], levels, first);
    let height = range(height, [ends[0][0], ends[1][0]], heights, 0.0);
    Levelling {
        probability: levelling_probability(points, columns, slopes, hold.step_time),
        height,
        level,
        spread: spread(columns, amounts, hold.step_time),
        over_saturation: hold.surroundings.coldest.map(|spot| over_saturation(level, spot, hold)),
    }
}

/// What an amount of each time constant adds to the two sums that are told.
struct Sums {
    /// To the rise over the hold of the parts slower than the step.
    height: Vec<f64>,
    /// To the level above the first reading: a slow part all that it heads for, a step what it has
    /// risen by.
    level: Vec<f64>,
}

impl Sums {
    fn of(hold: &Hold, points: &Points, columns: &Columns) -> Self {
        let is_slow = |tau: &f64| *tau > hold.step_time / 3.0;
        let settled = |tau: &f64| -libm::expm1(-points.duration / tau);
        let taus = columns.time_constants.iter();
        Self {
            height: taus.clone().map(|tau| if is_slow(tau) { settled(tau) } else { 0.0 }).collect(),
            level: taus.map(|tau| if is_slow(tau) { 1.0 } else { settled(tau) }).collect(),
        }
    }
}

/// The doubt of the slope and that of the readings with the slope standing still: of a normal
/// distribution the two are independent, so that their squares add up (ISO/IEC Guide 98-3, 5.1.2).
/// Neither a rise that levels off nor the pressure it heads for lies below zero.
fn range(value: f64, ends: [f64; 2], (down, up): (f64, f64), first: f64) -> Range {
    let [lower, higher] = [value - ends[0].min(ends[1]), ends[0].max(ends[1]) - value];
    let whole = |of_slope: f64, of_readings: f64| {
        libm::hypot(libm::hypot(of_slope.max(0.0), of_readings), first)
    };
    let low = (value - whole(lower, down)).max(0.0);
    Range { value, low, high: value + whole(higher, up) }
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
