//! Every scenario, typed at the plain prompts.

use std::path::Path;

use dryhold::case::{Case, Ending, Event};
use dryhold::evidence::Engine;
use dryhold::handbook::Handbook;
use serde_json::Value;

use super::given::{Came, faults_of_all, run};
use super::typist::run_typed;
use crate::commands::built_in;
use crate::handbook::scenario;

/// What happened, but for what a prompt alone knows: the words by which a choice was typed, and how long
/// somebody waited.
fn happened(events: &[Event]) -> Vec<Value> {
    let is_kept = |event: &&Event| !matches!(event, Event::Waited { .. } | Event::Noted { .. });
    let bare = |event: &Event| {
        let mut value = serde_json::to_value(event).unwrap();
        value.as_object_mut().map(|fields| fields.remove("typed"));
        value
    };
    events.iter().filter(is_kept).map(bare).collect()
}

/// What stands before a scenario in which a prompt asks or takes something else than an answers file
/// does: a file may leave open what a refrigerant's name tells, and give a number without its unit.
const APART: &str = "apart: ";

/// No more scenarios than this are apart.
const MOST_APART: usize = 25;

fn faults_of(path: &Path, is_whole: bool, handbook: &Handbook, engine: &Engine) -> Vec<String> {
    let scenario = scenario(path, handbook);
    if scenario.rig.is_some() {
        return Vec::new();
    }
    let (given, turns) = run(&scenario, handbook, engine, is_whole);
    if matches!(given.ending, Ending::Unusable(_)) {
        return Vec::new();
    }
    let mut case = Case::open(handbook, engine, scenario.tree);
    let Some(ending) = run_typed(turns, &mut case) else {
        return vec![format!("{APART}{}", path.display())];
    };
    let came = Came::of(&case, ending, is_whole);
    let (one, other) = (happened(&came.events), happened(&given.events));
    let mut faults = Vec::new();
    if one != other {
        let parted = one.iter().zip(&other).position(|(one, other)| one != other);
        let at = parted.unwrap_or(one.len().min(other.len()));
        faults.push(format!("{:?} instead of {:?} at {at}", one.get(at), other.get(at)));
    }
    if (&came.ranking, &came.ending) != (&given.ranking, &given.ending) {
        faults.push(format!("another verdict: {:?}", came.ending));
    }
    faults.into_iter().map(|fault| format!("{}: {fault}", path.display())).collect()
}

#[test]
fn every_scenario_comes_to_the_same_case_typed_at_the_plain_prompts() {
    let (handbook, engine) = built_in();
    let told = faults_of_all(|path, is_whole| faults_of(path, is_whole, handbook, engine));
    let (apart, faults): (Vec<_>, Vec<_>) =
        told.into_iter().partition(|fault| fault.starts_with(APART));
    assert!(apart.len() <= MOST_APART, "{}:\n{}", apart.len(), apart.join("\n"));
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}
