//! The reading itself: parts, doubts and the verdict.

use super::condense::{Points, condense};
use super::drift::{WATER, bends, held_by_water, without_dry_change, without_wet_change};
use super::fitted::Fitted;
use super::forecast::{More, more};
use super::input::{Doubted, Hold, Missing};
use super::levelling::{Best, Levelling, levelling, step};
use super::line::fit;
use super::posterior::Posterior;
use super::profile::Profile;
use super::slopes::Slopes;
use super::spread::{Columns, columns};

/// Time constants reach this share of the window: slower sources count as straight. Longer ones
/// leave real leaks undecided (computed: `benches/rise_population`, other seeds than it prints).
const LONGEST: f64 = 0.8;
/// Seconds that they reach in any case: in a short hold slower moisture is straight, and would
/// be called so until it is seen to bend (computed: the same logs, read at every new pressure).
const LONGEST_AT_LEAST: f64 = 900.0;
/// How sure a part must be to be called there, or not there below the rest to one (`estimate`:
/// the border at which findings are judged).
const SURE: f64 = 0.9;
/// `−2 ln` likelihood at the edge of a two-sided 95 % interval and a one-sided 95 % limit
/// (squares of the normal distribution's 1.96 and 1.645).
pub(super) const TWO_SIDED: f64 = 3.84;
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
    /// Rate of the straight part in Pa/s with its 95 % interval, whatever gas it is: the value is
    /// what the gauge reads, the low end is that of water vapour on a heat-loss gauge.
    pub rate: Range,
    /// The same rate as a distribution.
    pub posterior: Posterior,
    /// 95 % upper limit of that rate in Pa/s.
    pub rate_limit: f64,
    /// The part that levels off.
    pub levelling: Levelling,
    /// Rise within the step time in Pa.
    pub step: f64,
    /// Largest time constant in s of a single source that could still have been told from a
    /// straight part; slower ones count as straight. Never above 0.8 of the window
    /// or 15 min, whichever is more.
    pub slowest_told: f64,
    /// Root mean square of what no part explains, in Pa.
    pub misfit: f64,
    /// Gas load, once a volume is known.
    pub throughput: Option<Throughput>,
    /// The verdict.
    pub verdict: Verdict,
    /// How much longer is likely to settle it, if waiting can; only where the verdict is
    /// [`Verdict::CannotTell`].
    pub wait_more: Option<More>,
    /// What was fitted, for [`Reading::curves`].
    pub(super) fitted: Fitted,
}

/// Reads a hold. May be asked again at every new reading: the probability needs no correction
/// for looking, on average over its own prior.
///
/// # Errors
/// What is missing: too few readings, too short, falling or not numbers.
pub fn read(hold: &Hold) -> Result<Reading, Missing> {
    read_with(hold, more)
}

/// Reads a hold as [`read`] does, and leaves [`Reading::wait_more`] unasked, which costs many
/// times the rest where the verdict is [`Verdict::CannotTell`].
///
/// # Errors
/// As [`read`].
pub fn read_without_forecast(hold: &Hold) -> Result<Reading, Missing> {
    read_with(hold, |_, _, _, _, _| None)
}

type Forecast = fn(&Hold, &Points, &Columns, &mut Profile<'_>, &Slopes) -> Option<More>;

fn read_with(hold: &Hold, forecast: Forecast) -> Result<Reading, Missing> {
    let (points, columns) = prepare(hold)?;
    let mut profile = Profile::new(&columns);
    let slopes = Slopes::find(hold, &points, &columns, &mut profile);
    let mut reading = assemble(hold, &points, &columns, &mut profile, &slopes);
    if reading.verdict == Verdict::CannotTell {
        reading.wait_more = forecast(hold, &points, &columns, &mut profile, &slopes);
    }
    Ok(reading)
}

/// P(straight part larger than the rate that matters) alone, as in [`read`].
pub(super) fn probability(hold: &Hold) -> Result<f64, Missing> {
    let (points, columns) = prepare(hold)?;
    let slopes = Slopes::find(hold, &points, &columns, &mut Profile::new(&columns));
    Ok(slopes.belief.probability_above(hold.rate_that_matters))
}

/// Whether a probability of a straight part decides for it or against it.
pub(super) fn is_told(straight: f64) -> bool {
    !(1.0 - SURE..=SURE).contains(&straight)
}

fn prepare(hold: &Hold) -> Result<(Points, Columns), Missing> {
    hold.check()?;
    let mut points = condense(hold);
    without_dry_change(hold, &mut points);
    refuse_falling(&points)?;
    let longest = longest(points.duration);
    let first = points.pressures[0];
    let rise: Vec<f64> = points.pressures.iter().map(|p| (p - first).max(0.0)).collect();
    let guess = columns(&points, longest, &bends(hold, &points, &rise));
    let held_by_water = held_by_water(hold, &points, &guess);
    without_wet_change(hold, &mut points, &held_by_water);
    let columns = columns(&points, longest, &bends(hold, &points, &held_by_water));
    Ok((points, columns))
}

/// Time constants of the settling parts reach to here, in s.
fn longest(duration: f64) -> f64 {
    (LONGEST * duration).max(LONGEST_AT_LEAST)
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
    let best = Best { slope: at, amounts: &amounts };
    let levelling = levelling(hold, points, columns, profile, slopes, &best, rate);
    let rate = widened_for_vapour(hold, rate);
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
        posterior: Posterior::new(slopes.belief.clone()),
        rate_limit: limit * (1.0 + 1.645 * hold.gauge.scale_doubt),
        levelling,
        step,
        slowest_told,
        misfit: libm::sqrt(squares / points.times.len() as f64),
        throughput: hold.surroundings.volume.map(|volume| throughput(volume, rate, limit, hold)),
        verdict,
        wait_more: None,
        fitted: Fitted::new(hold.times[0], points, columns, at, &amounts, hold.step_time),
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

/// A slow source of water vapour rises as steadily, and a heat-loss gauge reads it up to twofold
/// (estimate), so half the low end may be all that rises. Of air the gauge reads what there is, so
/// that the high end and the limit of a leak stay.
fn widened_for_vapour(hold: &Hold, rate: Range) -> Range {
    Range { low: rate.low / hold.gauge.response.most_over_read(), ..rate }
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

/// From the misfit `r e/(2 τ)` of the best line to a gently curved rise `r (t - t²/(2 τ))` (expansion
/// for `t < τ`), seen where it is three standard deviations of the noise; `e` is what the best line
/// leaves of the squares of the times.
fn slowest_told(points: &Points, widening: f64) -> f64 {
    let count = points.pressures.len();
    let rise = points.pressures[count - 1] - points.pressures[0];
    let slope = (rise / points.duration).max(0.0);
    let noise = points.noise.iter().sum::<f64>() / count as f64;
    let squares: Vec<f64> = points.times.iter().map(|t| t * t).collect();
    let curved = fit(&points.times, &squares).map_or(0.0, |line| libm::sqrt(line.squares));
    let told = slope * curved / (2.0 * 3.0 * noise * libm::sqrt(widening));
    told.min(longest(points.duration))
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
