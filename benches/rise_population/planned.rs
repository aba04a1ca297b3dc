//! What a plan lays out without scatter, against holds that scatter.

use crate::invented::{Draws, MICRON};
use crate::looking::percentile;
use dryhold::rise::planning::{Planned, plan};
use dryhold::rise::{Gauge, Hold, read_without_forecast};
use std::io::Write;

/// Holds of each kind.
const HOLDS: usize = 40;
/// The rate that matters, micron/min.
const MATTERS: f64 = 5.0;

/// Prints planned and needed minutes for three gauges: a leak of twice the rate that matters, and
/// moisture of 3 and of 10 min that at first rises four times as fast as it.
pub fn planning(out: &mut impl Write, draws: &mut Draws) -> std::io::Result<()> {
    writeln!(out, "\nplanned minutes / needed, median of {HOLDS}")?;
    writeln!(
        out,
        "{:<8} {:>12} {:>16} {:>17}",
        "step", "leak", "moisture 3 min", "moisture 10 min"
    )?;
    for step in [1.0, 5.0, 20.0] {
        let gauge = Gauge { resolution: Some(step * MICRON), ..Gauge::default() };
        let planned = Planned::new(gauge, MATTERS * MICRON / 60.0);
        let Some(plan) = plan(&planned) else { continue };
        let leak = needed(draws, &planned, step, true, |t| 2.0 * MATTERS * t);
        let moist = |tau: f64| move |t: f64| -4.0 * MATTERS * tau * libm::expm1(-t / tau);
        let quick = needed(draws, &planned, step, false, moist(3.0));
        let slow = needed(draws, &planned, step, false, moist(10.0));
        let waits = [plan.leaks[1], plan.moisture[0], plan.moisture[1]];
        let pairs = waits.iter().zip([leak, quick, slow]).map(|(wait, needed)| {
            format!("{:.0} / {needed:.0}", wait.seconds.unwrap_or(f64::INFINITY) / 60.0)
        });
        let pairs: Vec<String> = pairs.collect();
        writeln!(out, "{step:<8} {:>12} {:>16} {:>17}", pairs[0], pairs[1], pairs[2])?;
    }
    Ok(())
}

/// Minutes until the reader is 95 % sure of the truth, the median of some holds.
fn needed(
    draws: &mut Draws,
    planned: &Planned,
    step: f64,
    is_straight: bool,
    rise: impl Fn(f64) -> f64,
) -> f64 {
    let minutes = (0..HOLDS).map(|_| {
        let shown = |t: f64| {
            let scatter = 0.35 * step * draws.normal();
            MICRON * step * ((500.0 + rise(t) + scatter) / step).round()
        };
        let pressures: Vec<f64> = (0..=120).map(f64::from).map(shown).collect();
        let told = (5..=pressures.len()).find(|count| {
            let times = (0..*count).map(|k| 60.0 * k as f64).collect();
            let pressures = pressures[..*count].to_vec();
            let mut hold = Hold::new(times, pressures, planned.gauge, planned.rate_that_matters);
            hold.surroundings = planned.surroundings;
            let sure = |straight: f64| if is_straight { straight > 0.95 } else { straight < 0.05 };
            read_without_forecast(&hold).is_ok_and(|reading| sure(reading.straight))
        });
        told.map_or(f64::INFINITY, |count| (count - 1) as f64)
    });
    percentile(minutes.collect(), 0.5)
}
