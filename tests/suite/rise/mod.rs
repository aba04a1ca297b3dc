//! The reading of a rise against published data, another program and its own truth.

mod chart;
mod nonnegative;
mod reading;
mod standards;
mod temperature;
