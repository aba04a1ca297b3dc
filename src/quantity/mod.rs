//! Kinds, units, and measured values: reading what a person types and printing it.
//!
//! Inside the engine every quantity is a bare number in SI units beside its [`QuantityKind`];
//! units exist only at the edges. Absolute pressure, gauge pressure and a difference of
//! pressures are three kinds, and so are a temperature and a difference of temperatures.
//! Imports `text`.
//!
//! ```
//! use dryhold::quantity::parse_unit;
//! let throughput = parse_unit("micron cfm").unwrap();
//! assert_eq!(throughput.kind.name(), "throughput");
//! ```

mod digits;
mod dimension;
mod expected;
mod fitting;
mod kind;
mod misread;
mod number;
mod print;
mod product;
mod prompt_unit;
mod rising;
mod setting;
mod several;
mod sizes;
mod slip;
mod spoken;
mod table;
mod typed;
mod unit;

pub use dimension::Dimension;
pub use expected::Expected;
pub use kind::{NAMED_KINDS, NamedKind, Nature, QuantityKind};
pub use misread::Misread;
pub use print::{show, show_as_typed, show_between, show_rounded};
pub use product::{UnitError, parse_unit};
pub use prompt_unit::parse_prompt_unit;
pub use rising::pressure_of_rate;
pub use setting::{parse_quantity, parse_range};
pub use sizes::sizes_in_figures;
pub use slip::{Slip, likely_slip};
pub use table::UNITS;
pub use typed::{Bound, Typed, read_typed};
pub use unit::{Unit, UnitExpression, find_unit, near_unit, units_by_kind};
