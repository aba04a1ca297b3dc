//! One hold that was told more than once: read on, or given again with more readings. The hold
//! before it is another one.

use super::Worksheet;
use crate::evidence::record::{Given, Reply};

/// Times in s that are no further apart are the same moment: people give whole minutes.
const SAME_MOMENT: f64 = 1.0;
/// Pressures that differ by no more than this share are the same figure, told in another unit.
const SAME_FIGURE: f64 = 1e-4;

impl<'a> Worksheet<'a> {
    /// The answers before the latest one that are no part of it. Only readings of a hold can be
    /// one, and only as long as nothing was done in between.
    pub(super) fn of_others(&self, known: &[(usize, &'a Given)]) -> Vec<(usize, &'a Given)> {
        let Some(((_, latest), before)) = known.split_last() else { return Vec::new() };
        let mut before = before.to_vec();
        while let Some((_, earlier)) = before.last() {
            if !self.is_of_one_hold(earlier, latest) {
                break;
            }
            before.pop();
        }
        before
    }

    fn is_of_one_hold(&self, earlier: &Given, latest: &Given) -> bool {
        let between = earlier.order..latest.order;
        let mut deeds = self.actions_done().map(|(_, order)| order);
        !deeds.any(|order| between.contains(&order)) && is_part_of(&earlier.reply, &latest.reply)
    }
}

/// Whether every reading of one list lies on the other: as the same figure at the same minute, or
/// between the two readings around it.
fn is_part_of(part: &Reply, whole: &Reply) -> bool {
    let (
        Reply::Readings { times, pressures, .. },
        Reply::Readings { times: at, pressures: read, .. },
    ) = (part, whole)
    else {
        return false;
    };
    times.iter().zip(pressures).all(|(time, pressure)| lies_on(*time, *pressure, at, read))
}

fn lies_on(time: f64, pressure: f64, at: &[f64], read: &[f64]) -> bool {
    let is_same = |other: f64| (pressure - other).abs() <= SAME_FIGURE * other.abs();
    if let Some(place) = at.iter().position(|other| (time - other).abs() <= SAME_MOMENT) {
        return is_same(read[place]);
    }
    let behind = at.partition_point(|other| *other < time);
    match (behind.checked_sub(1).and_then(|place| read.get(place)), read.get(behind)) {
        (Some(one), Some(other)) => {
            is_same(*one)
                || is_same(*other)
                || (one.min(*other)..=one.max(*other)).contains(&pressure)
        }
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::is_part_of;
    use crate::evidence::record::Reply;

    fn hold(readings: &[(f64, f64)]) -> Reply {
        let times = readings.iter().map(|(minute, _)| 60.0 * minute).collect();
        let pressures = readings.iter().map(|(_, pressure)| *pressure).collect();
        Reply::Readings { times, pressures, resolution: None }
    }

    #[test]
    fn a_hold_that_is_read_on_is_one() {
        let two = hold(&[(0.0, 400.0), (10.0, 520.0)]);
        assert!(is_part_of(&two, &two));
        assert!(is_part_of(&two, &hold(&[(0.0, 400.0), (30.0, 700.0)])));
        let row = hold(&[(0.0, 400.0), (5.0, 470.0), (10.0, 520.0), (20.0, 600.0)]);
        assert!(is_part_of(&two, &row));
    }

    #[test]
    fn another_hold_is_another() {
        let two = hold(&[(0.0, 400.0), (10.0, 600.0)]);
        assert!(!is_part_of(&two, &hold(&[(0.0, 400.0), (30.0, 405.0)])));
        assert!(!is_part_of(&two, &hold(&[(0.0, 410.0), (30.0, 700.0)])));
        // What is told of a shorter time is no longer reading of the same hold.
        assert!(!is_part_of(&two, &hold(&[(0.0, 400.0), (5.0, 480.0)])));
        assert!(!is_part_of(&Reply::YesNo(true), &Reply::YesNo(true)));
    }
}
