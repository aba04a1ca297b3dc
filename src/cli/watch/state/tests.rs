//! The watch without a clock and without a disk.

use clap::Parser;
use jiff::tz::Offset;
use proptest::prelude::*;

use super::*;
use crate::cli::watch::log::Log;
use crate::cli::{Arguments, Command};
use crate::quantity::parse_unit;
use crate::rise::{Missing, Verdict};

fn wanted() -> Wanted {
    let arguments = Arguments::try_parse_from(["dryhold", "watch"]).unwrap();
    let Some(Command::Watch(watch)) = arguments.command else { panic!("no watch") };
    Wanted::of(&watch.hold).unwrap()
}

fn watch(wanted: &Wanted, is_answered: bool) -> Watch<'_> {
    let micron = parse_unit("micron").unwrap();
    Watch::new(wanted, micron.clone(), micron, is_answered)
}

/// So many seconds after five past ten.
fn at(second: i64) -> Moment {
    let start: Timestamp = "2026-11-25T10:05:00Z".parse().unwrap();
    let at = start.checked_add(jiff::SignedDuration::from_secs(second)).unwrap();
    Moment { at, offset: Offset::UTC }
}

/// Types a line; what is wanted kept is kept.
fn types(watch: &mut Watch<'_>, second: i64, line: &str) -> Effect {
    match watch.hear(Heard::Line(line.to_owned()), at(second)) {
        Effect::Keep(_) | Effect::TakeBack => watch.hear(Heard::Done, at(second)),
        effect => effect,
    }
}

fn counted() -> Effect {
    Effect::Counted { is_looked_at: true, remark: None }
}

fn microns(watch: &Watch<'_>) -> Vec<(i64, i64)> {
    let micron = parse_unit("micron").unwrap();
    let entries = watch.entries().iter().filter_map(|entry| Some((entry.at, entry.pressure.ok()?)));
    entries
        .map(|(moment, pressure)| {
            let seconds = moment.duration_since(at(0).at).as_secs();
            (seconds, micron.from_si(pressure).round() as i64)
        })
        .collect()
}

#[test]
fn a_reading_counts_only_once_it_is_kept() {
    let wanted = wanted();
    let mut watch = watch(&wanted, true);
    let effect = watch.hear(Heard::Line("420".to_owned()), at(0));
    assert!(matches!(effect, Effect::Keep(_)), "{effect:?}");
    assert!(watch.entries().is_empty(), "it is not on the disk yet");
    assert_eq!(watch.hear(Heard::Done, at(0)), counted());
    assert_eq!(microns(&watch), [(0, 420)]);
    assert_eq!(watch.hear(Heard::Done, at(1)), Effect::Nothing, "nothing waits for the disk");
}

#[test]
fn times_are_typed_or_the_clock_s() {
    let wanted = wanted();
    let mut watch = watch(&wanted, true);
    types(&mut watch, 300, "5 min 420 micron");
    types(&mut watch, 600, "430");
    types(&mut watch, 700, "10:16 440");
    types(&mut watch, 700, "12 min 450");
    assert_eq!(microns(&watch), [(300, 420), (600, 430), (660, 440), (720, 450)]);
    for (line, why) in [("460", "later time than the clock"), ("12 min 9", "of that time already")]
    {
        let Effect::Refused(told) = types(&mut watch, 710, line) else { panic!("{line} counts") };
        assert!(told.contains(why), "{line}: {told}");
    }
    assert_eq!(types(&mut watch, 710, "7 min 425"), counted(), "a reading noted earlier");
    assert_eq!(watch.look().hold.times, [0.0, 120.0, 300.0, 360.0, 420.0]);
}

#[test]
fn a_slip_of_unit_is_asked_about() {
    let wanted = wanted();
    let mut watch = watch(&wanted, true);
    types(&mut watch, 0, "420");
    let Effect::Doubted(message) = types(&mut watch, 60, "0.43") else { panic!("no doubt") };
    assert!(message.contains("0.43 mmHg is 430 micron"), "{message}");
    assert!(matches!(types(&mut watch, 61, ""), Effect::Doubted(_)), "Enter alone settles nothing");
    assert_eq!(types(&mut watch, 62, "yes"), counted());
    assert!(matches!(types(&mut watch, 120, "4.4"), Effect::Doubted(_)));
    assert_eq!(types(&mut watch, 125, "440"), counted(), "typed again");
    assert!(matches!(types(&mut watch, 180, "9"), Effect::Doubted(_)));
    assert_eq!(types(&mut watch, 181, "keep"), counted());
    assert_eq!(microns(&watch), [(0, 420), (60, 430), (125, 440), (180, 9)]);
    assert!(matches!(types(&mut watch, 200, "yes"), Effect::Refused(_)), "there is no doubt left");
}

#[test]
fn a_line_with_several_values_is_refused_whole() {
    let wanted = wanted();
    for is_answered in [true, false] {
        let mut watch = watch(&wanted, is_answered);
        types(&mut watch, 0, "400");
        for line in [
            "420 430",
            "420, 430",
            "420 micron 430 micron",
            "10:06 420 10:07 430",
            "1 min 420, 2 min 430",
            "300, 420, 510 micron every 5 min",
            "0 420, 5 455 micron",
            "5 min 420 455 micron",
        ] {
            let effect = types(&mut watch, 60, line);
            assert!(matches!(effect, Effect::Refused(_)), "{line}: {effect:?}");
            assert_eq!(microns(&watch), [(0, 400)], "{line}");
        }
    }
}

#[test]
fn where_nobody_answers_an_odd_reading_is_taken_and_told() {
    let wanted = wanted();
    let mut watch = watch(&wanted, false);
    types(&mut watch, 0, "420");
    let Effect::Counted { remark: Some(remark), .. } = types(&mut watch, 60, "0.43") else {
        panic!("no remark")
    };
    assert!(remark.starts_with("0.43 micron is lower than"), "{remark}");
    assert_eq!(watch.entries().len(), 2);
}

#[test]
fn the_last_reading_can_be_taken_back_down_to_none() {
    let wanted = wanted();
    let mut watch = watch(&wanted, true);
    for minute in 0..20 {
        types(&mut watch, 60 * minute, &format!("{}", 300 + 40 * minute));
    }
    let before = watch.look().hold.clone();
    assert!(watch.look().is_settled());
    types(&mut watch, 1200, "2000");
    assert_ne!(watch.look().hold, before);
    assert_eq!(types(&mut watch, 1201, "back"), Effect::TakenBack);
    assert_eq!(watch.look().hold, before);
    assert!(watch.look().is_settled());
    for _ in 0..20 {
        types(&mut watch, 1202, "BACK");
    }
    assert!(watch.entries().is_empty());
    let Effect::Refused(why) = types(&mut watch, 1203, "back") else { panic!("what is left?") };
    assert_eq!(why, "there is no reading to take back");
    types(&mut watch, 1300, "2 min 300");
    types(&mut watch, 1360, "3 min 310");
    assert_eq!(microns(&watch), [(1300, 300), (1360, 310)], "elapsed times count anew");
}

#[test]
fn it_says_when_enough_is_known_and_goes_on() {
    let wanted = wanted();
    let mut watch = watch(&wanted, true);
    let mut settled_at = None;
    for minute in 0..40 {
        types(&mut watch, 60 * minute, &format!("{}", 300 + 40 * minute));
        if watch.look().is_settled() {
            settled_at = settled_at.or(Some(minute));
        }
    }
    let settled_at = settled_at.unwrap();
    assert!((5..25).contains(&settled_at), "after {settled_at} min");
    assert_eq!(watch.entries().len(), 40);
    let verdict = watch.look().reading.as_ref().map(|reading| reading.verdict);
    assert_eq!(verdict, Ok(Verdict::Straight));
}

#[test]
fn taking_up_a_watch_is_as_if_it_had_never_stopped() {
    let wanted = wanted();
    let (mut whole, mut begun) = (watch(&wanted, true), watch(&wanted, true));
    let line = |minute: i64| format!("{}", (300.0 + 90.0 * (minute as f64).sqrt()).round());
    for minute in 0..12 {
        types(&mut whole, 60 * minute, &line(minute));
        types(&mut begun, 60 * minute, &line(minute));
    }
    let mut resumed = watch(&wanted, true);
    resumed.take_up(begun.entries().to_vec());
    for minute in 12..20 {
        types(&mut whole, 60 * minute, &line(minute));
        types(&mut resumed, 60 * minute, &line(minute));
    }
    assert_eq!(resumed.log(), whole.log());
    assert_eq!(resumed.look().reading, whole.look().reading);
    assert_eq!(resumed.look().standing, whole.look().standing);
}

#[test]
fn marks_off_the_scale_are_kept_and_are_no_readings() {
    let wanted = wanted();
    let mut watch = watch(&wanted, true);
    types(&mut watch, 0, "420");
    assert_eq!(types(&mut watch, 60, "OL"), counted());
    assert_eq!(watch.entries().len(), 2);
    assert!(watch.log().ends_with("10:06:00Z,OL\n"), "{}", watch.log());
    let found = watch.look().reading.clone().unwrap_err();
    assert_eq!(found, Missing::Readings { found: 1 });
}

/// An answer that was as good as enough stays so close to it, however many marks follow.
#[test]
fn marks_off_the_scale_settle_no_watch() {
    let wanted = wanted();
    let mut settled = watch(&wanted, true);
    let minutes = (0..40).take_while(|minute| {
        types(&mut settled, 60 * minute, &format!("{}", 300 + 40 * minute));
        !settled.look().is_settled()
    });
    let before = minutes.count() as i64;
    let mut watch = watch(&wanted, true);
    for minute in 0..before {
        types(&mut watch, 60 * minute, &format!("{}", 300 + 40 * minute));
    }
    for mark in 0..10 {
        types(&mut watch, 60 * before + mark, if mark % 2 == 0 { "OL" } else { "UL" });
        assert!(!watch.look().is_settled(), "by mark {mark}");
    }
    for _ in 0..10 {
        assert_eq!(types(&mut watch, 60 * before + 20, "back"), Effect::TakenBack);
    }
    types(&mut watch, 60 * before, &format!("{}", 300 + 40 * before));
    assert!(watch.look().is_settled(), "the reading that the marks stood in for settles it");
    types(&mut watch, 60 * before + 60, "OL");
    assert!(watch.look().is_settled(), "nor does a mark unsettle one");
    assert_eq!(watch.look().reading, settled.look().reading);
}

/// A log keeps the unit of its column; digits that were converted say nothing of the gauge.
#[test]
fn readings_in_another_unit_than_the_log_s_are_kept_with_theirs() {
    let wanted = wanted();
    let (micron, pascal) = (parse_unit("micron").unwrap(), parse_unit("Pa").unwrap());
    let mut watch = Watch::new(&wanted, micron, pascal, true);
    for (second, line) in [(0, "40"), (60, "42"), (120, "300 micron")] {
        assert_eq!(types(&mut watch, second, line), counted(), "{line}");
    }
    let cells: Vec<&str> = watch.entries().iter().map(|entry| entry.cell.as_str()).collect();
    assert_eq!(cells, ["300.0246 micron", "315.0259 micron", "300 micron"]);
    assert!((watch.look().hold.pressures[1] - 42.0).abs() < 1e-4);
    assert_eq!(watch.look().hold.gauge.resolution, None);
}

#[test]
fn words_do_what_they_say_and_comments_nothing() {
    let wanted = wanted();
    let mut watch = watch(&wanted, true);
    for (line, effect) in [
        ("help", Effect::Help),
        ("?", Effect::Help),
        ("Why", Effect::Why),
        ("", Effect::Nothing),
        ("# pump off", Effect::Nothing),
        ("done", Effect::Leave { is_interrupted: false }),
    ] {
        assert_eq!(types(&mut watch, 0, line), effect, "{line}");
    }
    assert_eq!(watch.hear(Heard::End, at(0)), Effect::Leave { is_interrupted: false });
    assert_eq!(watch.hear(Heard::Interrupt, at(0)), Effect::Leave { is_interrupted: true });
}

#[test]
fn a_log_of_thousands_is_looked_at_now_and_then() {
    let wanted = wanted();
    let mut watch = watch(&wanted, false);
    let micron = parse_unit("micron").unwrap();
    let start: Vec<Entry> = (0..EACH as i64)
        .map(|second| Entry {
            at: at(second).at,
            pressure: Ok(micron.to_si(300.0)),
            cell: "300".to_owned(),
            counted_from: None,
        })
        .collect();
    watch.entries = start.clone();
    watch.looked_at = vec![false; start.len()];
    watch.counted_from = Some(at(0).at);
    watch.look.hold.times = vec![0.0, EACH as f64 - 1.0];
    let looks: Vec<bool> = (0..20)
        .map(|k| {
            let effect = types(&mut watch, EACH as i64 + k, "300");
            matches!(effect, Effect::Counted { is_looked_at: true, .. })
        })
        .collect();
    let count = looks.iter().filter(|is_looked_at| **is_looked_at).count();
    assert!((2..8).contains(&count), "{looks:?}");
    assert_eq!(watch.entries().len(), EACH + 20, "each of them is kept");
}

fn line() -> impl Strategy<Value = String> {
    prop_oneof![
        4 => (1..9000_u32).prop_map(|pressure| pressure.to_string()),
        1 => (0..40_u32, 1..900_u32).prop_map(|(minute, p)| format!("{minute} min {p}")),
        1 => (0..24_u32, 0..60_u32).prop_map(|(hour, minute)| format!("{hour}:{minute:02} 77")),
        1 => Just("back".to_owned()),
        1 => Just("keep".to_owned()),
        1 => Just("yes".to_owned()),
        1 => Just("0.4".to_owned()),
        1 => Just("1 mbar".to_owned()),
        1 => Just("OL".to_owned()),
        1 => ".{0,12}",
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// Whatever is typed, the log on the disk holds exactly what counts, and is read as that.
    #[test]
    fn the_log_holds_what_counts(lines in proptest::collection::vec(line(), 0..25)) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("hold.csv");
        let micron = parse_unit("micron").unwrap();
        let mut log = Log::create(&path, &micron).unwrap();
        let wanted = wanted();
        let mut watch = watch(&wanted, true);
        for (second, line) in (0..).step_by(37).zip(&lines) {
            match watch.hear(Heard::Line(line.clone()), at(second)) {
                Effect::Keep(entry) => log.keep(&entry).unwrap(),
                Effect::TakeBack => log.take_back().unwrap(),
                _ => continue,
            }
            watch.hear(Heard::Done, at(second));
        }
        drop(log);
        let (_, found) = Log::open(&path).unwrap();
        let parts = |entry: &Entry| (entry.at, entry.cell.clone());
        let (kept, counted): (Vec<_>, Vec<_>) =
            (found.entries.iter().map(parts).collect(), watch.entries().iter().map(parts).collect());
        prop_assert_eq!(kept, counted);
        let readings = watch.entries().iter().filter(|entry| entry.pressure.is_ok()).count();
        prop_assert_eq!(watch.look().hold.times.len(), readings);
    }
}
