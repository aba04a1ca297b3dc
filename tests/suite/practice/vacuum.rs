//! A system that stands in vacuum: what lets air or oil into it is refused, and what is unsafe with
//! it is told although it is done.

use dryhold::bench::hookup::Hookup;
use dryhold::bench::rig::Valve;
use dryhold::rehearsal::practice::{Exercise, LegKind, TestOf, debrief};
use dryhold::rehearsal::rigged::Fault;

use super::{begun, does, named, refused};

/// Asserts that a line is refused as an unsafe step, and says with what words.
fn is_unsafe(exercise: &mut Exercise<'_>, line: &str) -> String {
    let (before, minutes) = (exercise.unsafe_steps().len(), exercise.minutes());
    let said = refused(exercise, line);
    assert_eq!(exercise.unsafe_steps().len(), before + 1, "{line}: {said}");
    assert!(!exercise.unsafe_steps()[before].was_done, "{line}");
    assert_eq!(exercise.minutes(), minutes, "what is refused takes no time");
    said
}

#[test]
fn a_vented_rig_is_not_opened_onto_an_evacuated_system() {
    let mut exercise = begun(&[]);
    does(&mut exercise, &["lock", "vent"]);
    let said = is_unsafe(&mut exercise, "open system");
    assert!(said.contains("air and moisture are let into an evacuated system"), "{said}");
    assert!(said.contains("Pump the rig down against the system's shut valve first"), "{said}");
    // With the pump's valve shut the hose is full of air all the same.
    does(&mut exercise, &["shut pump"]);
    is_unsafe(&mut exercise, "open system");
    does(&mut exercise, &["open pump", "pull 3", "open system", "pull 1"]);
}

#[test]
fn a_pump_that_stands_is_not_opened_to_a_system_under_vacuum() {
    let mut exercise = begun(&[]);
    does(&mut exercise, &["lock", "open pump"]);
    let said = is_unsafe(&mut exercise, "open system");
    assert!(said.contains("the pump is off and its valve is open"), "{said}");
    does(&mut exercise, &["shut pump", "open system"]);
    let said = is_unsafe(&mut exercise, "open pump");
    assert!(said.contains("shut system, open pump, pull 2"), "{said}");
    does(&mut exercise, &["shut system", "open pump", "pull 2", "open system"]);
}

#[test]
fn the_pump_is_not_stopped_while_it_is_open_to_the_system() {
    let mut exercise = begun(&[]);
    does(&mut exercise, &["lock", "open pump", "pull 2", "open system", "pull 5"]);
    let said = is_unsafe(&mut exercise, "halt");
    assert!(said.contains("drawn back") && said.contains("shut system"), "{said}");
    does(&mut exercise, &["shut system", "halt"]);
    // Behind the pump's own shut valve it may be stopped as well.
    does(&mut exercise, &["pull 2", "open system", "shut pump", "halt"]);
}

/// Whatever is wrong with it, a rig that has been pumped down is opened, so that nobody is kept
/// from the work.
#[test]
fn a_rig_with_a_fault_is_opened_once_it_is_pumped_down() {
    let rigs: [&[(&str, Fault, f64)]; 3] = [
        &[("pump_oil", Fault::OilWet, 4e-3)],
        &[("moisture", Fault::Water, 0.02)],
        &[("restriction", Fault::CoreIn, 6e-4)],
    ];
    for faults in rigs {
        let mut exercise = begun(faults);
        does(&mut exercise, &["lock", "vent", "open pump", "pull 5", "open system", "pull 5"]);
        let set = exercise.dealt().hand.session().configuration();
        assert_eq!(set.hookup, Hookup::System);
        assert!(!set.are_open[Valve::System as usize], "what was dealt stays as it was");
        assert_eq!(exercise.unsafe_steps(), []);
    }
}

#[test]
fn time_in_deep_vacuum_without_a_lock_is_done_told_and_counted_once() {
    let mut exercise = begun(&[]);
    let said = does(&mut exercise, &["wait 5"]);
    assert!(said.contains("is not locked out") && said.contains("lock"), "{said}");
    let said = does(&mut exercise, &["vent", "cap", "pull 6"]);
    assert!(said.contains("is not locked out"), "the caution stands at each step: {said}");
    let [step] = exercise.unsafe_steps() else { panic!("{:?}", exercise.unsafe_steps()) };
    assert!(step.was_done && step.at < 0.01, "{step:?}");
    let said = does(&mut exercise, &["lock", "pull 2"]);
    assert!(!said.contains("locked out"), "{said}");
}

#[test]
fn the_pump_behind_its_own_shut_valve_pulls_on_nothing_and_is_no_test() {
    let mut exercise = begun(&[("moisture", Fault::Water, 0.02)]);
    let said = does(&mut exercise, &["lock", "pull 15"]);
    assert!(said.starts_with("The valve at the pump is shut: the pump pulls on nothing"), "{said}");
    let kinds: Vec<LegKind> = exercise.legs().iter().map(|leg| leg.kind).collect();
    assert_eq!(kinds, [LegKind::LockOut, LegKind::OnNothing]);
    assert!(exercise.legs()[1].bits == 0.0 && exercise.legs()[1].minutes >= 15.0);
    let debrief = debrief(&mut exercise, named("moisture", "dry_system"));
    let dearest = debrief.dearest.unwrap();
    assert!(dearest.sentence.contains("pulled on nothing"), "{dearest:?}");
    // Waited for, the same time is a hold; and a pump that clears its oil meanwhile is of use.
    let mut waits = begun(&[("moisture", Fault::Water, 0.02)]);
    does(&mut waits, &["lock", "wait 15", "ballast open", "pull 15"]);
    assert!(waits.legs().iter().any(|leg| leg.kind == LegKind::Test(TestOf::Hold)));
    let idle = waits.legs().iter().find(|leg| leg.kind == LegKind::OnNothing).unwrap();
    assert_eq!(idle.idle, 0.0, "{idle:?}");
}
