//! Rows as they come, gathered into readings in bounded memory.

use super::decimal::Decimal;
use super::readings::{Beyond, Mark, Reading, Readings};
use super::resolution::DisplaySteps;
use super::thinning::{Bins, MOST_KEPT, Row};
use super::{Notes, Remark};

/// Marks that are kept one by one.
const MOST_MARKS: usize = 1000;
/// Pauses between rows from which the usual one is told.
const PAUSES: usize = 64;
/// Pauses that are needed before one can be called usual.
const FEWEST_PAUSES: usize = 8;
/// How many times the usual pause is a gap.
const GAP: f64 = 2.5;

/// A row that can't be taken: an elapsed time before that of the row above.
pub(super) struct GoesBack;

/// All that is known of the rows so far.
pub(super) struct Gathering {
    /// Whether rows may come in any order of time.
    pub is_sorted_in: bool,
    pub notes: Notes,
    pub steps: DisplaySteps,
    /// The row above.
    pub previous: Option<Row>,
    rows: Vec<Row>,
    bins: Option<Bins>,
    is_in_order: bool,
    ends: Option<Ends>,
    marks: Vec<Mark>,
    marked: u64,
    pauses: Vec<f64>,
    usual_pause: Option<f64>,
}

/// The rows that stay as they are.
#[derive(Clone, Copy)]
struct Ends {
    first: Row,
    last: Row,
    lowest: Row,
    highest: Row,
}

impl Ends {
    fn add(&mut self, row: Row) {
        if row.time < self.first.time {
            self.first = row;
        }
        if row.time > self.last.time {
            self.last = row;
        }
        if row.pressure < self.lowest.pressure {
            self.lowest = row;
        }
        if row.pressure > self.highest.pressure {
            self.highest = row;
        }
    }
}

impl Gathering {
    pub fn new() -> Self {
        Self {
            is_sorted_in: false,
            notes: Notes::default(),
            steps: DisplaySteps::default(),
            previous: None,
            rows: Vec::new(),
            bins: None,
            is_in_order: true,
            ends: None,
            marks: Vec::new(),
            marked: 0,
            pauses: Vec::new(),
            usual_pause: None,
        }
    }

    /// A row at which the gauge was off its scale; `time` in s of the log's zero.
    pub fn mark(&mut self, time: f64, beyond: Beyond, limit_pa: Option<f64>) {
        self.marked += 1;
        if self.marks.len() < MOST_MARKS {
            self.marks.push(Mark { time_s: time, beyond, limit_pa });
        }
    }

    /// A row with its pressure; `shown` is the number in the log's own unit.
    pub fn add(&mut self, row: Row, shown: Option<Decimal>, text: &[u8]) -> Result<(), GoesBack> {
        if let Some(previous) = self.previous {
            if row.time < previous.time {
                if !self.is_sorted_in {
                    return Err(GoesBack);
                }
                self.is_in_order = false;
                self.notes.add(row.line, text, Remark::OutOfOrder);
            } else if row.time == previous.time {
                if row.pressure == previous.pressure {
                    self.notes.add(row.line, text, Remark::Repeated);
                    return Ok(());
                }
                self.notes.add(row.line, text, Remark::Averaged);
            } else {
                self.watch_pause(row.time - previous.time, row.line, text);
            }
        }
        self.previous = Some(row);
        if let Some(shown) = shown {
            self.steps.add(shown);
        }
        match &mut self.ends {
            Some(ends) => ends.add(row),
            None => self.ends = Some(Ends { first: row, last: row, lowest: row, highest: row }),
        }
        self.keep(row);
        Ok(())
    }

    fn keep(&mut self, row: Row) {
        if let Some(bins) = &mut self.bins {
            return bins.add(row);
        }
        self.rows.push(row);
        if self.rows.len() > MOST_KEPT {
            self.bins = Bins::of(&self.rows);
            self.rows = Vec::new();
        }
    }

    fn watch_pause(&mut self, pause: f64, line: u64, text: &[u8]) {
        if let Some(usual) = self.usual_pause {
            if pause > GAP * usual {
                self.notes.add(line, text, Remark::BehindGap);
            }
            return;
        }
        if self.pauses.len() >= FEWEST_PAUSES
            && let Some(usual) = regular(&self.pauses)
        {
            if pause > GAP * usual {
                return self.notes.add(line, text, Remark::BehindGap);
            }
            if self.pauses.len() >= PAUSES {
                self.usual_pause = Some(usual);
            }
        }
        if self.pauses.len() < PAUSES {
            self.pauses.push(pause);
        }
    }

    /// As [`finish`](Self::finish), with the resolution that is told from the steps.
    pub fn finish_with_steps(
        self,
        resolution: impl FnOnce(&DisplaySteps) -> Option<f64>,
    ) -> Option<(Readings, f64)> {
        let resolution = resolution(&self.steps);
        let (mut readings, origin) = self.finish()?;
        readings.resolution = resolution;
        Some((readings, origin))
    }

    /// The readings, in s from the first, and the time of the first; none without rows.
    fn finish(mut self) -> Option<(Readings, f64)> {
        let ends = self.ends?;
        let bins = self.bins.take();
        let zero = bins.as_ref().map_or(0.0, |bins| bins.origin);
        let (times, pressures, weights) = match &bins {
            Some(bins) => means(bins),
            None => self.merged(),
        };
        let mut readings = Readings::weighted(&times, &pressures, weights).ok()?;
        let origin = ends.first.time;
        // Times count from the earliest row, also where the first bin's mean lies behind it.
        let shift = times.first()? - (origin - zero);
        if shift > 0.0 {
            readings.times.iter_mut().for_each(|time| *time += shift);
        }
        let reading = |row: Row| Reading { time_s: row.time - origin, pressure_pa: row.pressure };
        readings.first = reading(ends.first);
        readings.last = reading(ends.last);
        readings.lowest = reading(ends.lowest);
        readings.highest = reading(ends.highest);
        self.marks.iter_mut().for_each(|mark| mark.time_s -= origin);
        self.notes.sort();
        (readings.marks, readings.marked, readings.notes) = (self.marks, self.marked, self.notes);
        Some((readings, origin))
    }

    /// The rows in order, those of one time as their mean.
    fn merged(&mut self) -> (Vec<f64>, Vec<f64>, Vec<u64>) {
        if !self.is_in_order {
            self.rows.sort_by(|a, b| a.time.total_cmp(&b.time));
        }
        let (mut times, mut sums, mut weights): (Vec<f64>, Vec<f64>, Vec<u64>) = Default::default();
        for row in &self.rows {
            match (times.last(), sums.last_mut(), weights.last_mut()) {
                (Some(&time), Some(sum), Some(weight)) if time == row.time => {
                    *sum += row.pressure;
                    *weight += 1;
                }
                _ => {
                    times.push(row.time);
                    sums.push(row.pressure);
                    weights.push(1);
                }
            }
        }
        let means = sums.iter().zip(&weights).map(|(sum, &weight)| sum / weight as f64).collect();
        (times, means, weights)
    }
}

/// The middle of pauses that are nearly all alike.
fn regular(pauses: &[f64]) -> Option<f64> {
    let mut sorted = pauses.to_vec();
    sorted.sort_by(f64::total_cmp);
    let middle = *sorted.get(sorted.len() / 2)?;
    let alike = sorted.iter().filter(|pause| (*pause - middle).abs() <= 0.2 * middle).count();
    (5 * alike >= 4 * sorted.len()).then_some(middle)
}

/// Mean times in s of the bins' origin, mean pressures and numbers of rows.
fn means(bins: &Bins) -> (Vec<f64>, Vec<f64>, Vec<u64>) {
    let (mut times, mut pressures, mut weights): (Vec<f64>, Vec<f64>, Vec<u64>) =
        Default::default();
    for bin in bins.in_order() {
        match (times.last(), pressures.last_mut(), weights.last_mut()) {
            // Two means can meet at the border of their bins.
            (Some(&time), Some(pressure), Some(weight)) if bin.time() <= time => {
                let sum = *pressure * *weight as f64 + bin.pressure() * bin.readings as f64;
                *weight += bin.readings;
                *pressure = sum / *weight as f64;
            }
            _ => {
                times.push(bin.time());
                pressures.push(bin.pressure());
                weights.push(bin.readings);
            }
        }
    }
    (times, pressures, weights)
}
