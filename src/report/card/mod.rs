//! A tree as a card for a van without a computer.
//!
//! [`Card`] holds what the card says, in the order in which it says it; [`markdown`] and [`html`]
//! write the same facts down. Cautions come first, then the steps with where each leads, the
//! limits in both units, and what each end means. A card weighs nothing: the ranking of causes
//! needs the program. Imports `handbook`, `formula`, `quantity` and `text`.

mod build;
mod html;
mod limits;
mod markdown;
mod pages;
mod part;

pub use build::card;
pub use html::html;
pub use markdown::markdown;
pub use pages::{ROWS_ON_A_PAGE, pages};
pub use part::{Card, Part};
