//! The looks: what somebody at a rig reads, measures or knows, typed as people type it.

use super::hand::{Hand, MINUTE};
use super::kit::{FACES, Face};
use super::look::Look;
use super::typed::{Said, pressure};
use crate::bench::gauge::{Gauge, MICRON, Reading};
use crate::bench::hookup::Hookup;
use crate::bench::oil;
use crate::bench::operation::{Operation, Outcome, Refusal};
use crate::bench::rig::{Place, Valve};

/// What 0 °C is in K.
pub(super) const FREEZING: f64 = 273.15;
/// A jump of a reading that somebody sees: by a fifth and ten micron. Mark: estimate.
const JUMPS_BY: (f64, f64) = (1.2, 10.0 * MICRON);
/// What a detector at the exhaust finds in Pa m³/s of refrigerant. Mark: estimate.
const DETECTED: f64 = 2e-4;
/// A climb with warmth that somebody sees. Mark: estimate.
const CLIMBS_BY: f64 = 1.15;

impl Hand {
    /// Takes a look, with all that has to be done before.
    #[must_use]
    pub fn look(&mut self, look: Look) -> Said {
        let said = self.of_the_kit(look).map_or_else(|| self.of_the_rig(look), Ok);
        said.unwrap_or_else(|refusal| Said::Unsure(format!("the rig refused: {refusal}")))
    }

    /// What has to be done or read at the rig.
    fn of_the_rig(&mut self, look: Look) -> Result<Said, Refusal> {
        match look {
            Look::Symptom => self.symptom(),
            Look::PumpIsCapped => {
                self.fit(Hookup::PumpCapped)?;
                Ok(Said::yes_no(true))
            }
            Look::OilLook => self.oil_look(),
            Look::OilMist | Look::BallastCover => self.of_ballast(look),
            Look::BarePump => self.settled_in(Hookup::PumpCapped),
            Look::NextPart => Ok(self.next_part()),
            Look::PartReading => self.settled_in(Hookup::PartCapped(self.part.unwrap_or(0))),
            Look::StillFalling => self.still_falling(),
            Look::Touched => self.touched(),
            Look::RigReading => self.rig_reading(),
            Look::SystemReading | Look::StoodMinutes | Look::PumpEnd => self.of_the_pull(look),
            Look::GaugeInAir | Look::GaugeMoves => self.gauge_in_air(look),
            Look::TeeFirst | Look::TeeSecond => self.on_the_tee(look),
            Look::HoldReadings | Look::HoldTemperature | Look::HoldRate | Look::BetweenHolds => {
                self.of_a_hold(look)
            }
            Look::ShutOffFirst | Look::ShutOffLast | Look::ShutOffMinutes => self.of_shut_off(look),
            Look::Exhaust => {
                self.connect()?;
                let refrigerant = self.session.pressures(Place::PumpInlet)[2];
                let pump = self.session.rig().pump;
                Ok(Said::yes_no(refrigerant * pump.speed * pump.left > DETECTED))
            }
            Look::NitrogenPressure
            | Look::NitrogenTemperature
            | Look::NitrogenHours
            | Look::Bubbles
            | Look::BubblePlace => self.of_nitrogen(look),
            _ => self.of_warmth(look),
        }
    }

    /// What the gauge shows, as it is typed; a slip keeps the figure and takes another unit.
    pub(super) fn typed(&mut self, reading: Reading) -> Said {
        let face = self.kit.face();
        let full_scale = self.session.rig().gauge.full_scale;
        let right = pressure(reading, &face, full_scale);
        if !self.slips_in_unit() {
            return Said::Typed(right);
        }
        let other = FACES[(self.kit.face + 1) % FACES.len()].symbol;
        let wrong = right.replace(face.symbol, other);
        self.meant = Some(right);
        Said::Typed(wrong)
    }

    pub(super) fn shown(&mut self) -> Result<Said, Refusal> {
        let reading = self.gauge()?;
        Ok(self.typed(reading))
    }

    fn settled_in(&mut self, hookup: Hookup) -> Result<Said, Refusal> {
        self.fit(hookup)?;
        if !self.is_open(Valve::Pump) {
            self.perform(Operation::Open(Valve::Pump))?;
        }
        self.settle()?;
        self.shown()
    }

    fn oil_look(&mut self) -> Result<Said, Refusal> {
        let Outcome::Oil(look) = self.perform(Operation::LookAtOil)? else {
            return Ok(Said::Unsure("the sight glass shows nothing".to_owned()));
        };
        Ok(Said::word(match look {
            oil::Look::Clear => "clear",
            oil::Look::Dark => "dark",
            oil::Look::Milky => "cloudy",
            oil::Look::Low => "low",
        }))
    }

    /// What an open ballast does and a shut one doesn't.
    fn of_ballast(&mut self, look: Look) -> Result<Said, Refusal> {
        let is_open = self.session.configuration().pump.is_ballast_open;
        let takes = if look == Look::BallastCover { 3.0 } else { 1.0 };
        self.pass(takes * MINUTE)?;
        Ok(Said::yes_no(is_open))
    }

    fn next_part(&mut self) -> Said {
        let Some((_, length)) = self.session.rig().seen().parts.get(self.parts_named).copied()
        else {
            return Said::Unsure("no part is left".to_owned());
        };
        self.part = Some(self.parts_named);
        self.parts_named += 1;
        let kind = if length > 0.3 { "hose" } else { "tool" };
        Said::Typed(format!("{kind} {}", self.parts_named))
    }

    /// Two readings two minutes apart.
    fn still_falling(&mut self) -> Result<Said, Refusal> {
        self.run()?;
        let before = self.gauge()?;
        self.pull(2.0 * MINUTE)?;
        let after = self.gauge()?;
        Ok(match (before.pressure(), after.pressure()) {
            (Some(before), Some(after)) => Said::yes_no(after < 0.95 * before),
            (None, Some(_)) => Said::yes_no(true),
            _ => Said::Unsure("the gauge is over its range".to_owned()),
        })
    }

    fn touched(&mut self) -> Result<Said, Refusal> {
        let places = match self.hookup() {
            Hookup::PumpCapped => vec![Place::PumpInlet],
            Hookup::PartCapped(part) => vec![Place::PumpInlet, Place::Part(part)],
            Hookup::RigCapped | Hookup::System => self.places_of_rig(),
        };
        let mut jumps = false;
        for place in places {
            let touched = self.perform(Operation::Touch(place))?;
            let Outcome::Touched { before, during } = touched else { continue };
            let (before, during) = (before.pressure(), during.pressure());
            jumps |= match (before, during) {
                (Some(before), Some(during)) => {
                    during > JUMPS_BY.0 * before && during > before + JUMPS_BY.1
                }
                (before, during) => before.is_some() && during.is_none(),
            };
        }
        Ok(Said::yes_no(jumps))
    }

    /// The rig alone; behind the shut valve of a system that is on, the second gauge reads it.
    fn rig_reading(&mut self) -> Result<Said, Refusal> {
        let is_shut_off = self.hookup() == Hookup::System && !self.is_open(Valve::System);
        if let (true, Some(second)) = (is_shut_off, self.kit.second) {
            let last = self.session.rig().parts.len().saturating_sub(1);
            let reading = self.second_gauge(&second, Place::Part(last));
            return Ok(self.typed(reading));
        }
        self.settled_in(Hookup::RigCapped)
    }

    fn of_the_pull(&mut self, look: Look) -> Result<Said, Refusal> {
        if !self.pulls_on_system() || self.log.is_empty() {
            self.pull_down()?;
        }
        match (look, self.kit.second) {
            (Look::StoodMinutes, _) => Ok(Said::Typed(minutes(self.stood()))),
            (Look::PumpEnd, Some(second)) => {
                let reading = self.second_gauge(&second, Place::PumpInlet);
                Ok(self.typed(reading))
            }
            (Look::PumpEnd, None) => Ok(Said::Unsure("no second gauge is at hand".to_owned())),
            _ => {
                let reading = self.gauge()?;
                self.log.push((self.session.clock(), reading));
                Ok(self.typed(reading))
            }
        }
    }

    /// The gauge in open air, and then on the pump.
    fn gauge_in_air(&mut self, look: Look) -> Result<Said, Refusal> {
        // What is on the system comes off with its gauge.
        if self.hookup() == Hookup::System {
            self.fit(Hookup::PumpCapped)?;
        } else {
            self.vent()?;
        }
        self.perform(Operation::Wait(MINUTE))?;
        let finds_air = self.gauge()? == Reading::OverRange;
        if look == Look::GaugeInAir {
            return Ok(Said::yes_no(finds_air));
        }
        self.fit(Hookup::PumpCapped)?;
        self.run()?;
        self.pull(MINUTE)?;
        Ok(Said::yes_no(finds_air && self.gauge()?.pressure().is_some()))
    }

    fn on_the_tee(&mut self, look: Look) -> Result<Said, Refusal> {
        let Some(second) = self.kit.second else {
            return Ok(Said::Unsure("no second gauge is at hand".to_owned()));
        };
        self.fit(Hookup::PumpCapped)?;
        self.settle()?;
        if look == Look::TeeFirst {
            return self.shown();
        }
        let reading = self.second_gauge(&second, Place::PumpInlet);
        Ok(Said::Typed(pressure(reading, &FACES[0], Gauge::default().full_scale)))
    }
}

/// A time in s in whole minutes.
pub(super) fn minutes(seconds: f64) -> String {
    format!("{:.0} min", libm::round(seconds / MINUTE))
}

/// A temperature in K in whole degrees.
pub(super) fn degrees(kelvin: f64) -> String {
    format!("{:.0} degC", libm::round(kelvin - FREEZING))
}

/// A temperature in K as a thermometer on the pipe shows it: half a degree of standing nitrogen is
/// as much as a leak that matters.
pub(super) fn tenths_of_degrees(kelvin: f64) -> String {
    format!("{:.1} degC", kelvin - FREEZING)
}

/// Whether a reading climbs by more than somebody doubts.
pub(super) fn climbs(before: Reading, after: Reading) -> bool {
    match (before.pressure(), after.pressure()) {
        (Some(before), Some(after)) => after > CLIMBS_BY * before,
        (before, after) => before.is_some() && after.is_none(),
    }
}

/// The unit in which rates are typed.
pub(super) const RATE: Face =
    Face { choice: "shows_micron", symbol: "micron/min", pascal: MICRON / MINUTE, decimals: 1 };
