//! The analysis of a handbook: what answers lead where.

mod brute_force;
mod built_in;
mod in_turn;
mod ranges;
mod witnesses;
