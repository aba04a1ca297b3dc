//! The reading on rises whose truth is known, on bad input and under change of unit.

use dryhold::rise::{Doubted, GasResponse, Gauge, Hold, Missing, Surroundings, Verdict, read};
use proptest::prelude::*;

/// Pa in a micron (1e-3 conventional mmHg).
const MICRON: f64 = 0.133_322_387_415;
/// Pa/s in a micron per minute.
const RATE: f64 = MICRON / 60.0;

fn hold(minutes: u32, micron: impl Fn(f64) -> f64) -> Hold {
    let times: Vec<f64> = (0..=minutes).map(|minute| 60.0 * f64::from(minute)).collect();
    let shown = times.iter().map(|time| MICRON * micron(time / 60.0).round());
    let pressures = shown.collect();
    Hold::new(times, pressures, Gauge::default(), 5.0 * RATE)
}

fn settled(t: f64, tau: f64) -> f64 {
    -libm::expm1(-t / tau)
}

#[test]
fn tells_the_four_kinds() {
    let wobble = |t: f64| libm::sin(7.0 * t);
    let quiet = read(&hold(30, |t| 300.0 + wobble(t))).unwrap();
    assert_eq!(quiet.verdict, Verdict::Quiet, "{quiet:#?}");
    assert!(quiet.rate_limit < 5.0 * RATE);
    let leak = read(&hold(30, |t| 300.0 + 40.0 * t + wobble(t))).unwrap();
    assert_eq!(leak.verdict, Verdict::Straight, "{leak:#?}");
    assert!(leak.rate.low < 40.0 * RATE && 40.0 * RATE < leak.rate.high, "{leak:#?}");
    let moist = read(&hold(30, |t| 300.0 + 800.0 * settled(t, 5.0) + wobble(t))).unwrap();
    assert_eq!(moist.verdict, Verdict::Levelling, "{moist:#?}");
    let level = moist.levelling.level;
    assert!(level.low < 1100.0 * MICRON && 1100.0 * MICRON < 1.02 * level.high, "{moist:#?}");
    let both = read(&hold(30, |t| 300.0 + 800.0 * settled(t, 5.0) + 40.0 * t + wobble(t))).unwrap();
    assert_eq!(both.verdict, Verdict::Both, "{both:#?}");
    assert!(both.rate.low < 40.0 * RATE && 40.0 * RATE < both.rate.high, "{both:#?}");
}

/// What levels off is doubted where the slope is not: a best value lies inside its range.
#[test]
fn a_best_value_lies_inside_its_range() {
    for (tau, wobbles) in [(5.0, 7.0), (10.0, 11.0), (15.0, 5.0)] {
        let wobble = |t: f64| 2.0 * libm::sin(wobbles * t);
        let told = read(&hold(30, |t| 300.0 + 450.0 * settled(t, tau) + wobble(t))).unwrap();
        for range in [told.levelling.height, told.levelling.level] {
            let least = 0.5 * MICRON;
            assert!(range.low + least < range.value, "{range:?} of {tau} min");
            assert!(range.value + least < range.high, "{range:?} of {tau} min");
        }
    }
}

/// Of 100 invented logs with one source and a scatter of 2 micron, at least 90 hold the true level
/// (nineteen in twenty are promised; 89 or fewer would come by chance once in 87 times).
#[test]
fn the_range_of_a_level_holds_the_truth() {
    let mut state = 1_u64;
    // Twelve even numbers less six have a standard deviation of one.
    let mut scatter = || -> f64 {
        let mut even = || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            (state >> 11) as f64 / (1_u64 << 53) as f64
        };
        (0..12).map(|_| even()).sum::<f64>() - 6.0
    };
    let mut held = 0;
    for _ in 0..100 {
        let noise: Vec<f64> = (0..=30).map(|_| 2.0 * scatter()).collect();
        let mut log = hold(30, |t| 300.0 + 450.0 * settled(t, 8.0) + noise[t.round() as usize]);
        log.gauge.repeatability = Some(2.0 * MICRON);
        let level = read(&log).unwrap().levelling.level;
        held += usize::from((level.low..=level.high).contains(&(750.0 * MICRON)));
    }
    assert!(held >= 90, "{held}");
}

#[test]
fn a_source_slower_than_the_window_is_no_told_moisture() {
    let slow = read(&hold(20, |t| 300.0 + 3000.0 * settled(t, 300.0))).unwrap();
    assert!(!matches!(slow.verdict, Verdict::Levelling | Verdict::Quiet), "{slow:#?}");
    assert!(slow.slowest_told < 300.0 * 60.0);
}

/// A worked case of the trade: 350, 700, 1050, 1400 and 1750 micron, one each five minutes, is straight
/// and goes to the nitrogen test (`common_practice`: four or more at equal distances, the last difference
/// at least 0.8 of the first).
#[test]
fn five_readings_of_one_line_tell_a_leak_from_what_dries_up_within_their_window() {
    let times: Vec<f64> = (0..5).map(|place| 300.0 * f64::from(place)).collect();
    let pressures = times.iter().map(|t| MICRON * (350.0 + 70.0 * t / 60.0)).collect();
    let fifties = Gauge { resolution: Some(50.0 * MICRON), ..Gauge::default() };
    let line = read(&Hold::new(times.clone(), pressures, fifties, 5.0 * RATE)).unwrap();
    assert_eq!(line.verdict, Verdict::Straight, "{line:#?}");
    assert!(line.slowest_told > 480.0, "{line:#?}");
    // Steps as coarse as a tenth of the rise hide a bend of the same source.
    let coarse = Gauge { resolution: Some(200.0 * MICRON), ..Gauge::default() };
    let pressures = times.iter().map(|t| MICRON * (400.0 + 40.0 * t / 60.0)).collect();
    let coarse = read(&Hold::new(times, pressures, coarse, 5.0 * RATE)).unwrap();
    assert!(coarse.slowest_told < 480.0, "{coarse:#?}");
}

#[test]
fn a_step_is_neither_levelling_nor_straight() {
    let step = read(&hold(20, |t| 300.0 + 200.0 * settled(t, 0.3))).unwrap();
    assert_eq!(step.verdict, Verdict::Quiet, "{step:#?}");
    assert!((step.step / MICRON - 200.0).abs() < 10.0, "{step:#?}");
}

#[test]
fn six_readings_over_the_phone_stay_hedged() {
    let micron = [350.0, 420.0, 470.0, 510.0, 540.0, 565.0];
    let minutes = [0.0, 2.0, 4.0, 6.0, 8.0, 10.0];
    let times = minutes.iter().map(|minute| 60.0 * minute).collect();
    let pressures = micron.iter().map(|micron| MICRON * micron).collect();
    let reading = read(&Hold::new(times, pressures, Gauge::default(), 5.0 * RATE)).unwrap();
    assert!(reading.straight < 0.9, "{reading:#?}");
    assert!(reading.rate.low < 1.0 * RATE, "ten minutes exclude no small leak: {reading:#?}");
    assert!((reading.resolution / MICRON - 5.0).abs() < 1e-6);
}

#[test]
fn a_volume_turns_the_rate_into_a_gas_load() {
    let mut leak = hold(30, |t| 300.0 + 40.0 * t);
    leak.surroundings.volume = Some(Doubted { value: 0.01, doubt: 0.001 });
    let reading = read(&leak).unwrap();
    let throughput = reading.throughput.unwrap();
    assert!((throughput.load.value - 0.01 * reading.rate.value).abs() < 1e-12);
    assert!(throughput.load.low < throughput.load.value);
    assert!(throughput.load.value < throughput.limit);
}

/// The low end of a steady part is that of water vapour where the gauge may read it twofold; the
/// limit of a leak of air is not touched.
#[test]
fn a_steady_part_may_be_vapour_that_reads_too_high() {
    let mut leak = hold(30, |t| 300.0 + 40.0 * t);
    leak.surroundings.volume = Some(Doubted { value: 0.01, doubt: 0.0 });
    let unknown = read(&leak).unwrap();
    leak.gauge.response = GasResponse::Independent;
    let known = read(&leak).unwrap();
    assert!((known.rate.low / unknown.rate.low - 2.0).abs() < 1e-12);
    assert_eq!((known.rate.value, known.rate.high), (unknown.rate.value, unknown.rate.high));
    assert_eq!(known.rate_limit, unknown.rate_limit);
    let (known, unknown) = (known.throughput.unwrap(), unknown.throughput.unwrap());
    assert!(unknown.load.low < 0.55 * known.load.low, "{unknown:?} against {known:?}");
    assert_eq!(known.limit, unknown.limit);
}

#[test]
fn the_level_is_set_against_saturation() {
    let mut moist = hold(30, |t| 300.0 + 800.0 * settled(t, 5.0));
    moist.surroundings.coldest = Some(Doubted { value: 253.15, doubt: 1.0 });
    let over = |hold: &Hold| read(hold).unwrap().levelling.over_saturation.unwrap();
    let unknown = over(&moist);
    // 1,100 micron are 146.7 Pa; ice at -20 °C has 103.2 Pa (IAPWS, computed).
    assert!((unknown.value - 1.42).abs() < 0.05, "{unknown:?}");
    moist.gauge.response = GasResponse::Independent;
    assert!(over(&moist).low > 1.9 * unknown.low, "no twofold doubt");
}

#[test]
fn says_what_is_missing() {
    let refusal = |hold: Hold| read(&hold).unwrap_err();
    assert_eq!(refusal(hold(3, |t| 300.0 + t)), Missing::Readings { found: 4 });
    let falling = refusal(hold(20, |t| 900.0 - 30.0 * t));
    assert!(matches!(falling, Missing::Falling { fall } if fall > 0.0), "{falling}");
    let mut short = hold(20, |t| 300.0 + t);
    short.times.iter_mut().for_each(|time| *time /= 20.0);
    assert!(matches!(refusal(short), Missing::Time { .. }));
    let mut mixed = hold(20, |t| 300.0 + t);
    mixed.times.swap(3, 4);
    assert_eq!(refusal(mixed), Missing::Order);
    let mut hot = hold(20, |t| 300.0 + t);
    hot.surroundings.warmed_by = -300.0;
    assert_eq!(refusal(hot), Missing::Temperature);
    let mut odd = hold(20, |t| 300.0 + t);
    odd.pressures[2] = f64::NAN;
    assert_eq!(refusal(odd), Missing::Numbers);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn any_readings_give_probabilities_and_ordered_ranges(
        pressures in proptest::collection::vec(0.0..1e5_f64, 5..40),
        step in 1.0..600.0_f64,
        around in (-80.0..80.0_f64, 0.0..50.0_f64, 200.0..330.0_f64),
        rows in 1..1000_u64,
    ) {
        let times = (0..pressures.len()).map(|k| step * k as f64).collect();
        let mut hold = Hold::new(times, pressures, Gauge::default(), 0.01);
        hold.weights = vec![rows; hold.times.len()];
        let coldest = Some(Doubted { value: around.2, doubt: 2.0 });
        hold.surroundings =
            Surroundings { warmed_by: around.0, drift: around.1, coldest, volume: None };
        if let Ok(reading) = read(&hold) {
            prop_assert!((0.0..=1.0).contains(&reading.straight), "{reading:#?}");
            prop_assert!((0.0..=1.0).contains(&reading.levelling.probability));
            prop_assert!(0.0 <= reading.rate.low && reading.rate.low <= reading.rate.value);
            prop_assert!(reading.rate.value <= reading.rate.high);
            for range in [reading.levelling.height, reading.levelling.level] {
                prop_assert!(0.0 <= range.low && range.low <= range.value, "{range:?}");
                prop_assert!(range.value <= range.high, "{range:?}");
            }
            prop_assert!(reading.misfit.is_finite() && reading.slowest_told >= 0.0);
        }
    }
}
