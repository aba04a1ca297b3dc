//! What a judged log counts as, and how well the probabilities hold.

use crate::invented::Draws;
use dryhold::rise::Verdict;
use std::io::Write;

/// A log's truth beside what was said of it.
#[derive(Debug)]
pub struct Judged {
    pub probability: f64,
    pub verdict: Verdict,
    pub is_covered: bool,
    pub is_refused: bool,
    pub told_minutes: f64,
    pub leak: f64,
    pub matters: f64,
    pub family: Option<usize>,
    pub time_constant: f64,
    pub duration: f64,
}

impl Judged {
    pub fn is_slow(&self) -> bool {
        self.time_constant >= 0.5 * self.duration
    }

    pub fn matters(&self) -> bool {
        self.leak > self.matters
    }

    pub fn is_in_scope(&self) -> bool {
        !self.is_slow() && (self.leak == 0.0 || self.matters())
    }

    pub fn is_decided(&self) -> bool {
        self.probability > 0.9 || self.probability < 0.1
    }

    pub fn is_wrong(&self) -> bool {
        (self.probability > 0.5) != self.matters()
    }

    pub fn is_called_straight(&self) -> bool {
        matches!(self.verdict, Verdict::Straight | Verdict::Both)
    }

    /// Called straight, and the true source is slower than what could have been told.
    pub fn is_told_rightly(&self) -> bool {
        self.is_called_straight() && self.time_constant >= self.told_minutes
    }
}

/// Prints the reliability of the logs in scope.
pub fn reliability(
    out: &mut impl Write,
    judged: &[Judged],
    draws: &mut Draws,
) -> std::io::Result<()> {
    let pairs: Vec<(f64, bool)> = judged
        .iter()
        .filter(|log| log.is_in_scope())
        .map(|log| (log.probability, log.matters()))
        .collect();
    writeln!(out, "\nreliability in the same scope\nprobability   logs  said  true")?;
    let edges = [0.0, 0.02, 0.1, 0.3, 0.5, 0.7, 0.9, 0.98, 1.000_001];
    for edge in edges.windows(2) {
        let inside: Vec<&(f64, bool)> =
            pairs.iter().filter(|pair| pair.0 >= edge[0] && pair.0 < edge[1]).collect();
        let count = inside.len();
        let said = inside.iter().map(|pair| pair.0).sum::<f64>() / count.max(1) as f64;
        let found = inside.iter().filter(|pair| pair.1).count() as f64 / count.max(1) as f64;
        writeln!(out, "{:.2} to {:.2} {count:>6} {said:>5.2} {found:>5.2}", edge[0], edge[1])?;
    }
    let base = pairs.iter().filter(|pair| pair.1).count() as f64 / pairs.len() as f64;
    for (name, loss) in [("Brier", brier as fn(f64, bool) -> f64), ("log loss", log_loss)] {
        let losses: Vec<f64> = pairs.iter().map(|(p, is_true)| loss(*p, *is_true)).collect();
        let by_base: Vec<f64> = pairs.iter().map(|(_, is_true)| loss(base, *is_true)).collect();
        let (low, high) = bootstrap(&losses, draws);
        writeln!(
            out,
            "{name:<9} {:.4} (95 % {low:.4} to {high:.4}), base rate {:.4}",
            mean(&losses),
            mean(&by_base)
        )?;
    }
    Ok(())
}

fn brier(probability: f64, is_true: bool) -> f64 {
    let miss = probability - f64::from(u8::from(is_true));
    miss * miss
}

fn log_loss(probability: f64, is_true: bool) -> f64 {
    let said = if is_true { probability } else { 1.0 - probability };
    -libm::log(said.max(1e-6))
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

fn bootstrap(losses: &[f64], draws: &mut Draws) -> (f64, f64) {
    let count = losses.len();
    let mut means: Vec<f64> = (0..1000)
        .map(|_| {
            let picked = (0..count).map(|_| losses[(draws.chance() * count as f64) as usize]);
            picked.sum::<f64>() / count as f64
        })
        .collect();
    means.sort_by(f64::total_cmp);
    (means[25], means[974])
}
