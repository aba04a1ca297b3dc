//! Probabilities and reasons in words that a person reads the way they are meant.
//!
//! A word never stands without its number (readers agree with the intended range far more often
//! that way: 66 % against 32 % for words alone, published: Wintle and others, PLOS ONE 14(4)
//! e0213522, 2019, abstract seen). The number is a natural frequency in whole tens (published
//! finding that frequencies help: Gigerenzer and Hoffrage, Psychological Review 102(4), 1995,
//! abstract seen), in hundredths only near the ends, and never claims certainty. One scale of
//! seven words serves every room.
//!
//! It is not for the words that a handbook's author writes for strengths; those are the
//! handbook's. Imports the ledger's weights and `text`.
//!
//! ```
//! use dryhold::evidence::wording::{Band, in_words, otherwise};
//!
//! assert_eq!(in_words(0.68), "likely (about 7 in 10)");
//! assert_eq!(otherwise(0.68, &["moisture"]), "about 3 in 10 it is something else, mostly moisture");
//! assert_eq!(in_words(0.9999), "almost certain (more than 99 in 100)");
//! assert!("at least likely".parse::<Band>().unwrap().holds(0.68));
//! ```

mod band;
mod likelihood;
mod share;
mod strength;

pub use band::Band;
pub use likelihood::{Likelihood, UnknownWord, word};
pub use share::{in_words, otherwise, several_faults, share};
pub use strength::{Strength, reason, strength};
