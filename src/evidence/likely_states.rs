//! The sets of causes that may be there now, as far as anything speaks for them.
//!
//! What would be so after one test or another is asked many thousand times over. Of all sets of
//! causes a few hundred carry what there is to know; the others are left out of such questions.

use std::collections::BTreeMap;
use std::sync::{Mutex, OnceLock, PoisonError};

use super::decision::{Decisions, Lead, Tally};
use super::network::{MOST_TOGETHER, Network};

/// The probability that may be left out, all together (limit of ours: no test is told to more than
/// a hundredth).
const LEFT_OUT: f64 = 1e-6;

/// States with their weights, and what can be decided for.
#[derive(Debug)]
pub(super) struct LikelyStates<'a> {
    network: &'a Network,
    states: Vec<usize>,
    weights: Vec<f64>,
    /// The places of the states that speak for each group.
    of_groups: Vec<Vec<u32>>,
    /// Those of the states that speak for nothing being wrong.
    of_nothing: Vec<u32>,
    /// For each finding of the network what it says of the states, once it was asked for; the last
    /// stands for any that does not exist.
    columns: Vec<OnceLock<Columns>>,
    /// The bits that were asked for of some findings together.
    bits: Mutex<BTreeMap<Vec<usize>, f64>>,
}

/// The least weight that is kept where the least of them may be left out.
///
/// Those that are no more than their share of what may be left out are left out, however many there
/// are, and none is that weighs more than all of it. Only the few between have to be put in order.
fn least_kept(weights: &[f64]) -> f64 {
    let most = LEFT_OUT * weights.iter().sum::<f64>();
    let share = most / weights.len() as f64;
    let mut left_out = weights.iter().filter(|weight| **weight <= share).sum::<f64>();
    let is_between = |weight: &f64| share < *weight && *weight <= most;
    let mut between: Vec<f64> = weights.iter().copied().filter(is_between).collect();
    between.sort_unstable_by(f64::total_cmp);
    let least = between.into_iter().find(|weight| {
        left_out += weight;
        left_out > most
    });
    least.unwrap_or(most.next_up())
}

/// What a finding says of each state.
#[derive(Clone, Debug)]
struct Columns {
    /// The probability of each outcome.
    chances: Vec<Vec<f64>>,
    /// The bits by which the outcome would be uncertain.
    doubt: Vec<f64>,
}

impl Columns {
    fn of(network: &Network, finding: usize, states: &[usize]) -> Self {
        let chances = network.chances_in(finding, states);
        let doubt_in = |at: usize| chances.iter().map(|column| bit_share(column[at])).sum();
        let doubt = (0..states.len()).map(doubt_in).collect();
        Self { chances, doubt }
    }
}

impl<'a> LikelyStates<'a> {
    /// All states of a network that weigh anything.
    pub fn all(network: &'a Network, decisions: &Decisions, weights: &[f64]) -> Self {
        Self::above(network, decisions, weights, 0.0)
    }

    /// The states without the least likely of them.
    pub fn likely(network: &'a Network, decisions: &Decisions, weights: &[f64]) -> Self {
        Self::above(network, decisions, weights, least_kept(weights))
    }

    /// The states that weigh as much, and something.
    fn above(network: &'a Network, decisions: &Decisions, all: &[f64], least: f64) -> Self {
        let is_kept = |(_, weight): &(usize, &f64)| **weight >= least && **weight > 0.0;
        let kept = all.iter().enumerate().filter(is_kept);
        let (states, weights): (Vec<usize>, Vec<f64>) = kept.unzip();
        let (mut of_groups, mut of_nothing) = (vec![Vec::new(); decisions.groups()], Vec::new());
        for (place, state) in (0..).zip(&states) {
            let groups = decisions.groups_in(*state);
            if groups.is_empty() {
                of_nothing.push(place);
            }
            groups.into_iter().for_each(|group| of_groups[group].push(place));
        }
        let columns = vec![OnceLock::new(); network.findings() + 1];
        let bits = Mutex::default();
        Self { network, states, weights, of_groups, of_nothing, columns, bits }
    }

    /// Their weights.
    pub fn weights(&self) -> &[f64] {
        &self.weights
    }

    /// What leads under weights of these states, and its weight.
    pub fn lead(&self, weights: &[f64]) -> (Lead, f64) {
        let groups = self.of_groups.iter().map(|places| sum_at(weights, places)).collect();
        Tally { nothing: sum_at(weights, &self.of_nothing), groups }.lead()
    }

    /// The weights with each outcome of a finding, in order; none where it does not exist.
    pub fn by_outcome(&self, weights: &[f64], finding: usize) -> Vec<Vec<f64>> {
        let under = |chances: &Vec<f64>| product(weights, chances);
        self.columns(finding).chances.iter().map(under).collect()
    }

    /// Calls a visitor with every set of outcomes that findings could have together, and the
    /// weights under it. Findings beyond the first [`MOST_TOGETHER`] are left out, and those that
    /// don't exist.
    pub fn each_outcome(&self, findings: &[usize], visit: &mut dyn FnMut(&[usize], &[f64])) {
        self.each_outcome_above(0.0, findings, visit);
    }

    /// The same without the outcomes that together weigh less than this.
    pub fn each_outcome_above(
        &self,
        least: f64,
        findings: &[usize],
        visit: &mut dyn FnMut(&[usize], &[f64]),
    ) {
        let findings = self.known(findings);
        Outcomes { of: self, least, visit }.walk(&self.weights, &findings, &mut Vec::new());
    }

    /// Those findings that exist, and no more than can be taken together.
    fn known(&self, findings: &[usize]) -> Vec<usize> {
        let is_known = |finding: &usize| *finding < self.network.findings();
        findings.iter().copied().filter(is_known).take(MOST_TOGETHER).collect()
    }

    /// How many bits the outcomes of findings would tell together, on average, about which state is
    /// the true one; of more than [`MOST_TOGETHER`] the first ones count.
    pub fn information_together(&self, findings: &[usize]) -> f64 {
        let mut findings = self.known(findings);
        findings.sort_unstable();
        let known = || self.bits.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(bits) = known().get(&findings) {
            return *bits;
        }
        let doubt = |finding: &usize| dot(&self.weights, &self.columns(*finding).doubt);
        let alone: f64 = findings.iter().map(doubt).sum();
        let bits = (self.outcome_bits(&self.weights, &findings) - alone).max(0.0);
        known().insert(findings, bits);
        bits
    }

    /// The bits by which the outcomes of findings are uncertain together.
    fn outcome_bits(&self, weights: &[f64], left: &[usize]) -> f64 {
        let Some((finding, rest)) = left.split_first() else { return bit_share(sum(weights)) };
        let columns = self.columns(*finding);
        let under = |chances: &Vec<f64>| match rest {
            [] => bit_share(dot(weights, chances)),
            rest => self.outcome_bits(&product(weights, chances), rest),
        };
        columns.chances.iter().map(under).sum()
    }

    /// How many bits the outcome of a finding would tell, on average, about which state is the
    /// true one, under weights of these states that sum to this.
    pub fn information(&self, weights: &[f64], total: f64, finding: usize) -> f64 {
        let columns = self.columns(finding);
        let share = |column: &Vec<f64>| dot(weights, column) / total;
        let all: f64 = columns.chances.iter().map(|chances| bit_share(share(chances))).sum();
        (all - share(&columns.doubt)).max(0.0)
    }

    /// What a finding says of each state.
    fn columns(&self, finding: usize) -> &Columns {
        let place = finding.min(self.network.findings());
        self.columns[place].get_or_init(|| Columns::of(self.network, place, &self.states))
    }
}

/// A walk through the outcomes that findings could have together.
struct Outcomes<'a, 'v> {
    of: &'a LikelyStates<'a>,
    /// Outcomes that weigh less together are not looked at.
    least: f64,
    visit: &'v mut dyn FnMut(&[usize], &[f64]),
}

impl Outcomes<'_, '_> {
    fn walk(&mut self, weights: &[f64], left: &[usize], sofar: &mut Vec<usize>) {
        let Some((finding, rest)) = left.split_first() else {
            return (self.visit)(sofar, weights);
        };
        for (outcome, chances) in self.of.columns(*finding).chances.iter().enumerate() {
            if self.least > 0.0 && dot(weights, chances) < self.least {
                continue;
            }
            sofar.push(outcome);
            self.walk(&product(weights, chances), rest, sofar);
            sofar.pop();
        }
    }
}

fn product(weights: &[f64], chances: &[f64]) -> Vec<f64> {
    weights.iter().zip(chances).map(|(weight, chance)| weight * chance).collect()
}

/// The sum, four side by side.
pub(super) fn sum(all: &[f64]) -> f64 {
    let (fours, rest) = all.as_chunks::<4>();
    let mut sums = [0.0; 4];
    for four in fours {
        for (sum, one) in sums.iter_mut().zip(four) {
            *sum += one;
        }
    }
    (sums[0] + sums[2]) + (sums[1] + sums[3]) + rest.iter().sum::<f64>()
}

/// The sum of those at some places, four side by side.
fn sum_at(all: &[f64], places: &[u32]) -> f64 {
    let (fours, rest) = places.as_chunks::<4>();
    let mut sums = [0.0; 4];
    for four in fours {
        for (sum, place) in sums.iter_mut().zip(four) {
            *sum += all[*place as usize];
        }
    }
    let rest: f64 = rest.iter().map(|place| all[*place as usize]).sum();
    (sums[0] + sums[2]) + (sums[1] + sums[3]) + rest
}

/// The sum of the products, four side by side.
fn dot(one: &[f64], other: &[f64]) -> f64 {
    let mut sums = [0.0; 4];
    let (fours, rest) = one.as_chunks::<4>();
    let (others, other_rest) = other.as_chunks::<4>();
    for (four, other) in fours.iter().zip(others) {
        for ((sum, one), other) in sums.iter_mut().zip(four).zip(other) {
            *sum += one * other;
        }
    }
    let rest: f64 = rest.iter().zip(other_rest).map(|(one, other)| one * other).sum();
    (sums[0] + sums[2]) + (sums[1] + sums[3]) + rest
}

fn bit_share(chance: f64) -> f64 {
    if chance > 0.0 { -chance * libm::log2(chance) } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::super::network::{CauseModel, FindingModel, Model};
    use super::*;

    fn network() -> Network {
        let cause = |prior: f64| CauseModel { prior, brought_by: Vec::new() };
        let finding = |cause: usize| FindingModel {
            background: vec![0.9, 0.1],
            shown_by: vec![(cause, vec![0.2, 0.8])],
            hidden_by: Vec::new(),
        };
        let causes = [0.3, 0.01, 1e-8, 0.2].map(cause).to_vec();
        Network::new(Model { causes, findings: (0..4).map(finding).collect() }).unwrap()
    }

    #[test]
    fn what_is_next_to_impossible_is_left_out_and_moves_nothing() {
        let network = network();
        let posterior = network.posterior(&[], &[]).unwrap();
        let decisions = Decisions::new((0..4).map(|cause| vec![cause]).collect());
        let all = LikelyStates::all(&network, &decisions, &posterior.states);
        let likely = LikelyStates::likely(&network, &decisions, &posterior.states);
        assert_eq!((all.weights().len(), likely.weights().len()), (16, 8));
        for finding in 0..4 {
            let exact = network.information_in(finding, &posterior.states);
            let told =
                |states: &LikelyStates<'_>| states.information(states.weights(), 1.0, finding);
            assert!((told(&all) - exact).abs() < 1e-12, "{finding}");
            assert!((told(&likely) - exact).abs() < 1e-6, "{finding}");
        }
    }

    /// Against all weights put in order: over many decades, and all much alike.
    #[test]
    fn the_least_that_is_kept_is_that_of_all_in_order() {
        for decades in [0.1, 5.0, 9.0, 30.0] {
            let place = |k: usize| (k * 1597 % 4096) as f64 / 4096.0;
            let weights: Vec<f64> = (0..4096).map(|k| libm::exp10(-decades * place(k))).collect();
            let mut ascending = weights.clone();
            ascending.sort_unstable_by(f64::total_cmp);
            let most = LEFT_OUT * weights.iter().sum::<f64>();
            let mut left_out = 0.0;
            let least = ascending.into_iter().find(|weight| {
                left_out += weight;
                left_out > most
            });
            let kept = |least: f64| weights.iter().filter(|weight| **weight >= least).count();
            assert_eq!(kept(least_kept(&weights)), kept(least.unwrap()), "{decades}");
        }
    }

    #[test]
    fn outcomes_weigh_what_they_do_in_the_network() {
        let network = network();
        let posterior = network.posterior(&[], &[]).unwrap();
        let decisions = Decisions::new(vec![vec![0, 1], vec![2, 3]]);
        let likely = LikelyStates::likely(&network, &decisions, &posterior.states);
        let mut met = Vec::new();
        likely.each_outcome(&[3, 0, 9], &mut |outcomes, weights| {
            met.push((outcomes.to_vec(), weights.iter().sum::<f64>(), likely.lead(weights)));
        });
        let mut place = 0;
        network.each_outcome(&posterior.states, &[3, 0], &mut |outcomes, weights| {
            let (told, weight, (lead, of_lead)) = &met[place];
            let (exact, exact_of_lead) = decisions.lead(weights);
            assert_eq!((told.as_slice(), *lead), (outcomes, exact));
            assert!((weight - weights.iter().sum::<f64>()).abs() < 1e-6);
            assert!((of_lead - exact_of_lead).abs() < 1e-6);
            place += 1;
        });
        assert_eq!((place, met.len()), (4, 4));
    }
}
