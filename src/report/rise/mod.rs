//! The reading of a rise, as text for people and as JSON for programs.

mod brief;
mod chart;
mod few;
mod json;
mod judged;
mod loss;
mod odd;
mod planned;
mod sizes;
mod stood;
mod told;

pub use brief::rise_brief;
pub use chart::{ChartLook, rise_chart, rise_svg};
pub use json::rise_json;
pub use loss::AtWork;
pub use planned::plan_told;
pub use sizes::ShownIn;
pub use told::{missing_told, rise_told};

use crate::rise::Verdict;
use crate::rise::criterion::{Criterion, Judgement};

/// What is asked of a hold besides its parts.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Asked {
    /// A written criterion.
    pub criterion: Option<Judged>,
    /// The working system whose loss is asked for; a volume has to be known.
    pub at_work: Option<AtWork>,
    /// The units that it is told in.
    pub shown: ShownIn,
}

/// A written criterion and how the readings stand to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Judged {
    /// What may not be passed, and within which time.
    pub criterion: Criterion,
    /// How the raw readings stand to it.
    pub judgement: Judgement,
    /// Who wrote it, if that was told.
    pub source: Option<String>,
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
