//! The readings of one hold test.

use jiff::Timestamp;
use jiff::civil::DateTime;
use thiserror::Error;

use super::Notes;
use crate::quantity::UnitExpression;

/// A pressure at a time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Seconds since the first reading.
    pub time_s: f64,
    /// Absolute pressure in Pa.
    pub pressure_pa: f64,
}

/// Which end of its scale a gauge was beyond.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Beyond {
    /// Above the highest pressure that it shows.
    Over,
    /// Below the lowest.
    Under,
}

/// A row at which the gauge was off its scale: a time without a pressure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    /// Seconds since the first reading; negative before it.
    pub time_s: f64,
    /// Which end.
    pub beyond: Beyond,
    /// The end of the scale in Pa, where the row told it.
    pub limit_pa: Option<f64>,
}

/// When the first reading was taken, as far as the log tells.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Start {
    /// A moment: a date and a time with its offset from UTC.
    Moment(Timestamp),
    /// A date and a time on a clock whose offset is not told.
    Local(DateTime),
    /// Seconds since midnight, of no date that is told.
    TimeOfDay(f64),
}

/// Why numbers can't be the readings of a hold test.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum ReadingsError {
    /// There is none.
    #[error("there are no readings")]
    Empty,
    /// As many times as pressures are needed.
    #[error("there are {times} times for {pressures} pressures")]
    Unpaired {
        /// How many times.
        times: usize,
        /// How many pressures.
        pressures: usize,
    },
    /// A time or a pressure is no finite number, or a pressure is below zero.
    #[error("reading {number} is no time with an absolute pressure")]
    Impossible {
        /// Which, from 1.
        number: usize,
    },
    /// A time is not after the one before it.
    #[error("reading {number} is not later than the one before it")]
    NotLater {
        /// Which, from 1.
        number: usize,
    },
}

/// Readings in the order of time, in SI units, with what else the log told.
///
/// Times rise strictly and count from the earliest row; pressures are finite and not negative. Of a long log the
/// readings are means over stretches of time, each with the number of rows that it stands for;
/// the first, last, lowest and highest rows are kept as they were.
#[derive(Clone, Debug, PartialEq)]
pub struct Readings {
    pub(super) times: Vec<f64>,
    pub(super) pressures: Vec<f64>,
    pub(super) weights: Vec<u64>,
    pub(super) first: Reading,
    pub(super) last: Reading,
    pub(super) lowest: Reading,
    pub(super) highest: Reading,
    pub(super) resolution: Option<f64>,
    pub(super) unit: Option<UnitExpression>,
    pub(super) start: Option<Start>,
    pub(super) marks: Vec<Mark>,
    pub(super) marked: u64,
    pub(super) notes: Notes,
}

impl Readings {
    /// Readings from times in s (of any zero) and absolute pressures in Pa.
    ///
    /// # Errors
    /// [`ReadingsError`] names the first reading that can't be one.
    ///
    /// ```
    /// use dryhold::series::Readings;
    /// let readings = Readings::new(&[60.0, 120.0], &[40.0, 56.0]).unwrap();
    /// assert_eq!(readings.times(), [0.0, 60.0]);
    /// let error = Readings::new(&[60.0, 60.0], &[40.0, 56.0]).unwrap_err();
    /// assert_eq!(error.to_string(), "reading 2 is not later than the one before it");
    /// ```
    pub fn new(times: &[f64], pressures: &[f64]) -> Result<Self, ReadingsError> {
        Self::weighted(times, pressures, vec![1; times.len()])
    }

    /// As [`new`](Self::new), each standing for a number of rows.
    pub(super) fn weighted(
        times: &[f64],
        pressures: &[f64],
        weights: Vec<u64>,
    ) -> Result<Self, ReadingsError> {
        if times.len() != pressures.len() {
            let (times, pressures) = (times.len(), pressures.len());
            return Err(ReadingsError::Unpaired { times, pressures });
        }
        let &origin = times.first().ok_or(ReadingsError::Empty)?;
        let times: Vec<f64> = times.iter().map(|time| time - origin).collect();
        check(&times, pressures)?;
        let at = |i: usize| Reading { time_s: times[i], pressure_pa: pressures[i] };
        let all = || (0..times.len()).map(at);
        let lower = |a: Reading, b: Reading| if b.pressure_pa < a.pressure_pa { b } else { a };
        let higher = |a: Reading, b: Reading| if b.pressure_pa > a.pressure_pa { b } else { a };
        Ok(Self {
            first: at(0),
            last: at(times.len() - 1),
            lowest: all().fold(at(0), lower),
            highest: all().fold(at(0), higher),
            pressures: pressures.to_vec(),
            times,
            weights,
            resolution: None,
            unit: None,
            start: None,
            marks: Vec::new(),
            marked: 0,
            notes: Notes::default(),
        })
    }

    /// How many readings are held; never 0.
    #[must_use]
    #[expect(clippy::len_without_is_empty, reason = "there is always a reading")]
    pub fn len(&self) -> usize {
        self.times.len()
    }

    /// Seconds since the earliest row, rising strictly; the first is 0 unless it is the mean of
    /// several rows.
    #[must_use]
    pub fn times(&self) -> &[f64] {
        &self.times
    }

    /// Absolute pressures in Pa.
    #[must_use]
    pub fn pressures(&self) -> &[f64] {
        &self.pressures
    }

    /// How many rows of the log each reading is the mean of.
    #[must_use]
    pub fn weights(&self) -> &[u64] {
        &self.weights
    }

    /// How many rows of the log are in the readings.
    #[must_use]
    pub fn rows(&self) -> u64 {
        self.weights.iter().sum()
    }

    /// Whether readings stand for several rows each.
    #[must_use]
    pub fn is_thinned(&self) -> bool {
        self.weights.iter().any(|&weight| weight > 1)
    }

    /// The earliest row, as it stands in the log.
    #[must_use]
    pub fn first(&self) -> Reading {
        self.first
    }

    /// The latest row, as it stands in the log.
    #[must_use]
    pub fn last(&self) -> Reading {
        self.last
    }

    /// The earliest row of the lowest pressure, as it stands in the log.
    #[must_use]
    pub fn lowest(&self) -> Reading {
        self.lowest
    }

    /// The earliest row of the highest pressure, as it stands in the log.
    #[must_use]
    pub fn highest(&self) -> Reading {
        self.highest
    }

    /// Seconds between the earliest and the latest row.
    #[must_use]
    pub fn duration(&self) -> f64 {
        self.last.time_s - self.first.time_s
    }

    /// The step in Pa that the gauge displays, found in the readings: the largest of 1, 2 or 5
    /// times a power of ten that they all are multiples of. None where they show none.
    #[must_use]
    pub fn resolution(&self) -> Option<f64> {
        self.resolution
    }

    /// The unit that most pressures were given in; none if they were given in SI units.
    #[must_use]
    pub fn unit(&self) -> Option<&UnitExpression> {
        self.unit.as_ref()
    }

    /// When the first reading was taken, where the log tells.
    #[must_use]
    pub fn start(&self) -> Option<Start> {
        self.start
    }

    /// Rows at which the gauge was off its scale, in the order of the log; of a great many only
    /// the first ones.
    #[must_use]
    pub fn marks(&self) -> &[Mark] {
        &self.marks
    }

    /// How many rows there were at which the gauge was off its scale.
    #[must_use]
    pub fn marked(&self) -> u64 {
        self.marked
    }

    /// What was noticed about the rows.
    #[must_use]
    pub fn notes(&self) -> &Notes {
        &self.notes
    }

    /// The same readings of a gauge that displays steps of so many Pa.
    #[must_use]
    pub fn with_resolution(mut self, resolution_pa: f64) -> Self {
        self.resolution =
            (resolution_pa > 0.0 && resolution_pa.is_finite()).then_some(resolution_pa);
        self
    }
}

fn check(times: &[f64], pressures: &[f64]) -> Result<(), ReadingsError> {
    for (i, (time, pressure)) in times.iter().zip(pressures).enumerate() {
        if !(time.is_finite() && pressure.is_finite() && *pressure >= 0.0) {
            return Err(ReadingsError::Impossible { number: i + 1 });
        }
        if i > 0 && *time <= times[i - 1] {
            return Err(ReadingsError::NotLater { number: i + 1 });
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_can_be_no_readings_is_refused_with_its_number() {
        let error = |times: &[f64], pressures: &[f64]| Readings::new(times, pressures).unwrap_err();
        assert_eq!(error(&[], &[]), ReadingsError::Empty);
        assert_eq!(error(&[0.0], &[]), ReadingsError::Unpaired { times: 1, pressures: 0 });
        assert_eq!(error(&[0.0, 1.0], &[1.0, -1.0]), ReadingsError::Impossible { number: 2 });
        assert_eq!(error(&[0.0, f64::NAN], &[1.0, 1.0]), ReadingsError::Impossible { number: 2 });
        assert_eq!(error(&[0.0, 1.0, 0.5], &[1.0; 3]), ReadingsError::NotLater { number: 3 });
    }

    #[test]
    fn the_ends_and_extremes_are_found() {
        let readings = Readings::new(&[5.0, 6.0, 8.0], &[3.0, 9.0, 1.0]).unwrap();
        assert_eq!(readings.duration(), 3.0);
        assert_eq!(readings.highest(), Reading { time_s: 1.0, pressure_pa: 9.0 });
        assert_eq!(readings.lowest(), readings.last());
        assert!(!readings.is_thinned());
    }
}
