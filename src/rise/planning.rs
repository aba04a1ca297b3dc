//! How long to hold before asking.
//!
//! From the misfit `r T²/(26.8 τ)` of the best line to a gently curved rise; valid while the
//! hold is no longer than about two time constants, too hopeful beyond (computed: simulation of
//! two shapes, numpy).

/// Seconds until a curve is told from a line at 95 % in half of all holds:
/// `1.2 (4240 Δ σ² τ²/r²)^(1/5)`.
///
/// `interval` s between readings, `noise` Pa (one standard deviation), `time_constant` s, `rate`
/// Pa/s at the start; all above zero, else `None`. To tell both from either takes two to four
/// times as long (computed, same simulation).
pub fn time_to_tell(interval: f64, noise: f64, time_constant: f64, rate: f64) -> Option<f64> {
    let all = [interval, noise, time_constant, rate];
    if all.iter().any(|value| !(value.is_finite() && *value > 0.0)) {
        return None;
    }
    let curve = noise * time_constant / rate;
    Some(1.2 * libm::pow(4240.0 * interval * curve * curve, 0.2))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finer_gauges_and_steeper_rises_tell_sooner() {
        let minute = 60.0;
        let time = |noise, rate| time_to_tell(minute, noise, 10.0 * minute, rate / minute).unwrap();
        let told = time(2.5 + 0.4, 20.0) / minute;
        assert!((told - 7.4).abs() < 0.6, "5 micron, 20 micron/min, τ 10 min: {told}");
        assert!(time(1.0, 20.0) < time(10.0, 20.0) && time(1.0, 100.0) < time(1.0, 20.0));
        assert_eq!(time_to_tell(60.0, 0.0, 600.0, 1.0), None);
    }
}
