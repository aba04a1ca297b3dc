//! A hold at a rig: when it is read, and what it tells.

use super::hand::{Hand, MINUTE};
use super::kit::Face;
use super::typed;
use crate::bench::gauge::Reading;
use crate::bench::operation::{Operation, Refusal};
use crate::bench::rig::{Place, Valve};

/// How long a hold is read at first, in s: half an hour, as a careful person does.
pub(super) const HALF_AN_HOUR: f64 = 30.0 * MINUTE;

/// A hold that runs or has been read.
#[derive(Clone, Debug)]
pub(super) struct Hold {
    /// Its readings, each with its time in s.
    pub readings: Vec<(f64, Reading)>,
    /// The clock in s when its count began.
    begun: f64,
    /// The temperature in K then.
    temperature: f64,
    /// How many readings were told last.
    pub told: usize,
    /// How long it is to be read at least, in s.
    pub planned: f64,
}

impl Hold {
    /// How long it has been read, in s.
    pub fn lasted(&self) -> f64 {
        self.readings.last().map_or(0.0, |(time, _)| *time)
    }

    /// Its first pressure in Pa.
    pub fn start(&self) -> Option<f64> {
        self.readings.first().and_then(|(_, reading)| reading.pressure())
    }

    /// How fast it rose in its last ten minutes, in Pa/s.
    pub fn last_rate(&self) -> Option<f64> {
        let (end, last) = self.readings.last()?;
        let is_early = |(time, _): &&(f64, Reading)| end - time >= 9.5 * MINUTE;
        let (start, first) = self.readings.iter().rev().find(is_early)?;
        Some((last.pressure()? - first.pressure()?) / (end - start))
    }

    /// Its readings as they are typed, those over the gauge's range left out.
    pub fn typed(&self, face: &Face, full_scale: f64) -> Option<String> {
        let shown: Vec<String> = self
            .readings
            .iter()
            .filter(|(_, reading)| reading.pressure().is_some())
            .map(|(time, reading)| {
                let minutes = libm::round(time / MINUTE);
                format!("{minutes} min {}", typed::pressure(*reading, face, full_scale))
            })
            .collect();
        (shown.len() > 1).then(|| shown.join(", "))
    }
}

/// The next time in s at which a hold is read: every minute for five, then every two, and after
/// half an hour every three. Mark: estimate.
fn next_time(time: f64) -> f64 {
    let step = if time < 4.5 * MINUTE {
        1.0
    } else if time < 29.0 * MINUTE {
        2.0
    } else {
        3.0
    };
    let next = time + step * MINUTE;
    // Half an hour is read to its end.
    if time < 29.5 * MINUTE && next > HALF_AN_HOUR { HALF_AN_HOUR } else { next }
}

impl Hand {
    /// Pulls the system down, shuts it off, and begins to read.
    pub(super) fn begin_hold(&mut self) -> Result<(), Refusal> {
        self.connect()?;
        if self.log.is_empty() {
            self.pull_down()?;
        }
        self.pull(10.0 * MINUTE)?;
        self.shut_for_hold()?;
        self.count_hold(HALF_AN_HOUR)
    }

    /// Pulls the system below where the hold before began, and shuts it off: its count begins
    /// where the gauge passes that reading.
    pub(super) fn hold_as_before(&mut self) -> Result<(), Refusal> {
        self.end_hold();
        let Some(before) = self.hold_before.clone() else { return self.begin_hold() };
        self.connect()?;
        let start = before.start().unwrap_or(f64::INFINITY);
        for _ in 0..12 {
            self.pull(5.0 * MINUTE)?;
            let shown = self.log.last().and_then(|(_, reading)| reading.pressure());
            if shown.is_some_and(|shown| shown < start) {
                break;
            }
        }
        self.shut_for_hold()?;
        for _ in 0..20 {
            if self.gauge()?.pressure().is_none_or(|shown| shown >= 0.97 * start) {
                break;
            }
            self.perform(Operation::Wait(24.0))?;
        }
        self.count_hold(before.lasted())
    }

    fn count_hold(&mut self, planned: f64) -> Result<(), Refusal> {
        let begun = self.session.clock();
        let reading = self.gauge()?;
        self.hold = Some(Hold {
            readings: vec![(0.0, reading)],
            begun,
            temperature: self.session.temperature(Place::Section(0)),
            told: 0,
            planned,
        });
        Ok(())
    }

    /// Reads a hold on until so many s from its beginning.
    pub(super) fn read_hold_until(&mut self, until: f64) -> Result<(), Refusal> {
        loop {
            let Some(hold) = &self.hold else { return Ok(()) };
            let next = next_time(hold.lasted());
            if next > until + 1.0 {
                return Ok(());
            }
            let wait = hold.begun + next - self.session.clock();
            self.perform(Operation::Wait(wait.max(0.0)))?;
            let reading = self.gauge()?;
            if let Some(hold) = &mut self.hold {
                hold.readings.push((next, reading));
            }
        }
    }

    /// What a hold shows: the one that runs, read to its end or for longer if that was told.
    pub(super) fn read_hold(&mut self) -> Result<(), Refusal> {
        if self.hold.is_none() {
            self.begin_hold()?;
        }
        let Some(hold) = &self.hold else { return Ok(()) };
        let is_told = hold.told == hold.readings.len();
        let until = if hold.lasted() < hold.planned {
            hold.planned
        } else if is_told {
            hold.lasted() + HALF_AN_HOUR
        } else {
            return Ok(());
        };
        self.read_hold_until(until)
    }

    /// The hold that runs, or the last one.
    pub(super) fn latest_hold(&self) -> Option<&Hold> {
        self.hold.as_ref().or(self.hold_before.as_ref())
    }

    /// By how many K it got warmer in the latest hold.
    pub(super) fn warmer_in_hold(&self) -> f64 {
        let Some(hold) = self.latest_hold() else { return 0.0 };
        let drift = self.session.rig().ambient.drift;
        match &self.hold {
            Some(_) => self.session.temperature(Place::Section(0)) - hold.temperature,
            None => drift * hold.lasted(),
        }
    }

    /// Ends a hold that runs.
    pub(super) fn end_hold(&mut self) {
        if let Some(hold) = self.hold.take() {
            self.hold_before = Some(hold);
        }
    }

    /// Opens a valve again that was shut for a hold.
    pub(super) fn open_again(&mut self) -> Result<(), Refusal> {
        self.end_hold();
        self.run()?;
        for valve in [Valve::Pump, Valve::System] {
            if !self.is_open(valve) {
                self.perform(Operation::Open(valve))?;
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hold_is_read_every_minute_and_then_every_two_to_half_an_hour() {
        let mut times = vec![0.0];
        while times.last().is_some_and(|last| *last < HALF_AN_HOUR) {
            times.push(next_time(times[times.len() - 1]));
        }
        let minutes: Vec<f64> = times.iter().map(|time| time / MINUTE).collect();
        assert_eq!(minutes[..7], [0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 7.0]);
        assert_eq!(minutes[minutes.len() - 2..], [29.0, 30.0]);
        assert_eq!(next_time(HALF_AN_HOUR), 33.0 * MINUTE);
    }
}
