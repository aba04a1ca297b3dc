//! A simulated rig: what a gauge would read if somebody did this for so long.
//!
//! Volumes share their gas through hoses, cores and pipes; a pump takes it out down to its floor;
//! walls, oil, a drier and puddles give theirs off; air comes in through holes. Everything is in
//! SI units, and the same rig, deeds and seed give the same numbers to the bit. The room knows the
//! laws of physics and no rules: what a reading means is for others to say. Imports `physics`.
//!
//! A [`rig::Rig`] is what is hidden; a [`session::Session`] is somebody at it, who does one
//! [`operation::Operation`] after another, and is refused what is hazardous. Below them an
//! [`assembly::Assembly`] is chambers and ways as physics sees them, and
//! [`simulation::Simulation`] carries what it holds through time.
//!
//! ```
//! use dryhold::bench::hookup::GaugePlace;
//! use dryhold::bench::operation::{Operation, Outcome, Refusal};
//! use dryhold::bench::rig::{Rig, Valve};
//! use dryhold::bench::session::Session;
//! let mut session = Session::new(Rig::sound(), 1).unwrap();
//! session.perform(Operation::ConnectSystem(GaugePlace::System)).unwrap();
//! session.perform(Operation::Open(Valve::System)).unwrap();
//! assert_eq!(session.perform(Operation::Pull(1800.0)), Err(Refusal::NotLockedOut));
//! session.perform(Operation::LockOut).unwrap();
//! session.perform(Operation::Pull(1800.0)).unwrap();
//! let Ok(Outcome::Shown(reading)) = session.perform(Operation::Read) else { unreachable!() };
//! assert!(reading.pressure().unwrap() < 20.0, "Pa");
//! ```

pub mod ambient;
pub mod assembly;
pub mod balance;
pub mod chance;
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
