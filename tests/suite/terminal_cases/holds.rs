//! The readings of a hold at a prompt: one by one, as a list, as a log.

use super::desk::{Desk, one_line};

const HOLD: &str = include_str!("../../fixtures/hold/hold.yaml");
const LOG: &str = include_str!("../../fixtures/hold/hold.csv");
const PLAIN: &str = "--plain --only-rules rules diagnose start";

#[test]
fn readings_typed_one_by_one_are_one_answer() {
    let desk = Desk::with_rules(HOLD);
    let mut person = desk.sit(PLAIN);
    let said = person.answers("0 min 300");
    let hint = "Type one reading now and the next as you read them, or all with their times, such \
                as `0 min 400, 5 min 430 micron`; or @ and the name of a file that holds them, such \
                as `@hold.csv`.";
    assert!(said.contains(hint), "{said}");
    assert!(person.answers("5 min 402").contains("Reading 1: 0 min 300. Next reading?"));
    assert!(person.answers("oops").contains("Reading 3? Enter alone after the last one."));
    let said = person.answers("10 min 497");
    assert!(said.contains("`oops` is no reading; type a pressure"), "{said}");
    person.answers("15 min 600");
    person.answers("back");
    let said = person.answers("15 min 603");
    assert!(said.contains("Taken back: 15 min 600. 3 readings left."), "{said}");
    person.answers("20 min 701");
    person.answers("25 min 798");
    person.answers("");
    let said = person.answers("stop");
    assert!(said.contains("Read as 6 readings over 25 min, 300 micron to 798 micron."), "{said}");
    assert!(said.contains("It rises by 19"), "{said}");
    person.ends(3);
}

#[test]
fn an_interval_alone_begins_readings_that_come_so_far_apart() {
    let desk = Desk::with_rules(HOLD);
    let mut person = desk.sit(PLAIN);
    person.answers("every 10 min");
    let said = person.answers("300");
    let told = "Readings 10 min apart: type the first one alone, then one after the other. First \
                reading?";
    assert!(said.contains(told), "{said}");
    assert!(person.answers("20 min 402").contains("Reading 1, after 0 s: 300."));
    let said = person.answers("402");
    assert!(said.contains("the interval tells the times; type the reading alone."), "{said}");
    let said = person.answers("497 micron");
    assert!(said.contains("Reading 2, after 10 min: 402."), "{said}");
    person.answers("");
    let said = person.answers("stop");
    assert!(said.contains("Read as 3 readings over 20 min, 300 micron to 497 micron."), "{said}");
    person.ends(3);
    let given = ["--only-rules", "rules", "diagnose", "start", "--set", "hold=every 10 min"];
    let output = desk.program(&given).output().unwrap();
    let said = one_line(&String::from_utf8(output.stderr).unwrap());
    let example = "type them too: `300, 420, 510 micron every 10 min`";
    assert!(said.contains(example), "{said}");
}

#[test]
fn a_list_behind_a_reading_goes_on_from_it_or_takes_its_place() {
    for list in [
        "5 min 402, 10 min 497, 15 min 603, 20 min 701 micron",
        "402, 497, 603, 701 micron every 5 min",
        "0 min 300, 5 min 402, 10 min 497, 15 min 603, 20 min 701",
        "300, 402, 497, 603, 701 micron every 5 min",
    ] {
        let desk = Desk::with_rules(HOLD);
        let mut person = desk.sit(PLAIN);
        person.answers("300");
        person.answers(list);
        let said = person.answers("stop");
        let read = "Read as 5 readings over 20 min, 300 micron to 701 micron.";
        assert!(said.contains(read), "{list}: {said}");
        person.ends(3);
    }
}

#[test]
fn leaving_in_the_middle_keeps_what_was_read_for_the_next_time() {
    let desk = Desk::with_rules(HOLD);
    let mut person = desk.sit(PLAIN);
    person.answers("0 min 300");
    person.answers("5 min 402");
    person.answers("stop");
    let said = person.ends(3);
    assert!(said.contains("Kept so far: 2 readings."), "{said}");
    let mut person = desk.sit("--plain --only-rules rules resume");
    let said = person.answers("10 min 497");
    assert!(said.contains("Kept from before: 2 readings, 0 min 300; 5 min 402."), "{said}");
    assert!(person.answers("").contains("Reading 3: 10 min 497."));
    let said = person.answers("stop");
    assert!(said.contains("Read as 3 readings over 10 min, 300 micron to 497 micron."), "{said}");
    person.ends(3);
}

#[test]
fn bare_readings_at_once_are_no_hold() {
    let desk = Desk::with_rules(HOLD);
    let mut person = desk.sit(PLAIN);
    person.answers("300");
    person.answers("402");
    let said = person.answers("stop");
    assert!(said.contains("two readings at once have no times"), "{said}");
    let said = person.ends(3);
    assert!(said.contains("Kept so far: 1 reading."), "{said}");
}

#[test]
fn a_reading_in_another_unit_is_asked_back() {
    let desk = Desk::with_rules(HOLD);
    let mut person = desk.sit(PLAIN);
    person.answers("0.3");
    let said = person.answers("2");
    assert!(said.contains("lower than a service gauge shows"), "{said}");
    assert!(
        person.wants().contains("Reading 1, after 0 s: 300 micron."),
        "the meant value is taken"
    );
    person.control('c');
    person.ends(130);
}

#[test]
fn a_list_and_a_log_are_taken_whole_and_a_missing_log_is_told() {
    let desk = Desk::with_rules(HOLD);
    std::fs::write(desk.path("hold.csv"), LOG).unwrap();
    let mut person = desk.sit(PLAIN);
    person.answers("@no.csv");
    let said = person.answers("@hold.csv");
    assert!(said.contains("the log `no.csv` can't be read: it is not there."), "{said}");
    let said = person.answers("900, 798, 702 micron every 5 min");
    assert!(said.contains("Read as 6 readings over 25 min"), "{said}");
    let said = person.answers("stop");
    assert!(said.contains("Read as 3 readings over 10 min"), "{said}");
    person.ends(3);
}

#[test]
fn a_log_may_be_given_beforehand() {
    let desk = Desk::with_rules(HOLD);
    std::fs::write(desk.path("hold.csv"), LOG).unwrap();
    let run = |arguments: &[&str]| desk.program(arguments).output().unwrap();
    let given = |set: &str| run(&["--only-rules", "rules", "diagnose", "start", "--set", set]);
    let read = given("hold=@hold.csv");
    let said = String::from_utf8(read.stdout).unwrap();
    assert!(said.contains("6 readings over 25 min, 300 micron to 798"), "{said}");
    let read = given("hold=@no.csv");
    assert_eq!(read.status.code(), Some(2));
    let said = String::from_utf8(read.stderr).unwrap();
    assert!(said.contains("the log `no.csv` can't be read"), "{said}");
}

#[test]
fn two_readings_are_taken_as_people_tell_them() {
    for told in ["320 rising to 345 in half an hour", "320 micron at start, 345 after 30 min"] {
        let desk = Desk::with_rules(HOLD);
        let mut person = desk.sit(PLAIN);
        person.answers("320, 345");
        let said = person.answers(told);
        assert!(said.contains("how long after the first was the second one read?"), "{said}");
        assert!(!said.contains("heading") && !said.contains("line 1"), "{said}");
        let said = person.answers("stop");
        assert!(said.contains("2 readings over 30 min, 320 micron to 345 micron"), "{said}");
        person.ends(3);
    }
}

#[test]
fn a_bare_reading_behind_even_ones_is_asked_back_with_the_next_time() {
    let desk = Desk::with_rules(HOLD);
    let mut person = desk.sit(PLAIN);
    person.answers("0 min 400");
    person.answers("5 min 430");
    person.answers("455");
    let said = person.answers("no");
    let back = "The others came evenly: is 455 at 10 min? 1. keep 455 at 10 min 2. type it again";
    assert!(said.contains(back), "{said}");
    person.answers("455");
    person.answers("yes");
    person.answers("17 min 470");
    let said = person.answers("480");
    assert!(said.contains("Reading 4: 17 min 470."), "{said}");
    let said = person.answers("20 min 480");
    assert!(said.contains("the others have times; give this one too"), "{said}");
    person.answers("");
    let said = person.answers("stop");
    assert!(said.contains("Read as 5 readings over 20 min, 400 micron to 480 micron."), "{said}");
    person.ends(3);
}

/// The clock begins with the first reading, which is never left out.
#[test]
fn a_first_reading_at_once_is_kept_and_a_line_with_an_unread_part_is_not_taken() {
    let desk = Desk::with_rules(HOLD);
    let mut person = desk.sit(PLAIN);
    person.answers("350 at once, 7oo, 1050 micron every 5 min");
    let said = person.answers("350 at once, then 700, 1050, 1400, 1750 micron every 5 min");
    assert!(said.contains("7oo") && said.contains("is no reading, and nothing is taken"), "{said}");
    let said = person.answers("stop");
    assert!(said.contains("Read as 5 readings over 20 min, 350 micron to 1750 micron"), "{said}");
    assert!(!said.contains("left out"), "{said}");
    person.ends(3);
}
