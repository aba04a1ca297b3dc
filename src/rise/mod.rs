//! The reading of a rise: what a hold after isolation says about a leak, moisture, both or neither.
//!
//! A [`Hold`] (times, pressures, gauge, surroundings) goes in; [`read`] gives a [`Reading`]: the
//! step at the start, the levelling part (a non-negative spread of time constants) and the
//! straight part (steady over this window), each with its doubt. *Straight* never means a leak by
//! itself: a source slower than the window looks the same, and [`Reading::slowest_told`] says
//! from which time constant on. Everything is in Pa, s, K and m³; a [`criterion`] is judged on the
//! raw readings, apart from the cause. [`three_readings`] and [`planning`] serve the phone and the
//! wait. Nothing here parses, prints, draws or knows a rule. Imports `physics`.
//!
//! ```
//! use dryhold::rise::{Gauge, Hold, Verdict, read};
//! let times: Vec<f64> = (0..=30).map(|minute| f64::from(minute) * 60.0).collect();
//! let leak: Vec<f64> = times.iter().map(|t| (50.0 + 0.05 * t).round()).collect();
//! let hold = Hold::new(times, leak, Gauge::default(), 0.01);
//! let reading = read(&hold).expect("a full half hour that rises");
//! assert_eq!(reading.verdict, Verdict::Straight);
//! assert!(reading.rate.low < 0.05 && 0.05 < reading.rate.high);
//! ```

mod belief;
mod condense;
pub mod criterion;
mod drift;
mod even;
mod fitted;
mod forecast;
mod golden;
mod input;
mod levelling;
pub mod line;
pub mod nonnegative;
mod odd;
pub mod planning;
mod posterior;
mod profile;
mod reading;
mod resolution;
mod room;
pub mod single;
mod slopes;
mod spread;
pub mod stopping;
pub mod three_readings;

pub use even::is_even_row;
pub use fitted::Curves;
pub use forecast::More;
pub use input::{Doubted, GasResponse, Gauge, Hold, Missing, OF_HALF_WIDTH, Surroundings};
pub use levelling::Levelling;
pub use posterior::{Posterior, Rates};
pub use reading::{Range, Reading, Throughput, Verdict, read, read_without_forecast};
pub use resolution::found_resolution;
