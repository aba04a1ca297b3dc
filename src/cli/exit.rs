//! Exit statuses, one per class of ending.

use std::process::ExitCode;

/// How a run ends. Where several apply, the grave one wins: handbook errors over a safety stop,
/// a safety stop over "not settled", that over "settled".
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ExitStatus {
    /// Settled (also when nothing is wrong), at an end that closes the work, or the command did its
    /// work.
    Settled,
    /// A rehearsal or a comparison fell short.
    FellShort,
    /// Wrong usage or unusable input; also no answer that any finding uses.
    Unusable,
    /// Not settled, stopped by the user, or the input ended.
    NotSettled,
    /// Stopped for safety.
    StoppedForSafety,
    /// The handbook has errors.
    HandbookFaulty,
    /// Interrupted, after saving.
    Interrupted,
}

impl ExitStatus {
    /// The number that the shell sees.
    #[must_use]
    pub fn number(self) -> u8 {
        match self {
            Self::Settled => 0,
            Self::FellShort => 1,
            Self::Unusable => 2,
            Self::NotSettled => 3,
            Self::StoppedForSafety => 4,
            Self::HandbookFaulty => 5,
            Self::Interrupted => 130,
        }
    }
}

impl From<ExitStatus> for ExitCode {
    fn from(status: ExitStatus) -> Self {
        Self::from(status.number())
    }
}
