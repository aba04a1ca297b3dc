//! A written criterion, judged on the raw readings and apart from the cause.
//!
//! The rule itself is [`HoldCriterion`]'s; here stand which readings count and what their doubt
//! leaves open.

use super::input::Hold;
use crate::physics::acceptance::{HoldCriterion, HoldVerdict};

/// Not above a pressure within a time after isolation. The source of both is the asker's.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Criterion {
    /// The pressure in Pa.
    pub limit: f64,
    /// The time in s after the first reading.
    pub within: f64,
}

/// How a hold stands to a criterion.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Judgement {
    /// All readings are below the limit by more than the doubt, and the time is full.
    Pass,
    /// A reading within the time is above the limit by more than the doubt.
    Fail,
    /// The limit lies within the doubt of the highest reading.
    TooClose,
    /// Below the limit so far, and the time is not full.
    TooShort,
}

impl Criterion {
    /// Judges the readings of `hold`; the doubt is twice that of scale and offset, and half the resolution.
    pub fn judge(self, hold: &Hold, resolution: f64) -> Judgement {
        let Some(start) = hold.times.first() else { return Judgement::TooShort };
        let end = start + self.within;
        let pairs = hold.times.iter().zip(&hold.pressures);
        let inside = pairs.take_while(|(time, _)| **time <= end + 1e-9);
        let highest = inside.fold(f64::NEG_INFINITY, |most, (_, p)| most.max(*p));
        let gauge = &hold.gauge;
        let doubt =
            2.0 * libm::hypot(gauge.scale_doubt * highest, gauge.offset_doubt) + 0.5 * resolution;
        let held = hold.times.last().map_or(0.0, |last| last - start + 1e-9);
        // Where the hold begins, and what had to be reached before, is not in the readings.
        let rule = HoldCriterion { level: f64::INFINITY, hold: self.within, limit: self.limit };
        let at = |reading: f64| rule.judge(0.0, held, reading);
        match (at(highest - doubt), at(highest + doubt)) {
            (HoldVerdict::Failed, _) => Judgement::Fail,
            (_, HoldVerdict::Failed) => Judgement::TooClose,
            (HoldVerdict::Passed, HoldVerdict::Passed) => Judgement::Pass,
            _ => Judgement::TooShort,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rise::Gauge;

    #[test]
    fn judges_the_raw_readings() {
        let gauge = Gauge { scale_doubt: 0.05, ..Gauge::default() };
        let hold = Hold::new(vec![0.0, 300.0, 600.0], vec![30.0, 40.0, 50.0], gauge, 0.01);
        let judge = |limit, within| Criterion { limit, within }.judge(&hold, 1.0);
        assert_eq!(judge(66.7, 600.0), Judgement::Pass);
        assert_eq!(judge(44.0, 600.0), Judgement::Fail);
        assert_eq!(judge(52.0, 600.0), Judgement::TooClose, "50 within 5.5 of 52");
        let offset = Gauge { offset_doubt: 10.0, ..gauge };
        let unsure = Hold { gauge: offset, ..hold.clone() };
        let by_offset = Criterion { limit: 66.7, within: 600.0 }.judge(&unsure, 1.0);
        assert_eq!(by_offset, Judgement::TooClose, "an offset of 10 may hide the limit");
        assert_eq!(judge(66.7, 900.0), Judgement::TooShort);
        assert_eq!(judge(46.0, 300.0), Judgement::Pass, "later readings do not count");
    }
    /// Without any doubt of the gauge, both judge alike.
    #[test]
    fn the_rule_is_that_of_the_written_criterion() {
        let gauge = Gauge { scale_doubt: 0.0, offset_doubt: 0.0, ..Gauge::default() };
        for (limit, within) in [(50.0, 600.0), (49.9, 600.0), (50.0, 601.0), (10.0, 601.0)] {
            let hold = Hold::new(vec![0.0, 300.0, 600.0], vec![30.0, 40.0, 50.0], gauge, 0.01);
            let judged = Criterion { limit, within }.judge(&hold, 0.0);
            let rule = HoldCriterion { level: 30.0, hold: within, limit };
            let expected = match rule.judge(30.0, 600.0, 50.0) {
                HoldVerdict::Passed => Judgement::Pass,
                HoldVerdict::Failed => Judgement::Fail,
                HoldVerdict::TooShort | HoldVerdict::NotStarted => Judgement::TooShort,
            };
            assert_eq!(judged, expected, "{limit} within {within}");
        }
    }
}
