//! How much longer an undecided hold is likely to take: the fit so far, carried on.
//!
//! Three truths are laid out, the straight part at its most likely rate and at both ends of what
//! two readers of three would take for it, each with the settling parts that fit best beside it.
//! The reader itself says at which length it would know.

use super::condense::Points;
use super::input::Hold;
use super::profile::Profile;
use super::reading::{is_told, probability};
use super::slopes::Slopes;
use super::spread::Columns;

/// Lengths that are asked about, as multiples of the hold so far; what takes longer is not worth
/// the wait (`estimate`).
const LENGTHS: [f64; 7] = [1.1, 1.25, 1.5, 1.8, 2.2, 2.8, 3.5];
/// `−2 ln` likelihood at the ends of an interval of one standard deviation to either side.
const ONE_DEVIATION: f64 = 1.0;

/// How much longer, in s after the last reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct More {
    /// At the soonest of the likely truths.
    pub soonest: f64,
    /// At the latest of them; `None` where one of them would not be told by waiting.
    pub latest: Option<f64>,
}

/// `None` where none of the likely truths would be told by waiting.
pub(super) fn more(
    hold: &Hold,
    points: &Points,
    columns: &Columns,
    profile: &mut Profile<'_>,
    slopes: &Slopes,
) -> Option<More> {
    let (best, low, high) = slopes.belief.interval(ONE_DEVIATION);
    let waits = [low, best, high].map(|slope| {
        let amounts = profile.at(slope).1.to_vec();
        let fit = |time: f64| {
            let parts = columns.time_constants.iter().zip(&amounts);
            slope * time - parts.map(|(tau, a)| a * libm::expm1(-time / tau)).sum::<f64>()
        };
        wait(hold, points, fit)
    });
    let told = waits.iter().flatten();
    let soonest = told.clone().copied().reduce(f64::min)?;
    let latest = told.copied().fold(0.0, f64::max);
    Some(More { soonest, latest: waits.iter().all(Option::is_some).then_some(latest) })
}

/// Seconds until a hold that goes on along `fit` is told, one reading at least.
fn wait(hold: &Hold, points: &Points, fit: impl Fn(f64) -> f64) -> Option<f64> {
    let is_told_at =
        |length: f64| probability(&carried_on(hold, points, length, &fit)).is_ok_and(is_told);
    let first = LENGTHS.iter().position(|length| is_told_at(*length))?;
    let before = first.checked_sub(1).map_or(1.0, |before| LENGTHS[before]);
    let middle = points.duration * (0.5 * (LENGTHS[first] + before) - 1.0);
    Some(middle.max(interval(hold, points)))
}

/// Seconds between readings, on average.
fn interval(hold: &Hold, points: &Points) -> f64 {
    points.duration / (hold.times.len() - 1) as f64
}

/// The hold with the readings that are to be expected up to a multiple of its length.
fn carried_on(hold: &Hold, points: &Points, length: f64, fit: impl Fn(f64) -> f64) -> Hold {
    let mut longer = hold.clone();
    longer.gauge.resolution = Some(points.resolution);
    let third = (points.times.len() / 3).max(1);
    let late = points.times.len() - third..points.times.len();
    let offset: f64 = late.map(|k| points.pressures[k] - fit(points.times[k])).sum();
    let offset = offset / third as f64;
    let interval = interval(hold, points);
    let start = hold.times[0];
    let ahead = (points.duration * (length - 1.0) / interval) as usize;
    for k in 1..=ahead.max(1) {
        let time = points.duration + interval * k as f64;
        longer.times.push(start + time);
        longer.pressures.push(offset + fit(time));
        // Later means stand for as many rows as the last one.
        longer.weights.extend(hold.weights.last());
    }
    longer
}

#[cfg(test)]
mod tests {
    use crate::rise::{Gauge, Hold, Verdict, read};

    const MICRON: f64 = 0.133_322_387_415;

    /// The first minutes of a rise, in steps of `resolution` micron, asked for 5 micron/min.
    fn hold(minutes: u32, resolution: f64, micron: impl Fn(f64) -> f64) -> Hold {
        let times: Vec<f64> = (0..=minutes).map(|minute| 60.0 * f64::from(minute)).collect();
        let shown = times.iter().map(|time| (micron(time / 60.0) / resolution).round());
        let pressures = shown.map(|steps| MICRON * resolution * steps).collect();
        let gauge = Gauge { resolution: Some(resolution * MICRON), ..Gauge::default() };
        Hold::new(times, pressures, gauge, 5.0 * MICRON / 60.0)
    }

    #[test]
    fn an_open_hold_is_told_about_when_it_was_promised() {
        let leak = |t: f64| 300.0 + 15.0 * t + 6.0 * libm::sin(7.0 * t);
        let open = read(&hold(8, 20.0, leak)).unwrap();
        assert_eq!(open.verdict, Verdict::CannotTell, "{open:#?}");
        let more = open.wait_more.unwrap();
        let told = (9..90).find(|minutes| {
            read(&hold(*minutes, 20.0, leak))
                .is_ok_and(|reading| reading.verdict == Verdict::Straight)
        });
        let needed = 60.0 * f64::from(told.unwrap() - 8);
        assert!(0.4 * more.soonest <= needed, "{more:?} against {needed}");
        assert!(more.latest.is_none_or(|latest| needed <= 2.0 * latest), "{more:?}, {needed}");
    }

    #[test]
    fn rows_behind_a_reading_change_no_promise_that_they_do_not_touch() {
        let open = hold(8, 20.0, |t| 300.0 + 15.0 * t + 6.0 * libm::sin(7.0 * t));
        let mut weighed = open.clone();
        weighed.weights = vec![1; open.times.len()];
        let (open, weighed) = (read(&open).unwrap(), read(&weighed).unwrap());
        assert!(open.wait_more.is_some() && open.wait_more == weighed.wait_more);
    }

    #[test]
    fn a_rate_on_the_border_may_never_be_told() {
        let border = read(&hold(30, 1.0, |t| 300.0 + 5.0 * t + 0.4 * libm::sin(7.0 * t))).unwrap();
        assert_eq!(border.verdict, Verdict::CannotTell, "{border:#?}");
        assert!(border.wait_more.is_none_or(|more| more.latest.is_none()), "{border:#?}");
    }

    #[test]
    fn what_is_told_has_nothing_to_wait_for() {
        let told = read(&hold(30, 1.0, |t| 300.0 + 40.0 * t)).unwrap();
        assert!(told.verdict == Verdict::Straight && told.wait_more.is_none());
    }
}
