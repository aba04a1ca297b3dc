//! Networks of yes/no findings, stated as backgrounds and net strengths.

use dryhold::evidence::network::{CauseModel, Evidence, FindingModel, Model};

/// A finding that shows of itself with probability `leak`, and that each cause alone produces
/// with its strength, the background not included.
pub fn finding(leak: f64, strengths: &[f64]) -> FindingModel {
    let shown_by = strengths
        .iter()
        .enumerate()
        .filter(|(_, strength)| **strength > 0.0)
        .map(|(cause, strength)| {
            let stays_away = (1.0 - leak) * (1.0 - strength);
            (cause, vec![stays_away, 1.0 - stays_away])
        })
        .collect();
    FindingModel { background: vec![1.0 - leak, leak], shown_by, hidden_by: vec![] }
}

/// A network of causes that nothing brings.
pub fn model(priors: &[f64], findings: Vec<FindingModel>) -> Model {
    let causes = priors.iter().map(|prior| CauseModel { prior: *prior, brought_by: vec![] });
    Model { causes: causes.collect(), findings }
}

/// A finding seen with this outcome.
pub fn seen(finding: usize, outcome: usize) -> Evidence {
    Evidence::Seen { finding, outcome }
}

/// Asserts that two lists of numbers agree within a tolerance.
#[track_caller]
pub fn assert_close(found: &[f64], expected: &[f64], tolerance: f64) {
    assert_eq!(found.len(), expected.len(), "{found:?} beside {expected:?}");
    for (found_one, expected_one) in found.iter().zip(expected) {
        assert!(
            (found_one - expected_one).abs() <= tolerance,
            "{found:?} is further than {tolerance:e} from {expected:?}"
        );
    }
}
