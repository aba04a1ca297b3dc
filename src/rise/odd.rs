//! A reading that contradicts those beside it: in a closed vessel nothing takes gas away for one
//! reading and brings it back for the next, and no source becomes tenfold between two readings.

use super::input::{Hold, Missing};
use super::resolution::found_resolution;

/// A reading below this share of those beside it, or above one over it, contradicts them
/// (`estimate`: no drift of temperature or gauge comes near it).
const SHARE: f64 = 0.6;
/// By how many times the steepest rise before it, a last reading that doubles is odd (`estimate`).
const TIMES_STEEPER: f64 = 10.0;
/// A last reading that falls is no slip where the reading before it fell by this share as much
/// already: a fall that goes on (`estimate`).
const GOES_ON: f64 = 0.2;
/// Steps of the display that a contradiction is at least: fewer are the scatter of a gauge near
/// its end (`estimate`).
const STEPS: f64 = 5.0;
/// Lower quartiles of the bends between the other readings that it is at least: about five
/// standard deviations of even scatter (computed: the quartile of a bend's size is 0.39 of one).
const BENDS: f64 = 12.0;

/// The reading that contradicts its neighbours most; none in a hold of fewer than three.
pub(super) fn odd(hold: &Hold) -> Option<Missing> {
    let (times, pressures) = (&hold.times, &hold.pressures);
    let last = pressures.len().checked_sub(1).filter(|last| *last >= 2)?;
    let middle = (1..last).filter_map(|at| Some((at, contradiction(hold, at)?)));
    let all = middle.chain(end(times, pressures).map(|size| (last, size)));
    let (at, _) = all.max_by(|one, other| one.1.total_cmp(&other.1))?;
    let away = (pressures[at] - pressures[at - 1]).abs();
    let away = if at < last { away.min((pressures[at] - pressures[at + 1]).abs()) } else { away };
    (away > STEPS * display(hold) && away > BENDS * bend_without(times, pressures, at)).then(|| {
        Missing::Odd {
            number: at + 1,
            time: times[at] - times[0],
            pressure: pressures[at],
            before: pressures[at - 1],
        }
    })
}

/// How far a reading between two others is from both, as a ratio; none where it agrees. What
/// swings up while the system equalises is left alone.
fn contradiction(hold: &Hold, at: usize) -> Option<f64> {
    let pressures = &hold.pressures;
    let (before, here, after) = (pressures[at - 1], pressures[at], pressures[at + 1]);
    let is_step = hold.times[at] - hold.times[0] <= hold.step_time;
    let (lower, higher) = (before.min(after), before.max(after));
    if here < SHARE * lower {
        return Some(ratio(lower, here));
    }
    (!is_step && SHARE * here > higher).then(|| ratio(here, higher))
}

/// The same of the last reading, which has a neighbour on one side only.
fn end(times: &[f64], pressures: &[f64]) -> Option<f64> {
    let last = pressures.len() - 1;
    let (before, here) = (pressures[last - 1], pressures[last]);
    if here < SHARE * before {
        let fell = pressures[last - 2] - before;
        return (fell < GOES_ON * (before - here)).then(|| ratio(before, here));
    }
    let rate = |at: usize| (pressures[at] - pressures[at - 1]) / (times[at] - times[at - 1]);
    let steepest = (1..last).map(rate).fold(0.0, f64::max);
    (here >= 2.0 * before && rate(last) > TIMES_STEEPER * steepest).then(|| ratio(here, before))
}

fn ratio(larger: f64, smaller: f64) -> f64 {
    if smaller > 0.0 { larger / smaller } else { f64::INFINITY }
}

/// The step of the display in Pa. Found from zero up, as one odd reading among equal ones would
/// pass for a step.
fn display(hold: &Hold) -> f64 {
    let from_zero = || {
        let mut pressures = hold.pressures.clone();
        pressures.push(0.0);
        found_resolution(&pressures)
    };
    hold.gauge.resolution.or_else(from_zero).unwrap_or(0.0)
}

/// How far in Pa the readings other than one stand off the line between those beside them: the
/// lower quartile, which few others that are odd as well can't move.
fn bend_without(times: &[f64], pressures: &[f64], left_out: usize) -> f64 {
    let kept: Vec<usize> = (0..times.len()).filter(|at| *at != left_out).collect();
    let bend = |three: &[usize]| {
        let [first, middle, last] = [three[0], three[1], three[2]];
        let share = (times[middle] - times[first]) / (times[last] - times[first]);
        let line = pressures[first] + share * (pressures[last] - pressures[first]);
        (pressures[middle] - line).abs()
    };
    let mut bends: Vec<f64> = kept.windows(3).map(bend).collect();
    bends.sort_by(f64::total_cmp);
    bends.get(bends.len().saturating_sub(1) / 4).copied().unwrap_or(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rise::Gauge;

    fn found(micron: &[f64]) -> Option<usize> {
        let times = (0..micron.len()).map(|k| 300.0 * k as f64).collect();
        let hold = Hold::new(times, micron.to_vec(), Gauge::default(), 0.01);
        match odd(&hold) {
            Some(Missing::Odd { number, .. }) => Some(number),
            _ => None,
        }
    }

    #[test]
    fn a_slip_of_unit_or_digit_is_found() {
        assert_eq!(found(&[420.0, 510.0, 590.0, 660.0, 718.0, 768.0, 0.843]), Some(7));
        assert_eq!(found(&[420.0, 510.0, 590.0, 660.0, 718.0, 768.0, 84.0]), Some(7));
        assert_eq!(found(&[420.0, 510.0, 590.0, 660.0, 718.0, 768.0, 8430.0]), Some(7));
        assert_eq!(found(&[300.0, 420.0, 51.0, 580.0, 640.0]), Some(3));
        assert_eq!(found(&[300.0, 420.0, 5100.0, 580.0, 640.0]), Some(3));
        assert_eq!(found(&[400.0, 400.0, 400.0, 400.0, 40.0]), Some(5));
    }

    #[test]
    fn rises_falls_and_scatter_are_left_alone() {
        for micron in [
            [300.0, 420.0, 510.0, 580.0, 640.0, 690.0],
            [100.0, 700.0, 720.0, 735.0, 750.0, 765.0],
            [1600.0, 800.0, 400.0, 200.0, 100.0, 50.0],
            [700.0, 710.0, 300.0, 290.0, 285.0, 280.0],
            [2.0, 1.0, 3.0, 1.0, 2.0, 1.0],
            [50.0, 120.0, 60.0, 130.0, 55.0, 125.0],
            [0.0, 1.0, 0.0, 0.0, 2.0, 0.0],
        ] {
            assert_eq!(found(&micron), None, "{micron:?}");
        }
    }

    #[test]
    fn a_steady_rise_after_a_long_pause_is_no_slip() {
        let times = [0.0, 60.0, 120.0, 180.0, 240.0, 7440.0].to_vec();
        let micron = [30.0, 31.0, 32.0, 33.0, 34.0, 154.0].to_vec();
        assert_eq!(odd(&Hold::new(times, micron, Gauge::default(), 0.01)), None);
    }
}
