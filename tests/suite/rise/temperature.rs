//! A known change of temperature is taken out of a rise: closed forms of a dry gas and of water.

use dryhold::physics::saturation::saturation_pressure;
use dryhold::rise::{Doubted, Gauge, Hold, Missing, Verdict, read};

/// Pa in a micron (1e-3 conventional mmHg).
const MICRON: f64 = 0.133_322_387_415;
/// Pa/s in a micron per minute.
const RATE: f64 = MICRON / 60.0;
/// Minutes of every hold here.
const MINUTES: f64 = 30.0;

/// Half an hour of `pascals` over the minutes and the share of the hold that has gone by.
fn hold(warmed_by: f64, pascals: impl Fn(f64, f64) -> f64) -> Hold {
    let times: Vec<f64> = (0..=30).map(|minute| 60.0 * f64::from(minute)).collect();
    let at = |time: &f64| (pascals(time / 60.0, time / 60.0 / MINUTES) / 0.1).round() * 0.1;
    let pressures = times.iter().map(at).collect();
    let mut hold = Hold::new(times, pressures, Gauge::default(), 3.0 * RATE);
    hold.surroundings.warmed_by = warmed_by;
    hold.surroundings.drift = 0.2;
    hold
}

/// The ideal gas: 200 Pa from 20 °C to 40 °C are 213.64 Pa, a false 3.4 micron/min.
#[test]
fn a_dry_gas_that_is_warmed_does_not_rise() {
    let gas = |_: f64, share: f64| 200.0 * (293.15 + 20.0 * share) / 293.15;
    let known = read(&hold(20.0, gas)).unwrap();
    assert_eq!(known.verdict, Verdict::Quiet, "{known:#?}");
    assert!(known.rate.value < 0.2 * RATE, "{known:#?}");
    let unknown = read(&hold(0.0, gas)).unwrap();
    assert!((unknown.rate.value / RATE - 3.4).abs() < 0.2, "{unknown:#?}");
}

#[test]
fn a_leak_that_cooling_hides_is_found() {
    let gas = |minute: f64, share: f64| {
        (200.0 + 5.0 * RATE * 60.0 * minute) * (293.15 - 30.0 * share) / 293.15
    };
    assert!(!matches!(read(&hold(0.0, gas)), Ok(reading) if reading.straight > 0.5));
    let known = read(&hold(-30.0, gas)).unwrap();
    assert_eq!(known.verdict, Verdict::Straight, "{known:#?}");
    assert!(known.rate.low < 5.0 * RATE && 5.0 * RATE < known.rate.high, "{known:#?}");
    let falling = |minute: f64, _: f64| 200.0 - minute;
    assert!(matches!(read(&hold(0.0, falling)), Err(Missing::Falling { .. })));
}

/// Moisture that heads for the pressure of water at a cold spot which becomes 3 K warmer.
#[test]
fn a_level_held_by_water_moves_with_its_saturation() {
    let water = |minute: f64, share: f64| {
        20.0 - saturation_pressure(278.15 + 3.0 * share) * libm::expm1(-minute / 3.0)
    };
    let unknown = read(&hold(0.0, water)).unwrap();
    let known = read(&hold(3.0, water)).unwrap();
    assert!(unknown.rate.value > 20.0 * RATE, "{unknown:#?}");
    assert!(known.rate.value < 0.2 * unknown.rate.value, "{known:#?}");
    assert_ne!(known.verdict, Verdict::Both, "{known:#?}");
}

/// Ice at -13 °C holds 198 Pa; 2 K more make it 236 Pa, a false 9.6 micron/min, which a leak
/// could make as well.
#[test]
fn a_hold_that_begins_at_saturation_stays_in_doubt() {
    let ice = |_: f64, share: f64| saturation_pressure(260.15 + 2.0 * share);
    let mut warmed = hold(2.0, ice);
    assert_eq!(read(&warmed).unwrap().verdict, Verdict::Straight, "no spot is known");
    warmed.surroundings.coldest = Some(Doubted { value: 260.15, doubt: 1.0 });
    let known = read(&warmed).unwrap();
    assert_eq!(known.verdict, Verdict::CannotTell, "{known:#?}");
    assert!(known.rate.low == 0.0 && known.rate.high > 9.0 * RATE, "{known:#?}");
}
