//! Three readings at equal distances, for a phone call: start, middle, end.
//!
//! The second difference of a straight rise is none, that of a levelling one is negative. The
//! level is Aitken's extrapolation. Closed forms.

/// What three readings say about the shape.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape {
    /// The rise is smaller than its noise: no length of this hold will tell.
    Never,
    /// Not curved beyond the noise: straight, or too short to see a curve.
    NotCurved,
    /// Levels off.
    Curved {
        /// Time constant in s.
        time_constant: f64,
        /// Level in the unit of the readings.
        level: f64,
    },
    /// Falls or speeds up: neither a leak nor moisture alone.
    Neither,
}

/// Three of the readings of a hold at about even distances (the middle to a tenth of the whole),
/// as far apart as there are; the later of two as good.
#[must_use]
pub fn picked(times: &[f64]) -> Option<[usize; 3]> {
    let mut best = None;
    let mut longest = 0.0;
    for first in 0..times.len() {
        for middle in first + 1..times.len() {
            for last in middle + 1..times.len() {
                let whole = times[last] - times[first];
                let off = times[middle] - times[first] - 0.5 * whole;
                if off.abs() <= 0.1 * whole && whole >= longest && whole > 0.0 {
                    longest = whole;
                    best = Some([first, middle, last]);
                }
            }
        }
    }
    best
}

/// The noise in Pa, one standard deviation, of a reading that is shown in steps: the rounding,
/// `q²/12`, and the scatter that the reader takes for usual.
#[must_use]
pub fn noise_of_steps(resolution: f64) -> f64 {
    resolution * libm::sqrt(1.0 / 12.0 + super::condense::SCATTER * super::condense::SCATTER)
}

/// Judges readings at 0, `duration`/2 and `duration` s, each with `noise` (one standard
/// deviation, same unit). The second difference has √6 times the noise; two of those make a
/// curve.
pub fn shape(readings: [f64; 3], duration: f64, noise: f64) -> Shape {
    let (first, second) = (readings[1] - readings[0], readings[2] - readings[1]);
    let rise = first + second;
    let sure = 2.0 * noise.abs() * libm::sqrt(6.0);
    let bend = second - first;
    if !(bend.is_finite() && duration > 0.0) || rise < -sure || bend > sure {
        return Shape::Neither;
    }
    if rise <= sure {
        return Shape::Never;
    }
    if bend > -sure {
        return Shape::NotCurved;
    }
    if second <= 0.0 {
        return level_reached(readings, duration, noise);
    }
    let ratio = second / first;
    let time_constant = -duration / (2.0 * libm::log(ratio));
    Shape::Curved { time_constant, level: readings[1] + first * ratio / (1.0 - ratio) }
}

/// The second half did not rise: the time constant is short against it, to the noise.
fn level_reached(readings: [f64; 3], duration: f64, noise: f64) -> Shape {
    let first = (readings[1] - readings[0]).max(f64::MIN_POSITIVE);
    let ratio = (noise.abs() / first).clamp(1e-6, 0.9);
    Shape::Curved { time_constant: -duration / (2.0 * libm::log(ratio)), level: readings[2] }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_single_settling_part_is_found_again() {
        let at = |t: f64| 400.0 + 1400.0 * -libm::expm1(-t / 480.0);
        let Shape::Curved { time_constant, level } =
            shape([at(0.0), at(600.0), at(1200.0)], 1200.0, 1.0)
        else {
            panic!("1,400 above a noise of 1 is curved")
        };
        assert!((time_constant - 480.0).abs() < 1e-6 && (level - 1800.0).abs() < 1e-6);
    }

    #[test]
    fn a_second_half_without_rise_has_reached_its_level() {
        let Shape::Curved { time_constant, level } = shape([400.0, 600.0, 600.0], 1200.0, 5.0)
        else {
            panic!("200 and then nothing is curved")
        };
        assert!(time_constant < 200.0 && level == 600.0, "{time_constant}");
    }

    #[test]
    fn three_of_four_stand_at_even_distances() {
        assert_eq!(picked(&[0.0, 600.0, 1200.0]), Some([0, 1, 2]));
        assert_eq!(picked(&[0.0, 300.0, 600.0, 900.0]), Some([1, 2, 3]), "past the step at first");
        assert_eq!(picked(&[0.0, 60.0, 610.0, 1200.0]), Some([0, 2, 3]));
        assert_eq!(picked(&[0.0, 60.0, 1200.0]), None);
    }

    #[test]
    fn says_never_not_curved_and_neither() {
        assert_eq!(shape([400.0, 410.0, 440.0], 1200.0, 29.0), Shape::Never, "a coarse gauge");
        assert_eq!(shape([400.0, 500.0, 600.0], 600.0, 1.0), Shape::NotCurved);
        assert_eq!(shape([600.0, 500.0, 400.0], 600.0, 1.0), Shape::Neither);
        assert_eq!(shape([400.0, 410.0, 600.0], 600.0, 1.0), Shape::Neither, "speeds up");
    }
}
