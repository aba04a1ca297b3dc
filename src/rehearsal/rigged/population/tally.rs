//! Scores added up: how often the lead was right, how good the probabilities are.

use super::interval::{Interval, bootstrap};
use super::score::Score;

/// Probabilities are held within these bounds where their logarithm is taken (limit of ours).
const HELD_WITHIN: (f64, f64) = (1e-4, 1.0 - 1e-4);
/// The bounds of the bins in which probabilities are held against what is so.
const BINS: [f64; 11] = [0.0, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.7, 0.9, 0.95, 1.0];

/// A share of some rigs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Share {
    /// How many it is so for.
    pub so: usize,
    /// Of how many.
    pub of: usize,
}

impl Share {
    fn of<'s>(scores: impl Iterator<Item = &'s &'s Score>, is_so: impl Fn(&Score) -> bool) -> Self {
        scores.fold(Self::default(), |share, score| Self {
            so: share.so + usize::from(is_so(score)),
            of: share.of + 1,
        })
    }

    /// The share from 0 to 1, 0 of none.
    #[must_use]
    pub fn value(self) -> f64 {
        if self.of == 0 { 0.0 } else { self.so as f64 / self.of as f64 }
    }
}

/// A bin of probabilities held against what was so.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Calibrated {
    /// The bounds of the bin.
    pub bounds: (f64, f64),
    /// How many probabilities lie in it.
    pub number: usize,
    /// Their mean.
    pub held: f64,
    /// The share of them that is so.
    pub so: f64,
}

/// Scores to be added up.
#[derive(Clone, Debug)]
pub struct Tally<'s> {
    scores: Vec<&'s Score>,
    seed: u64,
}

impl<'s> Tally<'s> {
    /// Over these scores; the seed is for the bounds of figures.
    #[must_use]
    pub fn new(scores: Vec<&'s Score>, seed: u64) -> Self {
        Self { scores, seed }
    }

    /// The scores.
    #[must_use]
    pub fn scores(&self) -> &[&'s Score] {
        &self.scores
    }

    /// Over those of them that something is so of.
    #[must_use]
    pub fn only(&self, is_meant: impl Fn(&Score) -> bool) -> Self {
        let scores = self.scores.iter().copied().filter(|score| is_meant(score)).collect();
        Self { scores, seed: self.seed }
    }

    /// How often something is so.
    #[must_use]
    pub fn share(&self, is_so: impl Fn(&Score) -> bool) -> Share {
        Share::of(self.scores.iter(), is_so)
    }

    /// How often something is so, with the bounds of its middle 95 %.
    #[must_use]
    pub fn bounded(&self, is_so: impl Fn(&Score) -> bool) -> Interval {
        bootstrap(&self.scores, self.seed, |scores| Share::of(scores.iter(), &is_so).value())
    }

    /// The middle of a number.
    #[must_use]
    pub fn median(&self, number: impl Fn(&Score) -> f64) -> f64 {
        let mut numbers: Vec<f64> = self.scores.iter().map(|score| number(score)).collect();
        numbers.sort_by(f64::total_cmp);
        numbers.get(numbers.len() / 2).copied().unwrap_or(0.0)
    }

    /// The mean square error of the causes' probabilities, per cause (Brier 1950).
    #[must_use]
    pub fn brier(&self) -> Interval {
        bootstrap(&self.scores, self.seed, |scores| {
            mean(scores, |held, so| (held - so) * (held - so))
        })
    }

    /// The mean logarithmic loss of the causes' probabilities, in nats per cause.
    #[must_use]
    pub fn log_loss(&self) -> Interval {
        bootstrap(&self.scores, self.seed, |scores| mean(scores, log_loss))
    }

    /// Brier score and logarithmic loss of somebody who knows the shares of the causes and
    /// nothing of any rig.
    #[must_use]
    pub fn of_base_rates(&self, rates: &[f64]) -> (f64, f64) {
        let told = |loss: fn(f64, f64) -> f64| {
            let sum: f64 = self
                .scores
                .iter()
                .flat_map(|score| score.is_there.iter().zip(rates))
                .map(|(is_there, rate)| loss(*rate, f64::from(u8::from(*is_there))))
                .sum();
            sum / (self.scores.len() * rates.len()).max(1) as f64
        };
        (told(|held, so| (held - so) * (held - so)), told(log_loss))
    }

    /// What the leading group, or nothing being wrong, was held at, against how often it was so.
    #[must_use]
    pub fn calibration_of_leader(&self) -> Vec<Calibrated> {
        let pairs = self.scores.iter().filter_map(|score| {
            let first = *score.ranked().first()?;
            Some((score.groups[first], score.are_so[first]))
        });
        calibration(pairs.collect())
    }

    /// The same for every cause.
    #[must_use]
    pub fn calibration_of_causes(&self) -> Vec<Calibrated> {
        let pairs = self
            .scores
            .iter()
            .flat_map(|score| score.held.iter().copied().zip(score.is_there.iter().copied()));
        calibration(pairs.collect())
    }

    /// How often each place of the groups leads.
    #[must_use]
    pub fn leaders(&self) -> Vec<usize> {
        let places = self.scores.first().map_or(0, |score| score.groups.len());
        let mut counts = vec![0; places];
        for score in &self.scores {
            if let Some(first) = score.ranked().first() {
                counts[*first] += 1;
            }
        }
        counts
    }
}

fn mean(scores: &[&Score], loss: impl Fn(f64, f64) -> f64) -> f64 {
    let (mut sum, mut number) = (0.0, 0_usize);
    for score in scores {
        for (held, is_there) in score.held.iter().zip(&score.is_there) {
            sum += loss(*held, f64::from(u8::from(*is_there)));
            number += 1;
        }
    }
    sum / number.max(1) as f64
}

fn log_loss(held: f64, so: f64) -> f64 {
    let held = held.clamp(HELD_WITHIN.0, HELD_WITHIN.1);
    -(so * libm::log(held) + (1.0 - so) * libm::log(1.0 - held))
}

fn calibration(pairs: Vec<(f64, bool)>) -> Vec<Calibrated> {
    let bins = BINS.windows(2).map(|bounds| (bounds[0], bounds[1]));
    let within = |(low, high): (f64, f64)| {
        let is_in = move |(held, _): &&(f64, bool)| *held >= low && (*held < high || high == 1.0);
        let inside: Vec<&(f64, bool)> = pairs.iter().filter(is_in).collect();
        let number = inside.len();
        let share = |sum: f64| sum / number.max(1) as f64;
        Calibrated {
            bounds: (low, high),
            number,
            held: share(inside.iter().map(|(held, _)| held).sum()),
            so: share(inside.iter().filter(|(_, so)| *so).count() as f64),
        }
    };
    bins.map(within).filter(|bin| bin.number > 0).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn score(held: f64, is_there: bool) -> Score {
        Score {
            is_there: vec![is_there],
            held: vec![held],
            groups: vec![held, 1.0 - held],
            are_so: vec![is_there, !is_there],
            shows: is_there,
            symptom: "none".to_owned(),
            is_settled: held > 0.9,
            is_stopped: false,
            trees: Vec::new(),
            end: "start.bench_done".to_owned(),
            minutes: 10.0 * held,
            questions: 3,
            refused: 0,
            unsure: 0,
            shown: Vec::new(),
        }
    }

    #[test]
    fn losses_are_those_of_their_formulas() {
        let scores = [score(0.8, true), score(0.4, false)];
        let tally = Tally::new(scores.iter().collect(), 1);
        assert!((tally.brier().value - 0.5 * (0.04 + 0.16)).abs() < 1e-12);
        let loss = -0.5 * (libm::log(0.8) + libm::log(0.6));
        assert!((tally.log_loss().value - loss).abs() < 1e-12);
        let (brier, loss) = tally.of_base_rates(&[0.5]);
        assert!((brier - 0.25).abs() < 1e-12 && (loss - libm::log(2.0)).abs() < 1e-12);
    }

    #[test]
    fn a_lead_is_right_by_its_group_and_bounds_hold_its_share() {
        let scores: Vec<Score> = (0..100).map(|n| score(0.8, n % 4 != 0)).collect();
        let tally = Tally::new(scores.iter().collect(), 1);
        let right = tally.bounded(|score| score.is_right_within(1));
        assert_eq!(right.value, 0.75);
        // The spread of 75 of 100 is 4.3.
        assert!(
            (0.62..0.70).contains(&right.low) && (0.80..0.88).contains(&right.high),
            "{right:?}"
        );
        assert_eq!(tally.share(|score| score.is_right_within(2)).value(), 1.0);
        assert_eq!(tally.leaders(), [100, 0]);
        assert_eq!(tally.bounded(|_| true).low, 1.0);
    }

    #[test]
    fn a_bin_holds_the_mean_against_the_share() {
        let scores = [score(0.92, true), score(0.94, false), score(0.2, false)];
        let tally = Tally::new(scores.iter().collect(), 1);
        let bins = tally.calibration_of_causes();
        assert_eq!(bins.iter().map(|bin| bin.number).collect::<Vec<_>>(), [1, 2]);
        assert!((bins[1].held - 0.93).abs() < 1e-12 && bins[1].so == 0.5);
    }
}
