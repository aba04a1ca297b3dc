//! The interview as a pure state machine: state and event give state and news.
//!
//! A [`Case`] is its events in order; replaying them gives the same case to the bit. Where it
//! stands ([`Now`]) is worked out from the events, so an answer can be corrected or taken back at
//! any time. No file, no clock, no terminal: who answers is an [`Answerer`], where events go is a
//! [`Keeper`]. Imports `evidence`, `handbook`, `formula`, `series`,
//! `quantity` and `text`.

mod behind_stop;
mod biting;
#[expect(clippy::module_inception, reason = "the room is named after its main type")]
mod case;
mod closing;
mod coming;
mod danger_taken_back;
mod danger_words;
mod details;
mod event;
mod face;
mod given_last;
mod interview;
mod known_by;
mod leaving;
mod moment;
mod moved;
mod named_file;
mod naming;
mod now;
mod open_round;
mod owed;
mod rate;
mod reading;
mod script;
mod standing;
mod stands;
mod trial;
mod undone;
mod view;
mod walk;
mod way;
mod without_names;
mod work_closed;

pub use case::{Case, Refusal};
pub use closing::{Closing, FixedBy};
pub use danger_taken_back::DangerTakenBack;
pub use details::{Detail, Details};
pub use event::Event;
pub use interview::{Answerer, Ending, KeepNothing, Keeper, Objection, Response, interview};
pub use known_by::KnownBy;
pub use moved::{News, state_word};
pub use named_file::NamedFile;
pub use naming::is_reading;
pub use now::{Decided, Now, Passage, Passed, Place, RoundEnd};
pub use owed::Owed;
pub use reading::{
    Misunderstood, ReadAnswer, check_answer, ends_rounds, named_log, read_answer, read_reading,
};
pub use script::{Script, Unasked, questions_reached};
pub use stands::Stands;
pub use trial::Trial;
pub use view::{ActionView, CauseView, CautionView, FormulaValue, QuestionView};
pub use walk::Walk;
pub use without_names::{is_left_out, lacks_names, without_names};

pub use crate::evidence::{Given, Reach, Reply, Worth};
pub use crate::handbook::{
    ActionId, CauseId, CautionId, CautionSeverity, Closes, FindingId, Question, QuestionId, StepId,
    TreeId,
};
pub use crate::series::{LineTime, LiveReading, interval_alone};
