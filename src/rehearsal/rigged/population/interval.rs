//! How far a figure of a population may be off by chance: drawn again and again from the same rigs.

use super::score::Score;
use crate::bench::chance::Chance;

/// A figure with the bounds of its middle 95 %.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// The figure.
    pub value: f64,
    /// The lower bound.
    pub low: f64,
    /// The upper bound.
    pub high: f64,
}

/// How often a population is drawn again. Mark: common practice.
const DRAWS: usize = 400;

/// A figure of scores with its bounds, by the bootstrap of percentiles (Efron 1979); the same
/// seed gives the same bounds.
#[must_use]
pub fn bootstrap(scores: &[&Score], seed: u64, figure: impl Fn(&[&Score]) -> f64) -> Interval {
    let value = figure(scores);
    if scores.is_empty() {
        return Interval { value, low: value, high: value };
    }
    let mut chance = Chance::new(seed);
    let mut drawn: Vec<f64> = (0..DRAWS)
        .map(|_| {
            let one = |_| {
                let place = (chance.even() * scores.len() as f64) as usize;
                scores[place.min(scores.len() - 1)]
            };
            let again: Vec<&Score> = (0..scores.len()).map(one).collect();
            figure(&again)
        })
        .collect();
    drawn.sort_by(f64::total_cmp);
    let at = |share: f64| drawn[((share * DRAWS as f64) as usize).min(DRAWS - 1)];
    Interval { value, low: at(0.025), high: at(0.975) }
}
