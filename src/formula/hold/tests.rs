use super::*;

const MICRON: f64 = 0.133_322_387_415;
const PER_MINUTE: f64 = MICRON / 60.0;

fn gauge() -> HoldGauge {
    HoldGauge {
        scale: Draws::Same(0.0),
        offset: Draws::Same(0.0),
        resolution: MICRON,
        repeats: None,
    }
}

/// Half an hour in steps of a minute, rounded to a micron.
fn hold(pressure: impl Fn(f64) -> f64) -> HoldReadings {
    let times: Vec<f64> = (0..=30).map(|minute| f64::from(minute) * 60.0).collect();
    let pressures = times.iter().map(|t| MICRON * pressure(t / 60.0).round()).collect();
    HoldReadings::new("test".to_owned(), times, pressures, gauge())
}

fn share(hold: &HoldReadings, yes: impl Fn(HoldDraw<'_>) -> bool) -> f64 {
    (0..DRAWS).filter(|&row| yes(hold.draw(row))).count() as f64 / DRAWS as f64
}

fn mean(hold: &HoldReadings, of: impl Fn(HoldDraw<'_>) -> f64) -> f64 {
    (0..DRAWS).map(|row| of(hold.draw(row))).sum::<f64>() / DRAWS as f64
}

#[test]
fn draws_of_a_line_are_spread_about_its_slope() {
    let line = hold(|minute| 300.0 + 20.0 * minute);
    let rate = mean(&line, |draw| draw.rate(0.5).unwrap()) / PER_MINUTE;
    assert!((rate - 20.0).abs() < 0.5, "{rate}");
    let above = |micron: f64| {
        share(&line, |draw| draw.is_straight_above(micron * PER_MINUTE, 0.5).unwrap())
    };
    assert!(above(5.0) > 0.99 && above(100.0) < 0.01);
    assert!(share(&line, |draw| draw.is_levelling(0.5).unwrap()) < 0.2);
}

#[test]
fn what_settles_has_a_level_and_a_time_constant() {
    let moist = hold(|minute| 300.0 + 900.0 * -libm::expm1(-minute / 8.0));
    let level = mean(&moist, |draw| draw.level(0.5).unwrap()) / MICRON;
    assert!((level - 1200.0).abs() < 40.0, "{level}");
    let minutes = mean(&moist, |draw| draw.time_constant(0.5).unwrap()) / 60.0;
    assert!((minutes - 8.0).abs() < 2.0, "{minutes}");
    let straight = share(&moist, |draw| draw.is_straight_above(5.0 * PER_MINUTE, 0.5).unwrap());
    assert!(straight < 0.1, "{straight}");
}

#[test]
fn a_scale_that_reads_high_makes_the_true_rate_smaller() {
    let mut line = hold(|minute| 300.0 + 20.0 * minute);
    line.gauge.scale = Draws::Same(0.25);
    let rate = mean(&line, |draw| draw.rate(0.5).unwrap()) / PER_MINUTE;
    assert!((rate - 16.0).abs() < 0.5, "{rate}");
    assert!((line.draw(0).start() / MICRON - 240.0).abs() < 1.0);
}

#[test]
fn raw_readings_are_taken_as_they_are() {
    let line = hold(|minute| 300.0 + 20.0 * minute);
    let rise = mean(&line, |draw| draw.rise_over(630.0).unwrap()) / MICRON;
    assert!((rise - 210.0).abs() < 0.1, "{rise}");
    let highest = mean(&line, |draw| draw.highest(600.0).unwrap()) / MICRON;
    assert!((highest - 500.0).abs() < 0.1, "{highest}");
    let ended = HoldGap::Ended { at: 1800.0, asked: 1801.0 };
    assert_eq!(line.draw(0).highest(1801.0), Err(ended));
}

#[test]
fn between_two_readings_it_may_have_stood_anywhere() {
    let mut two = hold(|minute| 300.0 + 20.0 * minute);
    (two.times, two.pressures) = (vec![0.0, 720.0], vec![320.0 * MICRON, 1800.0 * MICRON]);
    let kept = share(&two, |draw| draw.highest(600.0).unwrap() <= 1500.0 * MICRON);
    assert!((kept - 1180.0 / 1480.0).abs() < 0.02, "{kept}");
    let of_all = mean(&two, |draw| draw.highest(720.0).unwrap()) / MICRON;
    assert!((of_all - 1800.0).abs() < 0.1, "{of_all}");
}

#[test]
fn a_fall_is_told_and_too_few_readings_are_missing() {
    assert_eq!(hold(|minute| 900.0 - 20.0 * minute).draw(7).is_falling(), Ok(true));
    assert_eq!(hold(|minute| 900.0 + 20.0 * minute).draw(7).is_falling(), Ok(false));
    let few = HoldReadings::new("few".to_owned(), vec![0.0, 600.0], vec![40.0, 50.0], gauge());
    let missing = HoldGap::Missing(Missing::Readings { found: 2 });
    assert_eq!(few.draw(0).rate(0.5), Err(missing));
}

#[test]
fn draws_depend_on_the_name_alone() {
    let one = hold(|minute| 300.0 + 20.0 * minute);
    let other = hold(|minute| 300.0 + 20.0 * minute);
    let rates = |hold: &HoldReadings| {
        (0..DRAWS).map(|row| hold.draw(row).rate(0.5).unwrap()).collect::<Vec<_>>()
    };
    assert_eq!(rates(&one), rates(&other));
}
