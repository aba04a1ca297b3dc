//! One rig against scipy: `tests/cross_check/rig.py` has its equations written out anew, and
//! `tests/data/bench/cross-check.csv` what scipy made of them.

use std::fs;
use std::path::Path;

use dryhold::bench::simulation::{Simulation, pressures};

use super::scipy_rig::{rig, start};

#[test]
fn scipy_finds_the_same_pressures() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/bench/cross-check.csv");
    let text = fs::read_to_string(path).unwrap();
    let rig = rig();
    let mut held = start(&rig);
    let mut simulation = Simulation::new(&rig, &held, 0.0).unwrap();
    let (mut time, mut rows) = (0.0, 0);
    for line in text.lines().skip(1) {
        let row: Vec<f64> = line.split(',').take(5).map(|cell| cell.parse().unwrap()).collect();
        simulation.run(&mut held, row[0] - time).unwrap();
        time = row[0];
        let system = pressures(&rig, &held, 2, (time, time));
        let pump_end = pressures(&rig, &held, 0, (time, time)).iter().sum();
        for (found, expected) in system.into_iter().chain([pump_end]).zip(&row[1..]) {
            let is_near = (found / expected - 1.0).abs() < 1e-3;
            assert!(is_near, "{found} for {expected} after {time} s");
        }
        rows += 1;
    }
    assert_eq!(rows, 10);
}
