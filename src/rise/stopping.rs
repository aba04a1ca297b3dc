//! When somebody who watches a hold may stop: the same answer for a share of the window.
//!
//! A reading may be asked for at every new pressure, but the first moment that looks decided is
//! the luckiest one. [`Watch`] waits until the answer has stood for a while.

use super::reading::{Reading, Verdict};

/// The answer must have stood for this share of the window.
const STOOD: f64 = 0.25;
/// And at no fewer looks than this.
const LOOKS: usize = 3;

/// Whether somebody who watches may stop.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Go on reading.
    Going,
    /// The answer has stood for long enough; later readings rarely change it.
    Settled {
        /// What the latest look said.
        verdict: Verdict,
    },
}

/// One look at the readings so far.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Look {
    /// Seconds from the first to the last reading.
    duration: f64,
    /// What it said; none where it could not be read.
    verdict: Option<Verdict>,
}

impl Look {
    /// Whether a straight part is there; none where that can't be told.
    fn is_straight(&self) -> Option<bool> {
        match self.verdict? {
            Verdict::Straight | Verdict::Both => Some(true),
            Verdict::Quiet | Verdict::Levelling => Some(false),
            Verdict::CannotTell => None,
        }
    }
}

/// The looks at one hold, the latest last. Feed it once for each new pressure.
///
/// ```
/// use dryhold::rise::{Gauge, Hold, read};
/// use dryhold::rise::stopping::{Standing, Watch};
/// let mut watch = Watch::default();
/// let times: Vec<f64> = (0..=40).map(|minute| f64::from(minute) * 60.0).collect();
/// let leak: Vec<f64> = times.iter().map(|t| (50.0 + 0.05 * t).round()).collect();
/// let mut is_settled = false;
/// for count in 1..=times.len() {
///     let (times, leak) = (times[..count].to_vec(), leak[..count].to_vec());
///     let seconds = times[count - 1];
///     let reading = read(&Hold::new(times, leak, Gauge::default(), 0.01));
///     is_settled = matches!(watch.look(seconds, reading.as_ref().ok()), Standing::Settled { .. });
/// }
/// assert!(is_settled);
/// ```
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Watch {
    looks: Vec<Look>,
}

impl Watch {
    /// Takes in what [`read`](super::read) said of all pressures so far, the last one `duration`
    /// s after the first; `None` where it could not be read.
    pub fn look(&mut self, duration: f64, reading: Option<&Reading>) -> Standing {
        let verdict = reading.map(|reading| reading.verdict);
        self.looks.push(Look { duration, verdict });
        self.standing()
    }

    /// Forgets the latest look, as its pressure was taken back.
    pub fn take_back(&mut self) {
        self.looks.pop();
    }

    /// Whether it may be stopped now.
    #[must_use]
    pub fn standing(&self) -> Standing {
        let settled = self.looks.last().and_then(|last| {
            let said = last.is_straight()?;
            let run = self.looks.iter().rev().take_while(|look| look.is_straight() == Some(said));
            let (count, since) = run.fold((0, 0.0), |(count, _), look| (count + 1, look.duration));
            let has_stood = last.duration - since >= STOOD * last.duration;
            (count >= LOOKS && has_stood).then_some(last.verdict?)
        });
        settled.map_or(Standing::Going, |verdict| Standing::Settled { verdict })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn watched(looks: &[(f64, Option<Verdict>)]) -> Watch {
        let look = |&(duration, verdict): &(f64, Option<Verdict>)| Look { duration, verdict };
        Watch { looks: looks.iter().map(look).collect() }
    }

    #[test]
    fn an_answer_has_to_stand_and_a_change_begins_anew() {
        let straight = |minute: f64| (60.0 * minute, Some(Verdict::Straight));
        assert_eq!(watched(&[]).standing(), Standing::Going);
        let mut watch = watched(&[straight(20.0), straight(26.0)]);
        assert_eq!(watch.standing(), Standing::Going, "two looks only");
        watch.looks.push(Look { duration: 1620.0, verdict: Some(Verdict::Both) });
        let settled = Standing::Settled { verdict: Verdict::Both };
        assert_eq!(watch.standing(), settled, "a levelling part beside it changes nothing");
        watch.looks.push(Look { duration: 1680.0, verdict: Some(Verdict::CannotTell) });
        assert_eq!(watch.standing(), Standing::Going);
        watch.take_back();
        assert_eq!(watch.standing(), settled);
        watch.looks.push(Look { duration: 1740.0, verdict: Some(Verdict::Levelling) });
        assert_eq!(watch.standing(), Standing::Going, "the answer has turned");
        watch.looks.push(Look { duration: 1800.0, verdict: None });
        assert_eq!(watch.standing(), Standing::Going, "falling");
    }
}
