//! A volume shut off: what a leak does, what water does, what equalises.

use dryhold::bench::assembly::{Chamber, Way};
use dryhold::bench::gauge::MICRON;
use dryhold::bench::leak::Hole;
use dryhold::bench::liquid_water::Puddle;
use dryhold::bench::oil::Oil;
use dryhold::bench::passage::Passage;
use dryhold::bench::simulation::pressures;
use dryhold::physics::gas_load::rise_from_leak;
use dryhold::physics::leak::LeakPath;

use super::{after, pressure, run, shut};

/// Source: definition of throughput, `dp/dt = Q / V`.
#[test]
fn a_leak_alone_rises_straight() {
    let mut assembly = shut(0.01);
    assembly.holes.push((1, Hole { size: 1e-3, path: LeakPath::Choked }));
    let rate = rise_from_leak(1e-3, 0.01);
    for minutes in [1.0, 10.0, 60.0] {
        let rise = pressure(&after(&assembly, 30.0, 60.0 * minutes), 1) - 30.0;
        assert!((rise / (60.0 * minutes * rate) - 1.0).abs() < 1e-4, "{rise} in {minutes} min");
    }
}

/// Rows of tests/data/physics/02-saturation.csv: temperature in K and pressure in Pa over liquid
/// (iapws 1.5.5, IF97 region 4) and over ice (IAPWS R14-08).
const SATURATION: [(f64, f64); 5] = [
    (283.15, 1_228.183_869_3),
    (293.15, 2_339.214_766_8),
    (303.15, 4_246.688_340_5),
    (263.15, 259.873_810_8),
    (253.15, 103.239_029),
];

#[test]
fn water_alone_levels_at_saturation_of_its_spot() {
    for (temperature, saturated) in SATURATION {
        let mut assembly = shut(0.01);
        assembly.ambient.temperature = 293.15;
        let puddle = Puddle {
            mass: 5e-3,
            offset: temperature - 293.15,
            openness: 0.02,
            heat_capacity: 100.0,
            heat_inflow: 0.5,
        };
        assembly.puddles.push((1, puddle));
        let mut held = assembly.filled([1.0, 0.0, 0.0], Oil::default());
        run(&assembly, &mut held, 4.0 * 3600.0);
        let water = pressures(&assembly, &held, 1, (0.0, 0.0))[1];
        assert!((water / saturated - 1.0).abs() < 1e-3, "{water} at {temperature} K");
    }
}

#[test]
fn the_coldest_of_two_puddles_sets_the_level() {
    let mut assembly = shut(0.01);
    for offset in [0.0, -10.0] {
        let puddle =
            Puddle { mass: 3e-3, offset, openness: 0.02, heat_capacity: 100.0, heat_inflow: 0.5 };
        assembly.puddles.push((1, puddle));
    }
    let held = after(&assembly, 1.0, 6.0 * 3600.0);
    let water = held.chambers[1].gas[1];
    assert!(water < 1.35 * SATURATION[0].1 && water > 0.99 * SATURATION[0].1, "{water}");
    assert!(held.puddles[1].mass > 3e-3, "vapour goes over to the cold spot");
    assert!(held.puddles[0].mass < 3e-3);
}

/// .5 mL of air of the atmosphere is 38 micron in 10 L.
/// Source: ideal gas.
#[test]
fn a_trapped_pocket_spills_a_step() {
    let mut assembly = shut(0.01);
    assembly.chambers.push(Chamber::dry(0.5e-6));
    let passage = Passage::Gap { conductance: 1e-8 };
    assembly.ways.push(Way { near: 1, far: 2, passage });
    let mut held = assembly.filled([10.0, 0.0, 0.0], Oil::default());
    held.chambers[2].gas = [101_325.0, 0.0, 0.0];
    run(&assembly, &mut held, 900.0);
    let step = (pressure(&held, 1) - 10.0) / MICRON;
    assert!((step - 38.0).abs() < 0.2, "{step} micron");
}

/// A system of two volumes that a thin tube joins equalises with `V / C` of both.
#[test]
fn two_volumes_equalise_in_the_time_of_volume_over_conductance() {
    let mut assembly = shut(0.01);
    assembly.chambers.push(Chamber::dry(0.01));
    let passage = Passage::Gap { conductance: 4e-5 };
    assembly.ways.push(Way { near: 1, far: 2, passage });
    let mut held = assembly.filled([100.0, 0.0, 0.0], Oil::default());
    held.chambers[1].gas[0] = 20.0;
    run(&assembly, &mut held, 125.0);
    // Both halves in series: V / 2 over C is 125 s.
    let gap = pressure(&held, 2) - pressure(&held, 1);
    assert!((gap / (80.0 * libm::exp(-1.0)) - 1.0).abs() < 1e-3, "{gap}");
}
