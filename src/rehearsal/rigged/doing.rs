//! The deeds: what somebody at a rig is told to do, done.

use super::deed::Deed;
use super::hand::{Hand, MINUTE, Warmed};
use crate::bench::hookup::Hookup;
use crate::bench::operation::{Operation, Refusal};
use crate::bench::rig::{Place, Valve};

/// How wide the hoses are in m that a narrow way is changed for: 3/8 in (common practice).
const WIDE_BORE: f64 = 9.5e-3;
/// How far a spot is warmed in K: some ten degrees, as the handbook says.
const WARMED_BY: f64 = 12.0;
/// How far a whole system is warmed in K to dry it. Mark: estimate.
const DRIED_AT: f64 = 20.0;
/// The absolute pressure in Pa to which a sweep breaks the vacuum.
const SWEPT_TO: f64 = 101_325.0;
/// The share of the nameplate's pressure that a test goes to. Mark: estimate.
const TESTED_AT: f64 = 0.9;
/// The section of the compressor.
const SUMP: usize = 2;
/// The section of the outdoor coil.
const OUTDOORS: usize = 3;

impl Hand {
    /// Does what is told.
    ///
    /// # Errors
    /// What the rig refuses; it has been counted.
    pub fn do_deed(&mut self, deed: Deed) -> Result<(), Refusal> {
        match deed {
            Deed::Nothing => Ok(()),
            Deed::CapPump => self.fit(Hookup::PumpCapped),
            Deed::RunCapped => self.fit_and_run(Hookup::PumpCapped),
            Deed::FitPart => self.fit_and_run(Hookup::PartCapped(self.part.unwrap_or(0))),
            Deed::FitRig => self.fit_and_run(Hookup::RigCapped),
            Deed::PullOnSystem => self.pull_down(),
            Deed::ShutSystem => self.begin_hold(),
            Deed::HoldAsBefore => self.hold_as_before(),
            Deed::ShutSystemOff => self.shut_system_off(),
            Deed::OpenSystem => self.open_system(),
            Deed::StopPump => self.perform(Operation::StopPump).map(|_| ()),
            Deed::ShutPartOff => self.shut_part_off(),
            Deed::WarmSpot => self.warm_spot(),
            Deed::Press => self.press(),
            Deed::LetNitrogenOff => self.let_nitrogen_off(),
            Deed::WaitForSteady => self.pass(45.0 * MINUTE),
            _ => self.mend(deed),
        }
    }

    fn fit_and_run(&mut self, hookup: Hookup) -> Result<(), Refusal> {
        self.fit(hookup)?;
        if !self.is_open(Valve::Pump) {
            self.perform(Operation::Open(Valve::Pump))?;
        }
        self.run()
    }

    /// The deeds that mend something, or may.
    fn mend(&mut self, deed: Deed) -> Result<(), Refusal> {
        match deed {
            Deed::ShutBallast => self.perform(Operation::ShutBallast).map(|_| ()),
            Deed::ChangeOil => self.change_oil(),
            Deed::DryOil => self.dry_oil(),
            Deed::WarmPump => self.warm_pump(),
            Deed::CleanGauge => self.on_gauge(Operation::CleanGauge),
            Deed::ChangeGauge => self.on_gauge(Operation::SwapGauge),
            Deed::RemakeJoints => self.remake_joints(),
            Deed::ReplacePart => {
                self.vent()?;
                self.perform(Operation::ReplacePart(self.part.unwrap_or(0))).map(|_| ())
            }
            Deed::ChangeRig => self.change_way(&[Operation::SwapRig]),
            Deed::DryRig => {
                self.fit_and_run(Hookup::RigCapped)?;
                self.pull(20.0 * MINUTE)
            }
            Deed::OpenPath => {
                self.change_way(&[Operation::TakeCoreOut, Operation::UseWideHoses(WIDE_BORE)])
            }
            Deed::DrySystem => self.dry_system(),
            Deed::PumpLonger => {
                self.connect()?;
                self.pull(self.pulled.clamp(60.0 * MINUTE, 120.0 * MINUTE))
            }
            Deed::Sweep => self.sweep(),
            Deed::MendJoint => self.mend_joint(),
            Deed::MendLeaks => self.mend_leaks(),
            _ => Ok(()),
        }
    }

    fn warm_pump(&mut self) -> Result<(), Refusal> {
        self.perform(Operation::WarmPump)?;
        self.kit.labours = false;
        self.fit_and_run(Hookup::PumpCapped)?;
        self.pull(15.0 * MINUTE)
    }

    fn shut_system_off(&mut self) -> Result<(), Refusal> {
        self.connect()?;
        self.perform(Operation::Shut(Valve::System)).map(|_| ())
    }

    fn open_system(&mut self) -> Result<(), Refusal> {
        if self.hookup() == Hookup::System { self.open_again() } else { self.pull_down() }
    }

    fn shut_part_off(&mut self) -> Result<(), Refusal> {
        if !matches!(self.hookup(), Hookup::PartCapped(_) | Hookup::RigCapped) {
            self.fit(Hookup::RigCapped)?;
        }
        self.settle()?;
        self.perform(Operation::Shut(Valve::Pump))?;
        self.shut_off_at = Some(self.session.clock());
        Ok(())
    }

    /// The oil is drained with the system shut off.
    fn change_oil(&mut self) -> Result<(), Refusal> {
        if self.hookup() == Hookup::System && self.is_open(Valve::System) {
            self.perform(Operation::Shut(Valve::System))?;
        }
        self.perform(Operation::ChangeOil)?;
        self.kit.past.oil_age = Some(0.0);
        Ok(())
    }

    fn dry_oil(&mut self) -> Result<(), Refusal> {
        self.fit_and_run(Hookup::PumpCapped)?;
        self.perform(Operation::OpenBallast)?;
        self.pull(40.0 * MINUTE)?;
        self.perform(Operation::ShutBallast).map(|_| ())
    }

    /// The gauge comes off a vented rig.
    fn on_gauge(&mut self, operation: Operation) -> Result<(), Refusal> {
        self.vent()?;
        self.perform(operation).map(|_| ())
    }

    fn remake_joints(&mut self) -> Result<(), Refusal> {
        self.vent()?;
        let places: Vec<Place> = match (self.hookup(), self.part) {
            (Hookup::PartCapped(part), _) | (Hookup::PumpCapped, Some(part)) => {
                vec![Place::Part(part)]
            }
            _ => self.places_of_rig(),
        };
        places.into_iter().try_for_each(|at| self.perform(Operation::RemakeJoints(at)).map(|_| ()))
    }

    /// The places between pump and system.
    pub(super) fn places_of_rig(&self) -> Vec<Place> {
        let parts = 0..self.session.rig().parts.len();
        std::iter::once(Place::PumpInlet).chain(parts.map(Place::Part)).collect()
    }

    /// Changes the way to the system, which is pulled on anew afterwards.
    fn change_way(&mut self, operations: &[Operation]) -> Result<(), Refusal> {
        self.vent()?;
        for operation in operations {
            self.perform(*operation)?;
        }
        self.kit.said.has_core = self.session.rig().core.is_some();
        self.kit.said.parts = self.session.rig().seen().parts;
        self.pulled = 0.0;
        self.log.clear();
        Ok(())
    }

    fn dry_system(&mut self) -> Result<(), Refusal> {
        self.connect()?;
        self.perform(Operation::WarmSystem(DRIED_AT))?;
        self.perform(Operation::OpenBallast)?;
        self.pull(100.0 * MINUTE)?;
        self.perform(Operation::ShutBallast)?;
        self.perform(Operation::WarmSystem(0.0))?;
        self.pull(20.0 * MINUTE)
    }

    /// The gauge stays on: the vacuum is broken to 0 bar gauge and no further.
    fn sweep(&mut self) -> Result<(), Refusal> {
        self.connect()?;
        self.perform(Operation::Sweep { to: SWEPT_TO, dwell: 10.0 * MINUTE })?;
        self.log.clear();
        self.pull_down()
    }

    /// The spot that feels cold where one is colder than the air, else the sump, and then the
    /// outdoor coil.
    fn spot(&self) -> usize {
        let air = self.session.rig().ambient.temperature_at(self.session.clock());
        let is_cold = self.session.coldest() < air - 2.0;
        let colder = self.session.rig().puddles.first().filter(|_| is_cold);
        match (colder, self.warmed) {
            (Some((section, _)), _) => *section,
            (None, None) => SUMP,
            (None, Some(warmed)) if warmed.section == SUMP => OUTDOORS,
            (None, Some(_)) => SUMP,
        }
        .min(self.session.rig().sections.len().saturating_sub(1))
    }

    /// Warms a spot while the pump pulls on it.
    pub(super) fn warm_spot(&mut self) -> Result<(), Refusal> {
        self.connect()?;
        let section = self.spot();
        let temperature = self.session.temperature(Place::Section(section));
        self.warmed = Some(Warmed { section, temperature, clock: self.session.clock() });
        self.perform(Operation::Warm(section, WARMED_BY)).map(|_| ())
    }

    fn press(&mut self) -> Result<(), Refusal> {
        if self.standing_since.is_some() {
            return Ok(());
        }
        if self.hookup() == Hookup::System {
            self.vent()?;
            self.perform(Operation::Disconnect)?;
        }
        let above = TESTED_AT * self.session.rig().nameplate;
        self.perform(Operation::Pressurise(above))?;
        self.standing_since = Some(self.session.clock());
        Ok(())
    }

    /// Makes good the joint that bubbled, with the pressure let off, and presses again.
    fn mend_joint(&mut self) -> Result<(), Refusal> {
        self.let_nitrogen_off()?;
        let section = self.bubbles_at.unwrap_or(0);
        self.perform(Operation::MendLeaks(Place::Section(section)))?;
        self.press()
    }

    fn mend_leaks(&mut self) -> Result<(), Refusal> {
        self.press()?;
        let sections = self.session.rig().sections.len();
        let mut leaking = Vec::new();
        for section in 0..sections {
            if self.bubbles(section)? {
                leaking.push(section);
            }
        }
        self.let_nitrogen_off()?;
        leaking.into_iter().try_for_each(|section| {
            self.perform(Operation::MendLeaks(Place::Section(section))).map(|_| ())
        })
    }
}
