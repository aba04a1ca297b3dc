//! A comparison for programs: our own JSON.

use serde_json::{Value, json};

use super::ends::{Compared, Gravity};
use super::{Side, Told};
use crate::handbook::{Difference, KeyChange, Way};
use crate::rehearsal::{End, Parted};

/// The version of the format; it rises when a key changes its meaning or goes.
const FORMAT: u32 = 1;

pub(super) fn json(told: &Told<'_>) -> Value {
    json!({
        "format": FORMAT,
        "old": side(told.old),
        "new": side(told.new),
        "entries": told.differences.iter().map(entry).collect::<Vec<_>>(),
        "compared": told.compared.len(),
        "differently": told.parted(),
        "cases": told.compared.iter().map(case).collect::<Vec<_>>(),
    })
}

fn side(side: &Side) -> Value {
    json!({
        "given": side.name,
        "is_added_to_built_in": side.is_added,
        "name": side.handbook.name(),
        "version": side.handbook.version(),
        "hash": side.handbook.hash(),
    })
}

fn entry(difference: &Difference) -> Value {
    let (way, was, keys): (&str, Option<&str>, &[KeyChange]) = match &difference.way {
        Way::Added => ("added", None, &[]),
        Way::Removed => ("removed", None, &[]),
        Way::Renamed(was, keys) => ("renamed", Some(was), keys),
        Way::Changed(keys) => ("changed", None, keys),
    };
    let key = |key: &KeyChange| json!({"key": key.key, "old": key.old, "new": key.new});
    json!({
        "section": difference.section,
        "id": difference.id,
        "way": way,
        "was": was,
        "keys": keys.iter().map(key).collect::<Vec<_>>(),
    })
}

fn case(compared: &Compared) -> Value {
    let list = |parted: &[Parted]| {
        let one = |p: &Parted| json!({"what": p.what, "old": p.old, "new": p.new, "by": p.by});
        parted.iter().map(one).collect::<Vec<_>>()
    };
    json!({
        "name": compared.name,
        "scenario": compared.title,
        "is_different": compared.is_worth_telling(),
        "by_a_hair": compared.gravity() == Some(Gravity::ByAHair),
        "old": end(&compared.ends.0),
        "new": end(&compared.ends.1),
        "differences": list(&compared.parted),
        "since": list(&compared.why),
    })
}

fn end(end: &Result<End, String>) -> Value {
    match end {
        Err(why) => json!({"cannot_run": why}),
        Ok(end) => json!({
            "leader": end.leader,
            "settled": end.settled,
            "step": end.step,
            "stopped": end.stopped,
            "probabilities": end.probabilities,
            "findings": end.findings,
        }),
    }
}
