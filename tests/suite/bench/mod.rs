//! The simulated rig against the laws of physics, against itself, and against scipy.

mod any_rig;
mod cross_check;
mod desorption;
mod hazards;
mod holds;
mod passages;
mod pulls;
mod scipy_rig;
mod sessions;
mod water;

use dryhold::bench::assembly::{Assembly, Chamber, Held};
use dryhold::bench::oil::Oil;
use dryhold::bench::pump::Pump;
use dryhold::bench::simulation::Simulation;

/// The pressure of the standard atmosphere in Pa.
const ATMOSPHERE: f64 = 101_325.0;

/// A pump whose floor doesn't move: warm from the start.
fn steady_pump(ultimate: f64) -> Pump {
    Pump { ultimate, cold: 0.0, ..Pump::default() }
}

/// What an assembly holds after a time in s, from dry air of a pressure in Pa.
fn after(assembly: &Assembly, start: f64, duration: f64) -> Held {
    let mut held = assembly.filled([start, 0.0, 0.0], Oil::default());
    run(assembly, &mut held, duration);
    held
}

/// Lets a time in s pass.
fn run(assembly: &Assembly, held: &mut Held, duration: f64) {
    Simulation::new(assembly, held, 0.0).unwrap().run(held, duration).unwrap();
}

/// The whole pressure in a chamber in Pa, at 20 °C.
fn pressure(held: &Held, chamber: usize) -> f64 {
    held.chambers[chamber].gas.iter().sum()
}

/// A chamber in m³ that is shut off, behind a pump that stands still.
fn shut(volume: f64) -> Assembly {
    let mut assembly = Assembly::bare(Pump::default(), 1e-4);
    assembly.pump.1.is_running = false;
    assembly.chambers.push(Chamber::dry(volume));
    assembly
}
