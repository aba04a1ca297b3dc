//! The network of causes and findings against outside values and against brute force.

#![expect(clippy::disallowed_methods, reason = "expected values are compared with a tolerance")]

mod brute_force;
mod coarsening;
mod deciding;
mod drawn;
mod epochs;
mod golden;
mod metamorphic;
mod naive;
mod plans;
mod reference;
mod refusals;
mod what_if;
mod yes_no;
