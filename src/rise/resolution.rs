//! The step of the display, found in the readings.

/// Largest step in Pa of which all differences are multiples, to a fiftieth of the step.
///
/// Takes the smallest difference between distinct readings and halves, thirds, ... of it down to
/// a tenth; `None` if all readings are equal, none is finite or no such step fits (values with
/// many digits: the resolution is then no part of the doubt). Few readings can find a multiple
/// of the true step, never less than it.
pub fn found_resolution(pressures: &[f64]) -> Option<f64> {
    let mut sorted: Vec<f64> = pressures.iter().copied().filter(|p| p.is_finite()).collect();
    sorted.sort_by(f64::total_cmp);
    let range = sorted.last()? - sorted.first()?;
    let noise = 1e-9 * sorted.last()?.abs().max(sorted.first()?.abs());
    sorted.dedup_by(|next, kept| *next - *kept <= noise);
    let gaps: Vec<f64> = sorted.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let smallest = gaps.iter().copied().reduce(f64::min)?;
    (1..=10_u32)
        .map(|part| smallest / f64::from(part))
        .find(|step| range / step < 1e6 && gaps.iter().all(|gap| is_near_whole(gap / step)))
}

fn is_near_whole(ratio: f64) -> bool {
    (ratio - ratio.round()).abs() < 0.02
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_the_step_of_the_display() {
        let step = found_resolution(&[400.0, 415.0, 425.0, 440.0]).unwrap();
        assert!((step - 5.0).abs() < 1e-9, "differences of 10 and 15 are multiples of 5");
        assert_eq!(found_resolution(&[20.0, 20.0, 20.0]), None);
        assert_eq!(found_resolution(&[]), None);
        assert!(found_resolution(&[f64::NAN, 1.0]).is_none());
    }

    #[test]
    fn many_digits_have_no_step() {
        let odd: Vec<f64> = (0..40).map(|i| libm::sqrt(f64::from(i))).collect();
        assert_eq!(found_resolution(&odd), None);
    }
}
