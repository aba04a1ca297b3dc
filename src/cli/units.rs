//! `dryhold units`: the units by what they measure.

use anyhow::{Result, bail};

use super::exit::ExitStatus;
use super::session::Session;
use crate::diagnostic::near_name;
use crate::quantity::{NAMED_KINDS, units_by_kind};

pub(super) fn run(session: &mut Session<'_>, kind: Option<&str>) -> Result<ExitStatus> {
    for (named, units) in units_by_kind() {
        if units.is_empty() || kind.is_some_and(|kind| kind != named.name) {
            continue;
        }
        session.result(named.name)?;
        for unit in units {
            let also = unit.aliases.join(", ");
            let also = if also.is_empty() { String::new() } else { format!("  also {also}") };
            session.result(&format!("  {:<12} {}{also}", unit.symbol, unit.basis))?;
        }
    }
    kind.map_or(Ok(()), |kind| tell_of_none(session, kind))?;
    Ok(ExitStatus::Settled)
}

/// A kind that has no units of its own is written in those of others; what is no kind is refused.
fn tell_of_none(session: &mut Session<'_>, kind: &str) -> Result<()> {
    if units_by_kind().into_iter().any(|(named, units)| named.name == kind && !units.is_empty()) {
        return Ok(());
    }
    if let Some(named) = NAMED_KINDS.iter().find(|named| named.name == kind) {
        return session.result(&format!("{kind}\n  written in units such as {}", named.unit));
    }
    let names = NAMED_KINDS.iter().map(|named| named.name);
    match near_name(kind, names.clone()) {
        Some(near) => bail!("there is no kind `{kind}`; did you mean `{near}`?"),
        None => bail!(
            "there is no kind `{kind}`; the kinds are {}",
            names.collect::<Vec<_>>().join(", ")
        ),
    }
}
