//! The misfit of a hold as a function of its straight part's slope, all else fitted.
//!
//! With the slope fixed, the settling parts are a non-negative least-squares problem; its least
//! misfit is convex in the slope, which makes the search for edges safe.

use super::golden;
use super::nonnegative::{NonNegative, dot};
use super::spread::Columns;

/// Misfit over the slope, ready to be asked at any slope.
pub(super) struct Profile<'a> {
    columns: &'a Columns,
    problem: NonNegative,
    with_slope: Vec<f64>,
    with_target: Vec<f64>,
    squares: [f64; 3],
    last: Vec<f64>,
}

impl<'a> Profile<'a> {
    /// The profile of `columns`.
    pub fn new(columns: &'a Columns) -> Self {
        let products = |side: &[f64]| columns.settling.iter().map(|c| dot(c, side)).collect();
        let (slope, target) = (&columns.slope, &columns.target);
        Self {
            columns,
            problem: NonNegative::new(&columns.settling),
            with_slope: products(slope),
            with_target: products(target),
            squares: [dot(target, target), dot(target, slope), dot(slope, slope)],
            last: Vec::new(),
        }
    }

    /// The misfit in units of the noise and the amounts of the settling parts in Pa, at `slope`
    /// Pa/s.
    pub fn at(&mut self, slope: f64) -> (f64, &[f64]) {
        let products = self.products(slope);
        self.last = self.problem.solve(&products, &self.last);
        (self.misfit(slope, &products, &self.last), &self.last)
    }

    /// The same where each amount is drawn down by `pull` times its weight, or up by a pull below
    /// zero.
    pub fn drawn(&self, slope: f64, weights: &[f64], pull: f64) -> (f64, Vec<f64>) {
        let products = self.products(slope);
        let drawn: Vec<f64> = products.iter().zip(weights).map(|(y, w)| y - pull * w).collect();
        let amounts = self.problem.solve(&drawn, &self.last);
        (self.misfit(slope, &products, &amounts), amounts)
    }

    fn products(&self, slope: f64) -> Vec<f64> {
        let pairs = self.with_target.iter().zip(&self.with_slope);
        pairs.map(|(y, t)| y - slope * t).collect()
    }

    fn misfit(&self, slope: f64, products: &[f64], amounts: &[f64]) -> f64 {
        let [yy, yt, tt] = self.squares;
        yy - 2.0 * slope * yt + slope * slope * tt - 2.0 * dot(amounts, products)
            + self.problem.energy(amounts)
    }

    /// What is left of each point at `slope`, in units of the noise.
    pub fn rest(&mut self, slope: f64) -> Vec<f64> {
        let amounts = self.at(slope).1.to_vec();
        let mut rest = self.columns.target.clone();
        for (k, entry) in rest.iter_mut().enumerate() {
            *entry -= slope * self.columns.slope[k];
            for (amount, column) in amounts.iter().zip(&self.columns.settling) {
                *entry -= amount * column[k];
            }
        }
        rest
    }

    /// The slope of least misfit between `low` and `high` Pa/s, by golden section.
    pub fn lowest(&mut self, low: f64, high: f64) -> f64 {
        golden::lowest(low, high, 40, |slope| self.at(slope).0)
    }

    /// The slope between `inside` and `outside` where the misfit passes `level`, or `outside`.
    pub fn edge(&mut self, inside: f64, outside: f64, level: f64) -> f64 {
        if self.at(outside).0 <= level {
            return outside;
        }
        let (mut inside, mut outside) = (inside, outside);
        for _ in 0..24 {
            let middle = 0.5 * (inside + outside);
            if self.at(middle).0 <= level {
                inside = middle;
            } else {
                outside = middle;
            }
        }
        outside
    }
}
