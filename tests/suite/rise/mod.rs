//! The reading of a rise against published data, another program and its own truth.

mod nonnegative;
mod reading;
mod standards;
