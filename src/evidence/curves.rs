//! Weights as polynomials of a number, and where another of them takes the lead.

/// How many places on either side of what is stated are looked at before halving (limit of ours;
/// two crossings nearer to each other than that may be taken for none).
const LOOKED_AT: u32 = 256;

/// Weights known at evenly spaced values of a number, as many as their degree and one.
#[derive(Clone, Debug)]
pub(super) struct Curves {
    /// The lowest value.
    pub(super) low: f64,
    /// The highest value.
    pub(super) high: f64,
    /// The weights at each value, from the lowest to the highest.
    pub(super) values: Vec<Vec<f64>>,
}

impl Curves {
    /// The nearest crossing where two values are known; with the place of what leads beyond.
    pub(super) fn line(&self, stated: f64) -> Option<(f64, usize)> {
        let (from, to) = (self.values.first()?, self.values.last()?);
        let leader = self.leader(stated)?;
        let crossings = (0..from.len()).filter(|other| *other != leader).filter_map(|other| {
            let (start, end) = (from[leader] - from[other], to[leader] - to[other]);
            let share = start / (start - end);
            let is_inside = share.is_finite() && (0.0..=1.0).contains(&share);
            is_inside.then_some((self.low + share * (self.high - self.low), other))
        });
        crossings.min_by(|a, b| (a.0 - stated).abs().total_cmp(&(b.0 - stated).abs()))
    }

    /// The nearest crossing whatever the degree.
    pub(super) fn curve(&self, stated: f64) -> Option<(f64, usize)> {
        let leader = self.leader(stated)?;
        let sides = [self.low, self.high].into_iter().filter_map(|end| {
            let at = |k: u32| stated + (end - stated) * f64::from(k) / f64::from(LOOKED_AT);
            let beyond = (1..=LOOKED_AT).find(|k| self.leader(at(*k)) != Some(leader))?;
            let (mut inside, mut outside) = (at(beyond - 1), at(beyond));
            for _ in 0..60 {
                let middle = 0.5 * (inside + outside);
                if self.leader(middle) == Some(leader) { inside = middle } else { outside = middle }
            }
            Some((outside, self.leader(outside)?))
        });
        sides.min_by(|a, b| (a.0 - stated).abs().total_cmp(&(b.0 - stated).abs()))
    }

    /// What leads at a value; of equals the first.
    fn leader(&self, value: f64) -> Option<usize> {
        let shares = self.shares(value);
        let weight = |curve: usize| -> f64 {
            shares.iter().zip(&self.values).map(|(share, weights)| share * weights[curve]).sum()
        };
        let weights = (0..self.values.first()?.len()).map(|curve| (curve, weight(curve)));
        weights.reduce(|best, next| if next.1 > best.1 { next } else { best }).map(|best| best.0)
    }

    /// By what the weights at each known value are multiplied to give those at another (Lagrange).
    fn shares(&self, value: f64) -> Vec<f64> {
        let last = (self.values.len() - 1).max(1) as f64;
        let place = (value - self.low) / (self.high - self.low) * last;
        let others = |k: usize| (0..self.values.len()).filter(move |other| *other != k);
        let share = |k: usize| -> f64 {
            others(k).map(|other| (place - other as f64) / (k as f64 - other as f64)).product()
        };
        (0..self.values.len()).map(share).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// x^2 against .5 - x from 0 to 1: x = (sqrt(3) - 1) / 2.
    #[test]
    fn a_parabola_takes_the_lead_where_it_meets_the_line() {
        let at = |x: f64| vec![0.5 - x, x * x];
        let curves = Curves { low: 0.0, high: 1.0, values: vec![at(0.0), at(0.5), at(1.0)] };
        let (place, other) = curves.curve(0.1).unwrap();
        assert!((place - (libm::sqrt(3.0) - 1.0) / 2.0).abs() < 1e-12, "{place}");
        assert_eq!((other, curves.curve(0.9).unwrap().1), (1, 0));
        let apart = Curves { low: 0.0, high: 1.0, values: vec![vec![1.0, 0.0]; 3] };
        assert_eq!(apart.curve(0.5), None);
    }
}
