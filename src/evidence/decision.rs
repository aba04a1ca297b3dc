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
    /// The groups in their order, some at a time; of more than one part, the last holds a single
    /// group of all causes, by which nothing wrong is told.
    parts: Vec<Part>,
}

/// How many groups are told apart in one go; each doubles the sums (limit of ours).
const MOST_AT_ONCE: usize = 18;

impl Decisions {
    /// Groups of causes, each named by its place in the network; in any number.
    #[must_use]
    pub fn new(groups: Vec<Vec<usize>>) -> Self {
        let mut parts: Vec<Part> = groups.chunks(MOST_AT_ONCE).map(Part::new).collect();
        if parts.len() != 1 {
            parts.push(Part::new(&[groups.concat()]));
        }
        Self { groups: groups.len(), parts }
    }

    /// The weight of every decision.
    #[must_use]
    pub fn weights(&self, states: &[f64]) -> Tally {
        self.weights_of(states.chunks(LANES).enumerate().map(|(place, run)| (place * LANES, run)))
    }

    /// The weight of every decision over runs of states, each with the first of them: a multiple
    /// of its length, which is a power of two up to 64. States in none of them weigh nothing.
    pub fn weights_of<'s>(&self, runs: impl Iterator<Item = (usize, &'s [f64])> + Clone) -> Tally {
        let mut nothing = 0.0;
        let mut weights = Vec::with_capacity(self.groups + 1);
        for part in &self.parts {
            nothing = part.weights(runs.clone(), &mut weights);
        }
        weights.truncate(self.groups);
        Tally { nothing, groups: weights }
    }

    /// What leads and its weight, which is its probability if those of the states sum to 1; see
    /// [`Tally::lead`].
    #[must_use]
    pub fn lead(&self, states: &[f64]) -> (Lead, f64) {
        self.weights(states).lead()
    }
}

impl Decisions {
    /// The groups of which a cause is there in a state, ascending; of none, nothing is wrong.
    pub(super) fn groups_in(&self, state: usize) -> Vec<usize> {
        let of_part = |(place, part): (usize, &Part)| {
            let there = part.groups_in(state);
            let groups = (0..part.groups).filter(move |group| (there >> group) & 1 == 1);
            groups.map(move |group| place * MOST_AT_ONCE + group)
        };
        let groups = self.parts.iter().enumerate().flat_map(of_part);
        groups.filter(|group| *group < self.groups).collect()
    }

    /// How many groups there are.
    pub(super) fn groups(&self) -> usize {
        self.groups
    }
}

/// The weight of every decision.
#[derive(Clone, Debug, PartialEq)]
pub struct Tally {
    /// That of nothing being wrong.
    pub nothing: f64,
    /// That of each group.
    pub groups: Vec<f64>,
}

impl Tally {
    /// What leads and its weight; of equals the group that comes first, and a group before
    /// nothing.
    #[must_use]
    pub fn lead(&self) -> (Lead, f64) {
        let mut lead = (Lead::Nothing, self.nothing);
        for (group, &weight) in self.groups.iter().enumerate() {
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

    /// The weight of one decision; 0 of a group that does not exist.
    #[must_use]
    pub fn weight(&self, of: Lead) -> f64 {
        match of {
            Lead::Nothing => self.nothing,
            Lead::Group(group) => self.groups.get(group).copied().unwrap_or(0.0),
        }
    }

    /// By how much a decision leads over the best of the others, in nats; negative where it does
    /// not lead.
    #[must_use]
    pub fn ahead(&self, of: Lead) -> f64 {
        let groups = self.groups.iter().enumerate().map(|(place, w)| (Lead::Group(place), *w));
        let others = groups.chain([(Lead::Nothing, self.nothing)]).filter(|(lead, _)| *lead != of);
        let best = others.map(|(_, weight)| weight).fold(f64::MIN_POSITIVE, f64::max);
        libm::log(self.weight(of).max(f64::MIN_POSITIVE)) - libm::log(best)
    }
}

/// Groups of which it is told at once which are there.
#[derive(Clone, Debug)]
struct Part {
    groups: usize,
    /// For each byte of a state, the groups of which a cause is there.
    there: [Vec<u32>; BYTES],
}

/// How many states differ in their lowest causes alone, those of half a dozen.
const LANES: usize = 1 << 6;

/// How many bytes a state has, with as many causes as a network takes.
const BYTES: usize = 3;

impl Part {
    /// At most [`MOST_AT_ONCE`] groups.
    fn new(groups: &[Vec<usize>]) -> Self {
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

    /// Adds the weight of each group to a list; the weight of the states with none of them.
    fn weights<'s>(
        &self,
        runs: impl Iterator<Item = (usize, &'s [f64])>,
        list: &mut Vec<f64>,
    ) -> f64 {
        // First by which groups are there, of which there are fewer than states.
        let mut left = vec![0.0; 1 << self.groups];
        for (high, lanes) in self.by_high_causes(runs) {
            for (weight, low) in lanes.iter().zip(&self.there[0]) {
                left[(low | high) as usize] += weight;
            }
        }
        self.tally(left, list)
    }

    /// Adds the weight of each group to a list, from that of each set of groups; the weight of
    /// none of them.
    fn tally(&self, mut left: Vec<f64>, list: &mut Vec<f64>) -> f64 {
        let nothing = left[0];
        let start = list.len();
        list.resize(start + self.groups, 0.0);
        for group in (0..self.groups).rev() {
            let (without, with) = left.split_at_mut(1 << group);
            for (without, with) in without.iter_mut().zip(&*with) {
                list[start + group] += with;
                *without += with;
            }
            left.truncate(1 << group);
        }
        nothing
    }
}

impl Part {
    /// The groups of which a cause is there in a state.
    fn groups_in(&self, state: usize) -> u32 {
        let bytes = self.there.iter().zip([0, 8, 16]);
        bytes.fold(0, |there, (groups, by)| there | groups[(state >> by) & 0xff])
    }

    /// The weights by the groups that the high causes of a state speak of, and by its low causes.
    fn by_high_causes<'s>(
        &self,
        runs: impl Iterator<Item = (usize, &'s [f64])>,
    ) -> Vec<(u32, [f64; LANES])> {
        // One more than the place; 0 where there is none yet.
        let mut place_of = vec![0_u32; 1 << self.groups];
        let mut found: Vec<(u32, [f64; LANES])> = Vec::new();
        for (first, run) in runs {
            for (place, lanes) in run.chunks(LANES).enumerate() {
                let first = first + place * LANES;
                let high = self.groups_in(first);
                let place = &mut place_of[high as usize];
                if *place == 0 {
                    found.push((high, [0.0; LANES]));
                    *place = found.len() as u32;
                }
                for (sum, weight) in found[*place as usize - 1].1.iter_mut().zip(lanes) {
                    *sum += weight;
                }
            }
        }
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Forty groups over twelve causes, each of some causes, so that no mask of 32 bits holds
    /// them; every weight by adding up the states.
    #[test]
    fn forty_groups_weigh_what_their_states_do() {
        let causes = 12;
        let groups: Vec<Vec<usize>> =
            (0..40).map(|g| vec![g % causes, (5 * g + 3) % causes]).collect();
        let states: Vec<f64> = (0..1 << causes).map(|s| f64::from((s * 37 + 11) % 101)).collect();
        let decisions = Decisions::new(groups.clone());
        let tally = decisions.weights(&states);
        assert_eq!((tally.nothing, tally.groups.len()), (states[0], 40));
        for (group, weight) in groups.iter().zip(&tally.groups) {
            let is_there = |state: &usize| group.iter().any(|cause| state & (1 << cause) != 0);
            let sum: f64 = (0..states.len()).filter(is_there).map(|state| states[state]).sum();
            assert_eq!(*weight, sum, "{group:?}");
        }
        assert_eq!(tally.weight(Lead::Group(39)), tally.groups[39]);
    }

    #[test]
    fn without_groups_nothing_is_wrong() {
        let none = Decisions::new(Vec::new());
        assert_eq!(none.lead(&[1.0]), (Lead::Nothing, 1.0));
    }
}
