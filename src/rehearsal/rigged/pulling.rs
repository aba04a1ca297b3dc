//! Somebody at a rig who pulls and waits: how long, and how often the gauge is looked at.

use super::hand::{Hand, MINUTE};
use super::hold::Hold;
use crate::bench::gauge::Reading;
use crate::bench::operation::{Operation, Refusal};

/// How often the gauge on the system is looked at while the pump pulls, in s. Mark: estimate.
const LOOKS_EVERY: f64 = 5.0 * MINUTE;
/// How long somebody careful lets pump and parts settle, in s (common practice: five minutes).
const SETTLES_IN: f64 = 5.0 * MINUTE;
/// The longest first pull on a system, in s. Mark: estimate.
const PATIENCE: f64 = 60.0 * MINUTE;
/// A reading that moves by less than this share stands; the handbooks' own 5 %.
const STANDS_WITHIN: f64 = 0.05;

impl Hand {
    /// Lets a time in s pass with the pump running, reading now and then where it pulls on the
    /// system.
    pub(super) fn pull(&mut self, seconds: f64) -> Result<(), Refusal> {
        let mut left = seconds;
        while left > 1e-6 {
            let stretch = left.min(LOOKS_EVERY);
            self.perform(Operation::Pull(stretch))?;
            left -= stretch;
            if self.pulls_on_system() {
                self.pulled += stretch;
                let reading = self.gauge()?;
                self.log.push((self.session.clock(), reading));
                self.coldest = Some(self.session.coldest());
            }
        }
        Ok(())
    }

    /// Lets a time in s pass with everything as it is.
    pub(super) fn pass(&mut self, seconds: f64) -> Result<(), Refusal> {
        if self.hold.is_some() {
            let until = self.hold.as_ref().map_or(0.0, Hold::lasted) + seconds;
            return self.read_hold_until(until);
        }
        if self.is_running() {
            self.pull(seconds)
        } else {
            self.perform(Operation::Wait(seconds)).map(|_| ())
        }
    }

    /// Starts the pump if it stands.
    pub(super) fn run(&mut self) -> Result<(), Refusal> {
        if self.is_running() { Ok(()) } else { self.perform(Operation::Pull(30.0)).map(|_| ()) }
    }

    /// Waits until what was changed has had its time, or less by a slip.
    pub(super) fn settle(&mut self) -> Result<(), Refusal> {
        self.run()?;
        let is_early = self.kit.slips.early == Some(self.settlings);
        self.settlings += 1;
        let wanted = if is_early { 0.2 * SETTLES_IN } else { SETTLES_IN };
        // What settles is pulled on: time with the pump off is none of it.
        let since = self.pump_since.map_or(self.changed_at, |on| on.max(self.changed_at));
        let passed = self.session.clock() - since;
        if passed < wanted { self.pull(wanted - passed) } else { Ok(()) }
    }

    /// Pulls on the system until it is deep, or stands, or patience ends.
    pub(super) fn pull_down(&mut self) -> Result<(), Refusal> {
        self.connect()?;
        let begun = self.session.clock();
        loop {
            self.pull(LOOKS_EVERY)?;
            let passed = self.session.clock() - begun;
            let shown = self.log.last().and_then(|(_, reading)| reading.pressure());
            let is_deep = shown.is_some_and(|shown| shown <= 0.6 * self.kit.target);
            let is_enough = passed >= 15.0 * MINUTE && (is_deep || self.stood() >= 10.0 * MINUTE);
            if is_enough || passed >= PATIENCE {
                return Ok(());
            }
        }
    }

    /// For how long in s the reading on the system has stood.
    pub(super) fn stood(&self) -> f64 {
        let Some((now, last)) = self.log.last() else { return 0.0 };
        let Some(last) = last.pressure() else { return 0.0 };
        let is_near = |(_, reading): &&(f64, Reading)| {
            reading.pressure().is_some_and(|shown| (shown - last).abs() <= STANDS_WITHIN * last)
        };
        let since = self.log.iter().rev().take_while(is_near).last();
        since.map_or(0.0, |(since, _)| now - since)
    }
}
