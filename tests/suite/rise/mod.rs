//! The reading of a rise against published data, another program and its own truth.

mod chart;
#[expect(dead_code, reason = "the reading's bench uses the rest")]
#[path = "../../../benches/rise_population/invented.rs"]
mod invented;
mod nonnegative;
mod odd;
mod reading;
mod standards;
mod temperature;
