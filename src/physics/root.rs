//! Where a rising function passes zero.

/// How many steps are taken at most; Newton's steps need about five, halving alone about sixty.
const MOST_STEPS: usize = 100;

/// The place between `low` and `high` where a rising function passes zero, or the end of the
/// bracket that lies nearer to it.
///
/// The function gives its value and its slope. Newton's step is taken where it stays inside the
/// bracket, which every value narrows; otherwise the bracket is halved. Ends when a step moves
/// the place by less than `step` or after 100 steps.
pub(super) fn rising_root(
    function: impl Fn(f64) -> (f64, f64),
    (mut low, mut high): (f64, f64),
    start: f64,
    step: f64,
) -> f64 {
    // Not `clamp`, which stops the program where an end is not a number.
    let mut place = start.max(low).min(high);
    for _ in 0..MOST_STEPS {
        let (value, slope) = function(place);
        if value == 0.0 {
            return place;
        }
        if value < 0.0 {
            low = place
        } else {
            high = place
        }
        let newton = place - value / slope;
        let next = if newton >= low && newton <= high { newton } else { 0.5 * (low + high) };
        let is_reached = (next - place).abs() <= step;
        place = next;
        if is_reached {
            break;
        }
    }
    place
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn newton_s_step_is_guarded_by_the_bracket() {
        // Far from its root the slope of the arc tangent throws Newton's step out of the bracket.
        let arc = |x: f64| (libm::atan(x - 3.0), 1.0 / (1.0 + (x - 3.0) * (x - 3.0)));
        assert!((rising_root(arc, (-1e3, 1e3), 900.0, 1e-12) - 3.0).abs() < 1e-12);
    }

    #[test]
    fn without_a_root_the_nearer_end_is_given() {
        let line = |x: f64| (x, 1.0);
        assert!((rising_root(line, (1.0, 2.0), 1.7, 1e-12) - 1.0).abs() < 1e-9);
        assert!((rising_root(line, (-2.0, -1.0), -1.7, 1e-12) + 1.0).abs() < 1e-9);
    }

    #[test]
    fn a_slope_that_is_not_a_number_does_not_hang() {
        let flat = |x: f64| (x - 0.3, f64::NAN);
        assert!((rising_root(flat, (0.0, 1.0), 0.9, 1e-12) - 0.3).abs() < 1e-9);
        assert!(rising_root(|_| (f64::NAN, f64::NAN), (0.0, 1.0), 0.5, 1e-12).is_finite());
    }
}
