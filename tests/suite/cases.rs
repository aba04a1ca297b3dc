//! Cases: the path, replay, taking back, cautions, rounds.

mod acting;
mod board;
mod corpus;
mod disputed;
mod evidence;
mod faces;
pub mod handbooks;
mod insight;
mod outdated;
mod path;
mod proof;
mod random;
mod rates;
mod readings;
mod replay;
mod sentences;
mod undone;
mod wording;
mod work_closed;
mod worked;
mod worth;
