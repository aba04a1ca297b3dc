//! A written criterion for a vacuum hold, judged on the readings alone. What makes a system rise
//! is another question.

/// A criterion: the system is pumped to a level, shut off for a time, and may not stand above a
/// limit at its end. Which figures hold is for the local code, the maker or the contract to say.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HoldCriterion {
    /// The pressure in Pa to be reached before the hold; at or below it counts as reached.
    pub level: f64,
    /// How long the hold lasts in s.
    pub hold: f64,
    /// The highest pressure in Pa at its end that still passes.
    pub limit: f64,
}

/// How a hold stands against a criterion.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HoldVerdict {
    /// It lasted long enough and stands at or below the limit.
    Passed,
    /// It stands above the limit, at its end or before, wherever it began.
    Failed,
    /// It stands at or below the limit, and the level was never reached, so the hold has not begun.
    NotStarted,
    /// It has not lasted long enough yet.
    TooShort,
}

impl HoldVerdict {
    /// Every verdict.
    pub const ALL: [Self; 4] = [Self::Passed, Self::Failed, Self::NotStarted, Self::TooShort];
}

impl HoldCriterion {
    /// Judges a hold that began at a pressure in Pa, has lasted for a time in s, and reads a
    /// pressure in Pa.
    #[must_use]
    pub fn judge(&self, reached: f64, held: f64, reading: f64) -> HoldVerdict {
        if reading > self.limit {
            HoldVerdict::Failed
        } else if reached > self.level {
            HoldVerdict::NotStarted
        } else if held < self.hold {
            HoldVerdict::TooShort
        } else {
            HoldVerdict::Passed
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_borders_belong_to_the_better_side() {
        let criterion = HoldCriterion { level: 40.0, hold: 3600.0, limit: 66.0 };
        assert_eq!(criterion.judge(40.0, 3600.0, 66.0), HoldVerdict::Passed);
        assert_eq!(criterion.judge(40.1, 3600.0, 41.0), HoldVerdict::NotStarted);
        assert_eq!(criterion.judge(40.1, 3600.0, 66.1), HoldVerdict::Failed, "wherever it began");
        assert_eq!(criterion.judge(39.0, 60.0, 66.1), HoldVerdict::Failed, "it can only get worse");
        assert_eq!(criterion.judge(39.0, 3599.0, 50.0), HoldVerdict::TooShort);
    }
}
