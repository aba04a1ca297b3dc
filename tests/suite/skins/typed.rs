//! Every scenario, typed at the plain prompts.

use dryhold::case::{Case, Event};
use serde_json::Value;

use super::given::{Came, Given, of_all};
use super::typist::run_typed;

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

/// What is told of a scenario in which a prompt asks or takes something else than an answers file does: a
/// file may leave open what a refrigerant's name tells, and give a number without its unit.
const APART: &str = "apart";

/// No more scenarios than this are apart.
const MOST_APART: usize = 25;

fn faults_of(given: Given<'_>) -> Vec<String> {
    let mut case = Case::open(given.handbook, given.engine, given.scenario.tree);
    let Some(ending) = run_typed(given.turns, &mut case) else {
        return vec![APART.to_owned()];
    };
    let came = Came::of(&case, ending, false);
    let (one, other) = (happened(&came.events), happened(&given.came.events));
    let mut faults = Vec::new();
    if one != other {
        let parted = one.iter().zip(&other).position(|(one, other)| one != other);
        let at = parted.unwrap_or(one.len().min(other.len()));
        faults.push(format!("{:?} instead of {:?} at {at}", one.get(at), other.get(at)));
    }
    if (&came.ranking, &came.ending) != (&given.came.ranking, &given.came.ending) {
        faults.push(format!("another verdict: {:?}", came.ending));
    }
    faults
}

#[test]
fn every_scenario_comes_to_the_same_case_typed_at_the_plain_prompts() {
    let (apart, faults): (Vec<_>, Vec<_>) =
        of_all(faults_of).into_iter().partition(|told| told.ends_with(APART));
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
    assert!(apart.len() <= MOST_APART, "{}:\n{}", apart.len(), apart.join("\n"));
}
