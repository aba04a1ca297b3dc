use super::*;
use crate::quantity::{QuantityKind, parse_range};

fn expected(kind: QuantityKind, unit: &str) -> Expected {
    Expected::new(kind, parse_unit(unit).unwrap())
}

fn vacuum() -> Expected {
    let mut expected = expected(QuantityKind::PRESSURE, "micron");
    expected.range = Some(parse_range("0.1 micron to 760000 micron", expected.kind).unwrap());
    expected.usual = Some(parse_range("5 micron to 5000 micron", expected.kind).unwrap());
    expected
}

fn refusal(text: &str, expected: &Expected) -> String {
    match read_typed(text, expected) {
        Ok(typed) => panic!("`{text}` was read as {}", typed.echo),
        Err(misread) => misread.to_string(),
    }
}

#[test]
fn a_face_in_another_unit_takes_bare_numbers_and_tells_both() {
    let expected = Expected {
        unit: parse_unit("Pa").unwrap(),
        told_in: Some(parse_unit("micron").unwrap()),
        ..vacuum()
    };
    let told = |text| {
        let typed = read_typed(text, &expected).unwrap();
        (typed.echo, typed.is_bare)
    };
    assert_eq!(told("120"), ("120 Pa (900.1 micron)".to_owned(), true));
    assert_eq!(told("120 +- 2"), ("120 +- 2 Pa (900 +- 15 micron)".to_owned(), true));
    assert_eq!(told("900 micron"), ("900 micron".to_owned(), false));
    assert_eq!(told("1.2 mbar"), ("1.2 mbar (900.1 micron)".to_owned(), false));
    assert_eq!(
        refusal("200000", &expected),
        "`200000 Pa` is outside the accepted range, 0.01333 Pa to 101300 Pa"
    );
    assert_eq!(expected.hint(), "a pressure, such as 20 Pa");
    assert!(refusal("0.1 inHg", &expected).contains("too coarse for a deep vacuum"));
}

#[test]
fn a_reading_is_understood_as_it_is_written() {
    let expected = vacuum();
    for (text, microns, echo) in [
        ("45", 45.0, "45 micron"),
        ("45 micron", 45.0, "45 micron"),
        ("45um", 45.0, "45 micron"),
        (" 45 MICRONS ", 45.0, "45 micron"),
        ("1,200", 1200.0, "1200 micron"),
        ("1.5e3", 1500.0, "1500 micron"),
        ("0.06 mbar", 45.0037, "0.06 mbar (45 micron)"),
        ("6 Pa", 45.0037, "6 Pa (45 micron)"),
        ("0.5 mm Hg", 500.0, "0.5 mmHg (500 micron)"),
    ] {
        let typed = read_typed(text, &expected).unwrap();
        let read = expected.unit.from_si(typed.value);
        assert!((read / microns - 1.0).abs() < 1e-6, "{text}: {read}");
        assert_eq!(typed.echo, echo);
        assert_eq!((typed.bound, typed.half_width), (Bound::Exact, None));
    }
}

#[test]
fn a_quantity_is_understood_as_people_say_it() {
    let time = expected(QuantityKind::TIME, "min");
    for (text, minutes, echo) in [
        ("half an hour", 30.0, "0.5 h (30 min)"),
        ("an hour and a half", 90.0, "1.5 h (1 h 30 min)"),
        ("a quarter of an hour", 15.0, "0.25 h (15 min)"),
        ("two hours", 120.0, "2 h"),
        ("twenty minutes", 20.0, "20 min"),
        ("about half an hour", 30.0, "0.5 h (30 min); \"about\" is left out"),
        ("about 1", 1.0, "1 min; \"about\" is left out"),
    ] {
        let typed = read_typed(text, &time).unwrap();
        assert!((time.unit.from_si(typed.value) - minutes).abs() < 1e-9, "{text}");
        assert_eq!((typed.echo.as_str(), typed.half_width), (echo, None));
    }
    let roughly = read_typed("roughly 400", &vacuum()).unwrap();
    assert_eq!(roughly.echo, "400 micron; \"about\" is left out");
    for text in ["a couple of hours", "about", "two or three hours"] {
        refusal(text, &time);
    }
}

#[test]
fn a_doubt_belongs_to_its_value() {
    let expected = vacuum();
    for (text, value, half, echo) in [
        ("25 +- 5 micron", 25.0, 5.0, "25 +- 5 micron"),
        ("25 ± 5", 25.0, 5.0, "25 +- 5 micron"),
        ("25 micron +/- 5", 25.0, 5.0, "25 +- 5 micron"),
        ("25+-5um", 25.0, 5.0, "25 +- 5 micron"),
        ("200 micron +- 10 %", 200.0, 20.0, "200 micron +- 10 %"),
    ] {
        let typed = read_typed(text, &expected).unwrap();
        let micron = &expected.unit;
        assert!((micron.from_si(typed.value) - value).abs() < 1e-9, "{text}");
        assert!((micron.difference_from_si(typed.half_width.unwrap()) - half).abs() < 1e-9);
        assert_eq!(typed.echo, echo);
    }
    let warm = self::expected(QuantityKind::TEMPERATURE, "degC");
    let typed = read_typed("77 +- 9 F", &warm).unwrap();
    assert!((typed.half_width.unwrap() - 5.0).abs() < 1e-12);
    assert_eq!(typed.echo, "77 +- 9 degF (25 +- 5 degC)");
    let typed = read_typed("20 +- 1 K", &warm).unwrap();
    assert_eq!(typed.value, 21.0 - 1.0);
}

#[test]
fn an_end_of_the_scale_is_no_reading() {
    let expected = vacuum();
    for (text, bound, echo) in [
        ("over 20000 micron", Bound::Over, "over 20000 micron"),
        ("Over 20,000", Bound::Over, "over 20000 micron"),
        ("> 20000", Bound::Over, "over 20000 micron"),
        ("under 5 micron", Bound::Under, "under 5 micron"),
        ("<5um", Bound::Under, "under 5 micron"),
        ("less than 1 Pa", Bound::Under, "under 1 Pa (7.501 micron)"),
    ] {
        let typed = read_typed(text, &expected).unwrap();
        assert_eq!((typed.bound, typed.echo.as_str()), (bound, echo), "{text}");
    }
    assert!(matches!(read_typed("over 5 +- 1", &expected), Err(Misread::BadDoubt { .. })));
}

#[test]
fn fractions_and_pairs_of_units_are_understood() {
    let length = expected(QuantityKind::LENGTH, "mm");
    for (text, millimetres, echo) in [
        ("3/8 in", 9.525, "0.375 in (9.525 mm)"),
        ("1-1/8 in", 28.575, "1.125 in (28.57 mm)"),
        ("1 1/8\"", 28.575, "1.125 in (28.57 mm)"),
        ("5 ft 3 in", 1600.2, "5 ft 3 in (1600 mm)"),
    ] {
        let typed = read_typed(text, &length).unwrap();
        assert!((typed.value * 1000.0 - millimetres).abs() < 1e-9, "{text}");
        assert_eq!(typed.echo, echo);
    }
    let time = expected(QuantityKind::TIME, "min");
    assert_eq!(read_typed("1 h 30 min", &time).unwrap().value, 5400.0);
    assert!(read_typed("30 min 1 h", &time).is_err());
    assert!(read_typed("1 h 30", &time).is_err());
    let warm = expected(QuantityKind::TEMPERATURE, "degC");
    assert_eq!(read_typed("-10 degC", &warm).unwrap().value, 263.15);
    assert_eq!(read_typed("\u{2212}10", &warm).unwrap().echo, "-10 degC");
    let apart = expected(QuantityKind::TEMPERATURE_DIFFERENCE, "K");
    assert_eq!(read_typed("9 °F", &apart).unwrap().echo, "9 degF (5 K)");
    for typed in ["8 C", "8 degC", "8 °C", "8 K"] {
        assert_eq!(read_typed(typed, &apart).unwrap().echo, "8 K", "{typed}");
    }
}

#[test]
fn what_can_t_be_taken_is_refused_with_its_reason() {
    let expected = vacuum();
    for (text, message) in [
        ("", "no value stands here; type a pressure, such as 200 micron"),
        ("abc", "`abc` is not understood; type a pressure, such as 200 micron"),
        ("micron", "`micron` is not understood; type a pressure, such as 200 micron"),
        ("12,5", "`12,5` has a comma that groups no thousands; with a decimal point it is `12.5`"),
        ("1 200", "`1 200` has a blank between its digits; one number is written `1200`"),
        ("1e999", "`1e999` is not a finite number"),
        (
            "45 micorn",
            "`micorn` is not a unit (did you mean `micron`?); type a pressure, such as 200 micron",
        ),
        (
            "45 min",
            "`min` is a unit of time, but an absolute pressure is asked for; \
             type a pressure, such as 200 micron",
        ),
        (
            "0.5 mm",
            "`mm` is a unit of length, but an absolute pressure is asked for \
             (did you mean `mmHg`, millimetres of mercury, which is Torr?); type a pressure, such as 200 micron",
        ),
        (
            "10 psig",
            "`psig` counts from the pressure of the air around, but an absolute pressure is \
             asked for; type a pressure, such as 200 micron",
        ),
        (
            "29 in Hg",
            "`inHg` is too coarse for a deep vacuum and usually counts down from the barometer \
             (0.1 inHg is 2540 micron); read the vacuum gauge and type a pressure, such as \
             200 micron",
        ),
        ("-5", "`-5 micron` is below a perfect vacuum; type a pressure, such as 200 micron"),
        ("2 bar", "`2 bar` is outside the accepted range, 0.1 micron to 760000 micron"),
        (
            "5 +- -1",
            "`5 +- -1`: the part behind `+-` must be zero or more, and can't stand with `over` \
             or `under`",
        ),
    ] {
        assert_eq!(refusal(text, &expected), message);
    }
}

#[test]
fn a_barometer_may_be_read_in_inches() {
    let mut expected = expected(QuantityKind::PRESSURE, "kPa");
    expected.usual = Some(parse_range("60 kPa to 106 kPa", expected.kind).unwrap());
    let typed = read_typed("29.92 inHg", &expected).unwrap();
    assert_eq!(typed.echo, "29.92 inHg (101.3 kPa)");
}

#[test]
fn a_gauge_pressure_is_not_taken_for_an_absolute_one() {
    let expected = expected(QuantityKind::GAUGE_PRESSURE, "psig");
    assert_eq!(
        refusal("250 psi", &expected),
        "`psi` may count from a perfect vacuum; for what a gauge shows that reads zero in open \
         air, write `psig`"
    );
    assert_eq!(read_typed("250", &expected).unwrap().echo, "250 psig");
    let vacuum = read_typed("29 inHg vac", &expected).unwrap();
    assert_eq!(vacuum.echo, "29 inHg_vac (-14.24 psig)");
}

#[test]
fn long_and_odd_texts_are_refused_and_shown_harmless() {
    let expected = vacuum();
    let long = refusal(&"9".repeat(10_000), &expected);
    assert!(long.len() < 200, "{long}");
    assert!(!refusal("5 \u{1b}[2J", &expected).contains('\u{1b}'));
}

#[test]
fn a_tolerance_may_carry_its_sign_and_a_reading_may_not() {
    let tolerance = expected(QuantityKind::PRESSURE_DIFFERENCE, "micron");
    for text in ["+-5", "± 5 micron", "+/-5um"] {
        let typed = read_typed(text, &tolerance).unwrap();
        assert_eq!((typed.echo.as_str(), typed.half_width), ("5 micron", None), "{text}");
    }
    let share = expected(QuantityKind::NUMBER, "%");
    assert_eq!(read_typed("+-10 %", &share).unwrap().echo, "10 %");
    let said = refusal("+-5 micron", &vacuum());
    assert!(said.starts_with("`+-5 micron` is a doubt without a value; type "), "{said}");
}

#[test]
fn millimetres_are_of_mercury_where_the_face_is() {
    let face = |unit| Expected { unit: parse_unit(unit).unwrap(), ..vacuum() };
    assert_eq!(read_typed("0.5 mm", &face("Torr")).unwrap().echo, "0.5 mmHg (0.5 Torr)");
    assert!(refusal("0.5 mm", &face("micron")).contains("did you mean `mmHg`"));
}

#[test]
fn a_temperature_is_not_told_by_how_much_warmer_it_is() {
    let expected = expected(QuantityKind::TEMPERATURE, "degC");
    for typed in ["6 degrees warmer", "5 K colder", "3 degC higher"] {
        let refused = read_typed(typed, &expected).unwrap_err();
        assert!(matches!(refused, Misread::ADifference { .. }), "{refused:?}");
        let told = refused.to_string();
        assert!(told.contains("the temperature itself is asked for"), "{told}");
    }
    assert!(read_typed("6 degC", &expected).is_ok());
}
