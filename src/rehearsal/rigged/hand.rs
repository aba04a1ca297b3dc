//! Somebody at a rig: does what has to be done first, careful of valves, and counts refusals.

use super::fault::Making;
use super::hold::Hold;
use super::kit::Kit;
use super::typed::pressure;
use crate::bench::Misbuilt;
use crate::bench::chance::Chance;
use crate::bench::gauge::{Gauge, Reading};
use crate::bench::hookup::{GaugePlace, Hookup};
use crate::bench::operation::{Operation, Outcome, Refusal};
use crate::bench::pump::Pump;
use crate::bench::rig::{Place, Rig, Valve};
use crate::bench::session::Session;

/// A minute in s.
pub(super) const MINUTE: f64 = 60.0;

/// A spot that is warmed.
#[derive(Clone, Copy, Debug)]
pub(super) struct Warmed {
    pub section: usize,
    /// The temperature in K before.
    pub temperature: f64,
    /// The clock in s before.
    pub clock: f64,
}

/// Somebody at a rig.
#[derive(Clone, Debug)]
pub struct Hand {
    pub(super) session: Session,
    pub(super) kit: Kit,
    pub(super) chance: Chance,
    refused: Vec<(Operation, Refusal)>,
    /// The most that water and refrigerant in the oil added to the floor before any change of it,
    /// in Pa.
    oil_added: f64,
    is_oil_changed: bool,
    /// When the pump was switched on.
    pub(super) pump_since: Option<f64>,
    /// When something was fitted, changed or set that a reading has to settle after.
    pub(super) changed_at: f64,
    /// What the gauge showed on the system while the pump pulled, with the clock in s.
    pub(super) log: Vec<(f64, Reading)>,
    /// How cold the coldest spot was then, in K.
    pub(super) coldest: Option<f64>,
    /// For how long the pump has pulled on the system through this way, in s.
    pub(super) pulled: f64,
    /// The part that is judged.
    pub(super) part: Option<usize>,
    pub(super) parts_named: usize,
    pub(super) hold: Option<Hold>,
    pub(super) hold_before: Option<Hold>,
    pub(super) holds_changed: usize,
    pub(super) warmed: Option<Warmed>,
    pub(super) shut_off_at: Option<f64>,
    pub(super) standing_since: Option<f64>,
    pub(super) bubbles_at: Option<usize>,
    pub(super) symptom: Option<&'static str>,
    readings: usize,
    pub(super) settlings: usize,
    shuttings: usize,
    /// The answer that a slip was typed in the place of.
    pub(super) meant: Option<String>,
}

impl Hand {
    /// Somebody who begins at a rig, the compressor locked out; draws come from the seed.
    ///
    /// # Errors
    /// If such a rig can't be.
    pub fn new(rig: Rig, kit: Kit, seed: u64) -> Result<Self, Misbuilt> {
        let mut hand = Self {
            session: Session::new(rig, seed)?,
            kit,
            chance: Chance::new(seed ^ 0x5eed),
            refused: Vec::new(),
            oil_added: 0.0,
            is_oil_changed: false,
            pump_since: None,
            changed_at: 0.0,
            log: Vec::new(),
            coldest: None,
            pulled: 0.0,
            part: None,
            parts_named: 0,
            hold: None,
            hold_before: None,
            holds_changed: 0,
            warmed: None,
            shut_off_at: None,
            standing_since: None,
            bubbles_at: None,
            symptom: None,
            readings: 0,
            settlings: 0,
            shuttings: 0,
            meant: None,
        };
        // Nothing is run before that, and a fresh session refuses it nowhere.
        let _ = hand.perform(Operation::LockOut);
        Ok(hand)
    }

    /// The same at a rig as it was made, with the ballast as it was left.
    ///
    /// # Errors
    /// If such a rig can't be.
    pub fn of(making: Making, seed: u64) -> Result<Self, Misbuilt> {
        let mut hand = Self::new(making.rig, making.kit, seed)?;
        if making.is_ballast_open {
            let _ = hand.perform(Operation::OpenBallast);
        }
        Ok(hand)
    }

    /// The rig with its clock.
    #[must_use]
    pub fn session(&self) -> &Session {
        &self.session
    }

    /// What the rig refused, in order.
    #[must_use]
    pub fn refused(&self) -> &[(Operation, Refusal)] {
        &self.refused
    }

    /// The most that water and refrigerant in the oil added to the pump's floor before any change
    /// of it, in Pa: what is pumped out of a wet system spoils the oil.
    #[must_use]
    pub fn oil_added(&self) -> f64 {
        self.oil_added
    }

    /// What whoever stands there has and knows.
    #[must_use]
    pub fn kit(&self) -> &Kit {
        &self.kit
    }

    /// For how long in s the pump has pulled on the system through this way.
    #[must_use]
    pub fn pulled_for(&self) -> f64 {
        self.pulled
    }

    /// For how long in s the pump has run since it was last off.
    #[must_use]
    pub fn runs_for(&self) -> f64 {
        self.pump_since.map_or(0.0, |since| self.session.clock() - since)
    }

    /// Does something at the rig and keeps what was refused.
    ///
    /// # Errors
    /// Why the rig refuses it; no time has passed then.
    pub fn perform(&mut self, operation: Operation) -> Result<Outcome, Refusal> {
        let before = self.session.clock();
        let done = self.session.perform(operation);
        match done {
            Ok(_) => {
                self.is_oil_changed |= operation == Operation::ChangeOil;
                if !self.is_oil_changed {
                    let oil = self.session.oil();
                    let [_, water, refrigerant] = Pump::vapour_over(&oil);
                    self.oil_added = self.oil_added.max(water + refrigerant);
                }
                let is_running = self.session.configuration().pump.is_running;
                self.pump_since = is_running.then(|| self.pump_since.unwrap_or(before));
                if matches!(
                    operation,
                    Operation::CapPump
                        | Operation::PutInLine(_)
                        | Operation::ConnectRig
                        | Operation::ConnectSystem(_)
                        | Operation::VentRig
                        | Operation::ChangeOil
                        | Operation::ShutBallast
                        | Operation::OpenBallast
                ) {
                    self.changed_at = self.session.clock();
                }
            }
            Err(refusal) => self.refused.push((operation, refusal)),
        }
        done
    }

    fn all(&mut self, operations: &[Operation]) -> Result<(), Refusal> {
        operations.iter().try_for_each(|operation| self.perform(*operation).map(|_| ()))
    }

    pub(super) fn hookup(&self) -> Hookup {
        self.session.configuration().hookup
    }

    pub(super) fn is_open(&self, valve: Valve) -> bool {
        self.session.configuration().are_open[valve as usize]
    }

    pub(super) fn is_running(&self) -> bool {
        self.session.configuration().pump.is_running
    }

    /// Whether the running pump pulls on the system.
    pub(super) fn pulls_on_system(&self) -> bool {
        self.hookup() == Hookup::System
            && self.is_running()
            && self.is_open(Valve::Pump)
            && self.is_open(Valve::System)
    }

    /// What the gauge shows.
    ///
    /// # Errors
    /// If the rig can't be followed to that time.
    pub fn gauge(&mut self) -> Result<Reading, Refusal> {
        match self.perform(Operation::Read)? {
            Outcome::Shown(reading) => Ok(reading),
            _ => Ok(Reading::OverRange),
        }
    }

    /// A reading as the face of the gauge shows it, with its unit.
    #[must_use]
    pub fn shown_as(&self, reading: Reading) -> String {
        pressure(reading, &self.kit.face(), self.session.rig().gauge.full_scale)
    }

    /// What a second gauge would show at a place.
    pub fn second_gauge(&mut self, gauge: &Gauge, place: Place) -> Reading {
        let sensed = gauge.signal(&self.session.pressures(place));
        gauge.show(sensed, self.chance.normal())
    }

    /// Ends what stands in the way of taking the rig apart, and lets air into it.
    pub(super) fn vent(&mut self) -> Result<(), Refusal> {
        self.let_nitrogen_off()?;
        self.end_hold();
        if self.hookup() == Hookup::System && self.is_open(Valve::System) {
            self.perform(Operation::Shut(Valve::System))?;
        }
        self.perform(Operation::VentRig).map(|_| ())
    }

    /// Puts the pump together in one way, if it is not.
    pub(super) fn fit(&mut self, hookup: Hookup) -> Result<(), Refusal> {
        if self.hookup() == hookup {
            return Ok(());
        }
        self.vent()?;
        let operation = match hookup {
            Hookup::PumpCapped => Operation::CapPump,
            Hookup::PartCapped(part) => Operation::PutInLine(part),
            Hookup::RigCapped => Operation::ConnectRig,
            Hookup::System => Operation::ConnectSystem(GaugePlace::System),
        };
        self.log.clear();
        self.perform(operation).map(|_| ())
    }

    /// Connects the system and opens it to the running pump.
    pub(super) fn connect(&mut self) -> Result<(), Refusal> {
        self.end_hold();
        self.fit(Hookup::System)?;
        if !self.is_open(Valve::Pump) {
            self.perform(Operation::Open(Valve::Pump))?;
        }
        if !self.is_open(Valve::System) {
            self.all(&[Operation::Pull(2.0 * MINUTE), Operation::Open(Valve::System)])?;
            self.log.clear();
        }
        self.run()
    }

    /// Shuts the valve for a hold, or another one by a slip.
    pub(super) fn shut_for_hold(&mut self) -> Result<(), Refusal> {
        let is_wrong = self.kit.slips.valve == Some(self.shuttings);
        self.shuttings += 1;
        let valve = if is_wrong { Valve::Pump } else { Valve::System };
        self.perform(Operation::Shut(valve)).map(|_| ())
    }

    /// Lets the nitrogen off that stands.
    pub(super) fn let_nitrogen_off(&mut self) -> Result<(), Refusal> {
        if self.standing_since.take().is_some() {
            self.perform(Operation::ReleaseNitrogen)?;
        }
        Ok(())
    }

    /// What was meant where a slip was typed; asked back, somebody sees it.
    pub(super) fn take_meant(&mut self) -> Option<String> {
        self.meant.take()
    }

    /// Whether this reading is typed in another unit, by a slip.
    pub(super) fn slips_in_unit(&mut self) -> bool {
        self.readings += 1;
        self.kit.slips.unit == Some(self.readings - 1)
    }
}
