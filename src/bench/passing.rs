//! Time that passes at a rig.

use crate::physics::gas::REFERENCE_TEMPERATURE;

use super::assembly::Assembly;
use super::balance::{amounts, imbalance};
use super::hookup::Sites;
use super::misbuilt::Misbuilt;
use super::mixture::Each;
use super::operation::Refusal;
use super::pieces::{Piece, pieces};
use super::pump::Pump;
use super::session::Session;

/// A rig as it is followed as long as nobody changes it: whoever does drops it.
#[derive(Clone, Debug)]
pub(super) struct Running {
    whole: Assembly,
    pieces: Vec<Piece>,
}

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
    pub(super) fn pass(&mut self, duration: f64) -> Result<(), Refusal> {
        let mut running = match self.running.take() {
            Some(running) => running,
            None => self.set_up()?,
        };
        let before = (amounts(&running.whole, &self.held), self.held.clone());
        let mut is_pump_passed = false;
        for piece in &mut running.pieces {
            if !self.is_changing(piece) {
                continue;
            }
            piece.run(&running.whole, &mut self.held, duration)?;
            piece.members().iter().for_each(|at| self.are_at_rest[*at] = false);
            is_pump_passed |= piece.has_pump();
        }
        if !is_pump_passed {
            self.held.warmth = Pump::cooled(self.held.warmth, duration);
        }
        if self.is_standing {
            self.leak_out(duration);
        }
        self.warming.iter_mut().for_each(|warming| warming.start = warming.after(duration));
        self.clock += duration;
        let now = amounts(&running.whole, &self.held);
        let missing = imbalance((&before.0, &before.1), (&now, &self.held));
        for (worst, missing) in self.worst_imbalance.iter_mut().zip(missing) {
            *worst = worst.max(missing);
        }
        self.running = Some(running);
        Ok(())
    }

    /// Whether anything changes in a piece: not where it lies open, nor where nitrogen stands,
    /// which is followed by itself.
    fn is_changing(&self, piece: &Piece) -> bool {
        let sites = Sites::new(&self.rig);
        let is_standing = self.is_standing && piece.members().iter().any(|at| sites.is_system(*at));
        let is_pumped = piece.has_pump() && self.configuration.pump.is_running;
        !is_standing && (is_pumped || piece.members().iter().any(|at| !self.are_at_rest[*at]))
    }

    /// Everything as it is from now on, in its pieces.
    fn set_up(&self) -> Result<Running, Misbuilt> {
        let whole = self.assembly();
        let pieces = pieces(whole.chambers.len(), &whole.ways)
            .into_iter()
            .map(|members| Piece::new(&whole, &self.held, members, self.clock))
            .collect::<Result<_, _>>()?;
        Ok(Running { whole, pieces })
    }
}
