//! The rate of the straight part as a distribution, for whoever draws from it.

use super::belief::Belief;

/// How many steps a table of rates has; finer than any draw of it shows.
const STEPS: u32 = 400;

/// What a hold says about the rate of its straight part, as the gauge reads.
#[derive(Debug, Clone, PartialEq)]
pub struct Posterior {
    belief: Belief,
}

impl Posterior {
    pub(super) fn new(belief: Belief) -> Self {
        Self { belief }
    }

    /// P(rate > `matters`), `matters` in Pa/s and above zero, at odds 1:1; see
    /// [`Reading::straight`](super::Reading::straight).
    #[must_use]
    pub fn probability_above(&self, matters: f64) -> f64 {
        self.belief.probability_above(matters)
    }

    /// The rates, none below zero and all equally likely beforehand, ready to be drawn.
    #[must_use]
    pub fn rates(&self) -> Rates {
        let step = self.belief.reach() / f64::from(STEPS);
        let likely: Vec<f64> =
            (0..=STEPS).map(|k| self.belief.likelihood(step * f64::from(k))).collect();
        let mut below = vec![0.0];
        let mut sum = 0.0;
        for pair in likely.windows(2) {
            sum += 0.5 * (pair[0] + pair[1]);
            below.push(sum);
        }
        Rates { step, below }
    }
}

/// Rates in order with the share that lies below each.
#[derive(Debug, Clone, PartialEq)]
pub struct Rates {
    step: f64,
    below: Vec<f64>,
}

impl Rates {
    /// The rate in Pa/s below which a share of the distribution lies, `share` from 0 to 1.
    #[must_use]
    pub fn at(&self, share: f64) -> f64 {
        let whole = self.below[self.below.len() - 1];
        if whole <= 0.0 || whole.is_nan() {
            return 0.0;
        }
        let wanted = share.clamp(0.0, 1.0) * whole;
        let above = self.below.partition_point(|below| *below < wanted).max(1);
        let (low, high) = (self.below[above - 1], self.below[above]);
        let part = if high > low { (wanted - low) / (high - low) } else { 0.0 };
        self.step * (above as f64 - 1.0 + part)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A line known to one unit of rate, five units from zero: a normal distribution.
    fn normal() -> Posterior {
        let misfits = (0..=160).map(|k| {
            let away = f64::from(k) / 16.0 - 5.0;
            away * away
        });
        Posterior::new(Belief::new(0.0, 1.0 / 16.0, misfits.collect(), 0.0, 1.0))
    }

    /// Quantiles of the normal distribution (ISO 2602; 1.645 and 1.960 standard deviations).
    #[test]
    fn shares_are_those_of_the_distribution() {
        let rates = normal().rates();
        for (share, deviations) in [(0.5, 0.0), (0.95, 1.645), (0.025, -1.960)] {
            let rate = rates.at(share);
            assert!((rate - 5.0 - deviations).abs() < 0.02, "{share}: {rate}");
        }
        assert!(rates.at(0.0) >= 0.0 && rates.at(1.0).is_finite());
    }

    #[test]
    fn a_rate_well_above_what_matters_is_likely() {
        assert!(normal().probability_above(1.0) > 0.99);
        assert!(normal().probability_above(20.0) < 0.01);
    }
}
