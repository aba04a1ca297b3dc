//! One settling part alone: `start + height (1 − exp(−t/τ))`, by the profile over τ.

use super::golden;
use super::line;

/// The best single settling part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Single {
    /// Value at time zero.
    pub start: f64,
    /// Rise it heads for.
    pub height: f64,
    /// Time constant in the unit of the times.
    pub time_constant: f64,
    /// Sum of the squared residuals.
    pub squares: f64,
}

/// Fits with the start given or free; τ between `shortest` and `longest`, both above zero.
///
/// For each τ the rest is a line in `1 − exp(−t/τ)`; τ is found on a grid in its logarithm and
/// refined by golden section. `None` if no τ can be fitted.
pub fn fit(
    t: &[f64],
    y: &[f64],
    start: Option<f64>,
    shortest: f64,
    longest: f64,
) -> Option<Single> {
    if !(shortest > 0.0 && longest > shortest && longest.is_finite()) {
        return None;
    }
    const STEPS: u32 = 200;
    let width = libm::log(longest / shortest) / f64::from(STEPS);
    let at = |place: f64| at(t, y, start, shortest * libm::exp(width * place));
    let squares = |place: f64| at(place).map_or(f64::INFINITY, |fit| fit.squares);
    let places = (0..=STEPS).map(f64::from);
    let best = places.min_by(|a, b| squares(*a).total_cmp(&squares(*b)))?;
    let (low, high) = ((best - 1.0).max(0.0), (best + 1.0).min(f64::from(STEPS)));
    at(golden::lowest(low, high, 60, squares))
}

fn at(t: &[f64], y: &[f64], start: Option<f64>, time_constant: f64) -> Option<Single> {
    let settling: Vec<f64> = t.iter().map(|t| -libm::expm1(-t / time_constant)).collect();
    let Some(start) = start else {
        let line = line::fit(&settling, y)?;
        let (start, height) = (line.intercept, line.slope);
        return Some(Single { start, height, time_constant, squares: line.squares });
    };
    let weight: f64 = settling.iter().map(|s| s * s).sum();
    let common: f64 = settling.iter().zip(y).map(|(s, y)| s * (y - start)).sum();
    let height = common / weight;
    let rest = settling.iter().zip(y).map(|(s, y)| y - start - height * s);
    let squares: f64 = rest.map(|r| r * r).sum();
    squares.is_finite().then_some(Single { start, height, time_constant, squares })
}
