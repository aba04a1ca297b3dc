//! An axis with round ticks.

/// Decimal places beyond which a label would say nothing.
const MOST_PLACES: usize = 6;
/// Numbers from here on are written with a power of ten.
const LONG: f64 = 1e7;
/// The smallest span, as a share of the values, that two doubles can still be told apart in.
const LEAST_SHARE: f64 = 1e-9;

/// From one end to the other, with ticks at 1, 2 or 5 times a power of ten.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Axis {
    low: f64,
    high: f64,
    step: f64,
}

impl Axis {
    /// From `low` to `high`, made `least` long about its middle where it is shorter, with so many
    /// ticks at most and at least one if any round number lies between.
    pub fn new(low: f64, high: f64, least: f64, most_ticks: usize) -> Self {
        let least = least.max(low.abs().max(high.abs()) * LEAST_SHARE);
        let short = (least - (high - low)).max(0.0);
        let (low, high) = (low - short / 2.0, high + short / 2.0);
        Self { low, high, step: round_step((high - low) / most_ticks.max(1) as f64) }
    }

    /// The same a share longer at both ends, and not below zero if it was not.
    pub fn padded(self, share: f64) -> Self {
        let by = (self.high - self.low) * share;
        let floor = if self.low >= 0.0 { 0.0 } else { f64::NEG_INFINITY };
        Self { low: (self.low - by).max(floor), high: self.high + by, step: self.step }
    }

    pub fn low(&self) -> f64 {
        self.low
    }

    pub fn high(&self) -> f64 {
        self.high
    }

    /// Where a value lies: 0 at the low end, 1 at the high one.
    pub fn share(&self, value: f64) -> f64 {
        (value - self.low) / (self.high - self.low)
    }

    /// The ticks, rising.
    pub fn ticks(&self) -> Vec<f64> {
        let first = (self.low / self.step).ceil();
        let count = ((self.high / self.step).floor() - first).clamp(-1.0, 99.0) as i32;
        // Adding zero makes a zero of its negative.
        (0..=count).map(|k| (first + f64::from(k)) * self.step + 0.0).collect()
    }

    /// A tick in as many places as the ticks need.
    pub fn label(&self, tick: f64) -> String {
        if self.low.abs().max(self.high.abs()) >= LONG {
            return format!("{tick:.1e}");
        }
        let places = (-libm::floor(libm::log10(self.step) + 1e-9)).max(0.0) as usize;
        format!("{tick:.0$}", places.min(MOST_PLACES))
    }
}

/// The smallest of 1, 2 or 5 times a power of ten that is not below `least`.
fn round_step(least: f64) -> f64 {
    let power = libm::exp10(libm::floor(libm::log10(least)));
    let steps = [1.0, 2.0, 5.0, 10.0].map(|part| part * power);
    steps.into_iter().find(|step| *step >= least * (1.0 - 1e-9)).unwrap_or(least)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn labels(low: f64, high: f64, most: usize) -> Vec<String> {
        let axis = Axis::new(low, high, 1.0, most);
        axis.ticks().iter().map(|tick| axis.label(*tick)).collect()
    }

    #[test]
    fn ticks_are_round() {
        assert_eq!(labels(303.0, 652.0, 5), ["400", "500", "600"]);
        assert_eq!(labels(0.0, 25.0, 6), ["0", "5", "10", "15", "20", "25"]);
        assert_eq!(labels(0.0, 1.0, 4), ["0.0", "0.5", "1.0"]);
        assert_eq!(labels(0.0, 7.0, 10), ["0", "1", "2", "3", "4", "5", "6", "7"]);
    }

    #[test]
    fn an_axis_without_length_gets_one() {
        let axis = Axis::new(20.0, 20.0, 1.0, 4).padded(0.05);
        assert!(axis.low() < 20.0 && axis.high() > 20.0 && !axis.ticks().is_empty());
        assert!((axis.share(20.0) - 0.5).abs() < 1e-12);
    }

    #[test]
    fn no_axis_of_pressures_goes_below_zero() {
        assert_eq!(Axis::new(0.0, 10.0, 1.0, 4).padded(0.05).low(), 0.0);
    }

    #[test]
    fn huge_and_tiny_spans_have_few_ticks_and_short_labels() {
        for (low, high) in [(0.0, 7.5e15), (1e15, 1e15), (0.0, 1e-12), (5e-324, 5e-324)] {
            let axis = Axis::new(low, high, 0.0, 6);
            let ticks = axis.ticks();
            assert!(ticks.len() < 10, "{low} {high}: {ticks:?}");
            assert!(ticks.iter().all(|tick| axis.label(*tick).len() < 10), "{low} {high}");
        }
    }
}
