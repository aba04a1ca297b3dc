//! What one draw makes of the readings of a hold.

use super::{Chance, HoldReadings, Told};
use crate::rise::{Missing, Range};

/// Times in s that are no further apart are the same moment.
const SAME_MOMENT: f64 = 1e-9;

/// One draw of a hold.
#[derive(Clone, Copy, Debug)]
pub struct HoldDraw<'a> {
    pub(super) hold: &'a HoldReadings,
    pub(super) row: usize,
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

impl<'a> HoldDraw<'a> {
    /// Whether there is a straight part larger than `above` Pa/s, in truth.
    ///
    /// # Errors
    /// What is missing for telling the parts apart.
    pub fn is_straight_above(self, above: f64, drift: f64) -> Result<bool, HoldGap> {
        let told = self.told(drift)?;
        let shown = above * (1.0 + self.scale());
        Ok(shown > 0.0 && self.chance(Chance::Straight) < told.probability_above(shown))
    }

    /// Whether there is a part that levels off.
    ///
    /// # Errors
    /// What is missing for telling the parts apart.
    pub fn is_levelling(self, drift: f64) -> Result<bool, HoldGap> {
        let told = self.told(drift)?;
        Ok(self.chance(Chance::Levelling) < told.reading.levelling.probability)
    }

    /// Rate of the straight part in Pa/s.
    ///
    /// # Errors
    /// What is missing for telling the parts apart.
    pub fn rate(self, drift: f64) -> Result<f64, HoldGap> {
        Ok(self.shown_rate(self.told(drift)?) / (1.0 + self.scale()))
    }

    /// The pressure in Pa that the rest heads for once the straight part is left out.
    ///
    /// # Errors
    /// What is missing for telling the parts apart.
    pub fn level(self, drift: f64) -> Result<f64, HoldGap> {
        let told = self.told(drift)?;
        // Half of the draws lie on either side of what a reading of the rise tells.
        let rates = Range { value: told.rates.at(0.5), ..told.reading.rate };
        let rate = self.shown_rate(told);
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
        let mut left = whole * self.chance(Chance::Constant);
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
        let shown = if is_seen { step + self.scatter(Chance::Step) } else { 0.0 };
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
        self.true_pressure(shown + self.scatter(Chance::First))
    }

    /// The last reading in Pa.
    #[must_use]
    pub fn end(self) -> f64 {
        let shown = self.hold.pressures.last().copied().unwrap_or(f64::NAN);
        self.true_pressure(shown + self.scatter(Chance::Last))
    }

    /// How much higher in Pa it read after `duration` s than at first; between two readings in a
    /// straight line.
    ///
    /// # Errors
    /// The hold ended before.
    pub fn rise_over(self, duration: f64) -> Result<f64, HoldGap> {
        let hold = self.hold;
        let (first, last) = (self.scatter(Chance::First), self.scatter(Chance::Last));
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
        let then = last + self.chance(Chance::Unread) * (next - last);
        let shown = inside.iter().copied().fold(then, f64::max);
        Ok(self.true_pressure(shown + self.scatter(Chance::Last)))
    }

    fn not_ended(self, asked: f64) -> Result<(), HoldGap> {
        let at = self.hold.duration();
        if asked <= at * (1.0 + 1e-9) { Ok(()) } else { Err(HoldGap::Ended { at, asked }) }
    }

    fn told(self, drift: f64) -> Result<&'a Told, HoldGap> {
        match self.hold.told(drift) {
            Ok(told) => Ok(told),
            Err(missing) => Err(HoldGap::Missing(*missing)),
        }
    }

    /// A draw with a straight part has the larger rates.
    fn shown_rate(self, told: &Told) -> f64 {
        told.rates.at(1.0 - self.chance(Chance::Straight))
    }

    fn chance(self, what: Chance) -> f64 {
        self.hold.chance(what)[self.row]
    }

    /// Half a step of the display and what does not repeat, to either side.
    fn scatter(self, which: Chance) -> f64 {
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
