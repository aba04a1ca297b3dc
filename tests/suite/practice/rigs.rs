//! Which rig is dealt, how it stands, and what happens at it.

use dryhold::bench::chance::Chance;
use dryhold::rehearsal::practice::{
    Argument, Exercise, LegKind, Level, Slot, TestOf, deal, operations,
};
use dryhold::rehearsal::rigged::Fault;

use super::{GROUND, begun, does, ranges, refused};

#[test]
fn a_level_and_a_seed_give_one_rig() {
    let ranges = ranges();
    let ids = |level, seed| {
        let dealt = deal(&ranges, &GROUND.handbook, level, seed).unwrap();
        let ids = dealt.causes.iter().map(|id| GROUND.handbook.cause(*id).id.clone());
        (ids.collect::<Vec<_>>(), dealt.symptom, dealt.shown, dealt.faults)
    };
    assert_eq!(ids(Level::Hard, 3), ids(Level::Hard, 3));
    assert_ne!(ids(Level::Mixed, 3).3, ids(Level::Mixed, 4).3);
    for seed in 1..5 {
        let (causes, symptom, ..) = ids(Level::Easy, seed);
        assert_eq!(causes.len(), 1, "{causes:?}");
        assert_ne!(symptom, "none", "something is seen at an easy rig");
    }
}

#[test]
fn hard_rigs_are_of_four_kinds() {
    let ranges = ranges();
    let mut seen = [false; 4];
    for seed in 1..25 {
        let dealt = deal(&ranges, &GROUND.handbook, Level::Hard, seed).unwrap();
        let gauge = GROUND.handbook.find_cause("gauge_off").unwrap();
        let kind = match dealt.causes.as_slice() {
            [] => 0,
            [one] if *one == gauge => 1,
            [_] => 2,
            [_, _] => 3,
            more => panic!("{more:?}"),
        };
        seen[kind] = true;
        if seen.iter().all(|kind| *kind) {
            return;
        }
    }
    panic!("not every kind came up: {seen:?}");
}

#[test]
fn the_story_tells_the_job_and_no_fault() {
    let exercise = begun(&[("pump_oil", Fault::OilWet, 4e-3)]);
    let story: Vec<String> = exercise.story().iter().map(|line| line.to_text()).collect();
    let story = story.join(" ");
    for told in ["It asks for 500 micron", "R-410A", "would not come below", "both valves are shut"]
    {
        assert!(story.contains(told), "{told}: {story}");
    }
    assert!(!story.contains("water") && !story.contains("wet"), "{story}");
    assert_eq!(exercise.minutes(), 0.0);
}

#[test]
fn what_is_hazardous_is_refused_told_and_counted_and_takes_no_time() {
    let mut exercise = begun(&[]);
    let said = refused(&mut exercise, "cap");
    assert!(said.contains("under vacuum") && said.contains("vent"), "{said}");
    does(&mut exercise, &["open pump"]);
    let before = exercise.minutes();
    does(&mut exercise, &["pull 1"]);
    let said = refused(&mut exercise, "open system");
    assert!(said.contains("Lock it out first: lock."), "{said}");
    let said = refused(&mut exercise, "press 20");
    assert!(said.contains("bursts vacuum hoses"), "{said}");
    let said = refused(&mut exercise, "warm all 20");
    assert!(said.contains("open system, pull"), "{said}");
    does(&mut exercise, &["lock", "open system", "pull 1"]);
    let said = refused(&mut exercise, "warm compressor 45");
    assert!(said.contains("50 °C"), "{said}");
    let said = refused(&mut exercise, "vent");
    assert!(said.contains("shut system"), "{said}");
    let counted = |exercise: &Exercise<'_>| {
        let done = exercise.unsafe_steps().iter().filter(|step| step.was_done).count();
        (exercise.unsafe_steps().len() - done, done)
    };
    assert_eq!(counted(&exercise), (6, 1), "the minute that was pulled without a lock was done");
    assert!(exercise.unsafe_steps()[0].at < before + 0.01);
    // What merely can't be done is no unsafe step.
    let said = refused(&mut exercise, "nitrogen");
    assert!(said.starts_with("That can't be done"), "{said}");
    assert_eq!(counted(&exercise), (6, 1));
}

/// Every operation once, as far as the rig lets it: what comes of it can be taken as an answer.
#[test]
fn what_is_seen_can_be_taken_as_answers() {
    let mut exercise = begun(&[("pump_oil", Fault::OilWet, 1e-3)]);
    let lines = [
        "read",
        "lock",
        "open pump",
        "pull 2",
        "open system",
        "pull 20",
        "sniff",
        "feel",
        "second",
        "warm compressor 12",
        "pull 10",
        "warm compressor 0",
        "shut system",
        "wait 20",
        "open system",
        "pull 5",
        "sweep 10",
        "open pump",
        "open system",
        "pull 30",
        "shut system",
        "wait 12",
        "vent",
        "cap",
        "ballast look",
        "pull 6",
        "read",
        "touch pump",
        "oil",
        "air",
        "ballast open",
        "pull 1",
        "ballast shut",
        "change oil",
        "pull 6",
        "vent",
        "line hose",
        "pull 5",
        "shut pump",
        "wait 4",
        "vent",
        "line tool",
        "pull 5",
        "vent",
        "rig",
        "pull 6",
        "touch hose",
        "vent",
        "feed",
        "clean",
        "change gauge",
        "remake hose",
        "change hose",
        "change rig",
        "core",
        "wide",
        "system",
        "off",
        "press 30",
        "nitrogen",
        "wait 60",
        "bubbles gas",
        "bubbles indoor",
        "bubbles compressor",
        "bubbles outdoor",
        "bubbles liquid",
        "release",
        "mend indoor",
        "system",
        "halt",
    ];
    does(&mut exercise, &lines);
    assert_eq!(exercise.unread(), <&[String]>::default());
    let tested = |test| exercise.legs().iter().any(|leg| leg.kind == LegKind::Test(test));
    for test in [
        TestOf::Pump,
        TestOf::Rig,
        TestOf::System,
        TestOf::Hold,
        TestOf::ShutOff,
        TestOf::Oil,
        TestOf::Ballast,
        TestOf::Touch,
        TestOf::Air,
        TestOf::Temperature,
        TestOf::Warmth,
        TestOf::Exhaust,
        TestOf::Nitrogen,
        TestOf::Bubbles,
    ] {
        assert!(tested(test), "{test:?}");
    }
    // All time belongs to a leg but what passed since the last one.
    exercise.end();
    let sum: f64 = exercise.legs().iter().map(|leg| leg.minutes).sum();
    assert!((sum - exercise.minutes()).abs() < 0.1, "{sum} of {}", exercise.minutes());
}

#[test]
fn touched_fittings_tell_only_where_the_pump_pulls_on_the_gauge() {
    let mut exercise = begun(&[]);
    let said = does(&mut exercise, &["touch hose"]);
    assert!(said.ends_with("but the pump doesn't pull on it."), "{said}");
    assert!(exercise.legs().is_empty());
    let said = does(&mut exercise, &["vent", "rig", "pull 5", "touch hose"]);
    assert!(said.ends_with("it stays."), "{said}");
    assert!(exercise.legs().iter().any(|leg| leg.kind == LegKind::Test(TestOf::Touch)));
}

#[test]
fn the_board_tells_how_it_stands_and_what_was_seen() {
    let mut exercise = begun(&[]);
    does(&mut exercise, &["read"]);
    refused(&mut exercise, "cap");
    let board: Vec<String> = exercise.board().iter().map(|line| line.to_text()).collect();
    assert!(board[0].starts_with("The rig is on the system; valve at the pump shut"), "{board:?}");
    assert!(
        board[1].starts_with("0 min: read the gauge. The gauge on the system shows "),
        "{board:?}"
    );
    assert_eq!(board.len(), 2, "what was refused changed nothing: {board:?}");
}

/// Whatever is done in whatever order, nothing breaks, all readings can be taken, and no minute is
/// lost or counted twice.
#[test]
fn acts_in_any_order_keep_the_count() {
    for seed in 1..4 {
        let mut chance = Chance::new(seed);
        let mut exercise = begun(&[("moisture", Fault::Water, 0.05)]);
        for _ in 0..25 {
            let operations = operations();
            let operation = &operations[(chance.even() * operations.len() as f64) as usize];
            let arguments = operation.slots.iter().map(|slot| match slot {
                Slot::OneOf(_, words) => {
                    Argument::Word((chance.even() * words.len() as f64) as usize)
                }
                Slot::Minutes(_) => Argument::Figure(60.0 + 180.0 * chance.even()),
                Slot::Bar(_) => Argument::Figure(3e6 * chance.even()),
                Slot::Kelvin(_) => Argument::Figure(20.0 * chance.even()),
            });
            let arguments: Vec<Argument> = arguments.collect();
            exercise.act(operation.act(&arguments).unwrap());
        }
        assert_eq!(exercise.unread(), <&[String]>::default());
        assert_eq!(exercise.steps().len(), 25);
        exercise.end();
        let sum: f64 = exercise.legs().iter().map(|leg| leg.minutes).sum();
        assert!((sum - exercise.minutes()).abs() < 0.1, "{sum} of {}", exercise.minutes());
        let refused = exercise.steps().iter().filter(|step| step.refused).count();
        let unsafe_steps = exercise.unsafe_steps().iter().filter(|step| !step.was_done).count();
        assert!(refused >= unsafe_steps);
    }
}
