//! A rise that stands: what came at first and then no more, as far as it was read while it rose.

use super::sizes::ShownIn;
use crate::rise::{Hold, Reading, Verdict};

/// A hold shorter than this in s shows no standing (`estimate`, as in the built-in handbook).
const LONG_ENOUGH: f64 = 600.0;
/// The second half of one that stands rises by less than this share of the first (`estimate`).
const STANDS: f64 = 0.2;
/// Where more of the rise than this share is seen within the first minutes, it was read early
/// enough to tell what evens out from what dries up (`estimate`).
const SEEN_EARLY: f64 = 0.7;

/// How much higher the last reading is than the first, in Pa; none where there are no readings.
pub(super) fn whole_rise(hold: &Hold) -> Option<f64> {
    hold.pressures.last().zip(hold.pressures.first()).map(|(last, first)| last - first)
}

/// Whether it rose by more than matters over its whole time.
pub(super) fn rises_by_much(hold: &Hold) -> bool {
    let matters = hold.rate_that_matters * duration(hold);
    whole_rise(hold).is_some_and(|rise| rise > matters)
}

/// Whether it rose by more than matters in its first half and then stood, and nobody read it while
/// it rose.
pub(super) fn rose_then_stood(hold: &Hold) -> bool {
    let Some(rise) = whole_rise(hold).filter(|_| rises_by_much(hold)) else { return false };
    let half = rise_after(hold, duration(hold) / 2.0);
    let step = hold.gauge.resolution.unwrap_or(0.0);
    duration(hold) >= LONG_ENOUGH
        && rise - half + step / 2.0 < STANDS * half
        && rise_after(hold, hold.step_time) < SEEN_EARLY * rise
}

/// What is said of it.
pub(super) fn stood_told(hold: &Hold, shown: &ShownIn) -> String {
    format!(
        "It rose by {} in the first half and has stood since: as far as it was read, it levels off. \
         Water does so, gas that leaves oil, and gas that was shut in; a leak would go on.",
        shown.pressure(whole_rise(hold).unwrap_or(0.0))
    )
}

/// What to do about a rise that matters and isn't steady; nothing where it is little, or has a
/// shape of its own.
pub(super) fn after_standing(hold: &Hold, reading: &Reading, shown: &ShownIn) -> Option<String> {
    if reading.verdict != Verdict::Quiet || !rises_by_much(hold) {
        return None;
    }
    let rise = shown.pressure(whole_rise(hold)?);
    Some(match rose_then_stood(hold) {
        true => "pump on and hold again, and read every minute at first: what dries up rises less \
                 each time, and gas that was shut in comes at once."
            .to_owned(),
        false => format!(
            "it rose by {rise} at first, and not since. Pump on and hold again: where it does so \
             again, look for what is shut in, or for what dries up."
        ),
    })
}

fn duration(hold: &Hold) -> f64 {
    hold.times.last().zip(hold.times.first()).map_or(0.0, |(last, first)| last - first)
}

/// The rise in Pa after some s, in a straight line between two readings.
fn rise_after(hold: &Hold, seconds: f64) -> f64 {
    let (times, pressures) = (&hold.times, &hold.pressures);
    let (Some(start), Some(first)) = (times.first(), pressures.first()) else { return 0.0 };
    let at = start + seconds;
    let above = times.partition_point(|time| *time < at).clamp(1, times.len().max(2) - 1);
    let Some((low, high)) = times.get(above - 1).zip(times.get(above)) else { return 0.0 };
    let share = ((at - low) / (high - low)).clamp(0.0, 1.0);
    pressures[above - 1] + share * (pressures[above] - pressures[above - 1]) - first
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rise::Gauge;

    const MICRON: f64 = 0.133_322_387_415;

    fn hold(minutes: &[f64], microns: &[f64]) -> Hold {
        let times = minutes.iter().map(|minute| 60.0 * minute).collect();
        let pressures = microns.iter().map(|micron| micron * MICRON).collect();
        let gauge = Gauge { resolution: Some(MICRON), ..Gauge::default() };
        Hold::new(times, pressures, gauge, 5.0 * MICRON / 60.0)
    }

    #[test]
    fn what_rose_and_stands_is_told_from_a_step_and_from_a_leak() {
        let stood = hold(&[0.0, 10.0, 20.0, 30.0], &[1500.0, 1900.0, 1900.0, 1900.0]);
        assert!(
            rose_then_stood(&stood)
                && stood_told(&stood, &ShownIn::default()).contains("by 400 micron")
        );
        let step = hold(&[0.0, 1.0, 10.0, 30.0], &[1500.0, 1890.0, 1900.0, 1900.0]);
        assert!(!rose_then_stood(&step) && rises_by_much(&step), "it evened out at once");
        let leak = hold(&[0.0, 10.0, 20.0, 30.0], &[1500.0, 1640.0, 1770.0, 1900.0]);
        assert!(!rose_then_stood(&leak));
        let little = hold(&[0.0, 10.0, 20.0, 30.0], &[300.0, 340.0, 340.0, 340.0]);
        assert!(!rises_by_much(&little), "40 micron in half an hour");
        assert!(!rose_then_stood(&hold(&[0.0, 4.0, 8.0], &[1500.0, 1900.0, 1900.0])), "too short");
    }
}
