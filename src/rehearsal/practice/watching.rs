//! Pulling and waiting, and what the gauge shows meanwhile.

use super::exercise::{Between, Exercise, MINUTE, Rising};
use super::stretch::{Leg, LegKind, TestOf};
use crate::bench::gauge::Reading;
use crate::bench::hookup::{GaugePlace, Hookup};
use crate::bench::operation::{LONGEST, Operation, Refusal};
use crate::bench::rig::{Place, Valve};
use crate::text::{Line, Role};

/// How often the gauge is looked at in one pull or wait, at most (limit of ours).
const MOST_LOOKS: f64 = 10.0;
/// A reading that moves by less than this share stands; the handbook's own 5 %.
const STANDS_WITHIN: f64 = 0.05;

impl Exercise<'_> {
    /// One reading.
    pub(super) fn read(&mut self) -> Result<Vec<Line>, Refusal> {
        let reading = self.look_at_gauge()?;
        let shown = self.hand.shown_as(reading);
        self.note_reading(&shown);
        Ok(vec![self.at_gauge().push(Role::Value, shown).push(Role::Plain, ".")])
    }

    /// Reads the gauge and remembers it.
    pub(super) fn look_at_gauge(&mut self) -> Result<Reading, Refusal> {
        let reading = self.hand.gauge()?;
        let clock = self.session().clock();
        self.notes.log.push((clock, reading));
        if let Some(rising) = &mut self.notes.rising {
            let since = clock - rising.begun;
            rising.readings.push((since, reading));
        }
        Ok(reading)
    }

    pub(super) fn pull(&mut self, time: f64) -> Result<Vec<Line>, Refusal> {
        if self.pulls_on_nothing() {
            return self.pull_on_nothing(time);
        }
        let is_running = self.session().configuration().pump.is_running;
        if !is_running && self.reads() != Some(TestOf::Hold) {
            self.end_rising();
            self.change_something();
        }
        let pulls = |exercise: &Self| exercise.reads() == Some(TestOf::System);
        let lines = self.watch(time, Operation::Pull)?;
        if pulls(self) {
            self.since_hold(Between::PumpedOn);
        }
        self.follow_warmth()?;
        Ok(lines)
    }

    /// Whether the pump's own valve shuts it off from everything else; a capped pump has its gauge
    /// on its inlet.
    fn pulls_on_nothing(&self) -> bool {
        let set = self.session().configuration();
        set.hookup != Hookup::PumpCapped && !set.are_open[Valve::Pump as usize]
    }

    /// Runs the pump behind its own shut valve. What the gauge shows meanwhile is no test: whoever
    /// wants to watch a rise waits.
    fn pull_on_nothing(&mut self, time: f64) -> Result<Vec<Line>, Refusal> {
        let begun = self.session().clock();
        self.perform(Operation::Pull(time))?;
        let reading = self.hand.gauge()?;
        let minutes = (self.session().clock() - begun) / MINUTE;
        self.accounted += minutes * MINUTE;
        // With its ballast open the pump clears its oil meanwhile, which is some use.
        let clears_oil = self.session().configuration().pump.is_ballast_open;
        let idle = if clears_oil { 0.0 } else { minutes };
        let leg = Leg { minutes, idle, ..self.new_leg(LegKind::OnNothing) };
        self.legs.push(leg);
        let caution = "The valve at the pump is shut: the pump pulls on nothing. To pull, open it \
                       first: open pump. To watch the gauge, wait.";
        let shown = self.hand.shown_as(reading);
        let gauge = self.at_gauge().push(Role::Value, shown).push(Role::Plain, ".");
        Ok(vec![Line::plain(caution), gauge])
    }

    pub(super) fn wait(&mut self, time: f64) -> Result<Vec<Line>, Refusal> {
        if self.notes.standing_since.is_some() {
            self.perform(Operation::Wait(time))?;
            return self.read_nitrogen();
        }
        self.watch(time, Operation::Wait)
    }

    /// Lets a time pass and reads the gauge now and then.
    fn watch(&mut self, time: f64, operation: fn(f64) -> Operation) -> Result<Vec<Line>, Refusal> {
        if !(0.0..=LONGEST).contains(&time) {
            return Err(Refusal::NotThere);
        }
        let begun = self.session().clock();
        let step = (libm::ceil(time / MOST_LOOKS / MINUTE) * MINUTE).max(MINUTE);
        let mut looks = Vec::new();
        let mut until = 0.0;
        while until < time - 1e-6 {
            until = (until + step).min(time);
            let left = begun + until - self.session().clock();
            self.perform(operation(left.max(0.0)))?;
            if self.reads() == Some(TestOf::System) {
                self.notes.pulled += left.max(0.0);
            }
            let reading = self.look_at_gauge()?;
            let shown = self.hand.shown_as(reading);
            self.note_reading(&shown);
            looks.push((until, shown));
        }
        Ok(vec![self.told_of(&looks)])
    }

    fn told_of(&self, looks: &[(f64, String)]) -> Line {
        let mut line = self.at_gauge();
        for (place, (time, shown)) in looks.iter().enumerate() {
            let after = format!("{} min ", libm::round(time / 6.0) / 10.0);
            let gap = if place > 0 { ", " } else { "after " };
            line = line.push(Role::Plain, format!("{gap}{after}")).push(Role::Value, shown);
        }
        line.push(Role::Plain, ".")
    }

    /// Where the gauge is, to stand before what it shows.
    fn at_gauge(&self) -> Line {
        let set = self.session().configuration();
        let place = match (set.gauge, set.hookup) {
            (GaugePlace::System, Hookup::System) => "on the system",
            (_, Hookup::PumpCapped) => "on the pump",
            _ => "at the far end",
        };
        Line::plain(format!("The gauge {place} shows "))
    }

    /// What a reading would be of as everything stands.
    pub(super) fn reads(&self) -> Option<TestOf> {
        let set = self.session().configuration();
        let is_open = |valve: Valve| set.are_open[valve as usize];
        let (pump, system) = (is_open(Valve::Pump), is_open(Valve::System));
        let is_rising = self.notes.rising.is_some();
        match set.hookup {
            Hookup::PumpCapped => set.pump.is_running.then_some(TestOf::Pump),
            Hookup::PartCapped(_) | Hookup::RigCapped if !pump => {
                is_rising.then_some(TestOf::ShutOff)
            }
            Hookup::PartCapped(_) if set.pump.is_running => self.notes.part.map(TestOf::Part),
            Hookup::RigCapped if set.pump.is_running => Some(TestOf::Rig),
            Hookup::PartCapped(_) | Hookup::RigCapped => None,
            Hookup::System if !system => is_rising.then_some(TestOf::Hold),
            Hookup::System if pump && set.pump.is_running => Some(TestOf::System),
            Hookup::System => is_rising.then_some(TestOf::OtherRise),
        }
    }

    /// Something was shut off: a rise begins where there is vacuum, with a first reading.
    pub(super) fn begin_rising(&mut self, said: String) -> Result<Vec<Line>, Refusal> {
        let set = self.session().configuration();
        let is_alone = set.hookup == Hookup::PumpCapped;
        let begun = self.session().clock();
        let temperature = self.session().temperature(Place::Section(0));
        let is_hold = set.hookup == Hookup::System && !set.are_open[Valve::System as usize];
        self.notes.rising =
            (!is_alone).then_some(Rising { readings: Vec::new(), begun, temperature, is_hold });
        let reading = self.look_at_gauge()?;
        let shown = self.hand.shown_as(reading);
        if reading.pressure().is_none() {
            self.end_rising();
        }
        let gauge = self.at_gauge().push(Role::Value, shown).push(Role::Plain, ".");
        Ok(vec![Line::plain(format!("{said} ")).join(gauge)])
    }

    /// For how long in s the reading has stood.
    pub(super) fn stood(&self) -> f64 {
        let Some((now, last)) = self.notes.log.last() else { return 0.0 };
        let Some(last) = last.pressure() else { return 0.0 };
        let is_near = |(_, reading): &&(f64, Reading)| {
            reading.pressure().is_some_and(|shown| (shown - last).abs() <= STANDS_WITHIN * last)
        };
        let since = self.notes.log.iter().rev().take_while(is_near).last();
        since.map_or(0.0, |(since, _)| now - since)
    }

    /// Whether the reading has fallen by more than a share in two minutes or so; nothing where
    /// nobody has looked twice.
    pub(super) fn still_falls(&self) -> Option<bool> {
        let (now, last) = self.notes.log.last()?;
        let before = self.notes.log.iter().rev().find(|(clock, _)| now - clock >= 1.8 * MINUTE)?;
        let (before_at, before) = before;
        let (before, last) = (before.pressure(), last.pressure()?);
        let Some(before) = before else { return Some(true) };
        let lost = (before - last) / before * 2.0 * MINUTE / (now - before_at);
        Some(lost > STANDS_WITHIN)
    }
}
