//! What the network is told: causes, findings and the numbers between them.

/// The most causes a network takes; there are `2^MOST_CAUSES` states then.
pub const MOST_CAUSES: usize = 18;

/// Causes and findings. A cause or a finding is named by its place in its list.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Model {
    /// The causes, at most [`MOST_CAUSES`].
    pub causes: Vec<CauseModel>,
    /// The findings, in any number.
    pub findings: Vec<FindingModel>,
}

/// A fault that is there or not.
#[derive(Clone, Debug, PartialEq)]
pub struct CauseModel {
    /// The probability (0 to 1) that it is there of itself, before any symptom.
    pub prior: f64,
    /// The causes that bring this one, each with the probability (from `prior` to 1) that this
    /// one is there when the bringing cause is there and no other bringing cause is. The
    /// cause's own prior is included in that number. Several bringing causes combine by
    /// noisy-OR. No cause may bring itself, directly or through others.
    pub brought_by: Vec<(usize, f64)>,
}

/// Something that can be found, with at least two outcomes in order, normal first.
///
/// Causes combine by noisy-max: each of them produces an outcome of its own, independently, and
/// the one furthest from normal is what shows. With two outcomes that is noisy-OR.
#[derive(Clone, Debug, PartialEq)]
pub struct FindingModel {
    /// The probability of each outcome when no cause is there. Sums to 1.
    pub background: Vec<f64>,
    /// The causes that show as this finding, each with the probability of each outcome when
    /// that cause is there and no other. The background is included in those numbers, so the
    /// probability of an outcome at or below any given one can't exceed the background's.
    pub shown_by: Vec<(usize, Vec<f64>)>,
    /// The causes that hide this finding, each with the probability (0 to 1) that it makes the
    /// finding look normal whatever else is there.
    pub hidden_by: Vec<(usize, f64)>,
}
