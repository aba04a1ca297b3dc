//! The reading of a rise, as text for people and as JSON for programs.

mod chart;
mod json;
mod sizes;
mod told;

pub use chart::{ChartLook, rise_chart, rise_svg};
pub use json::rise_json;
pub use told::{missing_told, rise_told};

use crate::rise::Verdict;
use crate::rise::criterion::{Criterion, Judgement};

/// A written criterion and how the readings stand to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Asked {
    /// What may not be passed, and within which time.
    pub criterion: Criterion,
    /// How the raw readings stand to it.
    pub judgement: Judgement,
}

/// The id of a verdict in JSON.
fn id(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Quiet => "quiet",
        Verdict::Straight => "straight",
        Verdict::Levelling => "levelling",
        Verdict::Both => "both",
        Verdict::CannotTell => "cannot_tell",
    }
}
