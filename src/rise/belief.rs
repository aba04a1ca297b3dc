//! From misfits over the slope to a probability, an interval and an upper limit.

/// Abscissas and weights of the normal distribution, nine points (Gauss-Hermite, computed with
/// numpy 2.4.6 `hermegauss(9)`, weights over √(2π)).
const NORMAL: [(f64, f64); 9] = [
    (-4.512_745_863_399_783, 2.234_584_400_774_658e-5),
    (-3.205_429_002_856_47, 2.789_141_321_231_769e-3),
    (-2.076_847_978_677_83, 4.991_640_676_521_79e-2),
    (-1.023_255_663_789_133, 2.440_975_028_949_394e-1),
    (0.0, 4.063_492_063_492_064e-1),
    (1.023_255_663_789_133, 2.440_975_028_949_394e-1),
    (2.076_847_978_677_83, 4.991_640_676_521_79e-2),
    (3.205_429_002_856_47, 2.789_141_321_231_769e-3),
    (4.512_745_863_399_783, 2.234_584_400_774_658e-5),
];

/// Misfits at equal steps of the slope, less the smallest, widened.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Belief {
    start: f64,
    step: f64,
    misfits: Vec<f64>,
    /// Systematic doubt of the slope in Pa/s, one standard deviation.
    systematic: f64,
    /// Factor on the likelihood of a rate that does not matter, at most one.
    price: f64,
    /// Likelihoods at even places, where the systematic spans several steps.
    smooth: Option<Smooth>,
}

/// Likelihoods of rates at even places from `start` on.
#[derive(Debug, Clone, PartialEq)]
struct Smooth {
    start: f64,
    step: f64,
    likelihoods: Vec<f64>,
}

/// A systematic of more steps than these is summed step by step: nine points would leave gaps.
const FEW_STEPS: f64 = 3.0;
/// Widest stride of the sums in steps: half a standard deviation where the misfits reach to 60.
const WIDEST: f64 = 5.0;
/// Places of the sums.
const PLACES: u32 = 240;

impl Belief {
    pub fn new(start: f64, step: f64, misfits: Vec<f64>, systematic: f64, price: f64) -> Self {
        let mut belief = Self { start, step, misfits, systematic, price, smooth: None };
        if systematic > FEW_STEPS * step {
            belief.smooth = Some(belief.summed());
        }
        belief
    }

    /// How well a straight part of `rate` Pa/s agrees, up to a factor: a systematic slope comes
    /// on top of it with its own probability.
    pub fn likelihood(&self, rate: f64) -> f64 {
        if let Some(smooth) = &self.smooth {
            return smooth.at(rate);
        }
        let terms = NORMAL.iter().map(|(place, weight)| {
            weight * libm::exp(-0.5 * self.misfit(rate + place * self.systematic))
        });
        terms.sum()
    }

    /// The sum over the slopes that the readings allow, a third of the systematic apart, but never
    /// so far that the steps of the most likely ones are missed.
    fn summed(&self) -> Smooth {
        let stride = libm::floor(self.systematic / (FEW_STEPS * self.step)).clamp(1.0, WIDEST);
        let beyond = 0.25 * self.misfits.len() as f64;
        let count = ((self.misfits.len() as f64 + 2.0 * beyond) / stride) as u32;
        let slopes = (0..=count).map(|k| self.start + (stride * f64::from(k) - beyond) * self.step);
        let weighed = slopes.map(|slope| (slope, libm::exp(-0.5 * self.misfit(slope))));
        let terms: Vec<(f64, f64)> = weighed.filter(|(_, weight)| *weight > 1e-6).collect();
        let low = self.start - 5.0 * self.systematic;
        let step = (self.reach() - low) / f64::from(PLACES);
        let share = stride * self.step / (self.systematic * libm::sqrt(core::f64::consts::TAU));
        let at = |k: u32| {
            let rate = low + step * f64::from(k);
            let term = |(slope, weight): &(f64, f64)| {
                let away = (rate - slope) / self.systematic;
                weight * libm::exp(-0.5 * away * away)
            };
            share * terms.iter().map(term).sum::<f64>()
        };
        Smooth { start: low, step, likelihoods: (0..=PLACES).map(at).collect() }
    }

    /// Between the steps linearly; outside them the parabola through the edge.
    fn misfit(&self, slope: f64) -> f64 {
        let place = (slope - self.start) / self.step;
        let last = self.misfits.len() - 1;
        let edge = |index: usize, inner: usize, beyond: f64| {
            let per_step = (self.misfits[index] - self.misfits[inner]).max(0.0);
            self.misfits[index] + beyond * per_step
        };
        if place <= 0.0 {
            return edge(0, 1, -place);
        }
        if place >= last as f64 {
            return edge(last, last - 1, place - last as f64);
        }
        let below = place as usize;
        let share = place - below as f64;
        self.misfits[below] * (1.0 - share) + self.misfits[below + 1] * share
    }

    /// Largest rate that the steps and the systematic reach.
    pub fn reach(&self) -> f64 {
        let last = self.start + self.step * (self.misfits.len() - 1) as f64;
        (last + 5.0 * self.systematic).max(self.step)
    }

    /// P(rate > `matters`) at odds 1:1: below it half on none and half spread evenly, above it
    /// spread evenly in the logarithm over a factor of at least a hundred.
    pub fn probability_above(&self, matters: f64) -> f64 {
        let below = self.mean_to(matters);
        let top = self.reach().max(100.0 * matters);
        let above = self.log_mean(matters, top);
        let none = self.price * (0.5 * self.likelihood(0.0) + 0.5 * below);
        if none + above > 0.0 { above / (none + above) } else { 0.5 }
    }

    fn mean_to(&self, matters: f64) -> f64 {
        let sum: f64 = (0..=40_u32)
            .map(|k| {
                let weight = if k == 0 || k == 40 { 0.5 } else { 1.0 };
                weight * self.likelihood(matters * f64::from(k) / 40.0)
            })
            .sum();
        sum / 40.0
    }

    fn log_mean(&self, matters: f64, top: f64) -> f64 {
        let low = (self.start - 5.0 * self.systematic).max(matters);
        let high = self.reach();
        if high <= low {
            return 0.0;
        }
        let step = (high - low) / 400.0;
        let sum: f64 = (0..=400_u32)
            .map(|k| {
                let rate = low + step * f64::from(k);
                let weight = if k == 0 || k == 400 { 0.5 } else { 1.0 };
                weight * self.likelihood(rate) / rate
            })
            .sum();
        sum * step / libm::log(top / matters)
    }

    /// The most likely rate and the rates around it whose `-2 ln` likelihood stays within
    /// `level` of it, none below zero.
    pub fn interval(&self, level: f64) -> (f64, f64, f64) {
        const STEPS: u32 = 800;
        let step = self.reach() / f64::from(STEPS);
        let all: Vec<f64> = (0..=STEPS).map(|k| self.likelihood(step * f64::from(k))).collect();
        let (peak, most) = all
            .iter()
            .enumerate()
            .fold((0, 0.0), |best, (k, like)| if *like > best.1 { (k, *like) } else { best });
        let least = most * libm::exp(-0.5 * level);
        let inside = |like: &f64| *like >= least;
        let first = all.iter().position(inside).unwrap_or(0).saturating_sub(1);
        let last = all.iter().rposition(inside).map_or(0, |k| k + 1);
        let rate = |k: usize| step * k as f64;
        (rate(peak), rate(first), rate(last))
    }
}

impl Smooth {
    /// In a straight line between the places, none outside.
    fn at(&self, rate: f64) -> f64 {
        let place = (rate - self.start) / self.step;
        if !(0.0..=f64::from(PLACES)).contains(&place) {
            return 0.0;
        }
        let below = (place as usize).min(PLACES as usize - 1);
        let share = place - below as f64;
        self.likelihoods[below] * (1.0 - share) + self.likelihoods[below + 1] * share
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A slope known to a standard deviation of `own`, ten of those from zero, and the systematic
    /// beside it: both together are a normal distribution again.
    #[test]
    fn a_systematic_widens_the_interval_by_the_root_of_the_squares() {
        for (own, systematic) in
            [(1.0, 0.1), (1.0, 1.0), (1.0, 4.0), (0.05, 2.0), (0.01, 1.7), (1e-4, 2.0)]
        {
            let step = 0.1 * own;
            let misfits = (0..=160).map(|k| {
                let away = f64::from(k) * 0.1 - 8.0;
                away * away
            });
            let start = 20.0 - 8.0 * own;
            let belief = Belief::new(start, step, misfits.collect(), systematic, 1.0);
            let (value, low, high) = belief.interval(3.84);
            let width = 1.96 * libm::hypot(own, systematic);
            assert!((value - 20.0).abs() < 0.1 * width, "{own} and {systematic}: {value}");
            assert!((low - 20.0 + width).abs() < 0.1 * width, "{own} and {systematic}: {low}");
            assert!((high - 20.0 - width).abs() < 0.1 * width, "{own} and {systematic}: {high}");
        }
    }
}
