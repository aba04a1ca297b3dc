//! Cases in rough circumstances: a clock that was set back, and far more typed than anybody types.

use std::fs;
use std::io::Write;
use std::process::Stdio;

use dryhold::book::{Entry, write_line};
use dryhold::case::{Detail, Event};
use jiff::{SignedDuration, Timestamp};

use super::case_book::{BookStand, described, scenario_events};
use super::stand::Ran;

const CASE: &str = "2026-03-31-1";

/// Keeps a case that was begun in years to come, and whose clock went backwards, an hour with each
/// event.
fn keep_backwards(stand: &BookStand, events: &[Event]) {
    let mut at: Timestamp = "2999-03-31T12:00:00Z".parse().unwrap();
    let mut text = String::new();
    for (number, event) in events.iter().cloned().enumerate() {
        text += &(write_line(&Entry { number, at, event }).unwrap() + "\n");
        at -= SignedDuration::from_hours(1);
    }
    fs::write(stand.path(CASE), text).unwrap();
}

/// Carries the case on with these lines typed.
fn resumed(stand: &BookStand, typed: &[u8]) -> Ran {
    let mut command = stand.stand.command(&["--book", "book", "resume", CASE, "--plain"]);
    command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut running = command.spawn().unwrap();
    let mut input = running.stdin.take().unwrap();
    let typed = typed.to_vec();
    let typing = std::thread::spawn(move || {
        // The program may end before everything is typed.
        let _ = input.write_all(&typed);
    });
    let ran = Ran::of(running.wait_with_output().unwrap());
    typing.join().unwrap();
    ran
}

#[test]
fn a_clock_that_was_set_back_changes_no_verdict_and_no_wait_is_less_than_nothing() {
    let mut events = scenario_events("pump_alone/sound");
    events.push(described(Detail::Place, "roof"));
    let forwards = BookStand::new();
    forwards.keep(CASE, "2026-03-31", &events);
    let backwards = BookStand::new();
    keep_backwards(&backwards, &events);
    let verdict = |stand: &BookStand| {
        let ran = stand.run(&["report", CASE, "--format", "json"]);
        assert_eq!(ran.status, Some(0), "{ran:?}");
        ran.json()["verdict"].clone()
    };
    assert_eq!(verdict(&backwards), verdict(&forwards));
    let text = backwards.run(&["report", CASE]).stdout;
    assert!(text.contains("roof") && !text.contains(" -"), "{text}");
    let listed = backwards.run(&["cases"]);
    assert_eq!((listed.status, listed.stderr.as_str()), (Some(0), "1 case: 1 open, 0 closed.\n"));
    let ran = resumed(&backwards, b"stop\n");
    let stopped = ran.stderr.lines().next().unwrap();
    assert!(stopped.contains("you stopped less than a minute ago"), "{stopped}");
}

#[test]
fn ten_megabytes_on_one_line_are_refused_and_the_case_goes_on() {
    let stand = BookStand::new();
    stand.keep(CASE, "2026-03-31", &scenario_events("pump_alone/sound")[..1]);
    let before = fs::read_to_string(stand.path(CASE)).unwrap();
    let mut typed = vec![b'7'; 10 << 20];
    typed.extend_from_slice(b"\nnote\n");
    typed.extend(vec![b'x'; 10 << 20]);
    typed.extend_from_slice(b"\nback\nnote\nit is cold\nstop\n");
    let ran = resumed(&stand, &typed);
    assert!(matches!(ran.status, Some(0 | 3)), "{:?}", ran.status);
    assert_eq!(ran.stderr.matches("counts as not typed").count(), 2, "{}", ran.stderr);
    assert!(ran.stderr.len() < 100_000, "{} bytes were said", ran.stderr.len());
    let after = fs::read_to_string(stand.path(CASE)).unwrap();
    let added = after.strip_prefix(&before).unwrap();
    assert!(added.contains("\"text\":\"it is cold\""), "{}", ran.stderr);
    assert!(added.len() < 10_000, "{} bytes were kept", added.len());
}

#[test]
fn a_photo_is_named_in_the_record_whether_it_is_here_or_not() {
    let stand = BookStand::new();
    stand.keep(CASE, "2026-03-31", &scenario_events("pump_alone/sound")[..1]);
    fs::write(stand.stand.path("gauge.jpg"), "abc").unwrap();
    let typed = "photo\ngauge.jpg\nfile\nbook\nhers \x1b[2J.jpg\nstop\n";
    let ran = resumed(&stand, typed.as_bytes());
    assert!(ran.stderr.contains("`book` can't be named: it is no file."), "{}", ran.stderr);
    assert!(ran.stderr.contains("there is no such file here to look at"), "{}", ran.stderr);
    let text = stand.run(&["report", CASE]).stdout;
    let listed = "- gauge.jpg (3 bytes, BLAKE3 6437b3ac38465133)\n- hers <U+001B>[2J.jpg (not seen by \
                  the program)\n";
    assert!(text.contains(listed), "{text}");
    let files = stand.run(&["report", CASE, "--format", "json"]).json()["files"].clone();
    assert_eq!(
        (files[0]["bytes"].as_u64(), &files[1]["bytes"]),
        (Some(3), &serde_json::Value::Null)
    );
}

#[test]
fn a_stop_for_an_answer_out_of_turn_is_left_by_putting_that_answer_right() {
    let stand = BookStand::new();
    stand.keep(CASE, "2026-03-31", &scenario_events("pump_alone/sound")[..7]);
    let before = fs::read_to_string(stand.path(CASE)).unwrap();
    // Smoke, told in the middle of something else, found by what is read aloud to a caller; then it
    // was somebody else's.
    let typed = "other\nsmoke noise\nsmokes\n2\nknocks_deep\nstop\n";
    let ran = resumed(&stand, typed.as_bytes());
    assert!(ran.stderr.contains("Stop. "), "{}", ran.stderr);
    let after = fs::read_to_string(stand.path(CASE)).unwrap();
    let added: Vec<&str> = after.strip_prefix(&before).unwrap().lines().collect();
    let taken: Vec<&&str> = added.iter().filter(|l| l.contains("corrected")).collect();
    let answered = added.iter().position(|line| line.contains("smokes")).unwrap();
    let order = before.lines().count() + answered;
    assert_eq!(taken.len(), 1, "{added:?}");
    assert!(taken[0].contains(&format!("\"answer\":{order}")), "{taken:?}");
    assert!(!ran.stderr.contains("stays stopped") && taken[0].contains("knocks_deep"), "{taken:?}");
}
