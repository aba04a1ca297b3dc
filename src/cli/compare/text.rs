//! A comparison for people.

use anyhow::Result;

use super::Told;
use super::ends::{Compared, Gravity};
use crate::cli::session::Session;
use crate::handbook::{Difference, KeyChange, Way};
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
        case(session, compared, told)?;
    }
    let counted = parted.iter().filter(|(gravity, _)| !is_told(*gravity)).count();
    if counted > 0 {
        session.result(&format!(
            "{} with another word for a cause that moved by no more than 0.01 (--all lists them)",
            count(counted, "case")
        ))?;
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
    session.result(&format!("{entries}; {}, {ends}", count(told.compared.len(), "case")))
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

fn case(session: &mut Session<'_>, compared: &Compared, told: &Told<'_>) -> Result<()> {
    let title = compared.title.as_ref().map(|title| format!(": {title}")).unwrap_or_default();
    session.result(&format!("differently  {}{title}", compared.name))?;
    for (end, side) in [(&compared.ends.0, told.old), (&compared.ends.1, told.new)] {
        if let Err(why) = end {
            session.result(&format!("             can't be run under {}: {why}", side.name))?;
        }
    }
    for one in &compared.parted {
        session.result(&format!("             {}: {} -> {}", one.what, one.old, one.new))?;
    }
    for one in &compared.why {
        session
            .result(&format!("               since {}: {} -> {}", one.what, one.old, one.new))?;
    }
    Ok(())
}
