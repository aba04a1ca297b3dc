//! How long one reading of a rise of 60 readings takes, where it is told and where it is open and
//! says how much longer it needs, and how long a plan takes.
//!
//! Before the timing, one line gives the log and one the rate found, so that
//! `rise_against_scipy.py` can time scipy on the same log.

#![expect(clippy::unwrap_used, reason = "a benchmark's own input may stop it")]

use divan::{Bencher, black_box};
use dryhold::rise::planning::{Planned, plan};
use dryhold::rise::{Gauge, Hold, Verdict, read, read_without_forecast};
use std::io::Write;

/// Sixty readings of moisture and a leak, one a half minute, in whole tenths of a Pa.
fn hold() -> Hold {
    let times: Vec<f64> = (0..60_u32).map(|k| 30.0 * f64::from(k)).collect();
    let shown = |t: &f64| {
        let truth = 40.0 - 100.0 * libm::expm1(-t / 300.0) + 0.05 * t + 0.1 * libm::sin(*t);
        (10.0 * truth).round() / 10.0
    };
    let pressures = times.iter().map(shown).collect();
    Hold::new(times, pressures, Gauge::default(), 0.01)
}

fn main() -> std::io::Result<()> {
    let mut out = std::io::stdout();
    let hold = hold();
    writeln!(out, "times {:?}", hold.times)?;
    writeln!(out, "pressures {:?}", hold.pressures)?;
    writeln!(out, "rate {:?}", read(&hold).unwrap().rate.value)?;
    divan::main();
    Ok(())
}

#[divan::bench(sample_count = 300)]
fn sixty_readings(bencher: Bencher<'_, '_>) {
    let hold = hold();
    bencher.bench_local(|| read(black_box(&hold)));
}

/// The same asked for a rate just below its own.
fn open_hold() -> Hold {
    let mut hold = hold();
    hold.rate_that_matters = 0.048;
    assert_eq!(read(&hold).unwrap().verdict, Verdict::CannotTell);
    hold
}

#[divan::bench(sample_count = 100)]
fn sixty_readings_open(bencher: Bencher<'_, '_>) {
    let hold = open_hold();
    bencher.bench_local(|| read(black_box(&hold)));
}

#[divan::bench(sample_count = 100)]
fn sixty_readings_open_without_forecast(bencher: Bencher<'_, '_>) {
    let hold = open_hold();
    bencher.bench_local(|| read_without_forecast(black_box(&hold)));
}

#[divan::bench(sample_count = 30)]
fn plan_of_a_hold(bencher: Bencher<'_, '_>) {
    let gauge = Gauge { resolution: Some(0.666_6), ..Gauge::default() };
    let planned = Planned::new(gauge, 0.011);
    bencher.bench_local(|| plan(black_box(&planned)));
}
