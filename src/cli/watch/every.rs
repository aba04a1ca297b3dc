//! How often the gauge is to be read.

use anyhow::{Result, bail};

use crate::cli::rise::positive;
use crate::quantity::QuantityKind;

/// Seconds between the first readings, how many of them there are, and seconds between the later
/// ones: a leak shows early, and five readings are the fewest that tell (`estimate`).
const FIRST: f64 = 60.0;
const FEW: usize = 5;
const LATER: f64 = 120.0;
/// The shortest and longest time that is taken, in s (limits of ours).
const SHORTEST: f64 = 5.0;
const LONGEST: f64 = 86_400.0;

/// How often the gauge is to be read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Every {
    asked: Option<f64>,
}

impl Every {
    /// As asked for, or a minute for the first readings and two after them.
    pub fn of(text: Option<&str>) -> Result<Self> {
        let Some(text) = text else { return Ok(Self { asked: None }) };
        let seconds = positive("--every", text, QuantityKind::TIME, "min")?;
        if !(SHORTEST..=LONGEST).contains(&seconds) {
            bail!("--every {text}: give a time from 5 s to 24 h");
        }
        Ok(Self { asked: Some(seconds) })
    }

    /// Seconds until the next reading, after so many of them.
    pub fn after(self, readings: usize) -> f64 {
        self.asked.unwrap_or(if readings < FEW { FIRST } else { LATER })
    }

    /// Seconds between readings over a whole hold, for planning.
    pub fn usual(self) -> f64 {
        self.asked.unwrap_or(FIRST)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_five_readings_come_faster() {
        let every = Every::of(None).unwrap();
        assert_eq!((every.after(1), every.after(4), every.after(5)), (60.0, 60.0, 120.0));
        let asked = Every::of(Some("30 s")).unwrap();
        assert_eq!((asked.after(1), asked.after(9), asked.usual()), (30.0, 30.0, 30.0));
        for wrong in ["0 min", "-1 min", "1 s", "2 d", "5 micron", "often"] {
            assert!(Every::of(Some(wrong)).is_err(), "{wrong}");
        }
    }
}
