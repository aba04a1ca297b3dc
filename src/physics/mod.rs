//! The laws of physics behind the numbers: pure functions of SI values, one file per phenomenon.
//!
//! Every law takes and gives plain `f64` in SI units (Pa, m, m³, s, K, kg) and names its formula,
//! its source and where it holds. Units, kinds and the ranges that people may type belong to the
//! functions table of `formula`; nothing here reads, prints or draws. Imports `quantity`.
//!
//! ```
//! use dryhold::physics::gas::{Gas, REFERENCE_TEMPERATURE};
//! let path = Gas::Air.mean_free_path(1.0, REFERENCE_TEMPERATURE);
//! assert!((path - 6.617e-3).abs() < 1e-6, "at 1 Pa a molecule of air flies 6.6 mm");
//! ```

pub mod acceptance;
pub mod atmosphere;
pub mod conductance;
pub mod gas;
pub mod gas_load;
pub mod leak;
pub mod moisture;
pub mod pump_down;
pub mod pumping_speed;
pub mod refrigerant;
mod root;
pub mod saturation;
pub mod tube;
pub mod volume;
pub mod warming;
