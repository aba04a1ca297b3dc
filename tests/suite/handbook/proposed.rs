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

/// The repairs that a verdict lists.
fn repairs(scenario: &str) -> Vec<String> {
    let (book, engine) = built_in();
    let case = Case::replay(book, engine, &scenario_events(scenario)).unwrap();
    let steps = case.insight().repairs.steps;
    steps.iter().map(|step| case.action_view(step.action).id).collect()
}

#[test]
fn a_steady_rise_behind_the_valve_at_the_system_takes_no_hose_off() {
    let listed = repairs("hold_test/limit_failed");
    assert_eq!(listed.first().map(String::as_str), Some("find_leak"), "{listed:?}");
    assert!(!listed.iter().any(|id| id == "replace_part" || id == "remake_joints"), "{listed:?}");
    // A joint that jumps when it is touched is a sign of the rig's own.
    let listed = repairs("hold_test/three_fast");
    assert!(listed.iter().any(|id| id == "replace_part"), "{listed:?}");
}

#[test]
fn oil_that_is_fresh_and_clear_below_a_low_floor_is_not_changed() {
    let listed = repairs("stall_and_rise/pump_told_by_the_way");
    assert!(!listed.iter().any(|id| id == "change_oil" || id == "dry_oil"), "{listed:?}");
    let lines = told("stall_and_rise/misses_its_target");
    assert!(lines.iter().any(|line| line.contains("though no stall was told of")), "{lines:?}");
}
