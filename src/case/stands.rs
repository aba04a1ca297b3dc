//! How a case stands, in the words that its report, the list and the start share.

use super::case::Case;
use super::interview::Ending;
use crate::handbook::Closes;

/// How a case stands by what was answered in it, whether it was closed for the record or not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    /// A danger was told.
    Stopped,
    /// Nobody has acknowledged a caution that stops it.
    Unacknowledged,
    /// It has come to an end that says this of the work.
    AtItsEnd(Closes),
    /// It can go on.
    Open,
}

impl Stands {
    /// How it stands within a sentence.
    ///
    /// ```
    /// use dryhold::case::{Closes, Stands};
    /// assert_eq!(Stands::Stopped.told(), "stopped for safety");
    /// assert_eq!(Stands::AtItsEnd(Closes::Proved).told(), "proved");
    /// ```
    #[must_use]
    pub fn told(self) -> &'static str {
        match self {
            Self::Stopped => "stopped for safety",
            Self::Unacknowledged => {
                "waits, stopped for safety, until somebody acknowledges a caution"
            }
            Self::AtItsEnd(Closes::Proved) => "proved",
            Self::AtItsEnd(Closes::Done) => "at its end",
            Self::AtItsEnd(Closes::Planned) => "planned; the work itself is still to come",
            Self::AtItsEnd(Closes::Waits) => "waits for somebody to come back to it",
            Self::Open => "open",
        }
    }
}

impl Case<'_> {
    /// How it stands. A stop comes before anything else: what the readings say would only draw
    /// away from it.
    #[must_use]
    pub fn stands(&self) -> Stands {
        match Ending::of_left(self) {
            Ending::Stopped(None) => Stands::Stopped,
            Ending::Stopped(Some(_)) => Stands::Unacknowledged,
            _ => self.work_closed().map_or(Stands::Open, Stands::AtItsEnd),
        }
    }
}
