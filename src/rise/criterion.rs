//! A written criterion, judged on the raw readings and apart from the cause.

use super::input::Hold;

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
        let is_full = hold.times.last().is_some_and(|time| *time >= end - 1e-9);
        if highest - doubt > self.limit {
            Judgement::Fail
        } else if highest + doubt > self.limit {
            Judgement::TooClose
        } else if is_full {
            Judgement::Pass
        } else {
            Judgement::TooShort
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
}
