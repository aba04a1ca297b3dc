//! Readings of a hold test: logs, blocks that were pasted, lines typed one by one.
//!
//! [`read_log`] reads a log of any length in one pass and bounded memory, [`read_pasted`] a block
//! as somebody on the phone would dictate it, [`read_line`] one line while the test is running,
//! and [`write_csv`] writes readings back. Whatever is left out, sorted in or taken for granted
//! is in the [`Notes`]; what would have to be guessed is refused with a [`LogFault`].
//!
//! It opens no file, knows no clock, and does not say what the readings mean. Imports `quantity`,
//! `text`, `source` and `diagnostic`.
//!
//! ```
//! use dryhold::series::{Given, read_pasted};
//! let readings = read_pasted("300, 420, 510 micron every 5 min", &Given::default()).unwrap();
//! assert_eq!(readings.times(), [0.0, 300.0, 600.0]);
//! ```
//!
//! # Rows that are not as they should be
//!
//! | row | what is done |
//! | --- | --- |
//! | stamp or time of day before the row above | sorted in, noted |
//! | elapsed time before the row above | the log is refused: two tests, or rows in disorder |
//! | time of day half a day or more before the row above | midnight lies between, noted |
//! | same time, same pressure | left out, noted |
//! | same time, another pressure | the mean is taken, noted |
//! | pause of more than 2.5 usual ones | noted |
//! | no pressure, no time, no number, below zero, cells missing | left out, noted |
//! | off the scale | kept as a [`Mark`], not as a reading |
//! | more rows that can't be read than rows that can | the log is refused |
//!
//! Once there are more than 4096 rows they are gathered in bins of time of one width, at most
//! 4096 of them, whose means and numbers of rows are exact; repeats are then seen next to each
//! other only. The pause is called usual (common practice) where four of five of the first ones
//! lie within a fifth of their middle.

mod at_the_start;
mod bare_times;
mod decimal;
mod example;
mod fault;
mod gathering;
mod heading;
mod interval;
mod layout;
mod live;
mod log;
mod notes;
mod pasted;
mod pressures;
mod readings;
mod resolution;
mod rows;
mod thinning;
mod times;
mod unit_line;
mod untimed;
mod write;

pub use example::{example_line, example_rows};
pub use fault::LogFault;
pub use heading::Given;
pub use interval::interval_alone;
pub use live::{LineTime, LiveReading, read_line};
pub use log::{LogError, read_log};
pub use notes::{Note, Notes, Remark};
pub use pasted::read_pasted;
pub use readings::{Beyond, Mark, Reading, Readings, ReadingsError, Start};
pub use times::TimeForm;
pub use untimed::is_untimed_list;
pub use write::write_csv;
