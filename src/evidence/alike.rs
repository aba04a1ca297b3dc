//! Causes that the handbook's findings tell apart badly, whatever a case will show.

use super::engine::Engine;
use super::network::Network;
use crate::handbook::{CauseId, Handbook};

/// Two causes of different groups, and what a finding tells between them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Alike {
    /// The two, in the order of the handbook.
    pub causes: [CauseId; 2],
    /// The mean over the findings that speak of either, in nats: half of the divergence of Jeffreys
    /// (1946), which is the expected log-likelihood ratio, the mean of both ways round.
    pub nats: f64,
}

/// Every two causes of different groups between which a finding tells less than so many nats on
/// average, the most alike first.
#[must_use]
pub fn alike(engine: &Engine, handbook: &Handbook, below: f64) -> Vec<Alike> {
    let network = engine.network();
    let ids: Vec<CauseId> = handbook.cause_ids().collect();
    let group = |id: CauseId| handbook.cause(id).group.as_str();
    let pairs = ids.iter().enumerate().flat_map(|(place, one)| {
        let others = ids[place + 1..].iter().filter(|other| group(*one) != group(**other));
        others.map(|other| [*one, *other])
    });
    let told = pairs.map(|causes| Alike { causes, nats: told_between(network, causes) });
    let mut alike: Vec<Alike> = told.filter(|pair| pair.nats < below).collect();
    alike.sort_by(|a, b| a.nats.total_cmp(&b.nats));
    alike
}

fn told_between(network: &Network, causes: [CauseId; 2]) -> f64 {
    let [one, other] = causes.map(|cause| 1_usize << cause.index());
    let (mut sum, mut number) = (0.0, 0_usize);
    for finding in 0..network.findings() {
        let outcomes = 0..network.outcomes(finding).unwrap_or(0);
        let chance = |state| move |outcome| network.chance(finding, outcome, state).unwrap_or(0.0);
        let speaks = |state| {
            let changes = |o: usize| (chance(state)(o) - chance(0)(o)).abs() > 1e-9;
            outcomes.clone().any(changes)
        };
        if speaks(one) || speaks(other) {
            number += 1;
            sum += outcomes.map(|o| half_jeffreys(chance(one)(o), chance(other)(o))).sum::<f64>();
        }
    }
    sum / number.max(1) as f64
}

/// One outcome's part in half of the divergence; an outcome that can't be with one tells all.
fn half_jeffreys(one: f64, other: f64) -> f64 {
    if one == other { 0.0 } else { 0.5 * (one - other) * libm::log(one / other) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evidence::network::{CauseModel, FindingModel, Model};

    /// By hand: a finding seen in .8 with one and in .2 with the other, and one that tells nothing
    /// between them: .5 (.6 ln 4 + .6 ln 4) = .6 ln 4, over two.
    #[test]
    fn what_is_told_is_the_mean_of_both_ways_round() {
        let finding = |shown: &[(usize, f64)]| FindingModel {
            background: vec![0.9, 0.1],
            shown_by: shown.iter().map(|(c, p)| (*c, vec![1.0 - p, *p])).collect(),
            hidden_by: Vec::new(),
        };
        let cause = CauseModel { prior: 0.1, brought_by: Vec::new() };
        let network = Network::new(Model {
            causes: vec![cause.clone(), cause.clone(), cause],
            findings: vec![
                finding(&[(0, 0.8), (1, 0.2)]),
                finding(&[(0, 0.5), (1, 0.5)]),
                finding(&[(2, 0.9)]),
            ],
        })
        .unwrap();
        let told = told_between(&network, [CauseId::at(0), CauseId::at(1)]);
        assert!((told - 0.5 * 0.6 * libm::log(4.0)).abs() < 1e-12, "{told}");
    }
}
