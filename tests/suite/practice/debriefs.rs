//! What is said afterwards.

use dryhold::rehearsal::practice::{
    Exercise, Judged, LeadWas, LegKind, Mistake, Named, Record, TestOf, dearest, debrief, judged,
};
use dryhold::rehearsal::rigged::Fault;

use super::{GROUND, begun, cause, does, named};

const WET_OIL: &[(&str, Fault, f64)] = &[("pump_oil", Fault::OilWet, 4e-3)];

/// What an exercise comes to, without the assistant's way.
struct Ended {
    judged: Judged,
    dearest: Option<Mistake>,
}

fn ended(exercise: &mut Exercise<'_>, named: Named) -> Ended {
    exercise.end();
    let judged = judged(exercise, &named);
    Ended { dearest: dearest(exercise, &named, &judged), judged }
}

#[test]
fn a_good_way_is_right_and_has_no_mistake() {
    let mut exercise = begun(WET_OIL);
    does(&mut exercise, &["lock", "vent", "cap", "ballast look", "oil", "pull 6"]);
    assert_eq!(exercise.unsafe_steps(), []);
    let debrief = debrief(&mut exercise, named("pump_oil", "change_oil"));
    assert!(debrief.judged.is_right() && debrief.judged.is_right_to_do && debrief.judged.mends());
    assert_eq!(debrief.hidden, ["4.0 g of water in the pump's oil"]);
    assert_eq!(debrief.dearest, None);
    let pump = exercise.legs().iter().find(|leg| leg.kind == LegKind::Test(TestOf::Pump)).unwrap();
    assert!(pump.bits > 0.1, "{pump:?}");
    let oil = exercise.legs().iter().find(|leg| leg.kind == LegKind::Test(TestOf::Oil)).unwrap();
    assert_eq!(oil.lead.0, Some(cause("pump_oil")), "{oil:?}");
    // The assistant at the same rig is right too.
    let lead = debrief.assistant(&GROUND.handbook);
    assert_eq!(lead, Some(LeadWas::Right), "{:?}", debrief.assisted);
    assert!(debrief.assisted.unwrap().minutes > 5.0);
}

#[test]
fn a_repair_of_what_was_no_fault_is_the_dearest_mistake() {
    let mut exercise = begun(&[("restriction", Fault::CoreIn, 6e-4)]);
    does(&mut exercise, &["vent", "cap", "change oil", "oil"]);
    let ended = ended(&mut exercise, named("restriction", "open_path"));
    let dearest = ended.dearest.unwrap();
    assert!((13.0..16.0).contains(&dearest.minutes), "{dearest:?}");
    assert!(dearest.sentence.starts_with("`change oil` cost"), "{dearest:?}");
    assert!(dearest.sentence.contains("before anything had shown it"), "{dearest:?}");
}

#[test]
fn a_remedy_that_mends_nothing_costs_what_it_would_have_taken() {
    let mut exercise = begun(WET_OIL);
    let ended = ended(&mut exercise, named("system_leak", "find_leak"));
    assert!(!ended.judged.is_right() && !ended.judged.is_right_to_do && !ended.judged.mends());
    assert_eq!(ended.judged.missed, [cause("pump_oil")]);
    assert_eq!(ended.judged.not_there, [cause("system_leak")]);
    let dearest = ended.dearest.unwrap();
    assert_eq!(dearest.minutes, 120.0, "{dearest:?}");
    assert!(dearest.sentence.starts_with("You named: `find leak`."), "{dearest:?}");
}

#[test]
fn a_test_made_twice_and_one_made_too_long_are_told() {
    let mut exercise = begun(WET_OIL);
    does(
        &mut exercise,
        &["vent", "cap", "ballast look", "pull 6", "vent", "rig", "vent", "cap", "pull 12"],
    );
    let twice = ended(&mut exercise, named("pump_oil", "change_oil")).dearest.unwrap();
    assert!(twice.sentence.contains("had been done before"), "{twice:?}");
    assert!(twice.minutes > 12.0, "{twice:?}");
    let mut exercise = begun(WET_OIL);
    does(&mut exercise, &["vent", "cap", "ballast look", "pull 40"]);
    let long = ended(&mut exercise, named("pump_oil", "change_oil")).dearest.unwrap();
    assert!(long.sentence.starts_with("You went on with the pump alone"), "{long:?}");
    assert!((20.0..40.0).contains(&long.minutes), "{long:?}");
}

#[test]
fn nothing_wrong_is_right_of_a_sound_rig_alone() {
    let mut sound = begun(&[]);
    let right = ended(&mut sound, named("", ""));
    assert!(right.judged.is_right() && right.judged.is_right_to_do && right.judged.mends());
    let mut wet = begun(WET_OIL);
    let wrong = ended(&mut wet, named("", ""));
    assert!(!wrong.judged.is_right() && !wrong.judged.is_right_to_do && !wrong.judged.mends());
}

#[test]
fn the_same_way_gives_the_same_record_and_one_that_was_left_hides_the_fault() {
    let record = || {
        let mut exercise = begun(WET_OIL);
        does(&mut exercise, &["vent", "cap", "pull 6"]);
        let debrief = debrief(&mut exercise, named("pump_oil", "change_oil"));
        serde_json::to_string(&Record::of(&exercise, Some(&debrief))).unwrap()
    };
    let first = record();
    assert_eq!(first, record());
    let back: Record = serde_json::from_str(&first).unwrap();
    assert_eq!(back.handbook, GROUND.handbook.hash());
    assert!(back.outcome.unwrap().right);
    let left = serde_json::to_string(&Record::of(&begun(WET_OIL), None)).unwrap();
    assert!(!left.contains("oil"), "{left}");
}

/// Water that is pumped through the oil spoils it: naming that is no fault, and drying a system
/// for it is.
#[test]
fn what_the_work_brought_may_be_named_and_is_no_excuse() {
    let rig: &[(&str, Fault, f64)] = &[
        ("restriction", Fault::CoreIn, 8e-4),
        ("refrigerant_in_oil", Fault::RefrigerantInOil, 0.05),
    ];
    let pulled =
        ["lock", "open pump", "pull 2", "open system", "pull 60", "shut system", "vent", "core"];
    let mut exercise = begun(rig);
    does(&mut exercise, &pulled);
    let right = named("restriction refrigerant_in_oil pump_oil", "recover_again change_oil");
    let right = ended(&mut exercise, right);
    assert_eq!(right.judged.brought, Some(cause("pump_oil")));
    assert!(right.judged.is_right() && right.judged.mends(), "{:?}", right.judged);
    let mut exercise = begun(rig);
    does(&mut exercise, &pulled);
    let wrong = ended(&mut exercise, named("moisture pump_oil", "dry_system change_oil"));
    assert_eq!(wrong.judged.needless, [GROUND.handbook.find_action("dry_system").unwrap()]);
    let dearest = wrong.dearest.unwrap();
    assert_eq!(dearest.minutes, 120.0, "{dearest:?}");
    assert!(dearest.sentence.starts_with("You named needlessly: `dry system`."), "{dearest:?}");
}

#[test]
fn a_look_that_was_lacking_and_is_made_later_makes_up_for_it() {
    // A pump that reads as low as its rating needs no look besides; this one reads high.
    let rig = &[("pump_worn", Fault::PumpWorn, 40.0)];
    let mut late = begun(rig);
    does(&mut late, &["vent", "cap", "pull 6", "ballast look"]);
    assert_eq!(ended(&mut late, named("pump_worn", "repair_pump")).dearest, None);
    let mut never = begun(rig);
    does(&mut never, &["vent", "cap", "pull 6"]);
    let dearest = ended(&mut never, named("pump_worn", "repair_pump")).dearest.unwrap();
    assert!(dearest.sentence.contains("not known besides: ballast state"), "{dearest:?}");
}

/// Once the oil is changed, what led is what was there at first.
#[test]
fn what_led_is_told_of_the_beginning() {
    let mut exercise = begun(WET_OIL);
    does(&mut exercise, &["vent", "cap", "ballast look", "oil", "pull 6", "change oil", "pull 6"]);
    let lead = exercise.legs().last().unwrap().lead;
    assert_eq!(lead.0, Some(cause("pump_oil")), "{lead:?}");
    assert!(lead.1 > 0.8, "{lead:?}");
}

#[test]
fn a_fault_that_is_left_in_costs_the_visit() {
    let mut exercise = begun(&[("restriction", Fault::CoreIn, 6e-4)]);
    does(&mut exercise, &["lock", "open pump", "pull 2", "open system", "pull 20"]);
    let ended = ended(&mut exercise, named("", ""));
    assert_eq!(ended.judged.left, [cause("restriction")]);
    let dearest = ended.dearest.unwrap();
    assert_eq!(dearest.minutes, exercise.minutes(), "{dearest:?}");
    assert!(dearest.sentence.starts_with("You left a narrow or shut path in."), "{dearest:?}");
}

/// Another gauge comes with its leaflet, so that what it reads tells at once. A reading that still
/// falls, as that of a dirty gauge does for long, is told to fall.
#[test]
fn another_gauge_tells_that_the_first_was_off() {
    let mut exercise = begun(&[("gauge_off", Fault::GaugeDirty, 1.0)]);
    does(&mut exercise, &["vent", "cap", "ballast look", "pull 6"]);
    assert!(exercise.legs().last().unwrap().shown.ends_with(", still falling"));
    does(&mut exercise, &["pull 14"]);
    assert!(!exercise.legs().last().unwrap().shown.contains("falling"));
    does(&mut exercise, &["change gauge", "pull 8"]);
    let leg = exercise.legs().last().unwrap();
    assert!(leg.has_told && leg.lacks.is_empty(), "{leg:?}");
    let held = |held: &[f64]| held[cause("gauge_off").index()];
    assert!(held(&leg.told) > 2.0 * held(&leg.before), "{leg:?}");
    let likeliest = leg.told.iter().copied().fold(0.0, f64::max);
    assert_eq!(held(&leg.told), likeliest, "{leg:?}");
}
