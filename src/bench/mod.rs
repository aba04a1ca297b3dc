//! A simulated rig: what a gauge would read if somebody did this for so long.
//!
//! Volumes share their gas through hoses, cores and pipes; a pump takes it out down to its floor;
//! walls, oil, a drier and puddles give theirs off; air comes in through holes. Everything is in
//! SI units, and the same rig, deeds and seed give the same numbers to the bit. The room knows the
//! laws of physics and no rules: what a reading means is for others to say. Imports `physics`.
//!
//! ```
//! use dryhold::bench::assembly::{Assembly, Chamber, Way};
//! use dryhold::bench::oil::Oil;
//! use dryhold::bench::passage::Passage;
//! use dryhold::bench::pump::Pump;
//! use dryhold::bench::simulation::Simulation;
//! let mut rig = Assembly::bare(Pump::default(), 1e-4);
//! rig.chambers.push(Chamber::dry(0.01));
//! let hose = Passage::Tube { bore: 9.5e-3, length: 1.5 };
//! rig.ways.push(Way { near: 0, far: 1, passage: hose });
//! let mut held = rig.filled([101_325.0, 0.0, 0.0], Oil::default());
//! Simulation::new(&rig, &held, 0.0).unwrap().run(&mut held, 60.0).unwrap();
//! assert!(held.chambers[1].gas[0] > held.chambers[0].gas[0], "the far end lags behind");
//! ```

pub mod ambient;
pub mod assembly;
pub mod balance;
mod chance;
mod changes;
mod elimination;
mod equations;
pub mod gauge;
mod hazards;
pub mod hookup;
mod integrate;
pub mod leak;
pub mod liquid_water;
mod misbuilt;
pub mod mixture;
mod nitrogen;
pub mod oil;
pub mod operation;
pub mod passage;
mod passing;
mod pieces;
pub mod pump;
pub mod rig;
mod rodas;
pub mod session;
pub mod simulation;
mod state;
mod stores;
mod term;
pub mod wall_water;

pub use integrate::Stuck;
pub use misbuilt::Misbuilt;
pub use nitrogen::BUBBLES_FROM;
