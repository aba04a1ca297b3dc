//! What can be decided for: one of the groups that call for the same action, or that nothing is
//! wrong; and which of them leads.
//!
//! ```
//! use dryhold::evidence::decision::{Decisions, Lead};
//! // Two causes, each a group of its own; states: none, first, second, both.
//! let decisions = Decisions::new(vec![vec![0], vec![1]]);
//! assert_eq!(decisions.lead(&[0.2, 0.5, 0.2, 0.1]), (Lead::Group(0), 0.6));
//! assert_eq!(decisions.lead(&[0.6, 0.2, 0.2, 0.0]), (Lead::Nothing, 0.6));
//! ```

/// What leads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Lead {
    /// That nothing is wrong.
    Nothing,
    /// That a cause of this group is there.
    Group(usize),
}

/// The groups of causes to decide for.
#[derive(Clone, Debug)]
pub struct Decisions {
    groups: usize,
    /// For each byte of a state, the groups of which a cause is there.
    there: [Vec<u32>; BYTES],
}

/// How many bytes a state has, with as many causes as a network takes.
const BYTES: usize = 3;

impl Decisions {
    /// Groups of causes, each named by its place in the network.
    #[must_use]
    pub fn new(groups: Vec<Vec<usize>>) -> Self {
        let mut there = [(); BYTES].map(|()| vec![0; 1 << 8]);
        for (group, causes) in groups.iter().enumerate() {
            for cause in causes.iter().filter(|cause| **cause < 8 * BYTES) {
                let with = |byte: &(usize, &mut u32)| byte.0 & (1 << (cause % 8)) != 0;
                let bytes = there[cause / 8].iter_mut().enumerate();
                bytes.filter(with).for_each(|(_, seen)| *seen |= 1 << group);
            }
        }
        Self { groups: groups.len(), there }
    }

    /// The weight of every decision: that of nothing, then that of each group.
    #[must_use]
    pub fn weights(&self, states: &[f64]) -> (f64, Vec<f64>) {
        // First by which groups are there, of which there are fewer than states.
        let mut left = vec![0.0; 1 << self.groups];
        for (place, chunk) in states.chunks(1 << 8).enumerate() {
            let high = self.there[1][place & 0xff] | self.there[2][(place >> 8) & 0xff];
            for (weight, low) in chunk.iter().zip(&self.there[0]) {
                left[(low | high) as usize] += weight;
            }
        }
        let nothing = left[0];
        let mut weights = vec![0.0; self.groups];
        for group in (0..self.groups).rev() {
            let (without, with) = left.split_at_mut(1 << group);
            for (without, with) in without.iter_mut().zip(&*with) {
                weights[group] += with;
                *without += with;
            }
            left.truncate(1 << group);
        }
        (nothing, weights)
    }

    /// What leads and its weight, which is its probability if those of the states sum to 1; of
    /// equals the group that comes first, and a group before nothing.
    #[must_use]
    pub fn lead(&self, states: &[f64]) -> (Lead, f64) {
        let (nothing, groups) = self.weights(states);
        let mut lead = (Lead::Nothing, nothing);
        for (group, weight) in groups.into_iter().enumerate() {
            let is_better = match lead.0 {
                Lead::Nothing => weight >= lead.1,
                Lead::Group(_) => weight > lead.1,
            };
            if is_better {
                lead = (Lead::Group(group), weight);
            }
        }
        lead
    }

    /// The weight of one decision.
    #[must_use]
    pub fn weight(&self, of: Lead, states: &[f64]) -> f64 {
        let (nothing, groups) = self.weights(states);
        match of {
            Lead::Nothing => nothing,
            Lead::Group(group) => groups.get(group).copied().unwrap_or(0.0),
        }
    }
}
