//! Checks a model and turns what its author states into what the network multiplies.

use super::fault::ModelError;
use super::model::{CauseModel, FindingModel, MOST_CAUSES, Model};

/// How far a distribution's sum may be from 1, and a ratio from its bound: rounding, not intent.
const ROUNDING: f64 = 1e-9;

/// Everything but the findings' distributions, which [`conditional`] checks while it reads them.
pub(super) fn check_causes(model: &Model) -> Result<(), ModelError> {
    let causes = model.causes.len();
    if causes > MOST_CAUSES {
        return Err(ModelError::TooMany { causes, most: MOST_CAUSES });
    }
    for (cause, told) in model.causes.iter().enumerate() {
        if !is_chance(told.prior) {
            return Err(ModelError::Prior { cause, prior: told.prior });
        }
        check_bringers(cause, told, causes)?;
    }
    check_circles(&model.causes)
}

/// The places and strengths of a finding's causes.
pub(super) fn check_finding(
    finding: usize,
    told: &FindingModel,
    causes: usize,
) -> Result<(), ModelError> {
    if !is_distribution(&told.background) {
        return Err(ModelError::Background { finding });
    }
    let mut seen = 0_u32;
    for (cause, shown) in &told.shown_by {
        note_cause(&mut seen, finding, *cause, causes)?;
        let outcomes = told.background.len();
        if shown.len() != outcomes || !is_distribution(shown) {
            return Err(ModelError::Shown { finding, cause: *cause, outcomes });
        }
    }
    seen = 0;
    for &(cause, chance) in &told.hidden_by {
        note_cause(&mut seen, finding, cause, causes)?;
        if !is_chance(chance) {
            return Err(ModelError::Hidden { finding, cause, chance });
        }
    }
    Ok(())
}

/// The probability of each outcome or one nearer to normal; the last is exactly 1.
pub(super) fn cumulative(distribution: &[f64]) -> Vec<f64> {
    let total: f64 = distribution.iter().sum();
    let mut sum = 0.0;
    let mut cumulative: Vec<f64> = distribution
        .iter()
        .map(|chance| {
            sum += chance;
            (sum / total).min(1.0)
        })
        .collect();
    if let Some(last) = cumulative.last_mut() {
        *last = 1.0;
    }
    cumulative
}

/// The cumulative distribution of what a cause produces by itself: the compound one divided by
/// the background's.
pub(super) fn net_cumulative(
    finding: usize,
    cause: usize,
    background: &[f64],
    compound: &[f64],
) -> Result<Vec<f64>, ModelError> {
    let mut below = 0.0;
    let mut net = Vec::with_capacity(background.len());
    for (outcome, (&without, &with)) in background.iter().zip(compound).enumerate() {
        if with > without + ROUNDING {
            return Err(ModelError::BelowBackground { finding, cause, outcome, with, without });
        }
        // What the background never leaves at or below this outcome, nothing has to lift.
        let ratio = if without > 0.0 { (with / without).min(1.0) } else { below };
        if ratio < below - ROUNDING {
            let reached = outcome.checked_sub(1).and_then(|o| compound.get(o)).unwrap_or(&0.0);
            let (with, least) = (with - reached, below * without - reached);
            return Err(ModelError::TooRare { finding, cause, outcome, with, least });
        }
        below = ratio.max(below);
        net.push(below);
    }
    Ok(net)
}

/// The probability that a bringing cause alone brings the cause, beyond the cause's own prior.
pub(super) fn net_chance(prior: f64, compound: f64) -> f64 {
    if prior < 1.0 { ((compound - prior) / (1.0 - prior)).clamp(0.0, 1.0) } else { 0.0 }
}

fn is_chance(value: f64) -> bool {
    (0.0..=1.0).contains(&value)
}

fn is_distribution(chances: &[f64]) -> bool {
    chances.len() >= 2
        && chances.iter().all(|chance| is_chance(*chance))
        && (chances.iter().sum::<f64>() - 1.0).abs() <= ROUNDING
}

fn note_cause(
    seen: &mut u32,
    finding: usize,
    cause: usize,
    causes: usize,
) -> Result<(), ModelError> {
    if cause >= causes {
        return Err(ModelError::UnknownCause { finding, cause });
    }
    if *seen & (1 << cause) != 0 {
        return Err(ModelError::CauseTwice { finding, cause });
    }
    *seen |= 1 << cause;
    Ok(())
}

fn check_bringers(cause: usize, told: &CauseModel, causes: usize) -> Result<(), ModelError> {
    let mut seen = 0_u32;
    for &(by, chance) in &told.brought_by {
        if by >= causes {
            return Err(ModelError::UnknownBringer { cause, by });
        }
        if seen & (1 << by) != 0 {
            return Err(ModelError::BringerTwice { cause, by });
        }
        seen |= 1 << by;
        if !is_chance(chance) || chance < told.prior - ROUNDING {
            return Err(ModelError::Brought { cause, by, chance, prior: told.prior });
        }
    }
    Ok(())
}

/// Takes away causes that nothing left brings, until none is left or only circles are.
fn check_circles(causes: &[CauseModel]) -> Result<(), ModelError> {
    let mut left: Vec<usize> = (0..causes.len()).collect();
    loop {
        let still: Vec<usize> = left
            .iter()
            .copied()
            .filter(|cause| causes[*cause].brought_by.iter().any(|(by, _)| left.contains(by)))
            .collect();
        if still.is_empty() {
            return Ok(());
        }
        if still.len() == left.len() {
            return Err(ModelError::Circle { causes: circle(causes, &left) });
        }
        left = still;
    }
}

/// One circle among causes of which each is brought by another of them.
fn circle(causes: &[CauseModel], left: &[usize]) -> Vec<usize> {
    let mut walked: Vec<usize> = Vec::new();
    let mut here = left.first().copied();
    while let Some(cause) = here {
        if let Some(start) = walked.iter().position(|earlier| *earlier == cause) {
            // The walk went from each cause to one that brings it, so it is turned round.
            let mut circle = walked.split_off(start);
            circle.reverse();
            return circle;
        }
        walked.push(cause);
        here = causes[cause].brought_by.iter().map(|(by, _)| *by).find(|by| left.contains(by));
    }
    walked
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cause(prior: f64, brought_by: &[(usize, f64)]) -> CauseModel {
        CauseModel { prior, brought_by: brought_by.to_vec() }
    }

    #[test]
    fn a_circle_is_named_in_the_order_of_bringing() {
        let causes = vec![
            cause(0.1, &[]),
            cause(0.1, &[(0, 0.5), (3, 0.5)]),
            cause(0.1, &[(1, 0.5)]),
            cause(0.1, &[(2, 0.5)]),
            cause(0.1, &[(3, 0.5)]),
        ];
        let model = Model { causes, findings: vec![] };
        let Err(ModelError::Circle { causes }) = check_causes(&model) else {
            panic!("a circle must be refused");
        };
        for (place, by) in causes.iter().enumerate() {
            let brought = causes[(place + 1) % causes.len()];
            assert!(model.causes[brought].brought_by.iter().any(|(bringer, _)| bringer == by));
        }
        assert_eq!(causes.len(), 3);
    }

    #[test]
    fn a_cause_that_takes_away_from_the_background_is_refused() {
        let background = cumulative(&[0.6, 0.3, 0.1]);
        let fewer = net_cumulative(0, 0, &background, &cumulative(&[0.7, 0.2, 0.1]));
        assert!(matches!(fewer, Err(ModelError::BelowBackground { outcome: 0, .. })));
        // The first outcome keeps 5/6 of the background, so at least as much of .9 must stay
        // at or below the second: .75, of which .5 are in the first.
        let rare = net_cumulative(0, 0, &background, &cumulative(&[0.5, 0.2, 0.3]));
        let Err(ModelError::TooRare { outcome: 1, with, least, .. }) = rare else {
            panic!("an outcome can't be rarer than the background leaves it");
        };
        assert!((with - 0.2).abs() < 1e-12 && (least - 0.25).abs() < 1e-12);
        let net = net_cumulative(0, 0, &background, &cumulative(&[0.3, 0.5, 0.2])).unwrap();
        assert!((net[0] - 0.5).abs() < 1e-12 && (net[1] - 0.8 / 0.9).abs() < 1e-12);
        assert!((net[2] - 1.0).abs() < 1e-12);
    }

    #[test]
    fn thirds_written_with_rounding_are_refused_only_when_they_are_far_from_one() {
        assert!(is_distribution(&[1.0 / 3.0, 1.0 / 3.0, 1.0 / 3.0]));
        assert!(!is_distribution(&[0.33, 0.33, 0.33]));
        assert!(!is_distribution(&[1.2, -0.2]));
        assert!(!is_distribution(&[f64::NAN, 1.0]));
        assert!(!is_distribution(&[1.0]));
    }
}
