//! Facts of the trade, asked through the command line.

use super::json::{entry, pump};
use super::stand::Stand;

/// Common practice: a healthy warm pump rated 15 micron or better blanks off below about
/// 30 micron, and for a target of 500 micron such a floor is good enough.
#[test]
fn a_sound_pump_is_not_called_high() {
    let stand = Stand::new();
    for reading in ["26 micron", "28 micron"] {
        let changes = [("pump_rating", "15 micron"), ("blank_off", reading), ("oil_look", "clear")];
        let verdict = stand.run(&pump(&changes)).json();
        assert_eq!(entry(&verdict, "findings", "blank_off_high")["state"], false, "{reading}");
        let above_rating = entry(&verdict, "findings", "blank_off_above_rating");
        assert_eq!(above_rating["state"], false, "{reading}");
        let oil = verdict["ranking"].as_array().unwrap();
        let oil = oil.iter().find(|cause| cause["cause"] == "pump_oil").unwrap();
        assert!(oil["probability"].as_f64().unwrap() < 0.05, "{oil}");
    }
}

/// Common practice: the same pump at 900 micron is high, whatever the gauge's tolerance.
#[test]
fn a_pump_far_from_its_rating_is_called_high() {
    let verdict = Stand::new().run(&pump(&[("pump_rating", "15 micron")])).json();
    assert_eq!(entry(&verdict, "findings", "blank_off_high")["state"], true);
    assert_eq!(entry(&verdict, "findings", "blank_off_above_rating")["state"], true);
}

/// Common practice: while the floor is low, a part rated r on a pump at floor b reads about b + r.
#[test]
fn a_part_adds_its_rating_to_the_floor() {
    let changes = [
        ("blank_off", "26 micron"),
        ("blank_off", "24 micron"),
        ("part_rating", "5 micron"),
        ("part_reading", "30 micron"),
        ("gauge_scale", "1 %"),
        ("gauge_offset", "0 micron"),
    ];
    let verdict = Stand::new().run(&pump(&changes)).json();
    let expected = entry(&verdict, "formulas", "part_expected");
    assert_eq!(expected["unit"], "micron");
    // The floor halfway between both readings, and the rating. Each reading repeats within
    // 3 micron, so that the middle of the draws lies near it, not on it.
    assert!((expected["value"].as_f64().unwrap() - 30.0).abs() < 0.5, "{expected}");
    assert_eq!(entry(&verdict, "findings", "part_above_rating")["state"], false, "{verdict}");
}

/// Common practice: one reading is only as sure as the gauge, two on one gauge are as sure as it
/// repeats. A gauge good to 5 micron either way can't tell 26 micron from a limit of 30, but it
/// tells a reading of 26 from one of 30 if it repeats within 1.
#[test]
fn a_gauge_compares_better_than_it_measures() {
    let arguments = [
        "--only-rules",
        "gauge",
        "diagnose",
        "--json",
        "--set",
        "first_reading=26 micron",
        "--set",
        "second_reading=30 micron",
    ];
    let verdict = Stand::new().run(&arguments).json();
    assert_eq!(entry(&verdict, "findings", "above_limit")["state"], "too_close");
    let second = entry(&verdict, "findings", "second_is_higher");
    assert_eq!((&second["state"], &second["probability"]), (&true.into(), &1.0.into()));
    // The offset is gone from the difference; what is left is twice the repeatability.
    let change = entry(&verdict, "formulas", "change");
    let (low, high) = (change["low"].as_f64().unwrap(), change["high"].as_f64().unwrap());
    assert!((2.0..3.0).contains(&low) && (5.0..6.0).contains(&high), "{change}");
}
