//! Charts of a hold: its readings and, once they can be told, the parts of its rise.
//!
//! One [`Picture`](picture::Picture) holds what is drawn, in minutes or hours and a unit of
//! pressure; [`rise_chart`]
//! draws it with characters, [`rise_svg`] as a picture. What is drawn is told apart by marks and
//! patterns, never by colour, and a key names each. Imports `rise` and `text`.

mod axis;
mod key;
mod picture;
mod plot;
mod svg;
mod text;

pub use svg::rise_svg;
pub use text::{ChartLook, rise_chart};
