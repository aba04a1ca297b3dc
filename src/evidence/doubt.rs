//! The doubt in an answer: a reading as a column of true values that could have caused it.
//!
//! A reading is the true value times (1 + scale), plus offset, plus repeatability, plus
//! resolution (GUM, JCGM 100:2008, 4.3.7: each known only by its bounds, so rectangular). Scale
//! and offset are the instrument's own and the same draw serves all its readings, so that a
//! difference of two readings on one gauge keeps only what does not repeat.

use std::cell::RefCell;
use std::collections::HashMap;
use std::sync::Arc;

use super::record::Reach;
use crate::formula::{Applied, DRAWS, Draws, HoldReadings, stream};

/// Streams already made, by name: making one costs a hash and a shuffle. Holds already read as
/// well: reading one costs a fit. And functions already applied.
#[derive(Debug, Default)]
pub struct Streams {
    made: RefCell<HashMap<String, Arc<[f64]>>>,
    holds: RefCell<Vec<Arc<HoldReadings>>>,
    applied: Applied,
}

/// How many holds are kept; more than one case has, but for those that were put right.
const MOST_HOLDS: usize = 16;

impl Streams {
    /// The stream of this name; the same numbers each time.
    #[must_use]
    pub fn get(&self, name: &str) -> Arc<[f64]> {
        if let Some(made) = self.made.borrow().get(name) {
            return Arc::clone(made);
        }
        let made = stream(name);
        self.made.borrow_mut().insert(name.to_owned(), Arc::clone(&made));
        made
    }

    /// Functions already applied to columns of draws.
    #[must_use]
    pub fn applied(&self) -> &Applied {
        &self.applied
    }

    /// The same hold as one that was met before, with what has been read of it; else this one.
    #[must_use]
    pub fn hold(&self, hold: HoldReadings) -> Arc<HoldReadings> {
        let mut known = self.holds.borrow_mut();
        if let Some(same) = known.iter().find(|one| ***one == hold) {
            return Arc::clone(same);
        }
        let hold = Arc::new(hold);
        if known.len() == MOST_HOLDS {
            known.remove(0);
        }
        known.push(Arc::clone(&hold));
        hold
    }

    /// Draws evenly over plus or minus a half-width; certain 0 if that is 0.
    #[must_use]
    pub fn around_zero(&self, name: &str, half_width: &Draws<f64>) -> Draws<f64> {
        if *half_width == Draws::Same(0.0) {
            return Draws::Same(0.0);
        }
        Draws::Each(self.get(name)).zip(half_width, |u, half_width| (2.0 * u - 1.0) * half_width)
    }

    /// Draws over `low..=high`: evenly, or evenly in the logarithm where the range spans a decade.
    #[must_use]
    pub fn between(&self, name: &str, low: f64, high: f64) -> Draws<f64> {
        if low == high {
            return Draws::Same(low);
        }
        let column = self.get(name);
        let spans_a_decade = low > 0.0 && high >= 10.0 * low;
        let draw = |u: f64| {
            if spans_a_decade {
                low * libm::exp(u * libm::log(high / low))
            } else {
                low + u * (high - low)
            }
        };
        Draws::Each(column.iter().map(|&u| draw(u)).collect())
    }
}

/// The parts of an instrument's error that one reading takes part in.
#[derive(Clone, Debug)]
pub struct InstrumentError {
    /// Relative error of the scale, draw by draw; the same for all its readings.
    pub scale: Draws<f64>,
    /// Error of the zero, draw by draw, in SI units; the same for all its readings.
    pub offset: Draws<f64>,
    /// The step between two readings that it can show, in SI units.
    pub resolution: f64,
}

/// What is known of one reading.
#[derive(Clone, Copy, Debug)]
pub struct Reading<'a> {
    /// A name for its own streams, unique to this answer.
    pub name: &'a str,
    /// The number read, in SI units.
    pub shown: f64,
    /// Whether it is the value or a bound.
    pub reach: Reach,
    /// Half-width of what does not repeat, in SI units.
    pub repeats: f64,
    /// The lowest and highest true value that the question takes, in SI units.
    pub range: Option<(f64, f64)>,
    /// Whether the true value can't be below zero.
    pub is_positive: bool,
}

/// The true values that a reading may stand for.
#[must_use]
pub fn true_values(
    reading: &Reading<'_>,
    instrument: Option<&InstrumentError>,
    streams: &Streams,
) -> Draws<f64> {
    let shown = shown_values(reading, streams);
    let repeats =
        streams.around_zero(&format!("{}:repeats", reading.name), &Draws::Same(reading.repeats));
    let Some(instrument) = instrument else {
        return floored(&shown.zip(&repeats, |shown, error| shown - error), reading.is_positive);
    };
    let resolution = streams.around_zero(
        &format!("{}:resolution", reading.name),
        &Draws::Same(instrument.resolution / 2.0),
    );
    let read = shown
        .zip(&repeats, |shown, error| shown - error)
        .zip(&resolution, |shown, error| shown - error)
        .zip(&instrument.offset, |shown, error| shown - error)
        .zip(&instrument.scale, |shown, error| shown / (1.0 + error));
    floored(&read, reading.is_positive)
}

/// A bound leaves everything open up to the end of the question's range.
fn shown_values(reading: &Reading<'_>, streams: &Streams) -> Draws<f64> {
    let (low, high) = match (reading.reach, reading.range) {
        (Reach::Exact, _) | (_, None) => return Draws::Same(reading.shown),
        (Reach::Over, Some((_, high))) => (reading.shown, high.max(reading.shown)),
        (Reach::Under, Some((low, _))) => (low.min(reading.shown), reading.shown),
    };
    streams.between(&format!("{}:bound", reading.name), low, high)
}

/// An absolute pressure below zero is not a pressure.
fn floored(values: &Draws<f64>, is_positive: bool) -> Draws<f64> {
    if is_positive { values.map(|value| value.max(0.0)) } else { values.clone() }
}

/// The share of draws in which a column lies above a limit; for tests and messages.
#[must_use]
pub fn share_above(values: &Draws<f64>, limit: f64) -> f64 {
    match values {
        Draws::Same(value) => f64::from(u8::from(*value > limit)),
        Draws::Each(values) => {
            values.iter().filter(|&&value| value > limit).count() as f64 / DRAWS as f64
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const MICRON: f64 = 0.133_322_387_415;

    fn reading(name: &str, micron: f64, repeats: f64) -> Reading<'_> {
        Reading {
            name,
            shown: micron * MICRON,
            reach: Reach::Exact,
            repeats: repeats * MICRON,
            range: None,
            is_positive: true,
        }
    }

    fn gauge(streams: &Streams) -> InstrumentError {
        InstrumentError {
            scale: Draws::Same(0.0),
            offset: streams.around_zero("gauge:offset", &Draws::Same(5.0 * MICRON)),
            resolution: MICRON,
        }
    }

    /// Common practice: a gauge good to +-5 micron can't tell 26 from a limit of 30.
    #[test]
    fn a_coarse_gauge_does_not_settle_a_near_limit() {
        let streams = Streams::default();
        let gauge = gauge(&streams);
        let true_value = true_values(&reading("a", 26.0, 1.0), Some(&gauge), &streams);
        let above = share_above(&true_value, 30.0 * MICRON);
        assert!((0.1..0.2).contains(&above), "{above}");
    }

    /// Common practice: the same gauge tells 26 from 30 if it repeats within 1 micron.
    #[test]
    fn the_same_gauge_tells_two_readings_apart() {
        let streams = Streams::default();
        let gauge = gauge(&streams);
        let low = true_values(&reading("a", 26.0, 1.0), Some(&gauge), &streams);
        let high = true_values(&reading("b", 30.0, 1.0), Some(&gauge), &streams);
        let difference = high.zip(&low, |high, low| high - low);
        assert!(share_above(&difference, 0.0) > 0.999);
    }

    #[test]
    fn a_reading_off_the_scale_stays_above_its_bound() {
        let streams = Streams::default();
        let mut over = reading("a", 20_000.0, 0.0);
        over.reach = Reach::Over;
        over.range = Some((0.0, 760_000.0 * MICRON));
        let values = true_values(&over, None, &streams);
        assert!(values.values().iter().all(|&v| v >= 20_000.0 * MICRON));
        assert!(values.values().iter().any(|&v| v > 500_000.0 * MICRON));
    }
}
