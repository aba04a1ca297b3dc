//! How long the laws take that are computed for every draw: pump-down and saturation.
//!
//! Before the timings, one line each gives the values, so that `physics_against_python.py` can
//! compare them.

#![expect(clippy::unwrap_used, reason = "a benchmark's own input may stop it")]

use divan::{Bencher, black_box};
use dryhold::formula::{NoNames, check, evaluate, parse};
use dryhold::physics::conductance::Tube;
use dryhold::physics::gas::{Gas, REFERENCE_TEMPERATURE};
use dryhold::physics::pump_down::PumpDown;
use dryhold::physics::pumping_speed::PumpingLine;
use dryhold::physics::saturation::{saturation_pressure, saturation_temperature};
use dryhold::source::Sources;
use std::io::Write;

const ATMOSPHERE: f64 = 101_325.0;
const TARGET: f64 = 66.661;

/// A bench's input: a hose of 3/8 in by 1.5 m, a floor, cores and a load.
#[derive(Clone, Copy)]
struct Rig {
    bore: f64,
    length: f64,
    floor: f64,
    cores: f64,
    load: f64,
}

const HOSE: Rig =
    Rig { bore: 9.525e-3, length: 1.5, floor: 2.666, cores: f64::INFINITY, load: 0.0 };
const LOADED: Rig = Rig { load: 0.01, ..HOSE };
const EVERYTHING: Rig = Rig { cores: 0.27e-3, load: 1e-4, ..HOSE };

impl Rig {
    fn pump_down(self) -> PumpDown {
        let hose = Some(Tube::new(Gas::Air, self.bore, self.length, REFERENCE_TEMPERATURE));
        let line = PumpingLine { speed: 2.8e-3, floor: self.floor, hose, cores: self.cores };
        PumpDown::new(line, 0.014, self.load)
    }
}

fn main() -> std::io::Result<()> {
    let mut out = std::io::stdout();
    for (name, rig) in [("hose", HOSE), ("hose_and_load", LOADED)] {
        writeln!(out, "value pump_down_{name} {:?}", rig.pump_down().time(ATMOSPHERE, TARGET))?;
    }
    for (name, kelvin) in [("liquid", 293.15), ("ice", 253.15)] {
        writeln!(out, "value saturation_{name} {:?}", saturation_pressure(kelvin))?;
    }
    divan::main();
    Ok(())
}

#[divan::bench(sample_count = 1000)]
fn pump_down_hose(bencher: Bencher<'_, '_>) {
    bencher.bench_local(|| black_box(HOSE).pump_down().time(black_box(ATMOSPHERE), TARGET));
}

#[divan::bench(sample_count = 1000)]
fn pump_down_hose_and_load(bencher: Bencher<'_, '_>) {
    bencher.bench_local(|| black_box(LOADED).pump_down().time(black_box(ATMOSPHERE), TARGET));
}

#[divan::bench(sample_count = 1000)]
fn pump_down_hose_load_and_cores(bencher: Bencher<'_, '_>) {
    bencher.bench_local(|| black_box(EVERYTHING).pump_down().time(black_box(ATMOSPHERE), TARGET));
}

#[divan::bench(sample_count = 1000)]
fn pressure_after_two_minutes(bencher: Bencher<'_, '_>) {
    let after = |rig: Rig| rig.pump_down().pressure_after(ATMOSPHERE, black_box(120.0));
    bencher.bench_local(|| after(black_box(EVERYTHING)));
}

/// A formula with everything in doubt: its text is ready, and every draw is computed.
#[divan::bench(sample_count = 100)]
fn formula_over_all_draws(bencher: Bencher<'_, '_>) {
    over_all_draws(
        bencher,
        "pump_down_time(14 +- 4 L, 6 +- 0.5 cfm, 760000 micron, 500 +- 20 micron, \
         floor = 20 +- 5 micron, bore = 9 +- 0.5 mm, length = 1.5 +- 0.1 m, cores = 2, \
         load = 0.0001 +- 0.00005 Pa m3/s)",
    );
}

/// The same of arithmetic alone, as `draws_against_numpy.py` does it.
#[divan::bench(sample_count = 1000)]
fn arithmetic_over_all_draws(bencher: Bencher<'_, '_>) {
    over_all_draws(
        bencher,
        "((2500 +- 50 micron) - (300 +- 10 micron)) * (14 +- 1 L) / (30 +- 1 min)",
    );
}

fn over_all_draws(bencher: Bencher<'_, '_>, text: &str) {
    let mut sources = Sources::default();
    let id = sources.add("formula", text);
    let syntax = parse(text, &|range| sources.span(id, range.start, range.end)).unwrap();
    let formula = check(&syntax, &NoNames, "bench").unwrap();
    bencher.bench_local(|| evaluate(black_box(&formula), &NoNames));
}

#[divan::bench(sample_count = 1000)]
fn saturation_liquid() -> f64 {
    saturation_pressure(black_box(293.15))
}

#[divan::bench(sample_count = 1000)]
fn saturation_ice() -> f64 {
    saturation_pressure(black_box(253.15))
}

#[divan::bench(sample_count = 1000)]
fn frost_temperature() -> f64 {
    saturation_temperature(black_box(66.661))
}
