//! Why a model is no network.

use thiserror::Error;

/// A fault in a [`Model`](super::Model). Causes and findings are named by their places; whoever
/// knows their names puts them in.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum ModelError {
    /// More causes than can be enumerated.
    #[error("{causes} causes are more than the {most} that can be enumerated")]
    TooMany {
        /// How many there are.
        causes: usize,
        /// How many there may be.
        most: usize,
    },
    /// The tables would need more memory than the network allows itself.
    #[error("the findings need tables of {numbers} numbers, more than the {most} allowed")]
    TooLarge {
        /// How many numbers the tables would hold.
        numbers: usize,
        /// How many they may hold.
        most: usize,
    },
    /// The prior of a cause is no probability.
    #[error("the prior of cause {cause} is {prior}, which is not between 0 and 1")]
    Prior {
        /// The cause.
        cause: usize,
        /// Its prior as given.
        prior: f64,
    },
    /// A cause brings another with less than that one's own prior, or with more than 1.
    #[error(
        "cause {cause} when brought by cause {by} has probability {chance}, which is not between its own prior {prior} and 1"
    )]
    Brought {
        /// The cause that is brought.
        cause: usize,
        /// The cause that brings it.
        by: usize,
        /// The probability as given.
        chance: f64,
        /// The prior of the cause that is brought.
        prior: f64,
    },
    /// Causes bring each other in a circle.
    #[error("causes bring each other in a circle: {causes:?}, each the next, the last the first")]
    Circle {
        /// The causes of the circle; each brings the next one, the last brings the first.
        causes: Vec<usize>,
    },
    /// A finding refers to a cause that is not there.
    #[error("finding {finding} refers to cause {cause}, which does not exist")]
    UnknownCause {
        /// The finding.
        finding: usize,
        /// The place that holds no cause.
        cause: usize,
    },
    /// A cause is brought by one that is not there.
    #[error("cause {cause} is brought by cause {by}, which does not exist")]
    UnknownBringer {
        /// The cause that is brought.
        cause: usize,
        /// The place that holds no cause.
        by: usize,
    },
    /// A finding names a cause twice in the same list.
    #[error("finding {finding} names cause {cause} twice in one list")]
    CauseTwice {
        /// The finding.
        finding: usize,
        /// The cause.
        cause: usize,
    },
    /// A cause names a bringing cause twice.
    #[error("cause {cause} is said twice to be brought by cause {by}")]
    BringerTwice {
        /// The cause that is brought.
        cause: usize,
        /// The cause that brings it.
        by: usize,
    },
    /// The background of a finding is no distribution over two or more outcomes.
    #[error(
        "the background of finding {finding} is no distribution: two or more probabilities that sum to 1"
    )]
    Background {
        /// The finding.
        finding: usize,
    },
    /// What a cause shows is no distribution over the finding's outcomes.
    #[error(
        "what cause {cause} shows as finding {finding} is no distribution over its {outcomes} outcomes"
    )]
    Shown {
        /// The finding.
        finding: usize,
        /// The cause.
        cause: usize,
        /// How many outcomes the finding has.
        outcomes: usize,
    },
    /// With the cause there, an outcome or one nearer to normal would be likelier than without
    /// it. A cause can only add; one that takes away hides.
    #[error(
        "with cause {cause}, finding {finding} stays at outcome {outcome} or nearer to normal with probability {with}, but without any cause only with {without}"
    )]
    BelowBackground {
        /// The finding.
        finding: usize,
        /// The cause.
        cause: usize,
        /// The outcome up to which the probabilities are added.
        outcome: usize,
        /// The probability with the cause.
        with: f64,
        /// The probability without any cause.
        without: f64,
    },
    /// An outcome of the background would have to be taken away by the cause: with the cause it
    /// is rarer than even a cause that adds to the other outcomes can explain.
    #[error(
        "with cause {cause}, outcome {outcome} of finding {finding} has probability {with}, too rare beside the background: at least {least} is left of it"
    )]
    TooRare {
        /// The finding.
        finding: usize,
        /// The cause.
        cause: usize,
        /// The outcome.
        outcome: usize,
        /// Its probability with the cause.
        with: f64,
        /// The least that the background leaves.
        least: f64,
    },
    /// The strength with which a cause hides a finding is no probability.
    #[error("cause {cause} hides finding {finding} with {chance}, which is not between 0 and 1")]
    Hidden {
        /// The finding.
        finding: usize,
        /// The cause.
        cause: usize,
        /// The probability as given.
        chance: f64,
    },
}
