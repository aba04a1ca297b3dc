//! `dryhold export` and `import`: a case goes to another book and comes back.

use std::fs;

use dryhold::book::{Book, KeptHandbook};
use dryhold::built_in::add_built_in;
use dryhold::case::{Detail, Event, Reach, Reply};
use dryhold::source::Sources;

use super::case_book::{BookStand, built_in, described, scenario_events};
use super::stand::Ran;

const CASE: &str = "2026-03-31-1";
const DAY: &str = "2026-03-31";

fn answer(question: &str, si: f64, typed: &str) -> Event {
    let reply = Reply::Quantity { si, half_width: None, reach: Reach::Exact };
    let (question, typed) = (question.to_owned(), typed.to_owned());
    Event::Answered { question, typed, reply, bare_in: None }
}

/// A book with one case: the scenario's events and more.
fn book_with(more: &[Event]) -> BookStand {
    let stand = BookStand::new();
    stand.keep(CASE, DAY, &[&scenario_events("pump_alone/sound"), more].concat());
    stand
}

/// The text that a book exports.
fn exported(stand: &BookStand, more: &[&str]) -> String {
    let ran = stand.run(&[&["export", CASE], more].concat());
    assert_eq!(ran.status, Some(0), "{ran:?}");
    ran.stdout
}

fn import(stand: &BookStand, text: &str, more: &[&str]) -> Ran {
    fs::write(stand.stand.path("in.jsonl"), text).unwrap();
    stand.run(&[&["import", "in.jsonl"], more].concat())
}

fn events(stand: &BookStand, id: &str) -> Vec<String> {
    fs::read_to_string(stand.path(id)).unwrap().lines().map(str::to_owned).collect()
}

#[test]
fn a_case_is_the_same_in_another_book() {
    let there = book_with(&[described(Detail::Place, "roof")]);
    let here = BookStand::new();
    let ran = import(&here, &exported(&there, &[]), &[]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    assert!(ran.stdout.starts_with("Case 2026-03-31-1 is taken in with "), "{ran:?}");
    for command in ["report 2026-03-31-1", "resume 2026-03-31-1"] {
        assert!(ran.stderr.contains(command), "{command}: {ran:?}");
    }
    assert_eq!(events(&here, CASE), events(&there, CASE));
    let report = |stand: &BookStand| stand.run(&["report", CASE]).stdout;
    assert_eq!(report(&here), report(&there));
    let again = import(&here, &exported(&there, &[]), &[]);
    assert_eq!(again.stdout, "Case 2026-03-31-1 holds all of this already.\n");
    assert_eq!(events(&here, CASE), events(&there, CASE));
}

#[test]
fn the_handbook_goes_with_its_case() {
    let there = book_with(&[]);
    let mut sources = Sources::default();
    add_built_in(&mut sources);
    let hash = built_in().0.hash();
    let kept = KeptHandbook::of(hash, &sources, &[]);
    Book::at(there.stand.path("book")).keep_handbook(&kept).unwrap();
    let text = exported(&there, &[]);
    let here = BookStand::new();
    assert_eq!(import(&here, &text, &[]).status, Some(0));
    assert_eq!(Book::at(here.stand.path("book")).handbook(hash).unwrap(), kept);

    // One whose texts are not those of its hash is not believed.
    let forged = text.replacen("Pump", "Pomp", 1);
    assert_ne!(forged, text);
    let other = BookStand::new();
    let ran = import(&other, &forged, &[]);
    assert!(ran.stderr.contains("not the one that the case was begun with"), "{ran:?}");
    assert_eq!(ran.status, Some(0));
    assert!(!Book::at(other.stand.path("book")).keeps_handbook(hash));
}

#[test]
fn a_case_that_went_on_elsewhere_goes_on_here() {
    let here = book_with(&[]);
    let there = book_with(&[described(Detail::Told, "the owner"), Event::Reopened]);
    let ran = import(&here, &exported(&there, &[]), &[]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    assert!(ran.stdout.starts_with("Case 2026-03-31-1 goes on with 2 events:\n"), "{ran:?}");
    assert!(ran.stdout.contains("who was told the owner\n"), "{ran:?}");
    assert_eq!(events(&here, CASE), events(&there, CASE));
}

#[test]
fn two_ways_on_are_put_together_where_they_agree() {
    let here = book_with(&[answer("ambient_temperature", 293.15, "20 degC")]);
    let there = book_with(&[described(Detail::Place, "roof")]);
    let before = events(&here, CASE);
    let ran = import(&here, &exported(&there, &[]), &[]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    assert!(ran.stderr.contains("Here:\n- "), "{ran:?}");
    let after = events(&here, CASE);
    assert_eq!(after.len(), before.len() + 1);
    let kept = fs::read_to_string(here.stand.path("book/2026-03-31-1.jsonl.before")).unwrap();
    assert_eq!(kept.lines().collect::<Vec<_>>(), before);
    let report = here.run(&["report", CASE]).stdout;
    assert!(report.contains("roof") && report.contains("20 degC"), "{report}");
    // A second time, what was kept before stays.
    let joined = fs::read_to_string(here.stand.path("book/2026-03-31-1.jsonl")).unwrap();
    let third = book_with(&[described(Detail::Told, "the owner")]);
    let ran = import(&here, &exported(&third, &[]), &[]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    let first = fs::read_to_string(here.stand.path("book/2026-03-31-1.jsonl.before")).unwrap();
    let second = fs::read_to_string(here.stand.path("book/2026-03-31-1.jsonl.before-2")).unwrap();
    assert_eq!((first, second), (kept, joined));
}

#[test]
fn a_contradiction_is_shown_and_nothing_is_written_until_somebody_chooses() {
    let mine = answer("ambient_temperature", 293.15, "20 degC");
    let theirs = answer("ambient_temperature", 283.15, "10 degC");
    let there = exported(&book_with(std::slice::from_ref(&theirs)), &[]);
    for (prefer, stands) in [("here", "20 degC"), ("there", "10 degC")] {
        let here = book_with(std::slice::from_ref(&mine));
        let before = events(&here, CASE);
        let ran = import(&here, &there, &[]);
        assert_eq!(ran.status, Some(2), "{ran:?}");
        let clash = "here `ambient_temperature` is 20 degC, in the file `ambient_temperature` is \
                     10 degC";
        let told: String = ran.stderr.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(told.contains(clash), "{told}");
        assert!(told.contains("in 1 point; say whose word counts with --prefer"), "{told}");
        assert_eq!(events(&here, CASE), before);

        let ran = import(&here, &there, &["--prefer", prefer]);
        assert_eq!(ran.status, Some(0), "{ran:?}");
        let json = here.run(&["report", CASE, "--format", "json"]).json();
        let answers = json["answers"].as_array().unwrap();
        let of_room = answers.iter().filter(|answer| answer["question"] == "ambient_temperature");
        let typed: Vec<_> = of_room.map(|answer| answer["typed"].as_str().unwrap()).collect();
        assert_eq!(typed.last(), Some(&stands), "{answers:?}");
    }
}

#[test]
fn a_case_can_be_kept_apart_and_another_of_its_name_is_left_alone() {
    let here = book_with(&[]);
    let before = events(&here, CASE);
    let there = BookStand::new();
    there.keep(CASE, "2026-03-30", &scenario_events("pump_alone/sound"));
    let text = exported(&there, &[]);
    let ran = import(&here, &text, &[]);
    let told = "Case 2026-03-30-1 is taken in with ";
    assert!(ran.stdout.starts_with(told), "{ran:?}");
    assert!(ran.stdout.contains("in the file it is 2026-03-31-1"), "{ran:?}");
    let ran = import(&here, &text, &["--apart"]);
    assert!(ran.stdout.starts_with("Case 2026-03-30-2 is taken in with "), "{ran:?}");
    assert_eq!(events(&here, CASE), before);
}

#[test]
fn what_is_redacted_names_nobody_and_is_judged_the_same() {
    let acknowledged = Event::Acknowledged {
        caution: built_in().0.cautions()[0].id.clone(),
        by: "Ida Secret".to_owned(),
    };
    let note = Event::Noted { text: "Secret rang".to_owned() };
    let more = [described(Detail::Place, "Secret Street 1"), acknowledged, note];
    let there = book_with(&more);
    let whole = exported(&there, &[]);
    let text = exported(&there, &["--redact"]);
    assert!(whole.contains("Secret") && !text.contains("Secret"), "{text}");
    let here = BookStand::new();
    let ran = import(&here, &text, &[]);
    assert!(ran.stdout.contains("Names and free texts were left out of it."), "{ran:?}");
    let verdict = |stand: &BookStand| {
        stand.run(&["report", CASE, "--format", "json"]).json()["verdict"].clone()
    };
    assert_eq!(verdict(&here)["ranking"], verdict(&there)["ranking"]);
    assert!(verdict(&here)["ranking"].as_array().is_some_and(|all| !all.is_empty()));
}

#[test]
fn what_can_t_be_taken_in_says_why_and_leaves_nothing() {
    let whole = exported(&book_with(&[]), &[]);
    let cut = whole.lines().take(3).collect::<Vec<_>>().join("\n");
    let damaged = whole.replacen("answered", "answerde", 1);
    for (text, why) in [
        ("a: 1\n", "it is neither a case that was exported nor a case file"),
        (cut.as_str(), "it ends too early"),
        (damaged.as_str(), "is damaged: its checksum doesn't fit"),
    ] {
        let here = BookStand::new();
        let ran = import(&here, text, &[]);
        assert_eq!((ran.stdout.as_str(), ran.status), ("", Some(2)));
        assert!(ran.stderr.contains(why), "{ran:?}");
        assert_eq!(fs::read_dir(here.stand.path("book")).unwrap().count(), 0);
    }
    let here = BookStand::new();
    let missing = here.run(&["import", "nowhere.jsonl"]);
    assert_eq!(missing.status, Some(2));
    assert!(missing.stderr.contains("it is not there"), "{missing:?}");
}

#[test]
fn a_report_leaves_out_names_and_places_if_asked_to() {
    let book = BookStand::new();
    let mut events = scenario_events("pump_alone/worn");
    events.push(described(Detail::Place, "the mill in Weaver Lane"));
    events.push(Event::Noted { text: "ask for Kim".to_owned() });
    book.keep("2026-03-31-1", "2026-03-31", &events);
    for format in ["text", "markdown", "html", "json"] {
        let told = |more: &[&str]| {
            let arguments = ["report", "2026-03-31-1", "--format", format];
            let ran = book.run(&[&arguments, more].concat());
            assert_eq!(ran.status, Some(0), "{ran:?}");
            ran.stdout
        };
        let (whole, without) = (told(&[]), told(&["--redact"]));
        for named in ["Weaver", "Kim"] {
            assert!(whole.contains(named) && !without.contains(named), "{format}: {named}");
        }
        assert!(without.contains("micron"), "{format}");
        // What was recorded and is left out isn't said to be lacking.
        assert!(without.contains("left out"), "{format}: {without}");
        let lacking = without.lines().find(|line| line.contains("Not recorded:"));
        assert!(lacking.is_none_or(|line| !line.contains("Site")), "{format}: {lacking:?}");
    }
}

/// Nobody takes what was left out for a fault: it is said at the top, and no sentence breaks on it.
#[test]
fn a_report_without_names_says_so_and_reads_on() {
    let stop = built_in().0.cautions().iter().find(|caution| caution.severity.word() == "stop");
    let by = Event::Acknowledged {
        caution: stop.map(|caution| caution.id.clone()).unwrap_or_default(),
        by: "Ida Secret".to_owned(),
    };
    let notes = ["one", "two"].map(|text| Event::Noted { text: text.to_owned() });
    let place = described(Detail::Place, "Secret Street 1");
    let book = book_with(&[&[place, by], &notes[..]].concat());
    let told = |more: &[&str]| book.run(&[&["report", CASE], more].concat()).stdout;
    let without = told(&["--redact"]);
    let flat = without.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.starts_with("Report of case 2026-03-31-1 About this case"), "{flat}");
    for said in [
        "- Left out on purpose: names, places, notes and other free texts; \"left out\" stands where",
        "Acknowledged; the name is left out.",
        "Left out: 2 notes.",
    ] {
        assert!(flat.contains(said), "{said}: {without}");
    }
    assert!(!flat.contains("by left out"), "{without}");
    assert!(!told(&[]).contains("on purpose"));
    let message = told(&["--redact", "--format", "message"]);
    assert!(message.starts_with("Case 2026-03-31-1: "), "{message}");
    assert!(told(&["--format", "message"]).starts_with("Case 2026-03-31-1, Secret Street 1: "));
}

/// A copy without names beside the whole case is the same case, and nothing is lost or listed.
#[test]
fn a_copy_without_names_beside_its_case_is_told_in_a_few_lines() {
    let there = book_with(&[described(Detail::Place, "Secret Street 1")]);
    let (whole, copy) = (exported(&there, &[]), exported(&there, &["--redact"]));
    let before = events(&there, CASE);
    let ran = import(&there, &copy, &[]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    let told = "Case 2026-03-31-1 holds all of this already, and the names that the file lacks.\n";
    assert_eq!((ran.stdout.as_str(), ran.stderr.as_str()), (told, ""));
    assert_eq!(events(&there, CASE), before);
    let here = BookStand::new();
    import(&here, &copy, &[]);
    let before = events(&here, CASE);
    let ran = import(&here, &whole, &[]);
    assert_eq!((ran.status, events(&here, CASE)), (Some(2), before), "{ran:?}");
    let told: String = ran.stderr.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("without its names, places and notes. "), "{told}");
    assert!(told.contains("3 of 25 events differ, the first of them thus: here "), "{told}");
    assert!(told.contains("read by left out, in the file "), "{told}");
    assert!(ran.stderr.lines().count() <= 6, "{}", ran.stderr);
    assert_eq!(import(&here, &whole, &["--apart"]).status, Some(0));
}

/// However much each side says, a screen holds it.
#[test]
fn two_long_ways_on_are_told_in_part() {
    let note = |text: &str| Event::Noted { text: text.to_owned() };
    let here = book_with(&vec![note("mine"); 30]);
    let there = book_with(&vec![note("theirs"); 40]);
    let ran = import(&here, &exported(&there, &[]), &[]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    let lines: Vec<&str> = ran.stderr.lines().collect();
    assert!(lines.contains(&"- and 24 more") && lines.contains(&"- and 34 more"), "{lines:?}");
    assert!(lines.len() < 20, "{lines:?}");
}
