//! The reading itself: parts, doubts and the verdict.

use super::belief::Belief;
use super::condense::{Points, condense};
use super::input::{Doubted, GasResponse, Hold, Missing};
use super::profile::Profile;
use super::spread::{Columns, columns};
use crate::physics::saturation::saturation_pressure;

/// Time constants reach this share of the window: slower sources count as straight. Longer ones
/// leave real leaks undecided (computed: `benches/rise_population`, other seeds than it prints).
const LONGEST: f64 = 0.8;
/// Settling parts slower than this share of the window can stand in for a straight part.
const SLOW: f64 = 0.6;
/// How sure a part must be to be called there, or not there below the rest to one.
const SURE: f64 = 0.9;
/// Growth of a dry gas per K at room temperature, 1/293 (ideal gas, computed).
const DRY: f64 = 0.003_41;
/// Growth per K of a level held by water, the middle of 6 to 8.5 % between 0 and 30 °C
/// (computed from the saturation pressure of water).
const WATER: f64 = 0.07;
/// `−2 ln` likelihood at the edge of a two-sided 95 % interval and a one-sided 95 % limit
/// (squares of the normal distribution's 1.96 and 1.645).
const TWO_SIDED: f64 = 3.84;
const ONE_SIDED: f64 = 2.71;

/// What a hold says about its cause, in one word.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// Neither a straight part that matters nor a levelling part.
    Quiet,
    /// A straight part above the rate that matters: a leak, or a source slower than told.
    Straight,
    /// A levelling part and no straight part that matters.
    Levelling,
    /// Both.
    Both,
    /// Not yet to be told.
    CannotTell,
}

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

/// A value with the lowest and highest that the readings allow (95 %).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// Most likely.
    pub value: f64,
    /// Lowest.
    pub low: f64,
    /// Highest.
    pub high: f64,
}

/// The gas load of the straight part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Throughput {
    /// Pa m³/s with its 95 % interval.
    pub load: Range,
    /// No straight source larger than this, Pa m³/s (95 %, one-sided).
    pub limit: f64,
}

/// What a hold says.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// How many readings it rests on.
    pub readings: usize,
    /// Seconds from the first to the last.
    pub duration: f64,
    /// Step of the display in Pa; zero if none is seen.
    pub resolution: f64,
    /// P(straight part larger than the rate that matters), at odds 1:1.
    pub straight: f64,
    /// Rate of the straight part in Pa/s with its 95 % interval, as the gauge reads.
    pub rate: Range,
    /// 95 % upper limit of that rate in Pa/s.
    pub rate_limit: f64,
    /// The part that levels off.
    pub levelling: Levelling,
    /// Rise within the step time in Pa.
    pub step: f64,
    /// Largest time constant in s of a single source that could still have been told from a
    /// straight part; slower ones count as straight. Never above 0.8 of the window.
    pub slowest_told: f64,
    /// Root mean square of what no part explains, in Pa.
    pub misfit: f64,
    /// Gas load, once a volume is known.
    pub throughput: Option<Throughput>,
    /// The verdict.
    pub verdict: Verdict,
    /// Seconds more that are likely to settle it, if waiting can (estimate from the growth of
    /// the evidence with the fifth power of time, see [`super::planning`]).
    pub wait_more: Option<f64>,
}

/// Reads a hold. May be asked again at every new reading: the probability needs no correction
/// for looking, on average over its own prior.
///
/// # Errors
/// What is missing: too few readings, too short, falling or not numbers.
pub fn read(hold: &Hold) -> Result<Reading, Missing> {
    hold.check()?;
    let points = condense(hold);
    refuse_falling(&points)?;
    let longest = LONGEST * points.duration;
    let first = points.pressures[0];
    let rise: Vec<f64> = points.pressures.iter().map(|p| (p - first).max(0.0)).collect();
    let guess = columns(&points, longest, &bends(hold, &points, &rise));
    let held_by_water = held_by_water(hold, &points, &guess);
    let columns = columns(&points, longest, &bends(hold, &points, &held_by_water));
    let mut profile = Profile::new(&columns);
    let slopes = Slopes::find(hold, &points, &columns, &mut profile);
    Ok(assemble(hold, &points, &columns, &mut profile, &slopes))
}

fn refuse_falling(points: &Points) -> Result<(), Missing> {
    let third = (points.pressures.len() / 3).max(1);
    let mean = |part: &[f64]| part.iter().sum::<f64>() / part.len() as f64;
    let last = mean(&points.pressures[points.pressures.len() - third..]);
    let fall = mean(&points.pressures[..third]) - last;
    let noise = mean(&points.noise);
    let systematic = WATER * last.abs();
    if fall > 3.0 * noise && fall > systematic { Err(Missing::Falling { fall }) } else { Ok(()) }
}

/// A drift of temperature that is not even bends the readings: 0.15 of the drift as a half
/// wave, 0.2 as a full one (estimate), acting on what has settled as on a level held by water.
fn bends(hold: &Hold, points: &Points, held_by_water: &[f64]) -> Vec<Vec<f64>> {
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
fn held_by_water(hold: &Hold, points: &Points, columns: &Columns) -> Vec<f64> {
    let steepest = steepest(points);
    let mut profile = Profile::new(columns);
    let lowest = profile.lowest(0.0, steepest);
    let amounts = profile.at(lowest).1;
    points.times.iter().map(|time| settled(columns, amounts, *time, hold.step_time)).collect()
}

/// The slopes in question.
struct Slopes {
    belief: Belief,
    /// How much wider than expected the noise is, as a factor of its variance.
    widening: f64,
    lowest: f64,
    least: f64,
}

impl Slopes {
    fn find(hold: &Hold, points: &Points, columns: &Columns, profile: &mut Profile<'_>) -> Self {
        let steepest = steepest(points);
        let lowest = profile.lowest(-steepest, steepest);
        let (least, amounts) = profile.at(lowest);
        let least = least.max(0.0);
        let held_by_water = settled(columns, amounts, points.duration, hold.step_time);
        let widening = widening(&profile.rest(lowest), profile.at(lowest).1);
        let level = least + 60.0 * widening;
        let low = profile.edge(lowest, -steepest, level);
        let high = profile.edge(lowest, steepest, level);
        const STEPS: u32 = 160;
        let step = ((high - low) / f64::from(STEPS)).max(f64::MIN_POSITIVE);
        let misfits = (0..=STEPS)
            .map(|k| (profile.at(low + step * f64::from(k)).0 - least).max(0.0) / widening)
            .collect();
        let systematic = systematic(hold, points, held_by_water);
        let price = price(columns, profile.at(0.0).1, points);
        let belief = Belief::new(low, step, misfits, systematic, price);
        Self { belief, widening, lowest, least }
    }
}

/// Without a straight part, slow settling parts stand in for it: a number fitted at its best,
/// where a rate pays for its range. Such a number costs the root of the count of points
/// (Schwarz 1978, from memory).
fn price(columns: &Columns, amounts: &[f64], points: &Points) -> f64 {
    let mut parts = columns.time_constants.iter().zip(amounts);
    let is_used = parts.any(|(tau, amount)| *tau > SLOW * points.duration && *amount > 0.0);
    if is_used { 1.0 / libm::sqrt(points.times.len() as f64) } else { 1.0 }
}

/// Twice the steepest rise between distant points, in Pa/s: beyond any slope that could fit.
fn steepest(points: &Points) -> f64 {
    let range = points
        .pressures
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |range, p| (range.0.min(*p), range.1.max(*p)));
    let noise = points.noise.iter().fold(0.0, |most: f64, noise| most.max(*noise));
    2.0 * (range.1 - range.0 + 10.0 * noise) / points.duration
}

/// Rise in Pa over the hold of the parts slower than the step.
fn settled(columns: &Columns, amounts: &[f64], duration: f64, step_time: f64) -> f64 {
    let parts = columns.time_constants.iter().zip(amounts);
    let slow = parts.filter(|(tau, _)| **tau > step_time / 3.0);
    slow.map(|(tau, amount)| -amount * libm::expm1(-duration / tau)).sum()
}

/// Systematic doubt of the slope in Pa/s from a drift of temperature over the hold.
fn systematic(hold: &Hold, points: &Points, held_by_water: f64) -> f64 {
    let mean = points.pressures.iter().sum::<f64>() / points.pressures.len() as f64;
    let per_kelvin = DRY * mean.abs() + WATER * held_by_water.max(0.0);
    hold.surroundings.drift.abs() * per_kelvin / points.duration
}

/// Factor of the variance: what is left against what was expected, and more where neighbours
/// are left over to the same side (lag-one correlation). Never below one.
fn widening(rest: &[f64], amounts: &[f64]) -> f64 {
    let fitted = 2 + amounts.iter().filter(|amount| **amount > 0.0).count();
    let freedom = rest.len().saturating_sub(fitted).max(2) as f64;
    let squares: f64 = rest.iter().map(|r| r * r).sum();
    let pairs: f64 = rest.windows(2).map(|pair| pair[0] * pair[1]).sum();
    let correlation = if squares > 0.0 { (pairs / squares).clamp(0.0, 0.7) } else { 0.0 };
    let is_long = rest.len() >= 12;
    let repeated = if is_long { (1.0 + correlation) / (1.0 - correlation) } else { 1.0 };
    (squares / freedom).max(1.0) * repeated
}

fn assemble(
    hold: &Hold,
    points: &Points,
    columns: &Columns,
    profile: &mut Profile<'_>,
    slopes: &Slopes,
) -> Reading {
    let straight = slopes.belief.probability_above(hold.rate_that_matters);
    let rate = rate(hold, slopes);
    let (_, _, limit) = slopes.belief.interval(ONE_SIDED);
    let at = if straight < 1.0 - SURE {
        slopes.belief.interval(0.1).1.min(rate.value)
    } else {
        rate.value
    };
    let amounts = profile.at(at).1.to_vec();
    let step = step(columns, &amounts, points.duration, hold.step_time);
    let levelling = levelling(hold, points, columns, profile, slopes, &amounts, rate);
    let slowest_told = slowest_told(points, slopes.widening);
    let verdict = verdict(straight, levelling.probability);
    let squares: f64 =
        profile.rest(slopes.lowest).iter().zip(&points.noise).map(|(r, n)| r * n * r * n).sum();
    Reading {
        readings: hold.times.len(),
        duration: points.duration,
        resolution: points.resolution,
        straight,
        rate,
        rate_limit: limit * (1.0 + 1.645 * hold.gauge.scale_doubt),
        levelling,
        step,
        slowest_told,
        misfit: libm::sqrt(squares / points.times.len() as f64),
        throughput: hold.surroundings.volume.map(|volume| throughput(volume, rate, limit, hold)),
        verdict,
        wait_more: wait_more(verdict, straight, points.duration),
    }
}

/// The rate with its interval, widened by the doubt of the scale.
fn rate(hold: &Hold, slopes: &Slopes) -> Range {
    let (value, low, high) = slopes.belief.interval(TWO_SIDED);
    let scale = 1.96 * hold.gauge.scale_doubt.abs() * value;
    Range {
        value,
        low: (value - libm::hypot(value - low, scale)).max(0.0),
        high: value + libm::hypot(high - value, scale),
    }
}

fn step(columns: &Columns, amounts: &[f64], duration: f64, step_time: f64) -> f64 {
    let all = settled(columns, amounts, duration, 0.0);
    all - settled(columns, amounts, duration, step_time)
}

fn levelling(
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
    let steepest = steepest(points);
    let mut profile = Profile::new(&only_steps);
    let lowest = profile.lowest(-steepest, steepest);
    let gain = (profile.at(lowest).0 - slopes.least).max(0.0) / slopes.widening;
    let price = 2.0 * libm::log(points.times.len() as f64);
    1.0 / (1.0 + libm::exp(-0.5 * (gain - price)))
}

fn over_saturation(level: Range, spot: Doubted, hold: &Hold) -> Range {
    let at = |kelvin: f64| saturation_pressure(kelvin).max(f64::MIN_POSITIVE);
    let twofold = if hold.gauge.response == GasResponse::Independent { 1.0 } else { 2.0 };
    let scale = 1.96 * hold.gauge.scale_doubt.abs();
    let doubt = 1.96 * spot.doubt.abs();
    Range {
        value: level.value / at(spot.value),
        low: level.low * (1.0 - scale).max(0.0) / twofold / at(spot.value + doubt),
        high: level.high * (1.0 + scale) / at(spot.value - doubt),
    }
}

fn throughput(volume: Doubted, rate: Range, limit: f64, hold: &Hold) -> Throughput {
    let doubt = 1.96 * (volume.doubt / volume.value).abs();
    let value = rate.value * volume.value;
    let wide = |edge: f64| libm::hypot(edge - rate.value, rate.value * doubt) * volume.value;
    let load =
        Range { value, low: (value - wide(rate.low)).max(0.0), high: value + wide(rate.high) };
    let scale = libm::hypot(doubt, 1.96 * hold.gauge.scale_doubt);
    Throughput { load, limit: limit * volume.value * (1.0 + scale) }
}

/// From the misfit `r T²/(26.8 τ)` of the best line to a gently curved rise (computed: the root
/// mean square of a parabola about its best line) at three standard deviations of the noise.
fn slowest_told(points: &Points, widening: f64) -> f64 {
    let count = points.pressures.len();
    let third = (count / 3).max(1);
    let rise = points.pressures[count - 1] - points.pressures[0];
    let slope = (rise / points.duration).max(0.0);
    let noise = points.noise.iter().sum::<f64>() / count as f64;
    let sure = 3.0 * noise * libm::sqrt(widening / count as f64);
    let told = slope * points.duration * points.duration / (26.8 * sure);
    if third < 2 { 0.0 } else { told.min(LONGEST * points.duration) }
}

fn verdict(straight: f64, levelling: f64) -> Verdict {
    let is_levelling = levelling > SURE;
    if straight > SURE {
        return if is_levelling { Verdict::Both } else { Verdict::Straight };
    }
    if straight < 1.0 - SURE {
        return if is_levelling { Verdict::Levelling } else { Verdict::Quiet };
    }
    Verdict::CannotTell
}

/// Evidence for a curve grows with the fifth power of time; twice the time so far at most.
fn wait_more(verdict: Verdict, straight: f64, duration: f64) -> Option<f64> {
    if verdict != Verdict::CannotTell {
        return None;
    }
    let have = libm::log(straight / (1.0 - straight)).abs().max(0.05);
    let factor = libm::pow(libm::log(SURE / (1.0 - SURE)) / have, 0.2);
    (factor <= 3.0).then(|| duration * (factor - 1.0).max(0.1))
}
