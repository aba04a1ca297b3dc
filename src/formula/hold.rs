//! The readings of a hold as a value: what each draw makes of them.
//!
//! The gauge's scale and zero are the same draw in all its readings, here as in any other answer.
//! What the hold says is read once for all draws; each draw then takes one rate of its straight
//! part, and everything else as it goes with that rate.

use std::sync::{Arc, Mutex, PoisonError};

use super::{DRAWS, Draws, stream};
use crate::rise::{
    GasResponse, Gauge, Hold, Missing, OF_HALF_WIDTH, Range, Rates, Reading, read_without_forecast,
};

/// The rate that matters where none is asked about: 5 micron/min in Pa/s (`estimate`). It moves no
/// rate, only the slope at which the other parts are told.
const MATTERS: f64 = 5.0 * 0.133_322_387_415 / 60.0;
/// Times in s that are no further apart are the same moment.
const SAME_MOMENT: f64 = 1e-9;
/// Changes of temperature are told apart in steps of this many kelvin.
const DRIFT_STEP: f64 = 0.25;

/// What is known of the gauge of a hold.
#[derive(Clone, Debug, PartialEq)]
pub struct HoldGauge {
    /// Relative error of the scale, draw by draw.
    pub scale: Draws<f64>,
    /// Error of the zero in Pa, draw by draw.
    pub offset: Draws<f64>,
    /// Step of the display in Pa; 0 if none is known.
    pub resolution: f64,
    /// Half-width in Pa of what does not repeat, where somebody said so.
    pub repeats: Option<f64>,
}

/// The readings of a hold.
#[derive(Debug)]
pub struct HoldReadings {
    name: String,
    times: Vec<f64>,
    pressures: Vec<f64>,
    gauge: HoldGauge,
    told: Arc<Mutex<Vec<(u16, Answer)>>>,
    chances: Mutex<Vec<Chance>>,
}

/// What a hold says at one drift, or why it says nothing.
type Answer = Result<Arc<Told>, Missing>;

/// A stream of chance with what it decides.
type Chance = (&'static str, Arc<[f64]>);

/// What a hold says, and the rates to be drawn.
#[derive(Debug)]
struct Told {
    reading: Reading,
    rates: Rates,
    above: Mutex<Vec<(i32, f64)>>,
}

/// One draw of a hold.
#[derive(Clone, Copy, Debug)]
pub struct HoldDraw<'a> {
    hold: &'a HoldReadings,
    row: usize,
}

/// Why a hold gives no answer in a draw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum HoldGap {
    /// Its parts can't be told.
    Missing(Missing),
    /// It ended before the time that was asked about, both in s after its first reading.
    Ended {
        /// When it ended.
        at: f64,
        /// What was asked about.
        asked: f64,
    },
    /// Nothing in it levels off.
    NothingLevels,
}

impl PartialEq for HoldReadings {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name
            && self.times == other.times
            && self.pressures == other.pressures
            && self.gauge == other.gauge
    }
}

impl HoldReadings {
    /// Readings at `times` in s, which rise, of `pressures` in Pa; as many of one as of the other.
    /// Draws of chance depend on `name` alone.
    #[must_use]
    pub fn new(name: String, times: Vec<f64>, pressures: Vec<f64>, gauge: HoldGauge) -> Self {
        let (told, chances) = Default::default();
        Self { name, times, pressures, gauge, told, chances }
    }

    /// The same hold, with what has been told of another of the same readings: that rests neither
    /// on the gauge's scale and zero nor on the name.
    #[must_use]
    pub fn as_told_of(mut self, other: &Self) -> Self {
        let is_same = self.times == other.times
            && self.pressures == other.pressures
            && self.gauge.resolution == other.gauge.resolution
            && self.gauge.repeats == other.gauge.repeats;
        if is_same {
            self.told = Arc::clone(&other.told);
        }
        self
    }

    /// Seconds of each reading.
    #[must_use]
    pub fn times(&self) -> &[f64] {
        &self.times
    }

    /// Pressures in Pa as the gauge showed them.
    #[must_use]
    pub fn pressures(&self) -> &[f64] {
        &self.pressures
    }

    /// One of the [`DRAWS`] draws.
    #[must_use]
    pub fn draw(&self, row: usize) -> HoldDraw<'_> {
        HoldDraw { hold: self, row: row % DRAWS }
    }

    /// Seconds from the first to the last reading.
    #[must_use]
    pub fn duration(&self) -> f64 {
        match (self.times.first(), self.times.last()) {
            (Some(first), Some(last)) => last - first,
            _ => 0.0,
        }
    }

    /// The place of a reading that contradicts those beside it, from 0.
    #[must_use]
    pub fn contradicted(&self) -> Option<usize> {
        match self.told(0.5) {
            Err(Missing::Odd { number, .. }) => number.checked_sub(1),
            _ => None,
        }
    }

    /// What the hold says while its temperature may drift by so many K.
    fn told(&self, drift: f64) -> Answer {
        let step = (drift.abs() / DRIFT_STEP).round().min(400.0) as u16;
        let mut known = self.told.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, told)) = known.iter().find(|(of, _)| *of == step) {
            return told.clone();
        }
        let told = read_without_forecast(&self.hold(f64::from(step) * DRIFT_STEP)).map(|reading| {
            let rates = reading.posterior.rates();
            Arc::new(Told { reading, rates, above: Mutex::default() })
        });
        known.push((step, told.clone()));
        told
    }

    /// Scale and offset are left to the draws.
    fn hold(&self, drift: f64) -> Hold {
        let gauge = Gauge {
            resolution: (self.gauge.resolution > 0.0).then_some(self.gauge.resolution),
            scale_doubt: 0.0,
            repeatability: self.gauge.repeats.map(|half| half * OF_HALF_WIDTH),
            // What the kind of gas does to a reading is for the handbook to weigh.
            response: GasResponse::Independent,
            ..Gauge::default()
        };
        let mut hold = Hold::new(self.times.clone(), self.pressures.clone(), gauge, MATTERS);
        hold.surroundings.drift = drift;
        hold
    }

    /// A number in (0, 1) for each draw, of this hold's own.
    fn chance(&self, what: &'static str) -> Arc<[f64]> {
        let mut known = self.chances.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, column)) = known.iter().find(|(of, _)| *of == what) {
            return Arc::clone(column);
        }
        let column = stream(&format!("{}:{what}", self.name));
        known.push((what, Arc::clone(&column)));
        column
    }
}

impl Told {
    /// P(straight part larger than `above` Pa/s as the gauge reads): taken at steps of an eighth in
    /// the logarithm and in a straight line between them, as each costs thousands of powers.
    fn probability_above(&self, above: f64) -> f64 {
        let place = 8.0 * libm::log(above);
        let below = libm::floor(place);
        let (low, high) = (self.at_step(below as i32), self.at_step(below as i32 + 1));
        low + (high - low) * (place - below)
    }

    fn at_step(&self, step: i32) -> f64 {
        let mut known = self.above.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, probability)) = known.iter().find(|(of, _)| *of == step) {
            return *probability;
        }
        let probability =
            self.reading.posterior.probability_above(libm::exp(f64::from(step) / 8.0));
        known.push((step, probability));
        probability
    }
}

impl HoldDraw<'_> {
    /// Whether there is a straight part larger than `above` Pa/s, in truth.
    ///
    /// # Errors
    /// What is missing for telling the parts apart.
    pub fn is_straight_above(self, above: f64, drift: f64) -> Result<bool, HoldGap> {
        let told = self.told(drift)?;
        let shown = above * (1.0 + self.scale());
        Ok(shown > 0.0 && self.chance("straight") < told.probability_above(shown))
    }

    /// Whether there is a part that levels off.
    ///
    /// # Errors
    /// What is missing for telling the parts apart.
    pub fn is_levelling(self, drift: f64) -> Result<bool, HoldGap> {
        let told = self.told(drift)?;
        Ok(self.chance("levelling") < told.reading.levelling.probability)
    }

    /// Rate of the straight part in Pa/s.
    ///
    /// # Errors
    /// What is missing for telling the parts apart.
    pub fn rate(self, drift: f64) -> Result<f64, HoldGap> {
        Ok(self.shown_rate(&*self.told(drift)?) / (1.0 + self.scale()))
    }

    /// The pressure in Pa that the rest heads for once the straight part is left out.
    ///
    /// # Errors
    /// What is missing for telling the parts apart.
    pub fn level(self, drift: f64) -> Result<f64, HoldGap> {
        let told = self.told(drift)?;
        // Half of the draws lie on either side of what a reading of the rise tells.
        let rates = Range { value: told.rates.at(0.5), ..told.reading.rate };
        let rate = self.shown_rate(&told);
        Ok(self.true_pressure(against(rate, rates, told.reading.levelling.level)))
    }

    /// The same in Pa as the gauge reads, with the range that the readings allow; no draw moves it.
    ///
    /// # Errors
    /// What is missing for telling the parts apart.
    pub fn level_shown(self, drift: f64) -> Result<Range, HoldGap> {
        Ok(self.told(drift)?.reading.levelling.level)
    }

    /// A time constant in s of what levels off, each as often as its share of the height.
    ///
    /// # Errors
    /// What is missing for telling the parts apart, or that nothing levels off.
    pub fn time_constant(self, drift: f64) -> Result<f64, HoldGap> {
        let told = self.told(drift)?;
        let spread = &told.reading.levelling.spread;
        let whole: f64 = spread.iter().map(|(_, height)| height).sum();
        let mut left = whole * self.chance("constant");
        for (time_constant, height) in spread {
            left -= height;
            if left <= 0.0 {
                return Ok(*time_constant);
            }
        }
        spread.last().map(|(time_constant, _)| *time_constant).ok_or(HoldGap::NothingLevels)
    }

    /// The rise in Pa at the start that equalises.
    ///
    /// # Errors
    /// What is missing for telling the parts apart.
    pub fn step(self, drift: f64) -> Result<f64, HoldGap> {
        let step = self.told(drift)?.reading.step;
        // Less than one step of the display is none.
        let is_seen = step > self.hold.gauge.resolution;
        let shown = if is_seen { step + self.scatter("step") } else { 0.0 };
        Ok(shown.max(0.0) / (1.0 + self.scale()))
    }

    /// The largest time constant in s that could still have been told from a straight part.
    ///
    /// # Errors
    /// What is missing for telling the parts apart.
    pub fn slowest_told(self, drift: f64) -> Result<f64, HoldGap> {
        Ok(self.told(drift)?.reading.slowest_told)
    }

    /// Whether the pressure falls.
    ///
    /// # Errors
    /// What is missing for telling so.
    pub fn is_falling(self) -> Result<bool, HoldGap> {
        match self.told(0.5) {
            Ok(_) => Ok(false),
            Err(HoldGap::Missing(Missing::Falling { .. })) => Ok(true),
            Err(gap) => Err(gap),
        }
    }

    /// Seconds from the first to the last reading.
    #[must_use]
    pub fn duration(self) -> f64 {
        self.hold.duration()
    }

    /// The step that the readings go in, in Pa; 0 if none is known.
    #[must_use]
    pub fn display_step(self) -> f64 {
        self.hold.gauge.resolution
    }

    /// The first reading in Pa.
    #[must_use]
    pub fn start(self) -> f64 {
        let shown = self.hold.pressures.first().copied().unwrap_or(f64::NAN);
        self.true_pressure(shown + self.scatter("first"))
    }

    /// The last reading in Pa.
    #[must_use]
    pub fn end(self) -> f64 {
        let shown = self.hold.pressures.last().copied().unwrap_or(f64::NAN);
        self.true_pressure(shown + self.scatter("last"))
    }

    /// How much higher in Pa it read after `duration` s than at first; between two readings in a
    /// straight line.
    ///
    /// # Errors
    /// The hold ended before.
    pub fn rise_over(self, duration: f64) -> Result<f64, HoldGap> {
        let hold = self.hold;
        let (first, last) = (self.scatter("first"), self.scatter("last"));
        self.not_ended(duration)?;
        let from = hold.times.first().copied().unwrap_or(f64::NAN);
        let shown = between(&hold.times, &hold.pressures, from + duration)
            - hold.pressures.first().copied().unwrap_or(f64::NAN);
        Ok((shown + last - first) / (1.0 + self.scale()))
    }

    /// The highest pressure in Pa within `within` s of the first reading. Where none was taken at
    /// the end of that time, it may have stood anywhere between the one before and the one after.
    ///
    /// # Errors
    /// The hold ended before.
    pub fn highest(self, within: f64) -> Result<f64, HoldGap> {
        self.not_ended(within)?;
        let (times, pressures) = (&self.hold.times, &self.hold.pressures);
        let end = times.first().copied().unwrap_or(f64::NAN) + within;
        let until = times.partition_point(|time| *time <= end + SAME_MOMENT);
        let (inside, after) = pressures.split_at(until.min(pressures.len()));
        let last = inside.last().copied().unwrap_or(f64::NAN);
        let is_read_then = times[..until].last().is_some_and(|time| *time >= end - SAME_MOMENT);
        let next = after.first().copied().filter(|_| !is_read_then).unwrap_or(last);
        let then = last + self.chance("unread") * (next - last);
        let shown = inside.iter().copied().fold(then, f64::max);
        Ok(self.true_pressure(shown + self.scatter("last")))
    }

    fn not_ended(self, asked: f64) -> Result<(), HoldGap> {
        let at = self.hold.duration();
        if asked <= at * (1.0 + 1e-9) { Ok(()) } else { Err(HoldGap::Ended { at, asked }) }
    }

    fn told(self, drift: f64) -> Result<Arc<Told>, HoldGap> {
        self.hold.told(drift).map_err(HoldGap::Missing)
    }

    /// A draw with a straight part has the larger rates.
    fn shown_rate(self, told: &Told) -> f64 {
        told.rates.at(1.0 - self.chance("straight"))
    }

    fn chance(self, what: &'static str) -> f64 {
        self.hold.chance(what)[self.row]
    }

    /// Half a step of the display and what does not repeat, to either side.
    fn scatter(self, which: &'static str) -> f64 {
        let gauge = &self.hold.gauge;
        let half_width = 0.5 * gauge.resolution + gauge.repeats.unwrap_or(0.0);
        (2.0 * self.chance(which) - 1.0) * half_width
    }

    fn scale(self) -> f64 {
        self.hold.gauge.scale.at(self.row)
    }

    fn true_pressure(self, shown: f64) -> f64 {
        ((shown - self.hold.gauge.offset.at(self.row)) / (1.0 + self.scale())).max(0.0)
    }
}

/// What goes with a rate: the higher the rate, the lower it is, straight between the three places
/// that are known.
fn against(rate: f64, rates: Range, other: Range) -> f64 {
    let (from, to, near, far) = if rate < rates.value {
        (rates.value, rates.low, other.value, other.high)
    } else {
        (rates.value, rates.high, other.value, other.low)
    };
    let share = if to == from { 0.0 } else { ((rate - from) / (to - from)).clamp(0.0, 1.0) };
    near + share * (far - near)
}

/// A pressure at a time, in a straight line between two readings.
fn between(times: &[f64], pressures: &[f64], at: f64) -> f64 {
    let above = times.partition_point(|time| *time < at).clamp(1, times.len().max(2) - 1);
    match (times.get(above - 1), times.get(above)) {
        (Some(low), Some(high)) => {
            let share = ((at - low) / (high - low)).clamp(0.0, 1.0);
            pressures[above - 1] + share * (pressures[above] - pressures[above - 1])
        }
        _ => pressures.first().copied().unwrap_or(f64::NAN),
    }
}

#[cfg(test)]
mod tests;
