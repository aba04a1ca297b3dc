//! `dryhold cases`: the list of the book, its filters, and the index that never lies.

use std::fs;

use dryhold::case::{Closing, Detail, Event, FixedBy};

use super::case_book::{BookStand, described, scenario_events};
use super::stand::Ran;

/// Four cases: wet oil at a place, closed; a sound pump; one stopped; one barely begun.
fn book() -> BookStand {
    let stand = BookStand::new();
    let mut wet = scenario_events("pump_alone/wet_van");
    wet.insert(1, described(Detail::Place, "12 Mill Lane"));
    let fixed_by = FixedBy::Cause("pump_oil".to_owned());
    wet.push(Event::Closed { closing: Closing::by(fixed_by) });
    stand.keep("2026-03-30-1", "2026-03-30", &wet);
    stand.keep("2026-03-31-1", "2026-03-31", &scenario_events("pump_alone/sound"));
    stand.keep("2026-03-31-2", "2026-03-31", &scenario_events("safety/oxygen"));
    stand.keep("2026-04-01-1", "2026-04-01", &scenario_events("pump_alone/sound")[..2]);
    stand
}

fn ids(ran: &Ran) -> Vec<String> {
    let cases = ran.json()["cases"].as_array().unwrap().clone();
    cases.iter().map(|case| case["case"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn the_list_says_of_each_case_how_it_stands() {
    let ran = book().run(&["cases"]);
    let expected = "\
2026-04-01-1  open    2026-04-01
              Waits, stopped for safety, until somebody acknowledges a caution
2026-03-31-2  open    2026-03-31
              Stopped for safety
2026-03-31-1  open    2026-03-31
              Nothing wrong: likely (about 7 in 10)
2026-03-30-1  closed  2026-03-30  12 Mill Lane
              Fixed by mending this: bad pump oil
              Mended: bad pump oil; now nothing wrong: likely (about 6 in 10)
";
    assert_eq!(ran.stdout, expected);
    assert_eq!((ran.stderr.as_str(), ran.status), ("4 cases: 3 open, 1 closed.\n", Some(0)));
}

/// Where two readings can't both be, nothing leads, and the list says no more than the verdict.
#[test]
fn readings_that_contradict_each_other_are_no_case_of_nothing_wrong() {
    let stand = BookStand::new();
    let events = scenario_events("wont_pull_below/still_disagree");
    stand.keep("2026-04-02-1", "2026-04-02", &events);
    let told = stand.run(&["cases"]).stdout;
    assert!(told.contains("The answers can't all be true together"), "{told}");
    assert!(!told.contains("Nothing wrong"), "{told}");
}

#[test]
fn filters_keep_what_they_say() {
    let stand = book();
    let listed = |more: &[&str]| ids(&stand.run(&[&["cases", "--json"], more].concat()));
    assert_eq!(listed(&[]).len(), 4);
    assert_eq!(listed(&["--closed"]), ["2026-03-30-1"]);
    assert_eq!(listed(&["--open"]), ["2026-04-01-1", "2026-03-31-2", "2026-03-31-1"]);
    assert_eq!(listed(&["--place", "MILL"]), ["2026-03-30-1"]);
    assert_eq!(listed(&["--place", "quarry"]), [""; 0]);
    assert_eq!(listed(&["--cause", "pump_oil"]), ["2026-03-30-1"]);
    assert_eq!(listed(&["--cause", "nothing_wrong"]), ["2026-03-31-1", "2026-03-30-1"]);
    assert_eq!(listed(&["--cause", "rig_leak"]), [""; 0]);
    assert_eq!(listed(&["--since", "2026-04-01"]), ["2026-04-01-1"]);
    assert_eq!(listed(&["--since", "2026-03-31", "--open", "--cause", "pump_oil"]), [""; 0]);
    let told = stand.run(&["cases", "--closed"]).stderr;
    assert_eq!(told, "4 cases: 3 open, 1 closed. 1 of them listed.\n");
    let told = stand.run(&["cases", "--place", "quarry"]).stderr;
    assert_eq!(told, "4 cases: 3 open, 1 closed. None of them is listed.\n");
}

/// What is open and closed is counted in the whole book: a case that was just closed is not told
/// as none.
#[test]
fn a_case_that_was_just_closed_is_counted_among_those_that_are_open() {
    let stand = book();
    assert_eq!(stand.run(&["close", "2026-03-31-1", "--fixed-by", "nothing"]).status, Some(0));
    let told = stand.run(&["cases", "--open"]).stderr;
    assert_eq!(told, "4 cases: 2 open, 2 closed. 2 of them listed.\n");
}

/// The events of a scenario up to a caution that stops it, which nobody has acknowledged.
fn held_at_a_caution(name: &str) -> Vec<Event> {
    let events = scenario_events(name);
    let at = events.iter().rposition(|event| matches!(event, Event::Acknowledged { .. })).unwrap();
    events[..at].to_vec()
}

/// How the report says that a case stands.
fn state_in_the_report(stand: &BookStand, id: &str) -> String {
    let told = stand.run(&["report", id]).stdout;
    let state = told.lines().find_map(|line| line.trim().strip_prefix("- State: ")).unwrap();
    state.to_owned()
}

/// The list and the report have one word for how a case stands.
#[test]
fn the_list_and_the_report_say_alike_how_a_case_stands() {
    let stand = BookStand::new();
    stand.keep("2026-04-03-1", "2026-04-03", &held_at_a_caution("wont_pull_below/burst_exchanger"));
    stand.keep("2026-04-03-2", "2026-04-03", &scenario_events("safety/oxygen"));
    stand.keep("2026-04-03-3", "2026-04-03", &scenario_events("after_charging/short_of_charge"));
    let told = stand.run(&["cases"]).stdout;
    for (id, said) in [
        ("2026-04-03-1", "waits, stopped for safety, until somebody acknowledges a caution"),
        ("2026-04-03-2", "stopped for safety"),
        ("2026-04-03-3", "waits for somebody to come back to it"),
    ] {
        assert_eq!(state_in_the_report(&stand, id), format!("open; {said}"), "{id}");
        let row = told.split("2026-04-03-").find(|row| row.starts_with(&id[11..])).unwrap();
        assert!(row.to_lowercase().contains(said), "{id}: {told}");
    }
    assert!(!told.contains("Nothing wrong") && !told.contains("Left safe"), "{told}");
    assert_eq!(stand.run(&["cases", "--json"]).json()["cases"][2]["state"], "stopped");
    let report = stand.run(&["report", "2026-04-03-1"]).stdout;
    assert!(report.contains("Stopped for safety"), "{report}");
}

/// Every command that takes a case finds it in the same ways.
#[test]
fn a_case_is_found_by_its_id_or_by_a_number_that_only_it_has() {
    let stand = book();
    for asked in [
        &["why", "2026-03-31-1"][..],
        &["why", "2026-03-31-1", "pump_oil"],
        &["why", "pump_oil", "--case", "2026-03-31-1"],
        &["why", "--case", "2026-03-31-1"],
    ] {
        let ran = stand.run(asked);
        assert_eq!(
            (ran.status, ran.stderr.as_str()),
            (Some(0), "Case 2026-03-31-1.\n"),
            "{asked:?}"
        );
    }
    for named in ["2", "-2"] {
        let ran = stand.run(&["why", named]);
        assert!(ran.stderr.contains("Case 2026-03-31-2."), "{}", ran.stderr);
        assert!(stand.run(&["report", named]).stdout.contains("Report of case 2026-03-31-2"));
    }
    for command in ["why", "report", "resume"] {
        let ran = stand.run(&[command, "1"]);
        let told = "`1` is the number of several cases, such as";
        assert!(ran.stderr.contains(told), "{command}: {}", ran.stderr);
        assert!(ran.stderr.contains("2026-03-31-1"), "{command}: {}", ran.stderr);
        assert_eq!(ran.status, Some(2), "{command}");
    }
    let ran = stand.run(&["why", "2026-03-31-1", "pump_oil", "--case", "2026-03-31-1"]);
    assert!(ran.stderr.contains("two cases are named"), "{}", ran.stderr);
    for asked in [["report", "9"], ["why", "9"]] {
        let ran = stand.run(&asked);
        assert!(ran.stderr.contains("there is no case `9` in book"), "{}", ran.stderr);
    }
    let ran = stand.run(&["why", "2026-01-01-1"]);
    assert!(ran.stderr.contains("there is no case `2026-01-01-1` in book"), "{}", ran.stderr);
}

/// Who has read a question or a title and no id names it by its words.
#[test]
fn what_is_asked_about_is_named_by_its_words() {
    let stand = book();
    let why = |name: &str| stand.run(&["why", "2026-03-31-1", name]);
    for (id, words) in [
        ("coldest_temperature", "How cold is the coldest spot"),
        ("coldest_temperature", "how cold is the COLDEST spot of the system?"),
        ("cores_in", "cores still in"),
        ("pump_alone", "The pump on its own"),
    ] {
        let by_id = why(id).stdout;
        assert!(by_id.starts_with(&format!("`{id}`")), "{by_id}");
        assert_eq!(why(words).stdout, by_id, "{words}");
    }
    let told = |name: &str| {
        let ran = why(name);
        assert_eq!((ran.status, ran.stdout.as_str()), (Some(2), ""), "{ran:?}");
        ran.stderr.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    assert!(told("cores").contains("`cores_in`"), "{}", told("cores"));
    assert!(told("reading").contains("with such words there are `"), "{}", told("reading"));
    assert!(told("blank_of").ends_with("did you mean `blank_off`?"), "{}", told("blank_of"));
    assert!(told("nothing of the kind").contains("the ids stand in the verdict as JSON"));
}

#[test]
fn a_mistyped_filter_is_told() {
    let stand = book();
    let ran = stand.run(&["cases", "--cause", "pump_oill"]);
    assert_eq!(ran.status, Some(2));
    assert_eq!(ran.stderr, "dryhold: there is no cause `pump_oill`; did you mean `pump_oil`?\n");
    let ran = stand.run(&["cases", "--since", "soon"]);
    assert_eq!(ran.status, Some(2));
    assert!(ran.stderr.contains("--since <DAY>"), "{}", ran.stderr);
    assert!(ran.stderr.contains("today, yesterday, or 7 days ago"), "{}", ran.stderr);
}

#[test]
fn an_empty_book_and_one_that_is_no_folder_are_told_apart() {
    let stand = BookStand::new();
    let ran = stand.run(&["cases"]);
    assert_eq!((ran.stdout.as_str(), ran.status), ("", Some(0)));
    assert_eq!(ran.stderr, "There is no case in book\n");
    let ran = stand.stand.run(&["--book", "hollow.yaml", "cases"]);
    assert_eq!(ran.status, Some(2));
    assert!(ran.stderr.contains("the folder hollow.yaml can't be read"), "{}", ran.stderr);
}

#[test]
fn what_cannot_be_read_is_named_and_hides_nothing() {
    let stand = book();
    let damaged = fs::read_to_string(stand.path("2026-03-31-1")).unwrap();
    let damaged = damaged.replace("15 micron", "16 micron");
    fs::write(stand.path("2026-03-31-1"), &damaged).unwrap();
    fs::write(stand.path("2026-03-29-1"), "no case\n").unwrap();
    fs::write(stand.path("2026-03-29-2"), "").unwrap();
    let torn = fs::read_to_string(stand.path("2026-04-01-1")).unwrap();
    fs::write(stand.path("2026-04-01-1"), &torn[..torn.len() - 5]).unwrap();
    let ran = stand.run(&["cases"]);
    assert_eq!(ran.status, Some(0));
    let line = 1 + damaged.lines().position(|line| line.contains("16 micron")).unwrap();
    let rows: Vec<String> = [
        "Line 2 of the case file was not written to its end and is left out.".to_owned(),
        format!(
            "Line {line} of the case file: its checksum doesn't fit: it was changed or damaged. \
             Everything before it is kept."
        ),
        "2026-03-29-1  can't be read".to_owned(),
        "Line 1 of the case file: it can't be read (".to_owned(),
        "2026-03-29-2  can't be read\n              The case file is empty.".to_owned(),
        "2026-03-30-1  closed  2026-03-30  12 Mill Lane".to_owned(),
    ]
    .into();
    for row in rows {
        assert!(ran.stdout.contains(&row), "{row}\n{}", ran.stdout);
    }
    assert_eq!(ran.stderr, "6 cases: 3 open, 1 closed, 2 can't be read.\n");
    let json = stand.run(&["cases", "--json", "--closed"]);
    assert_eq!(ids(&json), ["2026-03-30-1", "2026-03-29-2", "2026-03-29-1"]);
}

#[test]
fn texts_of_people_are_shown_inert() {
    let stand = BookStand::new();
    let mut events = scenario_events("pump_alone/sound");
    events.push(described(Detail::Place, "roof\u{1b}[2J\u{202e}x\nclosed"));
    stand.keep("a\u{202e}b", "2026-03-31", &events);
    let ran = stand.run(&["cases"]);
    assert!(
        ran.stdout.starts_with("a<U+202E>b  open    2026-03-31  roof<U+001B>[2J<U+202E>x closed")
    );
    assert!(ran.stdout.lines().all(dryhold::text::is_inert), "{:?}", ran.stdout);
}

/// Rows of an index are used only after the file has rested for longer than the steps of its times.
fn rest() {
    std::thread::sleep(std::time::Duration::from_millis(2_300));
}

/// What the index says is what a list without it says, whatever happened to the files meanwhile.
#[test]
fn a_stale_index_is_noticed() {
    let stand = book();
    rest();
    let first = stand.run(&["cases", "--json"]);
    let index = stand.stand.path("book/list.index");
    let written = fs::read_to_string(&index).unwrap();
    assert_eq!(stand.run(&["cases", "--json"]), first);
    assert_eq!(fs::read_to_string(&index).unwrap(), written, "nothing was judged again");
    let fresh = |stand: &BookStand| {
        let listed = stand.run(&["cases", "--json"]);
        fs::remove_file(&index).unwrap();
        assert_eq!(stand.run(&["cases", "--json"]), listed, "the index said something else");
        listed
    };
    // A case that goes on, one that is changed to as many bytes, one that is taken away, a new one.
    stand.keep("2026-04-01-1", "2026-04-01", &scenario_events("pump_alone/sound"));
    let text = fs::read_to_string(stand.path("2026-03-31-1")).unwrap();
    fs::write(stand.path("2026-03-31-1"), text.replace("15 micron", "16 micron")).unwrap();
    fs::remove_file(stand.path("2026-03-31-2")).unwrap();
    stand.keep("2026-04-02-1", "2026-04-02", &scenario_events("rig_alone/old_hoses"));
    let listed = fresh(&stand);
    assert_eq!(ids(&listed), ["2026-04-02-1", "2026-04-01-1", "2026-03-31-1", "2026-03-30-1"]);
    let cases = &listed.json()["cases"];
    assert_eq!(cases[0]["led"]["cause"], "rig_leak");
    assert_eq!(cases[1]["state"], "led");
    assert_eq!(cases[2]["notices"].as_array().unwrap().len(), 1);
}

#[test]
fn a_damaged_index_is_told_and_made_anew() {
    let stand = book();
    rest();
    let first = stand.run(&["cases", "--json"]);
    let index = stand.stand.path("book/list.index");
    let written = fs::read_to_string(&index).unwrap();
    for (spoilt, why) in [
        (written.replacen("12 Mill Lane", "99 Mill Lane", 1), "its checksum doesn't fit"),
        (written.replacen("\"v\":4", "\"v\"4", 1), "its first line is damaged"),
        (String::new(), "it has no line"),
    ] {
        fs::write(&index, spoilt).unwrap();
        let ran = stand.run(&["cases", "--json"]);
        assert_eq!(ran.stdout, first.stdout);
        let told = ran.stderr.split_whitespace().collect::<Vec<_>>().join(" ");
        let expected = format!("The index of the cases can't be used ({why}); it is made anew.");
        assert_eq!(told, expected);
        assert_eq!(stand.run(&["cases", "--json"]), first, "it is whole again");
    }
    // One that another version wrote is made anew without a word: nothing is wrong with it.
    let other = written.replacen("\"program\":\"", "\"program\":\"9", 1);
    fs::write(&index, &other).unwrap();
    assert_eq!(stand.run(&["cases", "--json"]), first);
    assert!(!fs::read_to_string(&index).unwrap().contains("\"program\":\"9"));
}

#[cfg(unix)]
#[test]
fn a_book_that_cannot_be_written_is_listed_all_the_same() {
    let stand = book();
    fs::create_dir(stand.stand.path("book/list.index")).unwrap();
    let ran = stand.run(&["cases"]);
    assert_eq!(ran.status, Some(0));
    assert_eq!(ran.stdout.matches("open").count(), 3, "{}", ran.stdout);
    assert!(ran.stderr.contains("The index of the cases can't be kept"), "{}", ran.stderr);
}
