//! What somebody changes at a rig: air let in, oil, nitrogen, warmth, parts.

use super::ambient::Warming;
use super::hookup::{Hookup, Sites};
use super::mixture::Each;
use super::operation::Operation;
use super::pump::Pump;
use super::rig::{Part, Place, Valve};
use super::session::Session;

/// Parts longer than this in m are hoses.
const HOSE_FROM: f64 = 0.3;
/// How long in s walls are open to the air when a rig is vented or taken apart. Mark: estimate.
const IN_THE_AIR: f64 = 180.0;

impl Session {
    /// The partial pressures in Pa of the air around.
    pub(super) fn air(&self) -> Each {
        self.rig.ambient.pressures()
    }

    /// The air around at its present temperature, as pressures at 20 °C.
    pub(super) fn cold_air(&self) -> Each {
        let scale = self.scale(0);
        self.air().map(|gas| gas / scale)
    }

    /// Lets air into a chamber, to whose water its walls adjust for some minutes.
    fn let_air_in(&mut self, chamber: usize) {
        let (air, water) = (self.cold_air(), self.air()[1]);
        let temperature = self.scale(chamber) * crate::physics::gas::REFERENCE_TEMPERATURE;
        let assembly = self.configuration.assemble(&self.rig);
        let contents = &mut self.held.chambers[chamber];
        contents.gas = air;
        for (store, content) in assembly.chambers[chamber].stores.iter().zip(&mut contents.stores) {
            let balanced = store.capacity * water / store.haste(temperature);
            *content += (balanced - *content) * -libm::expm1(-IN_THE_AIR / store.time);
        }
        self.are_at_rest[chamber] = true;
        if self.configuration.gauge_chamber(&self.rig) == chamber {
            self.held.sensed = self.rig.gauge.signal(&self.air());
        }
    }

    /// Stops the pump and lets air into everything on its side of the system's valve.
    pub(super) fn vent_rig(&mut self) {
        self.configuration.pump.is_running = false;
        let sites = Sites::new(&self.rig);
        self.let_air_in(0);
        for part in self.configuration.parts(&self.rig) {
            self.let_air_in(sites.part(part));
            self.let_air_in(sites.pocket(part));
        }
    }

    /// Takes the rig apart, which leaves all of it open.
    pub(super) fn take_apart(&mut self) {
        self.vent_rig();
        self.configuration.pump.is_running = false;
    }

    /// Drains the pump, which lets air in as far as its valve, and fills it with fresh oil.
    pub(super) fn change_oil(&mut self) {
        self.configuration.pump.is_running = false;
        let is_open = self.configuration.are_open[Valve::Pump as usize];
        if is_open {
            self.vent_rig()
        } else {
            self.let_air_in(0)
        }
        self.held.oil = self.held.oil.changed();
    }

    /// Brings the pump into the warm on a short heavy lead: from then on it warms as a sound one.
    pub(super) fn warm_pump(&mut self) {
        self.configuration.pump.is_running = false;
        self.rig.pump.warm_up = self.rig.pump.warm_up.min(Pump::default().warm_up);
    }

    /// Warms a section by so many K, from where it is.
    pub(super) fn warm(&mut self, section: usize, by: f64) {
        let at = Sites::new(&self.rig).section(section);
        if let Some(warming) = self.warming.get_mut(at) {
            *warming = Warming { goal: by, ..*warming };
        }
    }

    /// Makes a part, a joint or a section new or wider.
    pub(super) fn mend(&mut self, operation: Operation) {
        let all: Vec<usize> = (0..self.rig.parts.len()).collect();
        match operation {
            Operation::SwapRig => self.replace(&all, |part| part.sound()),
            Operation::ReplacePart(part) => self.replace(&[part], |part| part.sound()),
            Operation::UseWideHoses(bore) => {
                let parts = self.rig.parts.iter().enumerate();
                let narrow: Vec<usize> = parts
                    .filter(|(_, part)| part.length > HOSE_FROM && part.bore < bore)
                    .map(|(number, _)| number)
                    .collect();
                self.replace(&narrow, |part| Part::hose(bore, part.length));
            }
            Operation::RemakeJoints(place) => {
                self.rig.leaks.retain(|leak| leak.place != place || !leak.is_joint);
            }
            Operation::MendLeaks(place) => self.rig.leaks.retain(|leak| leak.place != place),
            Operation::TakeCoreOut => self.rig.core = None,
            _ => {}
        }
    }

    fn replace(&mut self, parts: &[usize], new: impl Fn(&Part) -> Part) {
        for number in parts {
            if let Some(part) = self.rig.parts.get_mut(*number) {
                *part = new(part);
            }
        }
        self.rig
            .leaks
            .retain(|leak| !matches!(leak.place, Place::Part(part) if parts.contains(&part)));
        self.refit(parts.iter().copied());
    }

    /// Everything that hangs together with the system now.
    pub(super) fn system(&self) -> Vec<usize> {
        let sites = Sites::new(&self.rig);
        let assembly = self.configuration.assemble(&self.rig);
        super::pieces::pieces(assembly.chambers.len(), &assembly.ways)
            .into_iter()
            .find(|piece| piece.contains(&sites.section(0)))
            .unwrap_or_default()
    }

    /// Whether the rig is on the system.
    pub(super) fn is_connected(&self) -> bool {
        self.configuration.hookup == Hookup::System
    }
}
