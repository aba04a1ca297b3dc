//! Time that passes at a rig.

use crate::physics::gas::REFERENCE_TEMPERATURE;

use super::assembly::Assembly;
use super::balance::{amounts, imbalance};
use super::hookup::Sites;
use super::integrate::Stuck;
use super::mixture::Each;
use super::pieces::{pieces, run_piece};
use super::session::Session;

impl Session {
    /// The partial pressures in Pa in a chamber now.
    pub(super) fn pressures_in(&self, chamber: usize) -> Each {
        let Some(contents) = self.held.chambers.get(chamber) else { return [0.0; 3] };
        contents.gas.map(|gas| gas * self.scale(chamber))
    }

    /// The temperature of a chamber now over 20 °C.
    pub(super) fn scale(&self, chamber: usize) -> f64 {
        let above = self.warming.get(chamber).map_or(0.0, |warming| warming.start);
        (self.rig.ambient.temperature_at(self.clock) + above) / REFERENCE_TEMPERATURE
    }

    /// Everything as it is put together now, warmth included.
    pub(super) fn assembly(&self) -> Assembly {
        let mut assembly = self.configuration.assemble(&self.rig);
        for (chamber, warming) in assembly.chambers.iter_mut().zip(&self.warming) {
            chamber.warming = *warming;
        }
        assembly
    }

    /// Lets a time in s pass.
    ///
    /// # Errors
    /// If the simulation could not follow.
    pub(super) fn pass(&mut self, duration: f64) -> Result<(), Stuck> {
        let assembly = self.assembly();
        let sites = Sites::new(&self.rig);
        let before = (amounts(&assembly, &self.held), self.held.clone());
        let mut is_pump_passed = false;
        for piece in pieces(assembly.chambers.len(), &assembly.ways) {
            let has_pump = piece.first() == Some(&0);
            let is_standing = self.is_standing && piece.iter().any(|at| sites.is_system(*at));
            let is_pumped = has_pump && self.configuration.pump.is_running;
            if is_standing || !(is_pumped || piece.iter().any(|at| !self.are_at_rest[*at])) {
                continue;
            }
            run_piece(&assembly, &mut self.held, &piece, (self.clock, duration))?;
            piece.iter().for_each(|at| self.are_at_rest[*at] = false);
            is_pump_passed |= has_pump;
        }
        if !is_pump_passed {
            // Its inlet lies open; alone it still cools.
            run_piece(&assembly, &mut self.held, &[0], (self.clock, duration))?;
        }
        if self.is_standing {
            self.leak_out(duration);
        }
        self.warming.iter_mut().for_each(|warming| warming.start = warming.after(duration));
        self.clock += duration;
        let now = amounts(&assembly, &self.held);
        let missing = imbalance((&before.0, &before.1), (&now, &self.held));
        for (worst, missing) in self.worst_imbalance.iter_mut().zip(missing) {
            *worst = worst.max(missing);
        }
        Ok(())
    }
}
