//! The lowest place of a valley by golden section (Kiefer 1953, from memory).

/// The share of a bracket that stands in the next one.
const SHARE: f64 = 0.618_033_988_749_894_9;

/// Where a function with a single valley between `low` and `high` is lowest, after so many cuts of
/// the bracket, each to .618 of the one before.
pub(super) fn lowest(low: f64, high: f64, cuts: u32, mut at: impl FnMut(f64) -> f64) -> f64 {
    let (mut low, mut high) = (low, high);
    let mut left = high - SHARE * (high - low);
    let mut right = low + SHARE * (high - low);
    let (mut at_left, mut at_right) = (at(left), at(right));
    for _ in 0..cuts {
        if at_left <= at_right {
            (high, right, at_right) = (right, left, at_left);
            left = high - SHARE * (high - low);
            at_left = at(left);
        } else {
            (low, left, at_left) = (left, right, at_right);
            right = low + SHARE * (high - low);
            at_right = at(right);
        }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_bottom_of_a_parabola_is_found_inside_and_at_an_end() {
        assert!((lowest(-3.0, 5.0, 40, |x| (x - 1.25) * (x - 1.25)) - 1.25).abs() < 1e-7);
        assert!((lowest(2.0, 5.0, 40, |x| x * x) - 2.0).abs() < 1e-7);
    }
}
