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
    masks: Vec<usize>,
    all: usize,
}

impl Decisions {
    /// Groups of causes, each named by its place in the network.
    #[must_use]
    pub fn new(groups: Vec<Vec<usize>>) -> Self {
        let bits = |causes: &Vec<usize>| causes.iter().fold(0, |mask, cause| mask | 1 << cause);
        let masks: Vec<usize> = groups.iter().map(bits).collect();
        Self { all: masks.iter().fold(0, |all, mask| all | mask), masks }
    }

    /// The weight of every decision: that of nothing, then that of each group.
    #[must_use]
    pub fn weights(&self, states: &[f64]) -> (f64, Vec<f64>) {
        let mut groups = vec![0.0; self.masks.len()];
        let mut nothing = 0.0;
        for (state, weight) in states.iter().enumerate() {
            if state & self.all == 0 {
                nothing += weight;
                continue;
            }
            for (group, mask) in groups.iter_mut().zip(&self.masks) {
                if state & mask != 0 {
                    *group += weight;
                }
            }
        }
        (nothing, groups)
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
