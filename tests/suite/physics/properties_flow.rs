//! What must hold for every flow of gas and every pump-down, whatever the numbers.

use dryhold::physics::conductance::{
    Tube, end_correction, in_parallel, in_series, molecular_conductance,
};
use dryhold::physics::gas::{Gas, REFERENCE_TEMPERATURE};
use dryhold::physics::pump_down::PumpDown;
use dryhold::physics::pumping_speed::{PumpingLine, effective_speed};
use dryhold::physics::saturation::{
    TRIPLE_POINT_PRESSURE, TRIPLE_POINT_TEMPERATURE, saturation_pressure, saturation_temperature,
};
use proptest::prelude::*;

const ATMOSPHERE: f64 = 101_325.0;

/// A hose from a capillary to a wide tube.
fn hose() -> impl Strategy<Value = Tube> {
    (spread(0.5e-3, 30e-3), spread(0.2, 20.0))
        .prop_map(|(bore, length)| Tube::new(Gas::Air, bore, length, REFERENCE_TEMPERATURE))
}

/// A pump with or without a floor, a hose and cores.
fn line() -> impl Strategy<Value = PumpingLine> {
    let cores = prop_oneof![Just(f64::INFINITY), spread(0.05e-3, 1e-3)];
    let floor = prop_oneof![Just(0.0), spread(0.1, 30.0)];
    (spread(0.2e-3, 10e-3), floor, proptest::option::of(hose()), cores)
        .prop_map(|(speed, floor, hose, cores)| PumpingLine { speed, floor, hose, cores })
}

fn pump_down() -> impl Strategy<Value = PumpDown> {
    let load = prop_oneof![Just(0.0), spread(1e-7, 1e-2)];
    (line(), spread(1e-4, 1.0), load)
        .prop_map(|(line, volume, load)| PumpDown::new(line, volume, load))
}

/// Even in the logarithm.
fn spread(low: f64, high: f64) -> impl Strategy<Value = f64> {
    (libm::log(low)..libm::log(high)).prop_map(libm::exp)
}

/// Whether two values lie within so much of each other, of their size.
fn is_near(one: f64, other: f64, share: f64) -> bool {
    (one / other - 1.0).abs() <= share
}

proptest! {
    #[test]
    fn warmer_water_has_more_vapour(t in 140.0..646.0, warmer in 1e-4..1.0_f64) {
        prop_assert!(saturation_pressure(t) < saturation_pressure(t + warmer));
    }

    #[test]
    fn the_temperature_of_a_saturation_pressure_is_found_again(t in 140.0..647.0) {
        let found = saturation_temperature(saturation_pressure(t));
        // Region 4 is one curve both ways; ice is solved.
        prop_assert!((found - t).abs() < 1e-6, "{found} for {t}");
    }

    #[test]
    fn nothing_jumps_at_the_triple_point(away in 1e-9..1e-3_f64) {
        let (below, above) = (
            saturation_pressure(TRIPLE_POINT_TEMPERATURE - away),
            saturation_pressure(TRIPLE_POINT_TEMPERATURE + away),
        );
        // Ice gains 8.4 % a kelvin, liquid 7.3 %.
        prop_assert!(is_near(below, TRIPLE_POINT_PRESSURE, 0.09 * away + 1e-6));
        prop_assert!(is_near(above, TRIPLE_POINT_PRESSURE, 0.09 * away + 1e-6));
        prop_assert!(below < above + 1e-6 * above);
        let cold = saturation_temperature(TRIPLE_POINT_PRESSURE * (1.0 - away));
        let warm = saturation_temperature(TRIPLE_POINT_PRESSURE * (1.0 + away));
        prop_assert!(cold <= TRIPLE_POINT_TEMPERATURE && warm >= TRIPLE_POINT_TEMPERATURE);
        prop_assert!(warm - cold < 30.0 * away + 1e-5);
    }

    #[test]
    fn thin_gas_passes_as_molecules(
        bore in spread(0.5e-3, 30e-3), length in spread(0.2, 20.0), t in 240.0..350.0,
    ) {
        for gas in [Gas::Air, Gas::Water] {
            let tube = Tube::new(gas, bore, length, t);
            let molecular =
                molecular_conductance(gas, bore, length, t) * end_correction(bore, length);
            prop_assert!(is_near(tube.conductance(1e-6), molecular, 1e-4));
            prop_assert_eq!(tube.conductance(0.0), molecular);
        }
    }

    #[test]
    fn dense_gas_passes_in_proportion_to_its_pressure(hose in hose()) {
        prop_assert!(is_near(hose.conductance(2e7), 2.0 * hose.conductance(1e7), 0.02));
    }

    #[test]
    fn more_flows_at_more_pressure_though_the_conductance_has_a_minimum(
        hose in hose(), pressure in spread(1e-3, 1e5), more in 1.001..10.0_f64,
    ) {
        let flow = |mean: f64| mean * hose.conductance(mean);
        prop_assert!(flow(pressure) < flow(pressure * more));
        prop_assert!(hose.conductance(pressure) > 0.9 * hose.molecular());
    }

    #[test]
    fn a_wider_or_shorter_hose_passes_more(
        bore in spread(0.5e-3, 20e-3), length in spread(0.2, 20.0), p in spread(1e-3, 1e5),
    ) {
        let at = |bore, length| Tube::new(Gas::Air, bore, length, 293.15).conductance(p);
        prop_assert!(at(1.01 * bore, length) > at(bore, length));
        prop_assert!(at(bore, 0.99 * length) > at(bore, length));
    }

    #[test]
    fn the_narrowest_part_bounds_a_series_and_the_widest_a_parallel(
        parts in proptest::collection::vec(spread(1e-7, 1.0), 1..6),
    ) {
        let (least, most) = parts.iter().fold((f64::MAX, 0.0_f64), |(least, most), part| {
            (least.min(*part), most.max(*part))
        });
        let count = parts.len() as f64;
        let (series, parallel) = (in_series(&parts), in_parallel(&parts));
        let slack = 1.0 + 1e-12;
        prop_assert!(series <= least * slack && series * count * slack >= least);
        prop_assert!(parallel * slack >= most && parallel <= count * most * slack);
    }

    #[test]
    fn an_effective_speed_is_below_both(speed in spread(1e-6, 1.0), c in spread(1e-9, 10.0)) {
        let effective = effective_speed(speed, c);
        prop_assert!(effective < speed && effective < c);
        prop_assert!(is_near(effective, in_series(&[speed, c]), 1e-12));
    }

    #[test]
    fn pressures_fall_along_the_way(line in line(), p in spread(1e-2, 1e5)) {
        let flow = line.at_system_pressure(p);
        prop_assert!(flow.pump_end_pressure <= p * (1.0 + 1e-12));
        if p > line.floor {
            prop_assert!(flow.pump_end_pressure > line.floor);
            prop_assert!(line.system_speed(p) <= line.speed * (1.0 + 1e-9));
            prop_assert!(line.system_speed(p) <= line.cores * (1.0 + 1e-9));
            let again = line.at_throughput(flow.throughput).system_pressure;
            prop_assert!((again - p).abs() < 1e-6 * p, "{again} for {p}");
        }
    }

    #[test]
    fn a_bare_pump_takes_the_time_of_its_constant_speed(
        volume in spread(1e-4, 1.0), speed in spread(1e-4, 1e-1), floor in 0.0..50.0,
        target in spread(51.0, 9e4),
    ) {
        let line = PumpingLine { floor, ..PumpingLine::bare(speed) };
        let time = PumpDown::new(line, volume, 0.0).time(ATMOSPHERE, target);
        let expected = volume / speed * libm::log((ATMOSPHERE - floor) / (target - floor));
        prop_assert!(is_near(time, expected, 1e-9), "{time} {expected}");
    }

    #[test]
    fn a_wide_hose_is_as_good_as_none(volume in spread(1e-4, 1.0), speed in spread(1e-4, 1e-2)) {
        let wide = Some(Tube::new(Gas::Air, 2.0, 0.2, REFERENCE_TEMPERATURE));
        let line = PumpingLine { hose: wide, ..PumpingLine::bare(speed) };
        let time = PumpDown::new(line, volume, 0.0).time(ATMOSPHERE, 50.0);
        prop_assert!(is_near(time, volume / speed * libm::log(ATMOSPHERE / 50.0), 1e-3));
    }

    #[test]
    fn a_deeper_target_takes_longer(down in pump_down(), at in spread(1.01, 1e4)) {
        let shallow = down.stopping_pressure() * at + 0.01;
        let deep = down.stopping_pressure() + 0.9 * (shallow - down.stopping_pressure());
        if shallow < ATMOSPHERE {
            let (short, long) = (down.time(ATMOSPHERE, shallow), down.time(ATMOSPHERE, deep));
            prop_assert!(short.is_finite() && short < long, "{short} {long}");
            let rest = down.time(shallow, deep);
            prop_assert!(is_near(short + rest, long, 1e-6), "{short} {rest} {long}");
        }
    }

    #[test]
    fn the_pressure_after_a_time_is_found_again(down in pump_down(), at in spread(1.01, 1e4)) {
        let target = down.stopping_pressure() * at + 0.01;
        if target < ATMOSPHERE {
            let found = down.pressure_after(ATMOSPHERE, down.time(ATMOSPHERE, target));
            prop_assert!(is_near(found, target, 1e-6), "{found} for {target}");
        }
    }

    #[test]
    fn cores_and_load_only_slow_it_down(line in line(), volume in spread(1e-4, 1.0)) {
        let plain = PumpingLine { cores: f64::INFINITY, ..line };
        let slowed = PumpingLine { cores: 0.3e-3, ..line };
        let time = |line, load| PumpDown::new(line, volume, load).time(ATMOSPHERE, 66.66);
        prop_assert!(time(plain, 0.0) < time(slowed, 0.0));
        prop_assert!(time(plain, 0.0) < time(plain, 1e-3));
    }

    #[test]
    fn no_number_breaks_a_law(
        line in (any::<f64>(), any::<f64>(), any::<f64>()), volume: f64, load: f64,
        start: f64, target: f64, bore: f64, length: f64, temperature: f64,
    ) {
        let hose = Some(Tube::new(Gas::Water, bore, length, temperature));
        let line = PumpingLine { speed: line.0, floor: line.1, hose, cores: line.2 };
        let down = PumpDown::new(line, volume, load);
        let _ = (down.time(start, target), down.pressure_after(start, target));
        let _ = (saturation_pressure(temperature), saturation_temperature(start));
    }
}
