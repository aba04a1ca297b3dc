//! Dry nitrogen: a sweep below the barometer, and a standing pressure above it.
//!
//! Standing gas needs no steps: one pressure is everywhere, it follows the temperature as an
//! ideal gas, and what leaks out is small against it.

use super::hookup::Sites;
use super::operation::Outcome;
use super::rig::{Place, Valve};
use super::session::Session;

/// The step in Pa of a gauge for test pressures. Mark: estimate.
const STANDING_STEP: f64 = 1000.0;
/// The least outflow in Pa m³/s that grows bubbles: 1e-4 mbar L/s for careful work (memory).
pub const BUBBLES_FROM: f64 = 1e-5;
/// The longest step in s of standing gas, and the largest share that may leave in one.
const LONGEST_STEP: f64 = 600.0;
const LARGEST_SHARE: f64 = 0.02;

impl Session {
    /// Shuts the pump off and lets nitrogen into the system up to an absolute pressure in Pa.
    pub(super) fn let_nitrogen_in(&mut self, to: f64) {
        self.configuration.are_open[Valve::Pump as usize] = false;
        self.configuration.pump.is_running = false;
        for chamber in self.system() {
            self.fill(chamber, to);
        }
    }

    /// Puts nitrogen of a pressure above the barometer in Pa on the system.
    pub(super) fn pressurise(&mut self, above: f64) {
        let sites = Sites::new(&self.rig);
        for section in 0..self.rig.sections.len() {
            self.fill(sites.section(section), self.rig.ambient.barometer + above);
        }
        self.is_standing = true;
    }

    fn fill(&mut self, chamber: usize, to: f64) {
        let scale = self.scale(chamber);
        let gas = &mut self.held.chambers[chamber].gas;
        let there: f64 = gas.iter().sum();
        gas[0] += (to / scale - there).max(0.0);
        self.are_at_rest[chamber] = false;
    }

    /// Lets the nitrogen out, down to the barometer.
    pub(super) fn release_nitrogen(&mut self) {
        let sites = Sites::new(&self.rig);
        for section in 0..self.rig.sections.len() {
            let chamber = sites.section(section);
            let pressure: f64 = self.pressures_in(chamber).iter().sum();
            let left = (self.rig.ambient.barometer / pressure).min(1.0);
            self.held.chambers[chamber].gas.iter_mut().for_each(|gas| *gas *= left);
        }
        self.is_standing = false;
    }

    /// The absolute pressure in Pa in the system, the same in all of it.
    pub(super) fn standing_pressure(&self) -> f64 {
        let chamber = Sites::new(&self.rig).section(0);
        self.pressures_in(chamber).iter().sum()
    }

    /// What the gauge and the thermometer show of it.
    pub(super) fn standing(&self) -> Outcome {
        let above = self.standing_pressure() - self.rig.ambient.barometer;
        Outcome::Standing {
            pressure: libm::round(above / STANDING_STEP) * STANDING_STEP,
            temperature: self.temperature(Place::Section(0)),
        }
    }

    /// Whether bubbles grow at a place.
    pub(super) fn bubbles(&self, place: Place) -> bool {
        self.outflow_at(|at| at == place) >= BUBBLES_FROM
    }

    /// What goes out in Pa m³/s at some places of the system.
    fn outflow_at(&self, is_meant: impl Fn(Place) -> bool) -> f64 {
        let pressure = self.standing_pressure();
        let leaks = self.rig.leaks.iter().filter(|leak| {
            matches!(leak.place, Place::Section(_))
                && is_meant(leak.place)
                && leak.opening.is_open(self.configuration.are_open)
        });
        leaks.map(|leak| leak.hole.outflow(pressure)).sum()
    }

    /// Lets standing gas leak out for a time in s.
    pub(super) fn leak_out(&mut self, duration: f64) {
        let sites = Sites::new(&self.rig);
        let volume = self.rig.system_volume();
        let mut left = duration;
        while left > 0.0 {
            let outflow = self.outflow_at(|_| true);
            if outflow <= 0.0 {
                return;
            }
            let content = self.standing_pressure() * volume;
            let step = (LARGEST_SHARE * content / outflow).min(LONGEST_STEP).min(left);
            // The flow at the middle of the step, as it falls.
            let stays = 1.0 - outflow * step / content * (1.0 - 0.5 * outflow * step / content);
            for section in 0..self.rig.sections.len() {
                let chamber = sites.section(section);
                let lost = self.held.chambers[chamber].gas.map(|gas| gas * (1.0 - stays));
                for (species, lost) in lost.into_iter().enumerate() {
                    self.held.chambers[chamber].gas[species] -= lost;
                    self.held.gone[species] += lost * self.rig.sections[section].volume;
                }
            }
            left -= step;
        }
    }
}
