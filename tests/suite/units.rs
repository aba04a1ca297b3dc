//! Units against outside values, and properties of reading and printing.

use dryhold::quantity::{
    Expected, NAMED_KINDS, Nature, QuantityKind, UNITS, Unit, UnitExpression, likely_slip,
    parse_quantity, parse_range, parse_unit, read_typed, show, show_between, show_rounded,
};
use proptest::prelude::*;

/// J/(mol K), exact in the SI of 2019.
const GAS_CONSTANT: f64 = 8.314_462_618_153_24;
/// K, at which a standard cubic centimetre is counted here.
const STANDARD_TEMPERATURE: f64 = 273.15;

fn kind_of(name: &str) -> QuantityKind {
    NAMED_KINDS.iter().find(|named| named.name == name).unwrap().kind
}

/// The kind's value in SI units, as a person would type it at a prompt of that kind.
fn typed_si(kind: &str, text: &str) -> f64 {
    let named = NAMED_KINDS.iter().find(|named| named.name == kind).unwrap();
    let unit = if kind == "pressure" { "Pa" } else { named.unit };
    let expected = Expected::new(named.kind, parse_unit(unit).unwrap());
    read_typed(text, &expected).unwrap_or_else(|misread| panic!("{text}: {misread}")).value
}

#[test]
fn conversions_agree_with_outside_values() {
    let mut rows = csv::Reader::from_path("tests/data/units.csv").unwrap();
    let mut worst = (0.0, String::new());
    let mut count = 0;
    for row in rows.records() {
        let row = row.unwrap();
        let (case, kind, unit) = (&row[0], &row[1], &row[5]);
        let mut si = typed_si(kind, &row[2]);
        if !row[3].is_empty() {
            si += typed_si("pressure", &row[3]);
        }
        let number = if unit == "mol/s" {
            si / (GAS_CONSTANT * STANDARD_TEMPERATURE)
        } else {
            parse_unit(unit).unwrap().from_si(si)
        };
        let (wanted, tolerance): (f64, f64) = (row[4].parse().unwrap(), row[6].parse().unwrap());
        let error = (number / wanted - 1.0).abs();
        assert!(error <= tolerance, "{case}: {number} {unit}, not {wanted}");
        // How well the published figures are rounded says nothing of the arithmetic.
        if tolerance <= 1e-8 && error > worst.0 {
            worst = (error, case.to_owned());
        }
        count += 1;
    }
    println!("{count} rows; worst relative error of the exact ones {:.1e} ({})", worst.0, worst.1);
    assert_eq!(count, 48);
    assert!(worst.0 < 1e-10, "{} is off by {:e}", worst.1, worst.0);
}

#[test]
fn every_default_unit_measures_its_kind() {
    for named in NAMED_KINDS {
        let unit = parse_unit(named.unit).unwrap();
        assert!(unit.kind.fits(named.kind), "{}", named.name);
    }
}

fn any_unit() -> impl Strategy<Value = &'static Unit> {
    (0..UNITS.len()).prop_map(|at| &UNITS[at])
}

/// A number of any everyday or extreme size.
fn any_size() -> impl Strategy<Value = f64> {
    (1.0..10.0_f64, -9_i32..12, any::<bool>()).prop_map(|(mantissa, power, is_negative)| {
        let size = format!("{mantissa}e{power}").parse::<f64>().unwrap();
        if is_negative { -size } else { size }
    })
}

/// The kind in which a literal of this unit is read at a prompt.
fn settled(unit: &Unit) -> QuantityKind {
    match unit.kind.nature {
        Nature::Open => QuantityKind { nature: Nature::Difference, ..unit.kind },
        _ => unit.kind,
    }
}

/// Words that bring random text near to what is understood.
const SPICE: &[&str] = &[
    "5",
    "0",
    "1,200",
    "12,5",
    "1/8",
    "-",
    " ",
    ".",
    "e9",
    "+-",
    "±",
    "over ",
    "<",
    " to ",
    "micron",
    "um",
    "inHg",
    "%",
    "degC",
    "min",
    "h",
    "psig",
    "/",
    "^",
    "m3",
    "é",
    "\u{202e}",
    "\u{a0}",
    "99999999999999999999",
];

fn any_text() -> impl Strategy<Value = String> {
    let spiced = proptest::collection::vec(proptest::sample::select(SPICE), 0..9)
        .prop_map(|words| words.concat());
    prop_oneof![spiced, "\\PC{0,30}", any::<String>()]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn to_si_and_back_is_the_same_number(unit in any_unit(), number in any_size()) {
        let unit = UnitExpression::from(unit);
        let back = unit.from_si(unit.to_si(number));
        let room = 1e-15 * (number.abs() + (unit.offset / unit.factor).abs());
        prop_assert!((back - number).abs() <= 4.0 * room, "{number} came back as {back}");
    }

    #[test]
    fn a_printed_value_is_read_as_itself(unit in any_unit(), number in any_size()) {
        let kind = settled(unit);
        let unit = UnitExpression::from(unit);
        let si = unit.to_si(number);
        prop_assume!(kind.nature != Nature::Absolute || si > 0.0);
        let shown = show(si, None, &unit, kind);
        let read = read_typed(&shown, &Expected::new(kind, unit.clone())).unwrap().value;
        // Four digits; hours and minutes to the minute, days and hours to the hour, years to two.
        let share = if unit.symbol == "min" { 0.051 } else { 0.000_51 };
        let room = share * number.abs() + 1e-12 * (unit.offset / unit.factor).abs();
        prop_assert!((unit.from_si(read) - number).abs() <= room, "{number} printed as {shown}");
    }

    #[test]
    fn a_printed_doubt_is_read_as_itself(
        unit in any_unit(),
        number in any_size(),
        share in 1e-7..10.0_f64,
    ) {
        let kind = settled(unit);
        let unit = UnitExpression::from(unit);
        let (si, half) = (unit.to_si(number), (number * share * unit.factor).abs());
        // Rounding to the doubt's own place may reach below zero.
        prop_assume!(kind.nature != Nature::Absolute || si > half / 6.0);
        let shown = show(si, Some(half), &unit, kind);
        prop_assert!(shown.contains(" +- "), "{shown}");
        let read = read_typed(&shown, &Expected::new(kind, unit.clone())).unwrap();
        let (value, doubt) = (read.value, read.half_width.unwrap());
        let room = half / 6.0 + 1e-12 * (unit.offset.abs() + si.abs());
        prop_assert!((value - si).abs() <= room, "{number} printed as {shown}");
        prop_assert!((doubt - half).abs() <= half / 6.0 + 1e-9 * half, "{half} in {shown}");
    }

    #[test]
    fn no_text_makes_reading_panic(text in any_text(), at in 0..NAMED_KINDS.len()) {
        let named = &NAMED_KINDS[at];
        let mut expected = Expected::new(named.kind, parse_unit(named.unit).unwrap());
        expected.usual = Some((300.0, 400.0));
        match read_typed(&text, &expected) {
            Ok(typed) => {
                prop_assert!(typed.value.is_finite());
                prop_assert!(typed.half_width.is_none_or(|half| half.is_finite() && half >= 0.0));
                let _ = likely_slip(&typed, &expected);
            }
            Err(misread) => prop_assert!(misread.to_string().len() < 600, "{misread}"),
        }
        let _ = parse_quantity(&text, named.kind);
        let _ = parse_range(&text, named.kind);
        let _ = parse_unit(&text);
    }

    #[test]
    fn anything_can_be_printed(
        value in any::<f64>(),
        other in any::<f64>(),
        unit in any_unit(),
    ) {
        let kind = settled(unit);
        let unit = UnitExpression::from(unit);
        for shown in [
            show(value, Some(other), &unit, kind),
            show_rounded(value, Some(other), &unit, kind),
            show_between(value, other, &unit, kind),
        ] {
            prop_assert!(!shown.is_empty() && !shown.contains("NaN") && !shown.contains("inf"));
        }
    }
}

#[test]
fn settled_kinds_of_every_unit_are_accepted() {
    for unit in UNITS {
        assert!(unit.kind.fits(settled(unit)), "{}", unit.symbol);
        assert_eq!(unit.kind.dimension, settled(unit).dimension);
    }
    assert_eq!(kind_of("pressure"), QuantityKind::PRESSURE);
}
