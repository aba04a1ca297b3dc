//! The heat of evaporating, freezing and thawing water.

use dryhold::bench::assembly::{Assembly, Held};
use dryhold::bench::liquid_water::{Puddle, heat_of_fusion};
use dryhold::bench::oil::Oil;
use dryhold::bench::simulation::Simulation;
use dryhold::physics::moisture::heat_of_evaporation;
use dryhold::physics::saturation::{TRIPLE_POINT_TEMPERATURE, saturation_pressure};

use super::steady_pump;

fn pulled(puddle: Puddle) -> (Assembly, Held) {
    let mut assembly = Assembly::bare(steady_pump(3.0), 0.01);
    assembly.puddles.push((0, puddle));
    let held = assembly.filled([101_325.0, 0.0, 0.0], Oil::default());
    (assembly, held)
}

const SPOT: Puddle =
    Puddle { mass: 10e-3, offset: 0.0, openness: 0.02, heat_capacity: 60.0, heat_inflow: 0.5 };

/// Source: balance of energy, with the heats of `physics::moisture`; the heat of evaporation is
/// summed here step by step from the water that left and the temperature between.
#[test]
fn heat_in_and_heat_given_up_are_the_heat_of_what_left() {
    for (heat_inflow, minutes) in [(0.5, 20), (2.0, 30), (0.05, 40)] {
        let puddle = Puddle { heat_inflow, ..SPOT };
        let (assembly, mut held) = pulled(puddle);
        let mut simulation = Simulation::new(&assembly, &held, 0.0).unwrap();
        let start = puddle.wetness(held.puddles[0].mass, held.puddles[0].heat);
        let mut taken = 0.0;
        for _ in 0..minutes * 12 {
            let before = held.puddles[0];
            simulation.run(&mut held, 5.0).unwrap();
            let now = held.puddles[0];
            let middle = puddle.wetness(before.mass, 0.5 * (before.heat + now.heat));
            taken += (before.mass - now.mass) * heat_of_evaporation(middle.temperature.max(273.16));
        }
        let end = puddle.wetness(held.puddles[0].mass, held.puddles[0].heat);
        // Ice that is left gave up its heat of fusion; ice that left took it along.
        let left = puddle.mass - held.puddles[0].mass;
        let frozen = end.ice * heat_of_fusion();
        let given = puddle.heat_capacity * (start.temperature - end.temperature) + frozen;
        let received = held.puddles[0].inflow + given;
        assert!(left > 1e-3, "{left}");
        assert!((received / taken - 1.0).abs() < 0.01, "{received} {taken} {end:?}");
    }
}

#[test]
fn a_fast_pull_on_little_heat_freezes_the_water() {
    let (assembly, mut held) = pulled(Puddle { heat_inflow: 0.05, ..SPOT });
    Simulation::new(&assembly, &held, 0.0).unwrap().run(&mut held, 1200.0).unwrap();
    let puddle = assembly.puddles[0].1;
    let wetness = puddle.wetness(held.puddles[0].mass, held.puddles[0].heat);
    assert!(wetness.ice > 1e-3 && wetness.temperature <= TRIPLE_POINT_TEMPERATURE, "{wetness:?}");
    // Over ice the pressure keeps below that of the triple point.
    let water = held.chambers[0].gas[1];
    assert!(water < 611.7 && water > 100.0, "{water}");
}

/// The plateau of a pull: with heat enough the pressure stands just below saturation, until the
/// last water is gone; then it drops.
#[test]
fn a_pull_stands_at_the_plateau_until_the_water_is_gone() {
    let puddle = Puddle { mass: 2e-3, openness: 0.2, heat_inflow: 50.0, ..SPOT };
    let (mut assembly, mut held) = pulled(puddle);
    // With the ballast shut the water would be in the oil afterwards.
    assembly.pump.1.is_ballast_open = true;
    let mut simulation = Simulation::new(&assembly, &held, 0.0).unwrap();
    simulation.run(&mut held, 50.0).unwrap();
    let wetness = puddle.wetness(held.puddles[0].mass, held.puddles[0].heat);
    let plateau = held.chambers[0].gas[1];
    let saturated = saturation_pressure(wetness.temperature);
    assert!((plateau / saturated - 1.0).abs() < 0.02, "{plateau} {saturated} {wetness:?}");
    simulation.run(&mut held, 1200.0).unwrap();
    assert!(held.puddles[0].mass < 1e-6, "{:?}", held.puddles);
    assert!(held.chambers[0].gas[1] < 0.02 * plateau);
}

#[test]
fn warming_a_frozen_spot_thaws_it() {
    let (mut assembly, mut held) = pulled(Puddle { heat_inflow: 0.05, ..SPOT });
    Simulation::new(&assembly, &held, 0.0).unwrap().run(&mut held, 1200.0).unwrap();
    assembly.pump.1.is_running = false;
    assembly.puddles[0].1.heat_inflow = 2.0;
    assembly.chambers[0].warming.goal = 25.0;
    Simulation::new(&assembly, &held, 1200.0).unwrap().run(&mut held, 1800.0).unwrap();
    let wetness = SPOT.wetness(held.puddles[0].mass, held.puddles[0].heat);
    assert!(wetness.ice == 0.0 && wetness.temperature > 285.0, "{wetness:?}");
}
