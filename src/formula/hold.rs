//! The readings of a hold as a value: what each draw makes of them.
//!
//! The gauge's scale and zero are the same draw in all its readings, here as in any other answer.
//! What the hold says is read once for all draws; each draw then takes one rate of its straight
//! part, and everything else as it goes with that rate.

mod draw;
#[cfg(test)]
mod tests;

use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use super::{DRAWS, Draws, stream};
use crate::rise::{
    GasResponse, Gauge, Hold, Missing, OF_HALF_WIDTH, Rates, Reading, read_without_forecast,
};
pub use draw::{HoldDraw, HoldGap};

/// The rate that matters where none is asked about: 5 micron/min in Pa/s (`estimate`). It moves no
/// rate, only the slope at which the other parts are told.
const MATTERS: f64 = 5.0 * 0.133_322_387_415 / 60.0;
/// Changes of temperature are told apart in steps of this many kelvin, and up to so many steps (limits
/// of ours: finer than any told change, and a hundred kelvin).
const DRIFT_STEP: f64 = 0.25;
const DRIFT_STEPS: usize = 400;

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
    told: Arc<OnceLock<Box<ByDrift>>>,
    chances: [OnceLock<Arc<[f64]>>; Chance::NAMES.len()],
}

/// What a hold says at one drift, or why it says nothing.
type Answer = Result<Box<Told>, Missing>;

/// The same at every step of the drift that was asked about.
type ByDrift = [OnceLock<Answer>; DRIFT_STEPS + 1];

/// What chance decides in a draw.
#[derive(Clone, Copy, Debug)]
enum Chance {
    /// Whether there is a straight part, and its rate.
    Straight,
    /// Whether a part levels off.
    Levelling,
    /// Its time constant.
    Constant,
    /// How far the step at the start is misread.
    Step,
    /// How far the first reading is misread.
    First,
    /// How far the last reading is misread.
    Last,
    /// Where it stood when nobody read.
    Unread,
}

impl Chance {
    /// The names of the streams, in the order of the kinds.
    const NAMES: [&str; 7] =
        ["straight", "levelling", "constant", "step", "first", "last", "unread"];
}

/// What a hold says, and the rates to be drawn.
#[derive(Debug)]
struct Told {
    reading: Reading,
    rates: Rates,
    above: Mutex<Vec<(i32, f64)>>,
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

    /// What the hold says while its temperature may drift by so many K. Every draw asks, so that what
    /// is known is read without a lock.
    fn told(&self, drift: f64) -> &Answer {
        let step = (drift.abs() / DRIFT_STEP).round().min(DRIFT_STEPS as f64) as usize;
        let by_drift =
            self.told.get_or_init(|| Box::new([const { OnceLock::new() }; DRIFT_STEPS + 1]));
        by_drift[step].get_or_init(|| {
            read_without_forecast(&self.hold(step as f64 * DRIFT_STEP)).map(|reading| {
                let rates = reading.posterior.rates();
                Box::new(Told { reading, rates, above: Mutex::default() })
            })
        })
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
    fn chance(&self, what: Chance) -> &[f64] {
        let place = what as usize;
        self.chances[place]
            .get_or_init(|| stream(&format!("{}:{}", self.name, Chance::NAMES[place])))
    }
}

impl Told {
    /// P(straight part larger than `above` Pa/s as the gauge reads): taken at steps of an eighth in
    /// the logarithm and in a straight line between them, as each costs thousands of powers.
    fn probability_above(&self, above: f64) -> f64 {
        let place = 8.0 * libm::log(above);
        let below = libm::floor(place);
        let mut known = self.above.lock().unwrap_or_else(PoisonError::into_inner);
        let mut at = |step: i32| match known.iter().find(|(of, _)| *of == step) {
            Some((_, probability)) => *probability,
            None => {
                let above = libm::exp(f64::from(step) / 8.0);
                let probability = self.reading.posterior.probability_above(above);
                known.push((step, probability));
                probability
            }
        };
        let (low, high) = (at(below as i32), at(below as i32 + 1));
        low + (high - low) * (place - below)
    }
}
