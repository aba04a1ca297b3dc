//! Nitrogen that stands in the system: pressing, reading, bubbles.

use super::act::{Act, Section};
use super::exercise::Exercise;
use super::stretch::TestOf;
use crate::bench::operation::{Operation, Outcome, Refusal};
use crate::rehearsal::rigged::rounded;
use crate::text::{Line, Role};

/// From how many hours on a loss of nitrogen is told (choice of ours).
const SOME_TIME: f64 = 0.1;
/// What 0 °C is in K.
const FREEZING: f64 = 273.15;

impl Exercise<'_> {
    pub(super) fn nitrogen(&mut self, act: Act) -> Result<Vec<Line>, Refusal> {
        match act {
            Act::Press(above) => {
                self.perform(Operation::Pressurise(above))?;
                self.change_something();
                self.end_rising();
                self.notes.dry.clear();
                self.notes.standing_since = Some(self.session().clock());
                let (pressure, temperature) = self.read_standing()?;
                let told = [
                    ("nitrogen_pressure_start", pressure.clone()),
                    ("nitrogen_temperature_start", temperature.clone()),
                ];
                self.note(TestOf::Nitrogen, &told, &pressure);
                Ok(vec![stands(pressure, temperature)])
            }
            Act::ReadNitrogen => self.read_nitrogen(),
            Act::Bubbles(section) => self.bubbles(section),
            _ => {
                self.perform(Operation::ReleaseNitrogen)?;
                self.change_something();
                self.notes.standing_since = None;
                Ok(vec![Line::plain("The nitrogen is let out, down to the barometer.")])
            }
        }
    }

    /// The pressure and the temperature, as they are typed.
    fn read_standing(&mut self) -> Result<(String, String), Refusal> {
        match self.perform(Operation::ReadStanding)? {
            Outcome::Standing { pressure, temperature } => Ok((
                format!("{:.2} barg", pressure / 1e5),
                format!("{:.0} degC", libm::round(temperature - FREEZING)),
            )),
            _ => Err(Refusal::NoNitrogen),
        }
    }

    pub(super) fn read_nitrogen(&mut self) -> Result<Vec<Line>, Refusal> {
        let (pressure, temperature) = self.read_standing()?;
        let hours = (self.session().clock() - self.notes.standing_since.unwrap_or(0.0)) / 3600.0;
        if hours < SOME_TIME {
            return Ok(vec![stands(pressure, temperature)]);
        }
        let told = [
            ("nitrogen_pressure_end", pressure.clone()),
            ("nitrogen_temperature_end", temperature.clone()),
            ("nitrogen_hours", rounded(hours, 3, "h")),
        ];
        self.note(TestOf::Nitrogen, &told, &pressure);
        Ok(vec![stands(pressure, temperature)])
    }

    fn bubbles(&mut self, section: Section) -> Result<Vec<Line>, Refusal> {
        let seen = self.perform(Operation::BubbleTest(section.place()))?;
        if seen == Outcome::Bubbles(true) {
            let told =
                [("bubbles_seen", "yes".to_owned()), ("bubble_place", section.called().to_owned())];
            self.note(TestOf::Bubbles, &told, "it bubbles");
            return Ok(vec![Line::plain(format!("Bubbles grow at {}.", section.called()))]);
        }
        if !self.notes.dry.contains(&section) {
            self.notes.dry.push(section);
        }
        // That it bubbles nowhere is known once every section was brushed.
        if self.notes.dry.len() == Section::ALL.len() {
            self.note(TestOf::Bubbles, &[("bubbles_seen", "no".to_owned())], "no bubbles");
        }
        Ok(vec![Line::plain(format!("No bubbles at {}.", section.called()))])
    }
}

fn stands(pressure: String, temperature: String) -> Line {
    Line::plain("The nitrogen stands at ")
        .push(Role::Value, pressure)
        .push(Role::Plain, ", the pipe at ")
        .push(Role::Value, temperature)
        .push(Role::Plain, ".")
}
