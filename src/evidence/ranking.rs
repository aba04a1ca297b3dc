//! The ranking: what is there now, what was, and what calls for the same action.

use super::decision::{Decisions, Lead};
use super::epochs::Epochs;
use super::network::Posterior;
use super::weighed::Weighed;
use super::worksheet::Worksheet;
use crate::handbook::CauseId;

/// One cause with its probability.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ranked {
    /// The cause.
    pub cause: CauseId,
    /// How probable it is that it is there.
    pub probability: f64,
}

/// Causes that call for the same next action.
#[derive(Clone, Debug, PartialEq)]
pub struct RankedGroup {
    /// The group's name in the handbook.
    pub group: String,
    /// Its causes, likeliest first.
    pub causes: Vec<CauseId>,
    /// How probable it is that at least one of them is there.
    pub probability: f64,
}

/// Two causes of different groups that are both there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Together {
    /// The likelier of the two.
    pub first: CauseId,
    /// The other one.
    pub second: CauseId,
    /// How probable it is that both are there.
    pub probability: f64,
}

/// From this probability on two causes are worth being told as a pair (`estimate`: roughly even).
const PAIR: f64 = 0.45;

/// The nodes that say what is there now, by cause.
#[derive(Debug)]
pub(super) struct Now {
    nodes: Vec<usize>,
    /// Whether no cause has another node, so that the posterior knows the rest itself.
    is_all: bool,
}

impl Now {
    pub(super) fn of(sheet: &Worksheet<'_>, epochs: &Epochs) -> Self {
        let nodes: Vec<usize> =
            sheet.handbook().cause_ids().map(|cause| epochs.now(cause)).collect();
        Self { is_all: nodes.len() == epochs.network().causes(), nodes }
    }

    pub(super) fn nodes(&self) -> &[usize] {
        &self.nodes
    }

    /// How probable it is that no cause is there now, whatever was.
    pub(super) fn nothing(&self, posterior: &Posterior) -> f64 {
        if self.is_all { posterior.nothing } else { 1.0 - posterior.any_of(&self.nodes) }
    }

    /// Every cause, likeliest first; of equals, the earlier in the handbook.
    pub(super) fn ranking(&self, posterior: &Posterior) -> Vec<Ranked> {
        let ranked = |(i, &node): (usize, &usize)| Ranked {
            cause: CauseId::at(i),
            probability: posterior.marginals[node],
        };
        let mut ranking: Vec<Ranked> = self.nodes.iter().enumerate().map(ranked).collect();
        ranking.sort_by(|a, b| b.probability.total_cmp(&a.probability).then(a.cause.cmp(&b.cause)));
        ranking
    }

    /// The two likeliest causes of different groups, where both are about as likely there as not.
    pub(super) fn together(
        &self,
        sheet: &Worksheet<'_>,
        posterior: &Posterior,
    ) -> Option<Together> {
        let group = |cause: CauseId| &sheet.handbook().cause(cause).group;
        let ranking = self.ranking(posterior);
        let first = ranking.first()?;
        let second = ranking.iter().find(|other| group(other.cause) != group(first.cause))?;
        if second.probability < PAIR {
            return None;
        }
        let nodes = [first, second].map(|ranked| self.nodes[ranked.cause.index()]);
        let probability = first.probability + second.probability - posterior.any_of(&nodes);
        let (first, second) = (first.cause, second.cause);
        (probability >= PAIR).then_some(Together { first, second, probability })
    }

    /// The groups in the order of the handbook.
    pub(super) fn in_groups(&self, sheet: &Worksheet<'_>) -> Groups {
        let mut names: Vec<&str> = Vec::new();
        let mut groups: Vec<Vec<(CauseId, usize)>> = Vec::new();
        for cause in sheet.handbook().cause_ids() {
            let name = sheet.handbook().cause(cause).group.as_str();
            let place = names.iter().position(|known| *known == name).unwrap_or_else(|| {
                names.push(name);
                groups.push(Vec::new());
                groups.len() - 1
            });
            groups[place].push((cause, self.nodes[cause.index()]));
        }
        Groups { groups }
    }

    /// The probability of every set of causes there now, whatever was: bit *i* is cause *i*.
    pub(super) fn states(&self, posterior: &Posterior) -> Vec<f64> {
        if self.is_all {
            return posterior.states.clone();
        }
        let mut states = vec![0.0; 1 << self.nodes.len()];
        let low: Vec<usize> = (0..1 << 8).map(|state| self.place(state)).collect();
        for (place, run) in posterior.states.chunks(1 << 8).enumerate() {
            // Behind a repair most sets of what was and what is can't be.
            if run.iter().fold(true, |none, weight| none & (*weight == 0.0)) {
                continue;
            }
            let high = self.place(place << 8);
            for (weight, low) in run.iter().zip(&low) {
                states[low | high] += weight;
            }
        }
        states
    }

    /// The set of causes there now in a state of the network.
    fn place(&self, state: usize) -> usize {
        let there = self.nodes.iter().enumerate();
        there.fold(0, |now, (cause, node)| now | ((state >> node) & 1) << cause)
    }

    /// The groups of causes, likeliest first.
    /// `states` are the probabilities of the sets of causes there now.
    pub(super) fn groups(
        &self,
        sheet: &Worksheet<'_>,
        posterior: &Posterior,
        states: &[f64],
    ) -> Vec<RankedGroup> {
        let mut groups: Vec<RankedGroup> = Vec::new();
        for ranked in self.ranking(posterior) {
            let name = &sheet.handbook().cause(ranked.cause).group;
            match groups.iter_mut().find(|group| &group.group == name) {
                Some(group) => group.causes.push(ranked.cause),
                None => groups.push(RankedGroup {
                    group: name.clone(),
                    causes: vec![ranked.cause],
                    probability: 0.0,
                }),
            }
        }
        for group in &mut groups {
            let causes = group.causes.iter().fold(0, |causes, cause| causes | 1 << cause.index());
            let there = states.iter().enumerate().filter(|(state, _)| state & causes != 0);
            group.probability = there.map(|(_, chance)| chance).sum::<f64>().min(1.0);
        }
        groups.sort_by(|a, b| b.probability.total_cmp(&a.probability));
        groups
    }
}

/// Causes that call for the same action, with the nodes that say whether they are there now.
#[derive(Debug)]
pub(super) struct Groups {
    groups: Vec<Vec<(CauseId, usize)>>,
}

impl Groups {
    /// What can be decided for.
    pub(super) fn decisions(&self) -> Decisions {
        let nodes = |group: &Vec<(CauseId, usize)>| group.iter().map(|(_, node)| *node).collect();
        Decisions::new(self.groups.iter().map(nodes).collect())
    }

    /// What can be decided for, by the places of the causes in the handbook.
    pub(super) fn decisions_by_cause(&self) -> Decisions {
        let places =
            |group: &Vec<(CauseId, usize)>| group.iter().map(|(cause, _)| cause.index()).collect();
        Decisions::new(self.groups.iter().map(places).collect())
    }

    /// The causes of a group, likeliest first.
    pub(super) fn causes(&self, place: usize, weighed: &Weighed) -> Vec<CauseId> {
        let mut causes = self.groups.get(place).cloned().unwrap_or_default();
        let marginals = &weighed.posterior.marginals;
        causes.sort_by(|a, b| marginals[b.1].total_cmp(&marginals[a.1]).then(a.0.cmp(&b.0)));
        causes.into_iter().map(|(cause, _)| cause).collect()
    }

    /// The nodes that a lead is about; of nothing wrong, all.
    pub(super) fn nodes(&self, lead: Lead) -> Vec<usize> {
        let nodes = |group: &[(CauseId, usize)]| group.iter().map(|(_, node)| *node).collect();
        match lead {
            Lead::Group(place) => self.groups.get(place).map_or_else(Vec::new, |g| nodes(g)),
            Lead::Nothing => self.groups.iter().flat_map(|group| nodes(group)).collect::<Vec<_>>(),
        }
    }
}

/// The causes that a repair was made for, as they were at first, likeliest first.
pub(super) fn was(sheet: &Worksheet<'_>, epochs: &Epochs, posterior: &Posterior) -> Vec<Ranked> {
    let mut was: Vec<Ranked> = sheet
        .handbook()
        .cause_ids()
        .filter_map(|cause| {
            let node = epochs.at_first(cause)?;
            Some(Ranked { cause, probability: posterior.marginals[node] })
        })
        .collect();
    was.sort_by(|a, b| b.probability.total_cmp(&a.probability));
    was
}
