//! What is not done: because it is hazardous without a precaution, or because it can't be done.

use super::hookup::{GaugePlace, Hookup, Sites};
use super::operation::{LONGEST, MOST_WARMING, Operation, Refusal};
use super::rig::{Place, Valve};
use super::session::Session;

/// The share of the barometer from which on something may be unscrewed. Mark: estimate.
const VENTED_FROM: f64 = 0.9;
/// How far above the barometer, as a share, the pump may be opened: air shut in that warmed is no
/// hazard. Mark: estimate.
const PUMP_TAKES: f64 = 1.05;

impl Session {
    /// Why an operation is not done, if it isn't.
    pub(super) fn refusal(&self, operation: Operation) -> Option<Refusal> {
        self.missing(operation)
            .or_else(|| self.of_taking_apart(operation))
            .or_else(|| self.of_the_pump(operation))
            .or_else(|| self.of_nitrogen(operation))
            .or_else(|| self.of_the_system(operation))
    }

    /// What isn't there, and figures out of their range.
    fn missing(&self, operation: Operation) -> Option<Refusal> {
        let is_there = operation.place().is_none_or(|place| self.rig.has(place));
        let time = operation.named_time();
        let is_in_range = match operation {
            Operation::Warm(_, by) | Operation::WarmSystem(by) => by >= 0.0,
            Operation::UseWideHoses(bore) => (1e-3..=0.05).contains(&bore),
            Operation::Pressurise(above) => above > 0.0,
            Operation::Sweep { to, .. } => to > 0.0,
            _ => true,
        };
        // Also refuses what is not a number.
        (!is_there || !is_in_range || !(0.0..=LONGEST).contains(&time)).then_some(Refusal::NotThere)
    }

    /// Unscrewing: only what is vented, and never with the system open behind it.
    fn of_taking_apart(&self, operation: Operation) -> Option<Refusal> {
        let is_system_open =
            self.is_connected() && self.configuration.are_open[Valve::System as usize];
        let vents = matches!(operation, Operation::VentRig);
        if (vents || operation.takes_rig_apart()) && is_system_open {
            let is_vacuum = self.pressure_at(Place::Section(0)) < self.vented_from();
            return Some(if is_vacuum && !vents {
                Refusal::UnderVacuum
            } else {
                Refusal::SystemOpen
            });
        }
        if operation.takes_rig_apart() && self.is_rig_under_vacuum() {
            return Some(Refusal::UnderVacuum);
        }
        let reaches_system =
            self.is_connected() && self.configuration.are_open.iter().all(|is_open| *is_open);
        (operation == Operation::ChangeOil && reaches_system).then_some(Refusal::SystemOpen)
    }

    /// Running the pump: never on pressure, and on the system only with the compressor locked out.
    fn of_the_pump(&self, operation: Operation) -> Option<Refusal> {
        let opens = match operation {
            Operation::Pull(_) => true,
            // With the pump still on the system the lock stays.
            Operation::TakeLockOff => self.configuration.pump.is_running,
            Operation::Open(_) => self.configuration.pump.is_running,
            _ => return None,
        };
        let most = PUMP_TAKES * self.rig.ambient.barometer;
        let valve_after = |valve: Valve| {
            self.configuration.are_open[valve as usize] || operation == Operation::Open(valve)
        };
        let reaches_rig = valve_after(Valve::Pump);
        let reaches_system = reaches_rig && self.is_connected() && valve_after(Valve::System);
        let is_rig_over = reaches_rig
            && self
                .configuration
                .parts(&self.rig)
                .iter()
                .any(|part| self.pressure_at(Place::Part(*part)) > most);
        if is_rig_over || (reaches_system && self.pressure_at(Place::Section(0)) > most) {
            return Some(Refusal::PumpUnderPressure);
        }
        let is_locked = self.is_locked_out && operation != Operation::TakeLockOff;
        (opens && reaches_system && !is_locked).then_some(Refusal::NotLockedOut)
    }

    /// Nitrogen: above the barometer only on the bare system, never above the nameplate.
    fn of_nitrogen(&self, operation: Operation) -> Option<Refusal> {
        let needs_standing = matches!(
            operation,
            Operation::ReadStanding | Operation::BubbleTest(_) | Operation::ReleaseNitrogen
        );
        if needs_standing {
            let is_inside = operation.place().is_none_or(|at| matches!(at, Place::Section(_)));
            return (!self.is_standing || !is_inside).then_some(Refusal::NoNitrogen);
        }
        if operation == Operation::TakeLockOff && self.is_standing {
            return Some(Refusal::NotLockedOut);
        }
        let above = match operation {
            Operation::Pressurise(above) => above,
            Operation::Sweep { to, .. } => to - self.rig.ambient.barometer,
            _ => return None,
        };
        let is_on = self.is_connected() || self.configuration.gauge == GaugePlace::System;
        if above > 0.0 && is_on {
            return Some(Refusal::VacuumPartsOn);
        }
        if above > self.rig.nameplate {
            return Some(Refusal::AboveNameplate);
        }
        if !self.is_locked_out {
            return Some(Refusal::NotLockedOut);
        }
        let is_swept = matches!(operation, Operation::Sweep { .. });
        let is_open = self.is_connected() && self.configuration.are_open[Valve::System as usize];
        (is_swept && !is_open).then_some(Refusal::NoSystem)
    }

    /// Work on the system itself: neither under pressure nor under vacuum, and warmth only while
    /// the pump takes what it drives out.
    fn of_the_system(&self, operation: Operation) -> Option<Refusal> {
        let is_about_connection =
            matches!(operation, Operation::Disconnect | Operation::Open(Valve::System));
        if is_about_connection && !self.is_connected() {
            return Some(Refusal::NoSystem);
        }
        if let Operation::Warm(_, by) | Operation::WarmSystem(by) = operation {
            let is_pumped = self.configuration.hookup == Hookup::System
                && self.configuration.pump.is_running
                && self.configuration.are_open.iter().all(|is_open| *is_open);
            let refusal = if by > MOST_WARMING { Refusal::TooWarm } else { Refusal::NotOpenToPump };
            return (by > 0.0 && (by > MOST_WARMING || !is_pumped)).then_some(refusal);
        }
        let is_loosened = matches!(
            operation,
            Operation::RemakeJoints(Place::Section(_)) | Operation::MendLeaks(Place::Section(_))
        );
        let is_closed_to_it =
            matches!(operation, Operation::ConnectSystem(_) | Operation::TakeCoreOut);
        if self.is_standing && (is_loosened || is_closed_to_it) {
            return Some(Refusal::UnderPressure);
        }
        let is_vacuum = self.pressure_at(Place::Section(0)) < self.vented_from();
        (is_loosened && is_vacuum).then_some(Refusal::UnderVacuum)
    }

    fn vented_from(&self) -> f64 {
        VENTED_FROM * self.rig.ambient.barometer
    }

    /// The whole pressure in Pa at a place.
    fn pressure_at(&self, place: Place) -> f64 {
        self.pressures(place).iter().sum()
    }

    /// Whether anything on the pump's side of the system's valve is under vacuum.
    fn is_rig_under_vacuum(&self) -> bool {
        let sites = Sites::new(&self.rig);
        let parts = self.configuration.parts(&self.rig);
        let chambers = parts.into_iter().map(|part| sites.part(part)).chain([0]);
        chambers
            .map(|chamber| self.pressures_in(chamber).iter().sum::<f64>())
            .any(|pressure| pressure < self.vented_from())
    }
}
