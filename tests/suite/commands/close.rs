//! `dryhold close`: what fixed a case is kept in its file and listed.

use std::fs;

use super::case_book::{BookStand, scenario_events};

const CASE: &str = "2026-03-31-1";

fn book() -> BookStand {
    let stand = BookStand::new();
    stand.keep(CASE, "2026-03-31", &scenario_events("pump_alone/sound"));
    stand
}

#[test]
fn a_case_is_closed_by_a_cause_by_nothing_or_by_what_nobody_knows() {
    for (typed, told, kept) in [
        ("pump_oil", "fixed by mending this: bad pump oil", "{\"cause\":\"pump_oil\"}"),
        ("Bad pump oil", "fixed by mending this: bad pump oil", "{\"cause\":\"pump_oil\"}"),
        ("nothing", "nothing was wrong", "\"nothing\""),
        (" Unknown ", "not known what fixed it", "\"unknown\""),
    ] {
        let stand = book();
        let before = fs::read_to_string(stand.path(CASE)).unwrap();
        let ran = stand.run(&["close", CASE, "--fixed-by", typed]);
        assert_eq!(ran.stdout, format!("Case {CASE} is closed: {told}.\n"), "{ran:?}");
        assert_eq!((ran.stderr.as_str(), ran.status), ("", Some(0)));
        let after = fs::read_to_string(stand.path(CASE)).unwrap();
        let added = after.strip_prefix(&before).unwrap();
        assert_eq!(added.lines().count(), 1);
        assert!(added.contains(&format!("{{\"what\":\"closed\",\"fixed_by\":{kept}}}")), "{added}");
        let listed = stand.run(&["cases", "--closed"]).stdout;
        assert!(listed.to_lowercase().contains(told), "{listed}");
    }
}

#[test]
fn a_note_and_what_is_told_of_the_job_are_kept_once() {
    let stand = book();
    let close = |more: &[&str]| {
        let ran = stand.run(&[&["close", CASE, "--fixed-by", "nothing"], more].concat());
        assert_eq!(ran.status, Some(0), "{ran:?}");
    };
    close(&["--note", "  it held  ", "--place", "roof", "--told", "the owner", "--rig", " "]);
    close(&["--place", "roof", "--gauge", "G 7"]);
    let json = stand.run(&["cases", "--json"]).json();
    let details = serde_json::json!({"gauge": "G 7", "place": "roof", "told": "the owner"});
    assert_eq!(json["cases"][0]["details"], details);
    let text = fs::read_to_string(stand.path(CASE)).unwrap();
    assert!(text.contains("\"note\":\"it held\""), "{text}");
    assert_eq!(text.matches("roof").count(), 1, "what is known is not written again");
}

#[test]
fn what_cannot_be_closed_is_told() {
    let stand = book();
    let text = fs::read_to_string(stand.path(CASE)).unwrap();
    let said = |arguments: &[&str]| {
        let ran = stand.run(arguments);
        assert_eq!((ran.stdout.as_str(), ran.status), ("", Some(2)), "{ran:?}");
        ran.stderr
    };
    let near = "dryhold: the case's handbook has no cause `pump oli`; did you mean `pump_oil`?\n";
    assert_eq!(said(&["close", CASE, "--fixed-by", "pump oli"]), near);
    let far = said(&["close", CASE, "--fixed-by", "gremlins\u{1b}"]);
    assert!(far.contains("no cause `gremlins<U+001B>`; --fixed-by takes "), "{far}");
    assert!(far.contains("moisture") && far.ends_with("nothing, unknown\n"), "{far}");
    let none = "dryhold: there is no case `2026-03-31-9` in book\n";
    assert_eq!(said(&["close", "2026-03-31-9", "--fixed-by", "nothing"]), none);
    let long = "a".repeat(301);
    let too_long = said(&["close", CASE, "--fixed-by", "nothing", "--note", &long]);
    assert_eq!(too_long, "dryhold: --note takes up to 300 characters, and this has 301\n");
    assert_eq!(fs::read_to_string(stand.path(CASE)).unwrap(), text, "nothing was written");
    let damaged = text.replace("15 micron", "16 micron");
    fs::write(stand.path(CASE), &damaged).unwrap();
    let spoilt = said(&["close", CASE, "--fixed-by", "nothing"]);
    assert!(spoilt.contains("is damaged, so nothing more is written to it"), "{spoilt}");
    assert_eq!(fs::read_to_string(stand.path(CASE)).unwrap(), damaged);
}

#[test]
fn details_beside_answers_that_are_not_kept_are_refused() {
    let stand = book();
    let ran = stand.run(&["diagnose", "--set", "system_charged=no", "--place", "roof"]);
    assert_eq!(ran.status, Some(2));
    let reason = "goes with a case that is kept; one with answers given beforehand is not";
    assert!(ran.stderr.contains(reason), "{}", ran.stderr);
}

#[test]
fn a_case_that_ended_with_a_proof_is_closed_by_it() {
    let stand = BookStand::new();
    stand.keep(CASE, "2026-03-31", &scenario_events("prove_it/kept"));
    let listed = stand.run(&["cases"]).stdout;
    let way = format!("Proved; dryhold close {CASE} closes it for the record");
    assert!(listed.contains("  proved  2026-03-31") && listed.contains(&way), "{listed}");
    let proved = stand.run(&["close", CASE]);
    let told = format!("Case {CASE} is closed: proved, as the job asked for.\n");
    assert_eq!((proved.stdout.as_str(), proved.status), (told.as_str(), Some(0)), "{proved:?}");
    let named = stand.run(&["close", CASE, "--fixed-by", "system_leak"]);
    assert!(named.stdout.contains("fixed by mending this, and proved: "), "{named:?}");
    assert!(stand.run(&["report", CASE]).stdout.contains("mending this, and proved"));
}

#[test]
fn a_case_without_a_proof_asks_what_fixed_it() {
    let stand = book();
    let ran = stand.run(&["close", CASE]);
    assert_eq!(ran.status, Some(2));
    assert!(ran.stderr.contains("ended without a proof, so say what fixed it"), "{ran:?}");
    let ran = stand.run(&["close", CASE, "--proved"]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    assert!(ran.stderr.contains("Nothing in the case shows that proof"), "{ran:?}");
}

#[test]
fn a_cause_is_known_by_what_it_is_called_and_what_mends_it() {
    for typed in ["oil change", "change oil", "Bad pump oil"] {
        let stand = book();
        let ran = stand.run(&["close", CASE, "--fixed-by", typed]);
        assert!(ran.stdout.ends_with("fixed by mending this: bad pump oil.\n"), "{typed}: {ran:?}");
    }
    let stand = book();
    for (typed, one) in [("leak", "(a leak in the system)"), ("oil", "pump_oil (bad pump oil)")] {
        let ran = stand.run(&["close", CASE, "--fixed-by", typed]);
        assert_eq!(ran.status, Some(2), "{ran:?}");
        let told = format!("`{typed}` may be several causes; --fixed-by takes one of ");
        assert!(ran.stderr.contains(&told) && ran.stderr.contains(one), "{ran:?}");
    }
}
