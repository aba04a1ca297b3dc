//! A dry volume pumped down, and where it stops.

use dryhold::bench::assembly::{Assembly, Chamber, Way};
use dryhold::bench::leak::Hole;
use dryhold::bench::passage::Passage;
use dryhold::physics::conductance::{CORE_BORE, Tube};
use dryhold::physics::gas::{Gas, REFERENCE_TEMPERATURE};
use dryhold::physics::gas_load::stall_pressure;
use dryhold::physics::leak::LeakPath;
use dryhold::physics::pump_down::PumpDown;
use dryhold::physics::pumping_speed::PumpingLine;

use super::{ATMOSPHERE, after, pressure, steady_pump};

/// A system of a volume in m³ behind a hose whose own volume hardly counts.
fn behind_hose(volume: f64, bore: f64, length: f64) -> Assembly {
    let mut assembly = Assembly::bare(steady_pump(2.0), 1e-7);
    assembly.chambers.push(Chamber::dry(volume));
    assembly.ways.push(Way { near: 0, far: 1, passage: Passage::Tube { bore, length } });
    assembly
}

fn hole(size: f64) -> Hole {
    Hole { size, path: LeakPath::Choked }
}

/// Source: pump-down at constant speed, `t = V/S ln((p0 - floor) / (p1 - floor))`.
#[test]
fn a_bare_volume_falls_as_the_logarithm_says() {
    for (volume, floor) in [(0.01, 0.0), (0.002, 3.0), (0.05, 5.0)] {
        let assembly = Assembly::bare(steady_pump(floor), volume);
        for target in [1e4, 100.0, 20.0] {
            let time = volume / 2.36e-3 * libm::log((ATMOSPHERE - floor) / (target - floor));
            let found = pressure(&after(&assembly, ATMOSPHERE, time), 0);
            // .5 % of the time, turned into a pressure.
            let allowed = 0.005 * time * 2.36e-3 / volume;
            assert!(
                libm::log((found - floor) / (target - floor)).abs() < allowed,
                "{found} {target}"
            );
        }
    }
}

/// Source: `physics::pump_down`, an integral that shares no step with the simulation.
#[test]
fn a_volume_behind_a_hose_takes_the_time_of_the_integral() {
    for (bore, target) in [(4.8e-3, 66.66), (9.5e-3, 66.66), (9.5e-3, 10.0)] {
        let hose = Some(Tube::new(Gas::Air, bore, 1.5, REFERENCE_TEMPERATURE));
        let line = PumpingLine { hose, floor: 2.0, ..PumpingLine::bare(2.36e-3) };
        let time = PumpDown::new(line, 0.01, 0.0).time(ATMOSPHERE, target);
        let found = pressure(&after(&behind_hose(0.01, bore, 1.5), ATMOSPHERE, time), 1);
        assert!((found / target - 1.0).abs() < 0.005, "{found} for {target} in {time} s");
    }
}

/// Source: balance of throughput, `p = floor + Q / S`.
#[test]
fn a_leak_stops_the_pull_at_its_throughput_over_the_speed() {
    let mut assembly = Assembly::bare(steady_pump(3.0), 0.01);
    // Damp air would bring water into the oil, and the floor would rise.
    assembly.ambient.humidity = 0.0;
    assembly.holes.push((0, hole(0.05)));
    let found = pressure(&after(&assembly, ATMOSPHERE, 3600.0), 0);
    let expected = stall_pressure(3.0, 0.05, 2.36e-3);
    assert!((found / expected - 1.0).abs() < 0.005, "{found} {expected}");
}

/// Source: `physics::pumping_speed`, the same balance through a hose.
#[test]
fn through_a_hose_the_leak_stops_the_pull_higher() {
    let hose = Some(Tube::new(Gas::Air, 4.8e-3, 1.5, REFERENCE_TEMPERATURE));
    let line = PumpingLine { hose, floor: 2.0, ..PumpingLine::bare(2.36e-3) };
    for size in [1e-4, 2e-3, 0.05] {
        let mut assembly = behind_hose(0.01, 4.8e-3, 1.5);
        assembly.ambient.humidity = 0.0;
        assembly.holes.push((1, hole(size)));
        let held = after(&assembly, ATMOSPHERE, 36_000.0);
        let flow = line.at_throughput(size);
        let (system, pump_end) = (pressure(&held, 1), pressure(&held, 0));
        assert!((system / flow.system_pressure - 1.0).abs() < 0.005, "{system} {flow:?}");
        assert!((pump_end / flow.pump_end_pressure - 1.0).abs() < 0.005, "{pump_end} {flow:?}");
    }
}

/// Two cores of the bore that the physics takes, one behind the other, halve what one passes.
#[test]
fn cores_in_line_slow_a_pull() {
    let passage = Passage::Hole { bore: CORE_BORE };
    let mut one = Assembly::bare(steady_pump(2.0), 1e-6);
    one.chambers.push(Chamber::dry(0.01));
    one.ways.push(Way { near: 0, far: 1, passage });
    let mut two = Assembly::bare(steady_pump(2.0), 1e-6);
    two.chambers.extend([Chamber::dry(1e-6), Chamber::dry(0.01)]);
    two.ways.extend([(0, 1), (1, 2)].map(|(near, far)| Way { near, far, passage }));
    let (through_one, through_two) = (
        pressure(&after(&one, ATMOSPHERE, 120.0), 1),
        pressure(&after(&two, ATMOSPHERE, 240.0), 2),
    );
    assert!(through_one > 500.0 && through_one < 5000.0, "{through_one}");
    assert!((through_two / through_one - 1.0).abs() < 0.35, "{through_one} {through_two}");
}
