//! What was seen, and why it can't be taken.

use thiserror::Error;

/// One piece of evidence. Each finding may stand in one piece only; what says nothing (not
/// known, not applicable) is left out.
#[derive(Clone, Debug, PartialEq)]
pub enum Evidence {
    /// The finding has this outcome.
    Seen {
        /// The finding.
        finding: usize,
        /// The outcome.
        outcome: usize,
    },
    /// The finding is not known for sure: how likely what was seen is for each outcome. Only
    /// the ratios of these numbers count; they need not sum to 1.
    Likely {
        /// The finding.
        finding: usize,
        /// One number per outcome, none negative.
        likelihood: Vec<f64>,
    },
    /// Several findings are uncertain together, for instance since they come off one reading.
    Joint {
        /// The findings.
        findings: Vec<usize>,
        /// The outcomes they can have together, each with its share.
        patterns: Vec<Pattern>,
    },
}

impl Evidence {
    /// Whether a finding stands in the piece.
    #[must_use]
    pub fn tells_of(&self, place: usize) -> bool {
        match self {
            Self::Seen { finding, .. } | Self::Likely { finding, .. } => *finding == place,
            Self::Joint { findings, .. } => findings.contains(&place),
        }
    }
}

/// One set of outcomes that findings can have together.
#[derive(Clone, Debug, PartialEq)]
pub struct Pattern {
    /// The share of the draws with these outcomes, not negative; only the ratios count.
    pub weight: f64,
    /// The outcome of each of the findings, in their order; nothing where this share of the
    /// draws does not tell.
    pub outcomes: Vec<Option<usize>>,
}

/// Why there is no posterior.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Impossible {
    /// No state whatever could have produced the evidence.
    #[error("no set of causes, nor none, can produce all this evidence together")]
    Contradiction,
    /// History factors are given for more or fewer causes than there are.
    #[error("{given} history factors are given for {causes} causes")]
    OddsCount {
        /// How many factors are given.
        given: usize,
        /// How many causes there are.
        causes: usize,
    },
    /// A history factor is not a positive number.
    #[error("the history factor of cause {cause} is {odds}, which is not a positive number")]
    Odds {
        /// The cause.
        cause: usize,
        /// The factor as given.
        odds: f64,
    },
    /// A piece names a finding that is not there.
    #[error("piece {piece} of the evidence names finding {finding}, which does not exist")]
    UnknownFinding {
        /// The piece's place.
        piece: usize,
        /// The place that holds no finding.
        finding: usize,
    },
    /// A piece names an outcome that is not there.
    #[error(
        "piece {piece} of the evidence names outcome {outcome} of finding {finding}, which has only {outcomes}"
    )]
    UnknownOutcome {
        /// The piece's place.
        piece: usize,
        /// The finding.
        finding: usize,
        /// The outcome as given.
        outcome: usize,
        /// How many the finding has.
        outcomes: usize,
    },
    /// A finding stands in two pieces, or twice in one. Taken as independent they would count
    /// twice.
    #[error("finding {finding} stands twice in the evidence, the second time in piece {piece}")]
    Repeated {
        /// The place of the second piece.
        piece: usize,
        /// The finding.
        finding: usize,
    },
    /// The likelihoods don't fit the outcomes, or one is negative or no number.
    #[error(
        "piece {piece} of the evidence needs one likelihood, not negative, for each of the {outcomes} outcomes"
    )]
    Likelihood {
        /// The piece's place.
        piece: usize,
        /// How many outcomes the finding has.
        outcomes: usize,
    },
    /// The patterns don't fit the findings, or a share is negative or no number.
    #[error(
        "piece {piece} of the evidence needs patterns with a share, not negative, and one outcome for each of its {findings} findings"
    )]
    Patterns {
        /// The piece's place.
        piece: usize,
        /// How many findings the piece has.
        findings: usize,
    },
}
