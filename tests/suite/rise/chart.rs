//! Charts: whole ones in a few sizes, and any readings at any width.
//!
//! With `DRYHOLD_BLESS=1` in the environment the present charts are written to
//! `tests/fixtures/charts` instead of compared.

use std::path::Path;

use dryhold::report::{ChartLook, ShownIn, rise_chart, rise_svg};
use dryhold::rise::criterion::Criterion;
use dryhold::rise::{Gauge, Hold, Reading, Verdict, read};
use proptest::prelude::*;

const MICRON: f64 = 0.133_322_387_415;

/// Readings a minute apart of a pressure in micron after so many minutes, shown in steps of 5.
fn hold(minutes: u32, at: impl Fn(f64) -> f64) -> (Hold, Option<Reading>) {
    let times: Vec<f64> = (0..=minutes).map(|minute| 60.0 * f64::from(minute)).collect();
    let shown = |time: &f64| (at(time / 60.0) / 5.0).round() * 5.0 * MICRON;
    let pressures = times.iter().map(shown).collect();
    let gauge = Gauge { resolution: Some(5.0 * MICRON), ..Gauge::default() };
    let hold = Hold::new(times, pressures, gauge, 5.0 * MICRON / 60.0);
    let reading = read(&hold).ok();
    (hold, reading)
}

fn damp_and_leaky(minute: f64) -> f64 {
    300.0 + 700.0 * -libm::expm1(-minute / 8.0) + 25.0 * minute
}

fn limit(micron: f64, minutes: f64) -> Option<Criterion> {
    Some(Criterion { limit: micron * MICRON, within: 60.0 * minutes })
}

fn look(width: usize, is_ascii: bool) -> ChartLook {
    ChartLook { width, height: None, is_ascii }
}

fn agrees(name: &str, present: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/charts").join(name);
    if std::env::var_os("DRYHOLD_BLESS").is_some() {
        std::fs::write(&path, present).unwrap();
        return;
    }
    let written = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(written == present, "{name} differs:\n{present}");
}

fn text(hold: &(Hold, Option<Reading>), criterion: Option<Criterion>, look: ChartLook) -> String {
    rise_chart(&hold.0, hold.1.as_ref(), criterion, look, &ShownIn::default()).join("\n") + "\n"
}

#[test]
fn charts_look_as_they_did() {
    let both = hold(40, damp_and_leaky);
    assert_eq!(both.1.as_ref().map(|reading| reading.verdict), Some(Verdict::Both));
    agrees("both-80.txt", &text(&both, limit(1500.0, 30.0), look(80, false)));
    agrees("both-40-ascii.txt", &text(&both, limit(1500.0, 30.0), look(40, true)));
    agrees("both-200.txt", &text(&both, None, look(200, false)));
    agrees(
        "both.svg",
        &rise_svg(&both.0, both.1.as_ref(), limit(1500.0, 30.0), &ShownIn::default()).unwrap(),
    );
    let damp = hold(25, |minute| 300.0 + 400.0 * -libm::expm1(-minute / 6.0));
    agrees("damp-60.txt", &text(&damp, limit(5000.0, 10.0), look(60, false)));
    let begun = hold(2, damp_and_leaky);
    assert!(begun.1.is_none());
    agrees("begun-60.txt", &text(&begun, limit(350.0, 10.0), look(60, false)));
}

/// Every line can be told from the others without colour, and what it is called stands below.
#[test]
fn each_part_has_a_mark_of_its_own() {
    let both = hold(40, damp_and_leaky);
    for is_ascii in [false, true] {
        let chart = text(&both, limit(1500.0, 30.0), look(80, is_ascii));
        let key: Vec<&str> = chart.lines().rev().take(2).collect();
        let marks: Vec<char> = ["reading", "fit", "straight part", "levelling part", "limit"]
            .iter()
            .map(|name| {
                let row = key.iter().find(|row| row.contains(name)).unwrap();
                let before = &row[..row.find(name).unwrap()];
                before.trim_end().chars().next_back().unwrap()
            })
            .collect();
        for (place, mark) in marks.iter().enumerate() {
            assert!(!marks[..place].contains(mark), "{mark} twice: {chart}");
            assert!(chart.matches(*mark).count() > 4, "{mark} is hardly drawn: {chart}");
        }
        assert_eq!(chart.is_ascii(), is_ascii);
    }
}

#[test]
fn the_parts_of_what_cannot_be_told_are_not_drawn() {
    let unsure = hold(9, |minute| 300.0 + 5.5 * minute);
    assert_eq!(unsure.1.as_ref().map(|reading| reading.verdict), Some(Verdict::CannotTell));
    let chart = text(&unsure, None, look(80, false));
    assert!(chart.contains("no parts drawn") && !chart.contains("straight part"), "{chart}");
    let svg = rise_svg(&unsure.0, unsure.1.as_ref(), None, &ShownIn::default()).unwrap();
    assert!(svg.contains("can't be told") && !svg.contains("<polyline"), "{svg}");
}

/// Elements closed in their order, no quotation mark or bracket astray, no way out of the file.
#[test]
fn a_picture_is_well_formed_and_refers_to_nothing_outside() {
    let both = hold(40, damp_and_leaky);
    let svg = rise_svg(&both.0, both.1.as_ref(), limit(1500.0, 30.0), &ShownIn::default()).unwrap();
    let mut open: Vec<&str> = Vec::new();
    for tag in svg.split('<').skip(1) {
        let (tag, text) = tag.split_once('>').unwrap();
        assert!(tag.matches('"').count().is_multiple_of(2) && !text.contains('>'), "{tag}");
        let name = tag.split(' ').next().unwrap();
        match name.strip_prefix('/') {
            Some(name) => assert_eq!(open.pop(), Some(name)),
            None if tag.ends_with('/') => {}
            None => open.push(name),
        }
    }
    assert!(open.is_empty(), "{open:?}");
    for outward in ["<script", "href", "url(", "@import", "NaN", "inf"] {
        assert!(!svg.contains(outward), "{outward}");
    }
    assert!(svg.contains("<title") && svg.contains("<desc") && svg.contains("stroke-dasharray"));
}

fn pressure() -> impl Strategy<Value = f64> {
    prop_oneof![Just(0.0), Just(1e12), Just(5e-324), 0.0..1000.0, 1e-9..1e9]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn any_readings_are_drawn_at_any_width(
        readings in proptest::collection::vec((1e-6..1e6_f64, pressure()), 0..30),
        width in 0..300_usize,
        height in proptest::option::of(0..60_usize),
        limit in proptest::option::of((pressure(), 0.0..1e7_f64)),
        is_ascii: bool,
    ) {
        let mut time = 0.0;
        let times = readings.iter().map(|(pause, _)| { time += pause; time }).collect();
        let pressures: Vec<f64> = readings.iter().map(|(_, pressure)| *pressure).collect();
        let hold = Hold::new(times, pressures, Gauge::default(), 0.01);
        let reading = read(&hold).ok();
        let criterion = limit.map(|(limit, within)| Criterion { limit, within });
        let look = ChartLook { width, height, is_ascii };
        let rows = rise_chart(&hold, reading.as_ref(), criterion, look, &ShownIn::default());
        prop_assert_eq!(rows.is_empty(), readings.is_empty());
        for row in &rows {
            prop_assert!(row.chars().count() <= width.clamp(40, 200), "{}", row);
        }
        let svg = rise_svg(&hold, reading.as_ref(), criterion, &ShownIn::default());
        prop_assert!(svg.is_none_or(|svg| !svg.contains("NaN") && !svg.contains("inf")));
    }
}
