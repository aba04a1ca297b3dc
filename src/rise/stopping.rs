//! When somebody who watches a hold may stop: the same answer for a share of the window.
//!
//! A reading may be asked for at every new pressure, but the first moment that looks decided is
//! the luckiest one. [`Watch`] waits until the answer is surer and has stood for a while
//! (computed: `benches/rise_population` reads every log at each new pressure and says how often
//! either is wrong; the figures below were chosen on other seeds than it prints).

use super::reading::{Reading, Verdict};

/// How sure each of the looks must be that a straight part is there: surer than that it is not,
/// as slow moisture starts straight.
const SURE: f64 = 0.98;
/// How sure each must be that none is there.
const SURE_NOT: f64 = 0.95;
/// The answer must have stood for this share of the window.
const STOOD: f64 = 0.3;
/// And at no fewer looks than this.
const LOOKS: usize = 4;

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

/// Whether a straight part is there (or is not) as surely as stopping asks for; none between.
pub(super) fn sure_side(straight: f64) -> Option<bool> {
    if straight > SURE {
        return Some(true);
    }
    (straight < 1.0 - SURE_NOT).then_some(false)
}

/// Seconds at which an answer that is first given after `first` s has stood for long enough, if
/// it stands and looks are not rare.
#[must_use]
pub fn settled_after(first: f64) -> f64 {
    first / (1.0 - STOOD)
}

/// One look at the readings so far.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Look {
    /// Seconds from the first to the last reading.
    duration: f64,
    /// What it said and how likely a straight part was; none where it could not be read.
    said: Option<(Verdict, f64)>,
}

impl Look {
    fn side(&self) -> Option<bool> {
        self.said.and_then(|(_, straight)| sure_side(straight))
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
        let said = reading.map(|reading| (reading.verdict, reading.straight));
        self.looks.push(Look { duration, said });
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
            let side = last.side()?;
            let run = self.looks.iter().rev().take_while(|look| look.side() == Some(side));
            let (count, since) = run.fold((0, 0.0), |(count, _), look| (count + 1, look.duration));
            let has_stood = last.duration - since >= STOOD * last.duration;
            let (verdict, _) = last.said?;
            (count >= LOOKS && has_stood).then_some(verdict)
        });
        settled.map_or(Standing::Going, |verdict| Standing::Settled { verdict })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const STRAIGHT: Option<(Verdict, f64)> = Some((Verdict::Straight, 0.99));

    fn watched(looks: &[(f64, Option<(Verdict, f64)>)]) -> Watch {
        let look = |&(minute, said): &(f64, Option<(Verdict, f64)>)| Look {
            duration: 60.0 * minute,
            said,
        };
        Watch { looks: looks.iter().map(look).collect() }
    }

    #[test]
    fn an_answer_has_to_stand_and_a_change_begins_anew() {
        assert_eq!(watched(&[]).standing(), Standing::Going);
        let mut watch = watched(&[(20.0, STRAIGHT), (26.0, STRAIGHT), (27.0, STRAIGHT)]);
        assert_eq!(watch.standing(), Standing::Going, "three looks only");
        watch.looks.push(Look { duration: 1740.0, said: Some((Verdict::Both, 0.99)) });
        let settled = Standing::Settled { verdict: Verdict::Both };
        assert_eq!(watch.standing(), settled, "a levelling part beside it changes nothing");
        watch.looks.push(Look { duration: 1800.0, said: Some((Verdict::Straight, 0.97)) });
        assert_eq!(watch.standing(), Standing::Going, "told, and not sure enough");
        watch.take_back();
        assert_eq!(watch.standing(), settled);
        watch.looks.push(Look { duration: 1800.0, said: Some((Verdict::Levelling, 0.01)) });
        assert_eq!(watch.standing(), Standing::Going, "the answer has turned");
        watch.looks.push(Look { duration: 1860.0, said: None });
        assert_eq!(watch.standing(), Standing::Going, "falling");
    }

    #[test]
    fn an_answer_stands_for_three_tenths_of_the_window() {
        let minutes = [10.0, 11.0, 12.0, 13.0, 14.0];
        let mut watch = watched(&minutes.map(|minute| (minute, STRAIGHT)));
        assert_eq!(watch.standing(), Standing::Going, "4 of 14 minutes");
        watch.looks.push(Look { duration: settled_after(600.0), said: STRAIGHT });
        assert_ne!(watch.standing(), Standing::Going);
    }
}
