//! The author's words for how often something happens.

/// A word and the share it stands for (`estimate`: the house's own scale, in even steps of
/// odds about one half).
pub const STRENGTH_WORDS: &[(&str, f64)] = &[
    ("nearly always", 0.98),
    ("usually", 0.85),
    ("often", 0.65),
    ("sometimes", 0.35),
    ("now and then", 0.18),
    ("rarely", 0.08),
    ("hardly ever", 0.01),
];

/// Shares nearer to certainty than this claim more than anybody knows (`estimate`).
pub const SMALLEST_SHARE: f64 = 0.001;

/// The share behind a word.
#[must_use]
pub fn strength_of(word: &str) -> Option<f64> {
    STRENGTH_WORDS.iter().find(|(known, _)| *known == word).map(|(_, share)| *share)
}

/// The share drawn in from certainty: between .001 and .999.
#[must_use]
pub fn clamped(share: f64) -> f64 {
    share.clamp(SMALLEST_SHARE, 1.0 - SMALLEST_SHARE)
}

/// The word whose share is nearest.
#[must_use]
pub fn nearest_word(share: f64) -> &'static str {
    STRENGTH_WORDS
        .iter()
        .min_by(|a, b| (a.1 - share).abs().total_cmp(&(b.1 - share).abs()))
        .map_or("sometimes", |(word, _)| word)
}
