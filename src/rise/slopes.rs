//! Which slopes of the straight part the readings allow.

use super::belief::Belief;
use super::condense::Points;
use super::drift::systematic;
use super::input::Hold;
use super::profile::Profile;
use super::spread::{Columns, settled};

/// Settling parts slower than this share of the window can stand in for a straight part
/// (`estimate`).
const SLOW: f64 = 0.6;

/// The slopes in question.
pub(super) struct Slopes {
    pub belief: Belief,
    /// How much wider than expected the noise is, as a factor of its variance.
    pub widening: f64,
    pub lowest: f64,
    pub least: f64,
}

impl Slopes {
    pub fn find(
        hold: &Hold,
        points: &Points,
        columns: &Columns,
        profile: &mut Profile<'_>,
    ) -> Self {
        let steepest = points.steepest();
        let lowest = profile.lowest(-steepest, steepest);
        let (least, amounts) = profile.at(lowest);
        let least = least.max(0.0);
        let held_by_water = settled(columns, amounts, points.duration, hold.step_time);
        let widening = widening(&profile.rest(lowest), profile.at(lowest).1);
        let level = least + 60.0 * widening;
        let low = profile.edge(lowest, -steepest, level);
        let high = profile.edge(lowest, steepest, level);
        const STEPS: u32 = 160;
        let step = ((high - low) / f64::from(STEPS)).max(f64::MIN_POSITIVE);
        let misfits = (0..=STEPS)
            .map(|k| (profile.at(low + step * f64::from(k)).0 - least).max(0.0) / widening)
            .collect();
        let systematic = systematic(hold, points, held_by_water);
        let price = price(columns, profile.at(0.0).1, points);
        let belief = Belief::new(low, step, misfits, systematic, price);
        Self { belief, widening, lowest, least }
    }
}

/// Without a straight part, slow settling parts stand in for it: a number fitted at its best,
/// where a rate pays for its range. Such a number costs the root of the count of points
/// (Schwarz 1978, from memory).
fn price(columns: &Columns, amounts: &[f64], points: &Points) -> f64 {
    let mut parts = columns.time_constants.iter().zip(amounts);
    let is_used = parts.any(|(tau, amount)| *tau > SLOW * points.duration && *amount > 0.0);
    if is_used { 1.0 / libm::sqrt(points.times.len() as f64) } else { 1.0 }
}

/// Factor of the variance: what is left against what was expected, and more where neighbours
/// are left over to the same side (lag-one correlation). Never below one.
fn widening(rest: &[f64], amounts: &[f64]) -> f64 {
    let fitted = 2 + amounts.iter().filter(|amount| **amount > 0.0).count();
    let freedom = rest.len().saturating_sub(fitted).max(2) as f64;
    let squares: f64 = rest.iter().map(|r| r * r).sum();
    let pairs: f64 = rest.windows(2).map(|pair| pair[0] * pair[1]).sum();
    let correlation = if squares > 0.0 { (pairs / squares).clamp(0.0, 0.7) } else { 0.0 };
    let is_long = rest.len() >= 12;
    let repeated = if is_long { (1.0 + correlation) / (1.0 - correlation) } else { 1.0 };
    (squares / freedom).max(1.0) * repeated
}
