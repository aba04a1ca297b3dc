//! How long a hold is likely to take, before it begins.
//!
//! [`plan`] lays out the pressures that are to be expected and lets the reader itself say when it
//! would know: for leaks of once, twice and five times the rate that matters, and for moisture
//! of three time constants. Nothing is drawn: the expected pressures carry no scatter, the reader
//! takes them for as doubtful as the gauge makes them.

use super::input::{Gauge, Hold, Surroundings};
use super::reading::probability;
use super::stopping::{settled_after, sure_side};

/// Nobody holds for longer, in s; what takes longer is called never (`estimate`).
pub const LONGEST: f64 = 7200.0;
/// Leaks that are laid out, as multiples of the rate that matters.
const LEAKS: [f64; 3] = [1.0, 2.0, 5.0];
/// Time constants of moisture that are laid out, in s.
const MOISTURE: [f64; 3] = [180.0, 600.0, 1800.0];

/// What is known before a hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Planned {
    /// The gauge; its resolution counts, none is taken for none.
    pub gauge: Gauge,
    /// The surroundings; the drift of the temperature counts.
    pub surroundings: Surroundings,
    /// Seconds between readings, above zero.
    pub interval: f64,
    /// Pressure in Pa at which it begins.
    pub start: f64,
    /// The rate that matters in Pa/s, above zero.
    pub rate_that_matters: f64,
    /// How fast moisture makes it rise at first, in Pa/s, above zero.
    pub first_rate: f64,
}

impl Planned {
    /// One reading a minute from 500 micron with a drift of half a kelvin, and moisture that at
    /// first rises four times as fast as what matters (estimates).
    #[must_use]
    pub fn new(gauge: Gauge, rate_that_matters: f64) -> Self {
        Self {
            gauge,
            surroundings: Surroundings::default(),
            interval: 60.0,
            start: 66.66,
            rate_that_matters,
            first_rate: 4.0 * rate_that_matters,
        }
    }
}

/// When one source is likely to be told.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wait {
    /// The rate of a leak in Pa/s, or the time constant of moisture in s.
    pub of: f64,
    /// Seconds until it is told at odds of 19 to 1; `None` if not within [`LONGEST`].
    pub seconds: Option<f64>,
}

impl Wait {
    /// Seconds until [`Watch`](super::stopping::Watch) calls it settled, as the answer has to
    /// stand for a while.
    #[must_use]
    pub fn settled(&self) -> Option<f64> {
        self.seconds.map(settled_after)
    }
}

/// When a hold is likely to tell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plan {
    /// A leak of once, twice and five times the rate that matters is told as straight.
    pub leaks: [Wait; 3],
    /// Moisture with time constants of 3, 10 and 30 min is told to be without a straight part.
    pub moisture: [Wait; 3],
}

/// The rate in Pa/s that brings a system from `start` to `limit` Pa within a time in s.
#[must_use]
pub fn rate_to_reach(limit: f64, start: f64, within: f64) -> f64 {
    (limit - start) / within
}

/// Lays out what is to be expected; `None` if the interval or a rate is not above zero.
#[must_use]
pub fn plan(planned: &Planned) -> Option<Plan> {
    let above_zero = [planned.interval, planned.rate_that_matters, planned.first_rate];
    if above_zero.iter().any(|value| !(value.is_finite() && *value > 0.0)) {
        return None;
    }
    let leaks = LEAKS.map(|times| {
        let rate = times * planned.rate_that_matters;
        Wait { of: rate, seconds: told(planned, true, |t| rate * t) }
    });
    let moisture = MOISTURE.map(|tau| {
        let rise = |t: f64| -planned.first_rate * tau * libm::expm1(-t / tau);
        Wait { of: tau, seconds: told(planned, false, rise) }
    });
    Some(Plan { leaks, moisture })
}

/// Seconds until the reader tells whether a straight part is there, as it truly is.
fn told(planned: &Planned, is_straight: bool, rise: impl Fn(f64) -> f64) -> Option<f64> {
    let told_at = |count: usize| {
        let straight = probability(&expected(planned, count, &rise));
        straight.is_ok_and(|straight| sure_side(straight) == Some(is_straight))
    };
    let most = (LONGEST / planned.interval) as usize + 1;
    let mut known = super::Missing::FEWEST - 1;
    let mut count = known + 1;
    while !told_at(count) {
        if count >= most {
            return None;
        }
        known = count;
        count = (count + 1).max(count * 5 / 4).min(most);
    }
    while count - known > 1 {
        let middle = (count + known) / 2;
        if told_at(middle) {
            count = middle;
        } else {
            known = middle;
        }
    }
    Some((count - 1) as f64 * planned.interval)
}

/// The first readings of a hold that rises so.
fn expected(planned: &Planned, count: usize, rise: impl Fn(f64) -> f64) -> Hold {
    let times: Vec<f64> = (0..count).map(|k| planned.interval * k as f64).collect();
    let pressures = times.iter().map(|t| planned.start + rise(*t)).collect();
    let gauge = Gauge { resolution: planned.gauge.resolution.or(Some(0.0)), ..planned.gauge };
    let mut hold = Hold::new(times, pressures, gauge, planned.rate_that_matters);
    hold.surroundings = planned.surroundings;
    hold
}

#[cfg(test)]
mod tests {
    use super::*;

    const MICRON: f64 = 0.133_322_387_415;

    fn planned(resolution: f64, rate_that_matters: f64) -> Planned {
        let gauge = Gauge { resolution: Some(resolution * MICRON), ..Gauge::default() };
        Planned::new(gauge, rate_that_matters * MICRON / 60.0)
    }

    #[test]
    fn finer_gauges_and_larger_leaks_are_told_sooner() {
        let fine = plan(&planned(1.0, 5.0)).unwrap();
        let coarse = plan(&planned(20.0, 5.0)).unwrap();
        let minutes = |wait: Wait| wait.seconds.map(|seconds| seconds / 60.0);
        assert!(minutes(coarse.leaks[1]) > minutes(coarse.leaks[2]));
        assert!(minutes(coarse.leaks[1]) > minutes(fine.leaks[1]));
        for (slow, fast) in [(1, 0), (2, 1)] {
            assert!(minutes(fine.moisture[slow]) > minutes(fine.moisture[fast]), "{fine:?}");
        }
    }

    #[test]
    fn a_leak_on_the_border_and_one_below_a_coarse_step_are_never_told() {
        let fine = plan(&planned(1.0, 5.0)).unwrap();
        assert_eq!(fine.leaks[0].seconds, None, "just the rate that matters is not above it");
        let coarse = plan(&planned(500.0, 1.0)).unwrap();
        assert_eq!(coarse.leaks[1].seconds, None, "two hours bring half a step");
        assert_eq!(plan(&Planned { interval: 0.0, ..planned(1.0, 5.0) }), None);
    }

    /// Minutes until a leak or no leak is told at 95 %, in a simulation with noise of half a step
    /// and no drift (computed with numpy: three shapes, 60 runs, one reading a minute): the
    /// resolution and the first rate in micron, a pure leak, moisture of 3 and of 10 min. It asked
    /// for any leak, this reader for one above a quarter of the first rate, so that *no leak* is
    /// told within .4 to .75 of the time; it knew single time constants, this reader holds a
    /// spread of them against a leak, so that a leak takes .75 times to twice as long.
    #[test]
    fn waits_agree_with_a_simulation_of_single_shapes() {
        let table = [
            (1.0, 20.0, 5.0, 9.0, 19.0),
            (5.0, 20.0, 9.0, 13.0, 25.0),
            (20.0, 20.0, 15.0, 21.0, 41.0),
            (20.0, 100.0, 8.0, 13.0, 23.0),
            (100.0, 100.0, 14.0, 18.0, 38.0),
        ];
        for (resolution, first_rate, leak, quick, slow) in table {
            let mut planned = planned(resolution, first_rate / 4.0);
            planned.surroundings.drift = 0.0;
            planned.gauge.repeatability = Some(0.5 * resolution * MICRON);
            let rate = first_rate * MICRON / 60.0;
            let minutes = |seconds: Option<f64>| seconds.unwrap() / 60.0;
            let leak = minutes(told(&planned, true, |t| rate * t)) / leak;
            let moist = |tau: f64| told(&planned, false, |t| -rate * tau * libm::expm1(-t / tau));
            assert!((0.75..2.0).contains(&leak), "{resolution}, {first_rate}: {leak}");
            for ratio in [minutes(moist(180.0)) / quick, minutes(moist(600.0)) / slow] {
                assert!((0.4..0.75).contains(&ratio), "{resolution}, {first_rate}: {ratio}");
            }
        }
    }

    #[test]
    fn a_limit_asks_for_a_rate() {
        let rate = rate_to_reach(500.0 * MICRON, 200.0 * MICRON, 1800.0);
        assert!((rate / (10.0 * MICRON / 60.0) - 1.0).abs() < 1e-12);
    }
}
