//! `dryhold compare`: what two handbooks say differently, and which cases end otherwise under
//! them.

mod ends;
mod json;
mod reasons;
mod text;

use std::path::{Path, PathBuf};

use anyhow::{Result, bail};

use super::arguments::{CompareArguments, CompareFormat};
use super::exit::ExitStatus;
use super::load::{Loaded, Rules, load_built_in, load_folder, rules_in};
use super::session::Session;
use crate::evidence::Engine;
use crate::handbook::{Difference, Handbook, Way, differences};
use crate::rehearsal::Renamed;
use crate::source::{SourceId, Sources};
use ends::Compared;
pub(super) use ends::{HAIR, event_with_new_names, replayed};

/// The word for the handbook that comes with the program.
const BUILT_IN: &str = "built_in";

/// The scenarios that are compared where none are named.
const SCENARIOS: &str = "scenarios";

/// A handbook that can run, with its files.
struct Side {
    name: String,
    /// Whether it is the built-in handbook with a folder added.
    is_added: bool,
    sources: Sources,
    files: Vec<SourceId>,
    handbook: Handbook,
    engine: Engine,
}

/// All that was found out.
struct Told<'a> {
    old: &'a Side,
    new: &'a Side,
    differences: Vec<Difference>,
    compared: Vec<Compared>,
}

impl Told<'_> {
    /// How many cases end or lead otherwise, or have a cause that moved by more than a hair.
    fn parted(&self) -> usize {
        self.compared.iter().filter(|compared| compared.is_worth_telling()).count()
    }
}

pub(super) fn run(session: &mut Session<'_>, arguments: &CompareArguments) -> Result<ExitStatus> {
    refuse_options(session)?;
    let old = side(session, &arguments.old)?;
    let new = side(session, &arguments.new)?;
    let (Some(old), Some(new)) = (old, new) else { return Ok(ExitStatus::HandbookFaulty) };
    let differences = differences((&old.sources, &old.files), (&new.sources, &new.files));
    let renamed = renamed(&differences);
    let mut compared = Vec::new();
    if let Some(folder) = scenarios(arguments) {
        let Some(found) = ends::of_scenarios(session, &old, &new, &renamed, &folder)? else {
            return Ok(ExitStatus::Unusable);
        };
        compared.extend(found);
    }
    if let Some(folder) = &arguments.cases {
        compared.extend(ends::of_cases(session, &old, &new, &renamed, folder)?);
    }
    for one in &mut compared {
        one.why = reasons::why(one, (&old, &new), &renamed, &differences);
    }
    let told = Told { old: &old, new: &new, differences, compared };
    match arguments.format {
        CompareFormat::Text => text::tell(session, &told, arguments.all)?,
        CompareFormat::Json => session.result(&format!("{:#}", json::json(&told)))?,
    }
    Ok(if told.parted() == 0 { ExitStatus::Settled } else { ExitStatus::FellShort })
}

/// A handbook is named as a side; `--rules` would say nothing about which.
fn refuse_options(session: &Session<'_>) -> Result<()> {
    let options = session.arguments;
    if let Some(folder) = options.rules.first().or(options.only_rules.as_ref()) {
        bail!(
            "compare takes its two handbooks by name, not with --rules or --only-rules; a folder \
             that adds to the built-in one is put onto it: dryhold compare built_in {}",
            folder.display()
        );
    }
    Ok(())
}

/// Loads a handbook; nothing after its errors have been reported.
fn side(session: &mut Session<'_>, named: &Path) -> Result<Option<Side>> {
    let is_built_in = named == Path::new(BUILT_IN);
    let is_added = !is_built_in && rules_in(named)? == Rules::Added;
    let loaded = match (is_built_in, is_added) {
        (true, _) => load_built_in(&[])?,
        (_, true) => load_built_in(&[named.to_owned()])?,
        _ => load_folder(named)?,
    };
    let (sources, files) =
        (loaded.sources.clone(), loaded.sources.iter().map(|(id, _)| id).collect());
    let Some(handbook) = Loaded::handbook(loaded, session)? else { return Ok(None) };
    let engine = Engine::new(&handbook)?;
    let name = named.display().to_string();
    Ok(Some(Side { name, is_added, sources, files, handbook, engine }))
}

/// The scenarios named, or those of the usual folder if it is there.
fn scenarios(arguments: &CompareArguments) -> Option<PathBuf> {
    let usual = PathBuf::from(SCENARIOS);
    arguments.scenarios.clone().or_else(|| usual.is_dir().then_some(usual))
}

/// The ids that entries have in the newer handbook.
pub(super) fn renamed(differences: &[Difference]) -> Renamed {
    let mut renamed = Renamed::default();
    for difference in differences {
        if let Way::Renamed(was, _) = &difference.way {
            renamed.add(&difference.section, was, &difference.id);
        }
        for (was, now) in difference.renamed_steps() {
            renamed.add_step(&difference.id, was, now);
        }
    }
    renamed
}
