//! A row of readings that rises by the same at every step.

/// Rates between readings that make an even row at the least (limit of ours).
const FEWEST_EVEN: usize = 4;
/// How far the rates of an even row differ, as a share (limit of ours: the arithmetic's own doubt).
const EVEN: f64 = 1e-6;

/// Whether readings lie on one line to the last place written. Nothing of them is rounded away, so
/// that what they are all multiples of tells of the rise and not of the display.
#[must_use]
pub fn is_even_row(times: &[f64], pressures: &[f64]) -> bool {
    let rates: Vec<f64> = times
        .windows(2)
        .zip(pressures.windows(2))
        .map(|(time, pressure)| (pressure[1] - pressure[0]) / (time[1] - time[0]))
        .collect();
    let Some(first) = rates.first().copied() else { return false };
    let is_like = |rate: &f64| (rate / first - 1.0).abs() < EVEN;
    rates.len() >= FEWEST_EVEN && first != 0.0 && rates.iter().all(is_like)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_even_row_is_told_from_one_in_steps() {
        let times: Vec<f64> = (0..7).map(|k| 600.0 * f64::from(k)).collect();
        let even: Vec<f64> = (0..7).map(|k| 53.3 + 8.0 * f64::from(k)).collect();
        assert!(is_even_row(&times, &even));
        let stepped = [53.3, 61.3, 61.3, 69.3, 77.3, 77.3, 85.3];
        assert!(!is_even_row(&times, &stepped));
        assert!(!is_even_row(&times, &[53.3; 7]), "what stands still shows no rate");
        assert!(!is_even_row(&times[..4], &even[..4]), "three rates are few");
    }
}
