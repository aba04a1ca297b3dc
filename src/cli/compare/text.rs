//! A comparison for people.

use anyhow::Result;

use super::Told;
use super::ends::{Compared, Gravity, HAIR};
use crate::cli::session::Session;
use crate::evidence::wording::in_words;
use crate::handbook::{Difference, KeyChange, Way};
use crate::rehearsal::{End, Parted};
use crate::text::count;

/// The differences by section, then every case that ends differently, then the counts.
/// Cases whose words moved by a hair are only counted, unless all are asked for.
pub(super) fn tell(session: &mut Session<'_>, told: &Told<'_>, all: bool) -> Result<()> {
    for side in [told.old, told.new].into_iter().filter(|side| side.is_added) {
        session.result(&format!("{} is put onto the built-in handbook.", side.name))?;
    }
    let mut section = "";
    for difference in &told.differences {
        if difference.section != section {
            section = &difference.section;
            session.result(&format!("{section}:"))?;
        }
        entry(session, difference)?;
    }
    let mut parted: Vec<(Gravity, &Compared)> =
        told.compared.iter().filter_map(|one| Some((one.gravity()?, one))).collect();
    parted.sort_by_key(|(gravity, _)| *gravity);
    let is_told = |gravity: Gravity| all || gravity < Gravity::ByAHair;
    for (_, compared) in parted.iter().filter(|(gravity, _)| is_told(*gravity)) {
        case(session, compared, told, all)?;
    }
    for compared in &told.compared {
        if let (Err(why), Err(_)) = &compared.ends {
            session.result(&format!("not run      {}: {why}", compared.name))?;
        }
    }
    let entries = match told.differences.len() {
        1 => "1 entry differs".to_owned(),
        number => format!("{number} entries differ"),
    };
    let ends = match told.parted() {
        1 => "1 ends differently".to_owned(),
        number => format!("{number} end differently"),
    };
    session.result(&format!("{entries}; {}, {ends}", count(told.compared.len(), "case")))?;
    let hairs = parted.iter().filter(|(gravity, _)| *gravity == Gravity::ByAHair).count();
    if hairs == 0 {
        return Ok(());
    }
    let how = if all { "" } else { " (--all lists them)" };
    let more = match hairs {
        1 => "1 more has another word for a cause, which".to_owned(),
        number => format!("{number} more have other words for causes, which"),
    };
    session.result(&format!("{more} moved by no more than 0.01{how}"))
}

/// A leading cause with its probability.
fn leader(end: &Result<End, String>, named: &str) -> String {
    let Ok(end) = end else { return named.to_owned() };
    match end.probabilities.get(&end.leader) {
        Some(p) => format!("{named}, {} ({p:.3})", in_words(*p)),
        None => named.to_owned(),
    }
}

fn entry(session: &mut Session<'_>, difference: &Difference) -> Result<()> {
    let id = &difference.id;
    let (head, keys): (String, &[KeyChange]) = match &difference.way {
        Way::Added => (format!("added    {id}"), &[]),
        Way::Removed => (format!("removed  {id}"), &[]),
        Way::Renamed(was, keys) => (format!("renamed  {was} -> {id}"), keys),
        Way::Changed(keys) => (format!("changed  {id}"), keys),
    };
    session.result(&format!("  {head}"))?;
    for key in keys {
        let side = |value: &Option<String>| value.clone().unwrap_or_else(|| "not there".to_owned());
        session.result(&format!("    {}: {} -> {}", key.key, side(&key.old), side(&key.new)))?;
    }
    Ok(())
}

/// One case that ends differently. Of its causes those that moved by a hair are left out, unless
/// all are asked for.
fn case(session: &mut Session<'_>, compared: &Compared, told: &Told<'_>, all: bool) -> Result<()> {
    let title = compared.title.as_ref().map(|title| format!(": {title}")).unwrap_or_default();
    session.result(&format!("differently  {}{title}", compared.name))?;
    for (end, side) in [(&compared.ends.0, told.old), (&compared.ends.1, told.new)] {
        if let Err(why) = end {
            session.result(&format!("             can't be run under {}: {why}", side.name))?;
        }
    }
    let is_told = |one: &&Parted| all || one.by.is_none_or(|by| by > HAIR);
    for one in compared.parted.iter().filter(is_told) {
        if one.what == "leader" {
            let (old, new) =
                (leader(&compared.ends.0, &one.old), leader(&compared.ends.1, &one.new));
            session.result(&format!("             leader: {old} -> {new}"))?;
            continue;
        }
        session.result(&format!("             {}: {} -> {}", one.what, one.old, one.new))?;
    }
    for one in &compared.why {
        session
            .result(&format!("               since {}: {} -> {}", one.what, one.old, one.new))?;
    }
    Ok(())
}
