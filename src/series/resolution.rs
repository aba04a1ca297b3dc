//! The smallest step that a gauge displays, found in the readings themselves.

use super::decimal::Decimal;

/// Evidence that a step coarser than the last written place needs: the chance that all readings
/// happen to be multiples of it stays below one in a hundred.
const EVIDENCE: f64 = 2.0;
/// The largest share of the highest reading that a display leaves out (`estimate`): readings five
/// minutes apart of a steady rise may all be multiples of more, and no gauge shows so little.
const COARSEST: f64 = 0.1;
/// Places behind the point beyond which numbers were computed rather than displayed.
const MOST_PLACES: i32 = 9;

/// What all displayed numbers so far are whole multiples of.
#[derive(Clone, Debug, Default)]
pub(super) struct DisplaySteps {
    divisor: u64,
    exponent: i32,
    changes: u32,
    highest: f64,
    last: Option<f64>,
    is_continuous: bool,
}

impl DisplaySteps {
    /// Takes one displayed number into account.
    pub fn add(&mut self, number: Decimal) {
        if self.is_continuous || self.last == Some(number.value) {
            return;
        }
        if self.last.is_none() {
            self.exponent = number.exponent;
        }
        self.last = Some(number.value);
        self.highest = self.highest.max(number.value.abs());
        self.changes = self.changes.saturating_add(1);
        if self.refine(number).is_none() {
            self.is_continuous = true;
        }
    }

    fn refine(&mut self, number: Decimal) -> Option<()> {
        if number.digits == 0 {
            return Some(());
        }
        if number.exponent < -MOST_PLACES {
            return None;
        }
        if number.exponent < self.exponent {
            let finer = self.exponent.checked_sub(number.exponent)?.unsigned_abs();
            self.divisor = self.divisor.checked_mul(10_u64.checked_pow(finer)?)?;
            self.exponent = number.exponent;
        }
        let coarser = number.exponent.checked_sub(self.exponent)?.unsigned_abs();
        let digits = number.digits.checked_mul(10_u64.checked_pow(coarser)?)?;
        if self.divisor == 0 || !digits.is_multiple_of(self.divisor) {
            self.divisor = greatest_common_divisor(digits, self.divisor);
        }
        Some(())
    }

    /// The step in the displayed unit: the largest of 1, 2 or 5 times a power of ten that all
    /// numbers are multiples of, as far as so few of them can show it and a display is not coarser
    /// than a tenth of the highest. None where nothing was
    /// displayed, or numbers have so many places that they were computed.
    pub fn found(&self) -> Option<f64> {
        if self.is_continuous || self.divisor == 0 {
            return None;
        }
        let place = libm::exp10(f64::from(self.exponent));
        let shown = |step: u64| place * step as f64;
        let is_shown = |step: u64| {
            shown(step) <= COARSEST * self.highest
                && self.changes > 1
                && f64::from(self.changes) * libm::log10(step as f64) >= EVIDENCE
        };
        let mut best = 1;
        for step in steps().take_while(|&step| step <= self.divisor) {
            if self.divisor.is_multiple_of(step) && is_shown(step) {
                best = step;
            }
        }
        Some(shown(best))
    }
}

/// 2, 5, 10, 20, 50 and so on.
fn steps() -> impl Iterator<Item = u64> {
    let decade = |power: u32| [2, 5, 10].map(|part| part * 10_u64.pow(power));
    (0..18).flat_map(decade)
}

fn greatest_common_divisor(mut a: u64, mut b: u64) -> u64 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

#[cfg(test)]
mod tests {
    use super::super::decimal::Comma;
    use super::*;

    fn found(texts: &[&str]) -> Option<f64> {
        let mut steps = DisplaySteps::default();
        for text in texts {
            steps.add(Decimal::read(text.as_bytes(), Comma::Unsettled).unwrap());
        }
        steps.found()
    }

    #[test]
    fn a_gauge_in_steps_of_five_shows_it() {
        assert_eq!(found(&["305", "310", "325", "340"]), Some(5.0));
        assert_eq!(found(&["300", "420", "510"]), Some(10.0));
        assert_eq!(found(&["301", "420", "510"]), Some(1.0));
    }

    #[test]
    fn a_steady_rise_in_round_numbers_shows_no_coarser_step_than_a_display_has() {
        let rise = ["400", "600", "800", "1000", "1200", "1400", "1600"];
        assert_eq!(found(&rise), Some(100.0));
        assert_eq!(found(&rise[..4]), Some(100.0));
        assert_eq!(found(&["200", "300", "400", "500"]), Some(50.0));
    }

    #[test]
    fn one_value_alone_shows_its_last_place_only() {
        assert_eq!(found(&["300", "300", "300"]), Some(1.0));
        assert_eq!(found(&["0.40"]), Some(0.01));
        assert_eq!(found(&[]), None);
    }

    #[test]
    fn places_left_out_at_the_end_change_nothing() {
        let step = found(&["0.5", "0.45", "0.41", "0.4"]).unwrap();
        assert!((step - 0.01).abs() < 1e-15, "{step}");
    }

    #[test]
    fn computed_numbers_show_no_step() {
        assert_eq!(found(&["39.996716224501", "41.329940098651"]), None);
    }
}
