//! What the draws of a quantity say in a few numbers.

use super::Draws;

/// The middle of a quantity's draws and the interval that holds 95 % of them, in SI units.
///
/// The middle is the median. It is what a certain value is, it lies within the interval, and it
/// means the same in every unit and on a logarithmic scale; the mean of a quantity that spans
/// decades is ruled by its largest draws. The interval is probabilistically symmetric: 2.5 % of
/// the draws lie below it and 2.5 % above (JCGM 101:2008, 7.7, cited from `memory`).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Summary {
    /// The median.
    pub middle: f64,
    /// The lower end of the 95 % interval.
    pub low: f64,
    /// The upper end of the 95 % interval; infinite for a time that may never come.
    pub high: f64,
}

impl Summary {
    /// Sums up draws, none of which is missing.
    #[must_use]
    pub fn of(draws: &Draws<f64>) -> Self {
        let mut values = draws.values().to_vec();
        let count = values.len();
        // As many draws as 95 % of all, with the same number left out on either side.
        let inside = (0.95 * count as f64).round() as usize;
        let below = (count - inside) / 2;
        let above = (below + inside).min(count - 1);
        // Three places of the sorted draws are wanted, which takes no sorting of them all.
        let half = count / 2;
        let (lower, &mut middle, upper) = values.select_nth_unstable_by(half, f64::total_cmp);
        Self {
            middle: if count % 2 == 1 { middle } else { between(largest(lower), middle) },
            low: if below < half { nth(lower, below) } else { middle },
            high: if above > half { nth(upper, above - half - 1) } else { middle },
        }
    }

    /// Half the width of the 95 % interval; 0 for a certain value, infinite if an end is.
    #[must_use]
    pub fn half_width(&self) -> f64 {
        // Two infinite ends mark a certain "never".
        if self.low == self.high { 0.0 } else { (self.high - self.low) / 2.0 }
    }
}

/// The value at a place of the draws if they were sorted.
fn nth(values: &mut [f64], place: usize) -> f64 {
    *values.select_nth_unstable_by(place, f64::total_cmp).1
}

fn largest(values: &[f64]) -> f64 {
    values.iter().copied().max_by(f64::total_cmp).unwrap_or(f64::NEG_INFINITY)
}

/// Halfway between two values; the ends themselves may be infinite.
fn between(below: f64, above: f64) -> f64 {
    if below == above { above } else { below + (above - below) / 2.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::{DRAWS, stream};

    #[test]
    fn a_certain_value_has_no_width() {
        let summary = Summary::of(&Draws::Same(5.0));
        assert_eq!(summary, Summary { middle: 5.0, low: 5.0, high: 5.0 });
        assert_eq!(summary.half_width(), 0.0);
        assert_eq!(Summary::of(&Draws::Same(f64::INFINITY)).half_width(), 0.0);
    }

    #[test]
    fn a_rectangle_from_0_to_1_has_its_known_interval() {
        let summary = Summary::of(&Draws::Each(stream("any")));
        // Each draw lies within its own cell of 1/DRAWS.
        let cell = 2.0 / DRAWS as f64;
        assert!((summary.middle - 0.5).abs() < cell, "{summary:?}");
        assert!((summary.low - 0.025).abs() < cell, "{summary:?}");
        assert!((summary.high - 0.975).abs() < cell, "{summary:?}");
    }

    /// By sorting: of 1 to 5 values the ends are the outermost, the middle the median.
    #[test]
    fn a_few_values_have_the_places_of_their_order() {
        for (values, low, middle, high) in [
            (vec![2.0, 1.0], 1.0, 1.5, 2.0),
            (vec![3.0, 1.0, 2.0], 1.0, 2.0, 3.0),
            (vec![4.0, 1.0, 3.0, 2.0], 1.0, 2.5, 4.0),
            (vec![5.0, 4.0, 3.0, 2.0, 1.0], 1.0, 3.0, 5.0),
        ] {
            let summary = Summary::of(&Draws::Each(values.into()));
            assert_eq!(summary, Summary { middle, low, high });
        }
    }

    #[test]
    fn a_time_that_may_never_come_has_an_open_end() {
        let draws =
            stream("any").iter().map(|&u| if u > 0.9 { f64::INFINITY } else { u }).collect();
        let summary = Summary::of(&Draws::Each(draws));
        assert!(summary.middle.is_finite());
        assert!(summary.high.is_infinite() && summary.half_width().is_infinite());
    }
}
