//! Kinds, units, and measured values: reading what a person types and printing it.
//!
//! Inside the engine every quantity is a bare number in SI units beside its [`QuantityKind`];
//! units exist only at the edges. Absolute pressure, gauge pressure and a difference of
//! pressures are three kinds, and so are a temperature and a difference of temperatures.
//! Imports `text`.

mod dimension;
mod kind;
mod unit;

pub use dimension::Dimension;
pub use kind::{NAMED_KINDS, NamedKind, Nature, QuantityKind};
pub use unit::{Unit, UnitExpression};
