//! Properties of the laws of leaks, water, tubes and standing pressures.

use proptest::prelude::*;

use dryhold::physics::atmosphere::{absolute, barometer, standing_pressure};
use dryhold::physics::gas_load::{
    State, gas_load, molar_leak_rate, rise_from_leak, stall_pressure, stall_ratio,
};
use dryhold::physics::leak::{LeakPath, hole_diameter, ratio_bounds};
use dryhold::physics::moisture::{sweep_dilution, vapour_limited_time, water_vapour_mass};
use dryhold::physics::refrigerant::Refrigerant;
use dryhold::physics::volume::{by_expansion, by_pull_down};
use dryhold::physics::warming::{rise_per_kelvin, sealed_gas};

fn is_near(a: f64, b: f64, tolerance: f64) -> bool {
    (a - b).abs() <= tolerance * a.abs().max(b.abs())
}

proptest! {
    #[test]
    fn a_standing_pressure_that_only_cooled_has_lost_nothing(
        gauge in 0.0..4.5e6_f64, from in 250.0..330.0_f64, to in 250.0..330.0_f64,
        altitude in 0.0..3500.0_f64,
    ) {
        let air = barometer(altitude);
        let seen = standing_pressure(gauge, from, to, air);
        let before = State { pressure: absolute(gauge, air), temperature: from };
        let after = State { pressure: absolute(seen, air), temperature: to };
        let lost = molar_leak_rate(0.01, before, after, 3600.0);
        let empty = State { pressure: 0.0, temperature: from };
        let all = molar_leak_rate(0.01, empty, before, 3600.0);
        prop_assert!(lost.abs() < 1e-12 * all, "{} of {}", lost, all);
        let back = standing_pressure(seen, to, from, air);
        prop_assert!((back - gauge).abs() < 1e-6 * (gauge + air), "{} {}", back, gauge);
    }

    #[test]
    fn a_gas_load_and_its_rise_are_inverse(volume in 1e-4..1.0_f64, rate in 1e-6..100.0_f64) {
        prop_assert!(is_near(rise_from_leak(gas_load(volume, rate), volume), rate, 1e-12));
    }

    #[test]
    fn a_stall_that_a_rise_explains_has_the_ratio_of_one(
        floor in 0.0..50.0_f64, volume in 1e-3..0.1_f64, rate in 1e-3..10.0_f64,
        speed in 1e-5..1e-2_f64,
    ) {
        let stall = stall_pressure(floor, gas_load(volume, rate), speed);
        // The floor is taken off again, which costs digits where it is large.
        let doubt = 1e-12 + 1e-15 * stall / (stall - floor);
        prop_assert!(is_near(stall_ratio(stall, floor, volume, rate, speed), 1.0, 10.0 * doubt));
    }

    #[test]
    fn four_times_the_leak_is_twice_the_hole(leak in 1e-12..1.0_f64) {
        prop_assert!(is_near(hole_diameter(4.0 * leak), 2.0 * hole_diameter(leak), 1e-12));
    }

    #[test]
    fn every_path_passes_more_at_more_pressure_and_stays_within_the_bounds(
        place in 0..6_usize, inside in 1.2e5..1e7_f64, more in 1.01..1.4_f64,
    ) {
        let gas = Refrigerant::ALL[place].vapour();
        let (low, high) = ratio_bounds(&gas, inside);
        prop_assert!(0.0 < low && low < high);
        for path in LeakPath::ALL {
            let ratio = path.ratio_to_air(&gas, inside);
            prop_assert!(low <= ratio && ratio <= high);
            prop_assert!(path.ratio_to_air(&gas, more * inside) > ratio);
        }
    }

    #[test]
    fn sweeps_multiply(
        pressure in 10.0..5000.0_f64, first in 0..6_u8, second in 0..6_u8,
    ) {
        let left = |sweeps: u8| sweep_dilution(pressure, 101_325.0, f64::from(sweeps));
        prop_assert!(is_near(left(first + second), left(first) * left(second), 1e-12));
        prop_assert!(left(first + 1) < left(first));
    }

    #[test]
    fn an_expansion_finds_the_volume_that_it_was_made_with(
        vessel in 1e-4..0.05_f64, system in 1e-3..0.1_f64, high in 2e5..2e6_f64,
        low in 0.0..1e3_f64,
    ) {
        let last = (vessel * high + system * low) / (vessel + system);
        prop_assert!(is_near(by_expansion(vessel, high, low, last), system, 1e-9));
    }

    #[test]
    fn half_the_time_is_half_the_volume(time in 1.0..1e4_f64, to in 10.0..9e4_f64) {
        let volume = |time| by_pull_down(1e-3, 1e5, to, time);
        prop_assert!(is_near(volume(time), 2.0 * volume(time / 2.0), 1e-12));
    }

    #[test]
    fn water_takes_longer_the_thinner_its_vapour(
        mass in 1e-6..0.1_f64, pressure in 1.0..2000.0_f64, kelvin in 260.0..330.0_f64,
    ) {
        let time = vapour_limited_time(mass, pressure, 1e-3, kelvin);
        prop_assert!(time > vapour_limited_time(mass, 1.1 * pressure, 1e-3, kelvin));
        // The vapour that left fills what the pump took.
        prop_assert!(is_near(water_vapour_mass(pressure, 1e-3 * time, kelvin), mass, 1e-12));
    }

    #[test]
    fn a_dry_gas_never_looks_like_water(
        pressure in 1.0..1e4_f64, from in 260.0..310.0_f64, by in 1.0..20.0_f64,
        steady in 0.0..1e3_f64,
    ) {
        let after = sealed_gas(pressure, from, from + by) + steady;
        let share = rise_per_kelvin(pressure, after, by, steady);
        prop_assert!((2.9e-3..3.9e-3).contains(&share), "{}", share);
    }

    #[test]
    fn air_is_thinner_higher_up(altitude in -500.0..10_900.0_f64) {
        prop_assert!(barometer(altitude + 100.0) < barometer(altitude));
    }
}
