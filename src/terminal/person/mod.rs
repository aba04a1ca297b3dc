//! A person at a console as the one who answers a case.
//!
//! Puts what the case wants as prompts and turns the replies into responses: questions (`asking`), the
//! readings of a hold (`holding`, `dictation`), things to be done and waits (`doing`, `passed`), the end
//! and a stop (`ending`), answers given earlier (`changing`, `correcting`, `picking`), and files that go
//! with the case (`attaching`). A danger that is told is asked for at once (`danger`, `pressure`), and
//! what to do if it is so is said where it is put aside (`put_aside`); the answer that words name stands
//! ready there (`choosing`); work that is told counts as done (`deeds`); other words typed out of turn
//! are offered to the questions that they speak of (`elsewhere`, `facts`, `matching`, `weighing`,
//! `answer_told`, `part_told`, `by_kind`, `measured`, `paired`, `times`, `early`). What an answer means
//! is decided by `case`; how a prompt looks, by the console. Imports `case`, `quantity`, `report` and
//! `text`.
//!
//! ```no_run
//! use dryhold::terminal::{Audience, Dialogue, Person, open};
//! let mut console = open(Dialogue::Plain, false)?;
//! let person = Person::new(console.as_mut(), Audience::Phone);
//! # Ok::<(), std::io::Error>(())
//! ```

mod answer_told;
mod answering;
mod asking;
mod attaching;
mod by_kind;
mod changing;
mod choosing;
mod correcting;
mod danger;
mod deeds;
mod dictation;
mod doing;
mod early;
mod elsewhere;
mod ending;
mod explaining;
mod facts;
mod given_before;
mod holding;
mod matching;
mod measured;
mod minding;
mod paired;
mod part_told;
mod passed;
mod picking;
mod pressure;
mod put_aside;
mod reminders;
mod searching;
mod times;
mod weighing;

pub use answering::{Audience, Person};
pub use attaching::LookAt;
pub(super) use danger::dangers_in;
pub use holding::ReadLog;
pub(super) use minding::danger_to_mind;
