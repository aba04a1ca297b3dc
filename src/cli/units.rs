//! `dryhold units`: the units by what they measure.

use anyhow::{Result, bail};

use super::exit::ExitStatus;
use super::session::Session;
use crate::diagnostic::near_name;
use crate::quantity::{NAMED_KINDS, units_by_kind};

pub(super) fn run(session: &mut Session<'_>, kind: Option<&str>) -> Result<ExitStatus> {
    let wanted = |name: &str| kind.is_none_or(|kind| kind == name);
    let mut listed = 0;
    for (named, units) in units_by_kind() {
        if !wanted(named.name) || units.is_empty() {
            continue;
        }
        listed += 1;
        session.result(named.name)?;
        for unit in units {
            let also = unit.aliases.join(", ");
            let also = if also.is_empty() { String::new() } else { format!("  also {also}") };
            session.result(&format!("  {:<12} {}{also}", unit.symbol, unit.basis))?;
        }
    }
    match kind {
        Some(kind) if listed == 0 => {
            let names = NAMED_KINDS.iter().map(|named| named.name);
            match near_name(kind, names.clone()) {
                Some(near) => bail!("there is no kind `{kind}`; did you mean `{near}`?"),
                None => bail!(
                    "there is no kind `{kind}`; the kinds are {}",
                    names.collect::<Vec<_>>().join(", ")
                ),
            }
        }
        _ => Ok(ExitStatus::Settled),
    }
}
