//! One rig against scipy: `tests/cross_check/rig.py` has its equations written out anew, and
//! `tests/data/bench/cross-check.csv` what scipy made of them.

use std::fs;
use std::path::Path;

use dryhold::bench::ambient::Ambient;
use dryhold::bench::assembly::{Assembly, Chamber, Held, Way};
use dryhold::bench::leak::Hole;
use dryhold::bench::liquid_water::Puddle;
use dryhold::bench::oil::Oil;
use dryhold::bench::passage::Passage;
use dryhold::bench::pump::Pump;
use dryhold::bench::simulation::{Simulation, pressures};
use dryhold::bench::wall_water::{Store, Walls};
use dryhold::physics::conductance::CORE_BORE;
use dryhold::physics::leak::LeakPath;

/// The rig of the script.
fn rig() -> Assembly {
    let pump = Pump { left: 0.9, worn: 2.0, ..Pump::default() };
    let mut rig = Assembly::bare(pump, 1e-4);
    rig.ambient = Ambient { temperature: 295.15, drift: 5.0 / 3600.0, ..Ambient::default() };
    let mut system = Chamber::dry(8e-3);
    system.stores.extend(Walls { capacity: 2e-3, level: 800.0 }.stores());
    system.stores.extend(Store::in_compressor_oil(0.01, 1500.0));
    rig.chambers.extend([Chamber::dry(1.2e-4), system]);
    let hose = Passage::Tube { bore: 9.5e-3, length: 1.5 };
    rig.ways.push(Way { near: 0, far: 1, passage: hose });
    rig.ways.push(Way { near: 1, far: 2, passage: Passage::Hole { bore: CORE_BORE } });
    rig.holes.push((2, Hole { size: 3e-4, path: LeakPath::Choked }));
    let puddle =
        Puddle { mass: 2e-3, offset: -6.0, openness: 0.02, heat_capacity: 80.0, heat_inflow: 0.8 };
    rig.puddles.push((2, puddle));
    rig
}

fn start(rig: &Assembly) -> Held {
    rig.filled([1e5, 1000.0, 0.0], Oil { water: 3e-4, refrigerant: 1e-4, ..Oil::default() })
}

#[test]
fn scipy_finds_the_same_pressures() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/bench/cross-check.csv");
    let text = fs::read_to_string(path).unwrap();
    let rig = rig();
    let mut held = start(&rig);
    let mut simulation = Simulation::new(&rig, &held, 0.0);
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
