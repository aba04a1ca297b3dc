//! An assembly in time.

use crate::physics::gas::REFERENCE_TEMPERATURE;

use super::assembly::{Assembly, Held};
use super::equations::RigEquations;
use super::integrate::{Integrator, Stuck};
use super::misbuilt::Misbuilt;
use super::mixture::Each;

/// The relative error of a step.
///
/// Of 300 made-up rigs pulled for an hour, 99 in 100 then keep within .1 % of what steps 300 times
/// as exact give, at each of 12 times; just while the last water of a puddle goes, a pressure may
/// be off by 1 % (computed).
pub const STEP_ERROR: f64 = 3e-4;

/// Carries what an assembly holds through time.
///
/// ```
/// use dryhold::bench::assembly::Assembly;
/// use dryhold::bench::oil::Oil;
/// use dryhold::bench::pump::Pump;
/// use dryhold::bench::simulation::Simulation;
/// let assembly = Assembly::bare(Pump::default(), 0.01);
/// let mut held = assembly.filled([101_325.0, 0.0, 0.0], Oil::default());
/// Simulation::new(&assembly, &held, 0.0).unwrap().run(&mut held, 600.0).unwrap();
/// assert!(held.chambers[0].gas[0] < 10.0);
/// ```
#[derive(Clone, Debug)]
pub struct Simulation {
    equations: RigEquations,
    integrator: Integrator,
    per_mass: Each,
    time: f64,
}

impl Simulation {
    /// A simulation of an assembly that begins with what it holds, at a time in s since the work
    /// began; warming counts from that time.
    ///
    /// # Errors
    /// If the assembly can't be, or what is held does not fit it.
    pub fn new(assembly: &Assembly, held: &Held, start: f64) -> Result<Self, Misbuilt> {
        Self::with_error(assembly, held, start, STEP_ERROR)
    }

    /// The same with another relative error of a step, 1e-9 to 1e-2.
    ///
    /// # Errors
    /// If the assembly can't be, or what is held does not fit it.
    pub fn with_error(
        assembly: &Assembly,
        held: &Held,
        start: f64,
        error: f64,
    ) -> Result<Self, Misbuilt> {
        if let Some(fault) = assembly.fault(held) {
            return Err(fault);
        }
        let equations = RigEquations::new(assembly, held, start);
        Ok(Self {
            integrator: Integrator::new(&equations, error),
            equations,
            per_mass: assembly.per_mass(),
            time: 0.0,
        })
    }

    /// Lets a time in s pass.
    ///
    /// # Errors
    /// If the steps become too small or too many; what is held then stays as it was.
    pub fn run(&mut self, held: &mut Held, duration: f64) -> Result<(), Stuck> {
        let mut state = self.equations.layout().gather(held, &self.per_mass);
        let until = self.time + duration;
        self.integrator.run(&mut self.equations, &mut state, (self.time, until))?;
        self.time = until;
        self.equations.layout().scatter(&state, held, &self.per_mass);
        Ok(())
    }

    /// How many steps were taken and refused so far.
    #[must_use]
    pub fn steps(&self) -> (usize, usize) {
        self.integrator.steps()
    }
}

/// The partial pressures in Pa of a chamber at a time in s: `since_start` since the work began,
/// `since_run` since the warming was set.
#[must_use]
pub fn pressures(
    assembly: &Assembly,
    held: &Held,
    chamber: usize,
    (since_start, since_run): (f64, f64),
) -> Each {
    let Some((place, contents)) = assembly.chambers.get(chamber).zip(held.chambers.get(chamber))
    else {
        return [0.0; 3];
    };
    let ambient = assembly.ambient.temperature_at(since_start);
    let scale = (ambient + place.warming.after(since_run)) / REFERENCE_TEMPERATURE;
    contents.gas.map(|pressure| pressure * scale)
}
