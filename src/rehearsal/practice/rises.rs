//! Rises: a hold of the system, a rise behind another valve, a part shut off from the pump.

use super::act::AtJoints;
use super::exercise::{Between, Exercise, MINUTE};
use super::noting::minutes;
use super::stretch::TestOf;
use crate::bench::gauge::{MICRON, Reading};
use crate::rehearsal::rigged::rounded;

/// From how many readings, and from which time in s on, a rise is told.
const RISE_FROM: (usize, f64) = (3, 9.5 * MINUTE);

impl Exercise<'_> {
    /// A rise: told once it has been read often enough.
    pub(super) fn note_rise(&mut self, test: TestOf, shown: &str) {
        let Some(rising) = self.notes.rising.clone() else { return };
        let lasted = rising.readings.last().map_or(0.0, |(time, _)| *time);
        if rising.readings.len() < RISE_FROM.0 || lasted < RISE_FROM.1 {
            return;
        }
        let Some(readings) = self.typed(&rising.readings) else { return };
        let set = self.session().configuration();
        let valve = match test {
            TestOf::Hold => "at_system",
            _ if !set.pump.is_running && set.are_open.iter().all(|is_open| *is_open) => {
                "pump_stopped"
            }
            _ => "pump",
        };
        let warmer =
            self.session().temperature(crate::bench::rig::Place::Section(0)) - rising.temperature;
        let temperature = if warmer > 2.0 {
            "warmer"
        } else if warmer < -2.0 {
            "colder"
        } else {
            "steady"
        };
        let mut told = Vec::new();
        if let (TestOf::Hold, Some(word)) = (test, self.between()) {
            told.push(("between_holds", word.to_owned()));
        }
        told.extend([
            ("valve_closed_at", valve.to_owned()),
            ("hold_readings", readings),
            ("hold_temperature", temperature.to_owned()),
        ]);
        let rate = end_rate(&rising.readings);
        if let (TestOf::Hold, Between::Swept, Some(before), Some(after)) =
            (test, self.notes.between, self.notes.rate, rate)
        {
            let typed = |rate: f64| rounded((rate / MICRON * MINUTE).max(0.1), 3, "micron/min");
            told.push(("rise_before_sweep", typed(before)));
            told.push(("rise_after_sweep", typed(after)));
        }
        self.note(test, &told, shown);
    }

    /// What lies between this hold and the one before it, where there was one.
    fn between(&self) -> Option<&'static str> {
        self.notes.rate?;
        match self.notes.between {
            Between::Nothing => None,
            Between::PumpedOn => Some("pumped_on"),
            Between::Warmed => Some("warmed"),
            Between::Swept => Some("swept"),
            Between::OtherRig => Some("other_rig"),
        }
    }

    /// A hold that was told is over: the next one is held against it.
    pub(super) fn end_rising(&mut self) {
        let hold = self.notes.rising.take().filter(|rising| rising.is_hold);
        let rate = hold.and_then(|hold| end_rate(&hold.readings));
        if let Some(rate) = rate {
            self.notes.rate = Some(rate);
            self.notes.between = Between::Nothing;
        }
    }

    fn typed(&self, readings: &[(f64, Reading)]) -> Option<String> {
        let mut last = -1.0;
        let mut typed: Vec<String> = Vec::new();
        for (time, reading) in readings {
            let minute = libm::round(time / MINUTE);
            if reading.pressure().is_some() && minute > last {
                last = minute;
                typed.push(format!("{minute} min {}", self.hand.shown_as(*reading)));
            }
        }
        (typed.len() > 1).then(|| typed.join(", "))
    }

    /// A part or the rig that was shut off: first and last reading, a minute or more apart.
    pub(super) fn note_shut_off(&mut self, shown: &str) {
        let Some(rising) = self.notes.rising.clone() else { return };
        let first = rising.readings.iter().find(|(time, _)| *time >= 0.9 * MINUTE);
        let (Some((begun, first)), Some((ended, _))) = (first, rising.readings.last()) else {
            return;
        };
        if ended - begun < 0.9 * MINUTE {
            return;
        }
        let parts = &self.session().rig().parts;
        let volume: f64 = match self.notes.part {
            Some(AtJoints::Tool) => parts.get(1).map_or(0.0, |part| part.volume()),
            Some(_) => parts.first().map_or(0.0, |part| part.volume()),
            None => parts.iter().map(|part| part.volume()).sum(),
        };
        let told = [
            ("part_volume", rounded(1e6 * volume, 2, "mL")),
            ("small_first_reading", self.hand.shown_as(*first)),
            ("small_last_reading", shown.to_owned()),
            ("small_minutes", minutes(ended - begun)),
        ];
        self.note(TestOf::ShutOff, &told, shown);
    }
}

/// How fast a rise of ten minutes or more rose in its last ten, in Pa/s.
fn end_rate(readings: &[(f64, Reading)]) -> Option<f64> {
    let (end, last) = readings.last()?;
    let is_early = |(time, _): &&(f64, Reading)| end - time >= RISE_FROM.1;
    let (start, first) = readings.iter().rev().find(is_early)?;
    Some((last.pressure()? - first.pressure()?) / (end - start))
}
