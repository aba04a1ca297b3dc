//! What is proposed next once a repair has outdated what was read before it.

use dryhold::case::{Case, Ending};
use dryhold::report::verdict;

use crate::commands::{built_in, scenario_events};

/// The verdict of a scenario, line by line.
fn told(scenario: &str) -> Vec<String> {
    let (book, engine) = built_in();
    let case = Case::replay(book, engine, &scenario_events(scenario)).unwrap();
    verdict(&case, &Ending::Done).iter().map(|line| line.to_text()).collect()
}

#[test]
fn what_a_repair_has_outdated_comes_before_what_was_never_read() {
    let lines = told("standing_pressure/flare_leaks");
    let next = lines.iter().position(|line| line == "What to check next").unwrap();
    let first = &lines[next + 1];
    assert!(first.starts_with("- Go on with \"A standing pressure test"), "{first}");
}

/// The hold that led on into the few readings has not been gone through to its end.
#[test]
fn after_a_few_readings_a_full_hold_comes_first() {
    for scenario in ["few_readings/rises", "few_readings/quiet", "few_readings/coarse"] {
        let lines = told(scenario);
        let going: Vec<&String> =
            lines.iter().filter(|line| line.starts_with("- Go on with")).collect();
        let [going] = going[..] else { panic!("{scenario}: {lines:?}") };
        let hold = "- Go on with \"Shut the system off and read the rise\".";
        assert!(going.starts_with(hold), "{scenario}: {going}");
    }
}

#[test]
fn a_hold_from_before_a_repair_is_open_again() {
    let (book, engine) = built_in();
    let case = Case::replay(book, engine, &scenario_events("rises/flare_made_good")).unwrap();
    let straight = book.find_finding("hold_straight").unwrap();
    let reading = book.find_question("hold_readings").unwrap();
    let open = case.checks_left();
    let hold = open.iter().find(|check| check.finding == straight);
    assert!(hold.is_some_and(|check| check.questions.contains(&reading)), "{open:?}");
    let (_, given) = case.record().answers(reading).last().unwrap();
    assert!(case.worksheet().outdated(reading, given.order).is_some(), "the joint was made good");
}

#[test]
fn what_showed_a_cause_is_said_once_though_it_was_read_twice() {
    let lines = told("rises/flare_made_good");
    let shown = lines.iter().find(|line| line.starts_with("What showed it before the work:"));
    let rises = "In 30 min it rose by 1820 micron";
    assert_eq!(shown.unwrap().matches(rises).count(), 1, "{shown:?}");
}
