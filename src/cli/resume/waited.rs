//! A wait that was begun in an earlier sitting and goes on by the clock on the wall.

use std::time::Duration;

use jiff::Timestamp;

use crate::book::Reading;
use crate::case::{Case, Event, Now, Place};
use crate::terminal::spoken;

/// A wait that was begun, and what has passed of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::cli) struct Waited {
    /// The step that waits.
    pub place: Place,
    /// How long the wait is, in seconds.
    pub seconds: f64,
    /// What has passed of it; nothing where the clock was set back.
    pub passed: Duration,
}

impl Waited {
    /// What is left of it, or for how long it has been over.
    pub fn told(&self) -> String {
        let length = Duration::try_from_secs_f64(self.seconds).unwrap_or_default();
        let of = spoken(length);
        match length.checked_sub(self.passed) {
            Some(left) if !left.is_zero() => {
                format!("The wait of {of} goes on: {} of it are left.", spoken(left))
            }
            _ => {
                let since = spoken(self.passed.saturating_sub(length));
                format!("The wait of {of} has been over for {since}.")
            }
        }
    }
}

/// The wait at which a case stands, if one was begun at this very step and not passed since.
pub(super) fn waited(case: &Case<'_>, reading: &Reading, now: Timestamp) -> Option<Waited> {
    let Now::Do { place, wait: Some(_), .. } = case.now() else { return None };
    let tree = case.handbook().tree(place.tree);
    let is_here = |at: &str, step: &str| at == tree.id && step == tree.step(place.step).id;
    for entry in reading.entries.iter().rev() {
        match &entry.event {
            Event::Waited { tree, step, seconds } if is_here(tree, step) => {
                let passed = now.duration_since(entry.at);
                let passed = Duration::try_from(passed).unwrap_or_default();
                return Some(Waited { place: *place, seconds: *seconds, passed });
            }
            Event::Did { tree, step } | Event::Skipped { tree, step } if is_here(tree, step) => {
                return None;
            }
            _ => {}
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::handbook::{StepId, TreeId};

    fn told(seconds: f64, passed: u64) -> String {
        let place = Place { tree: TreeId::at(0), step: StepId::at(0) };
        Waited { place, seconds, passed: Duration::from_secs(passed) }.told()
    }

    #[test]
    fn what_is_left_is_told_or_for_how_long_it_has_been_over() {
        assert_eq!(told(300.0, 90), "The wait of 5 min goes on: 3 min 30 s of it are left.");
        assert_eq!(told(300.0, 0), "The wait of 5 min goes on: 5 min of it are left.");
        assert_eq!(told(300.0, 300), "The wait of 5 min has been over for 0 s.");
        assert_eq!(told(300.0, 7_500), "The wait of 5 min has been over for 2 h.");
    }
}
