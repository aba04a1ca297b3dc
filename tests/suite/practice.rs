//! Practice at a simulated rig: what is dealt, what is refused, what is said afterwards.

mod debriefs;
mod rigs;
mod vacuum;

use std::sync::LazyLock;

use dryhold::bench::rig::Rig;
use dryhold::built_in::built_in_handbook;
use dryhold::document::raw::read_rig_ranges;
use dryhold::evidence::Engine;
use dryhold::handbook::CauseId;
use dryhold::rehearsal::practice::{
    Act, Asked, Dealt, Exercise, Ground, Level, Named, Told, read_act,
};
use dryhold::rehearsal::rigged::population::{Drawn, RIG_RANGES, Ranges};
use dryhold::rehearsal::rigged::{Fault, Making, RigAnswers, add_rig_answers};
use dryhold::source::Sources;
use dryhold::text::Line;

/// The built-in handbook with all that an exercise is judged by.
static GROUND: LazyLock<Ground> = LazyLock::new(|| {
    let handbook = built_in_handbook().unwrap();
    let engine = Engine::new(&handbook).unwrap();
    let (raw, _) = add_rig_answers(&mut Sources::default());
    let mapping = RigAnswers::resolve(&raw.unwrap(), &handbook).unwrap();
    Ground { handbook, engine, mapping }
});

fn ranges() -> Ranges {
    let mut sources = Sources::default();
    let id = sources.add("ranges.yaml", RIG_RANGES);
    let (raw, _) = read_rig_ranges(&sources, id);
    Ranges::resolve(&raw.unwrap(), &GROUND.handbook).unwrap()
}

fn cause(id: &str) -> CauseId {
    GROUND.handbook.find_cause(id).unwrap()
}

/// A sound rig but for these faults, as it is when the trainee comes.
fn dealt(faults: &[(&str, Fault, f64)]) -> Dealt {
    let mut making = Making::of(Rig::sound());
    faults.iter().for_each(|(_, fault, size)| making.spoil(*fault, *size));
    let causes = faults.iter().map(|(id, ..)| cause(id)).collect();
    let faults = faults.iter().map(|(_, fault, size)| (*fault, *size)).collect();
    Dealt::of(Drawn { sound: making.clone(), making, causes, faults, seed: 1 }, Level::Easy, 1)
        .unwrap()
}

fn begun(faults: &[(&str, Fault, f64)]) -> Exercise<'static> {
    Exercise::begin(&GROUND, dealt(faults)).unwrap()
}

fn read(line: &str) -> Act {
    match read_act(line) {
        Ok(Asked::Act(act)) => act,
        other => panic!("{line}: {other:?}"),
    }
}

/// Does what the lines say, and gives what the last one told.
fn does(exercise: &mut Exercise<'_>, lines: &[&str]) -> String {
    let mut said = String::new();
    for line in lines {
        let Told { lines, is_done } = exercise.act(read(line));
        said = lines.iter().map(Line::to_text).collect::<Vec<_>>().join(" ");
        assert!(is_done, "{line}: {said}");
    }
    said
}

/// What is refused of a line.
fn refused(exercise: &mut Exercise<'_>, line: &str) -> String {
    let Told { lines, is_done } = exercise.act(read(line));
    let said = lines.iter().map(Line::to_text).collect::<Vec<_>>().join(" ");
    assert!(!is_done, "{line} was done: {said}");
    said
}

/// What is named: causes and actions by their ids, apart by blanks.
fn named(causes: &str, actions: &str) -> Named {
    let action = |id| GROUND.handbook.find_action(id).unwrap();
    Named {
        causes: causes.split_whitespace().map(cause).collect(),
        actions: actions.split_whitespace().map(action).collect(),
        is_given_up: false,
    }
}
