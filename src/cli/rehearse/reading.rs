//! Reading the scenarios that were named.

use std::path::{Path, PathBuf};

use anyhow::{Result, bail};

use crate::cli::hold_log::beside;
use crate::cli::load::{Folder, Rules, read_folder, read_text, rules_in};
use crate::cli::session::Session;
use crate::diagnostic::{Diagnostic, Look, near_name, render};
use crate::document::Spanned;
use crate::document::raw::{RawScenario, read_scenario};
use crate::handbook::Handbook;
use crate::rehearsal::{Scenario, resolve_scenario};
use crate::source::{SourceId, Sources};
use crate::terminal::Stream;
use crate::text::inert;

/// A scenario with what it was read from.
pub(in crate::cli) struct Read {
    pub file: String,
    pub text: String,
    pub raw: RawScenario,
    pub scenario: Scenario,
}

/// Files as loaded, read as far as they can be read without a handbook.
pub(in crate::cli) struct Written {
    pub sources: Sources,
    pub files: Vec<(SourceId, RawScenario)>,
    pub faults: Vec<Diagnostic>,
}

/// Loads scenario files, or folders of them.
pub(in crate::cli) fn written(named: &[PathBuf]) -> Result<Written> {
    let mut sources = Sources::default();
    let mut ids: Vec<SourceId> = Vec::new();
    let mut faults = Vec::new();
    for path in named {
        let Folder { files, unread, .. } = read_path(&mut sources, path)?;
        ids.extend(files);
        faults.extend(unread);
    }
    let mut files = Vec::new();
    for id in ids {
        let (raw, found) = read_scenario(&sources, id);
        let is_readable = found.is_empty();
        faults.extend(found);
        files.extend(raw.filter(|_| is_readable).map(|raw| (id, raw)));
    }
    Ok(Written { sources, files, faults })
}

/// Reads all scenarios; none if one of them has a fault, which is then reported.
pub(in crate::cli) fn read(
    session: &mut Session<'_>,
    handbook: &Handbook,
    named: &[PathBuf],
) -> Result<Option<Vec<Read>>> {
    refuse_rules(named)?;
    let Written { sources, files, mut faults } = written(named)?;
    refuse_strangers(session, handbook, &files, named)?;
    let mut scenarios = Vec::new();
    for (id, raw) in files {
        let file = sources.get(id).name();
        let logs = beside(Path::new(file));
        match resolve_scenario(&raw, handbook, &logs) {
            Ok(scenario) => {
                let (file, text) = (file.to_owned(), sources.get(id).text().to_owned());
                scenarios.push(Read { file, text, raw, scenario });
            }
            Err(found) => faults.extend(found),
        }
    }
    if faults.is_empty() {
        return Ok(Some(scenarios));
    }
    say_faults(session, &faults, &sources)?;
    Ok(None)
}

/// A folder of rules in the place of scenarios.
fn refuse_rules(named: &[PathBuf]) -> Result<()> {
    for folder in named.iter().filter(|path| path.is_dir()) {
        let rules = rules_in(folder)?;
        if rules != Rules::No {
            let beside = PathBuf::from(format!("{}-scenarios", folder.display()));
            let scenarios =
                if beside.is_dir() { beside.display().to_string() } else { "SCENARIOS".to_owned() };
            let (folder, option) = (folder.display(), rules.option());
            bail!(
                "{folder} holds rules, no scenarios; load it and name its scenarios: dryhold \
                 rehearse {option} {folder} {scenarios}"
            );
        }
    }
    Ok(())
}

/// Scenarios of another handbook: none runs a tree of this one, or of a name near to one.
fn refuse_strangers(
    session: &Session<'_>,
    handbook: &Handbook,
    files: &[(SourceId, RawScenario)],
    named: &[PathBuf],
) -> Result<()> {
    let arguments = session.arguments;
    let is_stranger = |raw: &RawScenario| {
        let ids = handbook.trees().iter().map(|tree| tree.id.as_str());
        let known = |tree: &Spanned<String>| handbook.find_tree(&tree.value).is_some();
        let near = |tree: &Spanned<String>| near_name(&tree.value, ids).is_some();
        raw.tree.as_ref().is_some_and(|tree| !known(tree) && !near(tree))
    };
    let is_loaded = arguments.only_rules.is_some() || !arguments.rules.is_empty();
    if is_loaded || files.is_empty() || !files.iter().all(|(_, raw)| is_stranger(raw)) {
        return Ok(());
    }
    let beside = named.iter().find_map(|path| {
        let folder =
            PathBuf::from(path.to_str()?.trim_end_matches('/').strip_suffix("-scenarios")?);
        let rules = rules_in(&folder).ok().filter(|rules| *rules != Rules::No)?;
        Some(format!("{} {}", rules.option(), folder.display()))
    });
    let option = beside.unwrap_or_else(|| "--only-rules FOLDER".to_owned());
    bail!(
        "no scenario named runs a tree of the built-in handbook; load their rules with {option} \
         (--rules FOLDER where they add to the built-in one)"
    )
}

/// Reports faults of scenarios on standard error.
pub(in crate::cli) fn say_faults(
    session: &mut Session<'_>,
    faults: &[Diagnostic],
    sources: &Sources,
) -> Result<()> {
    let look = Look { colour: session.facts.is_coloured(Stream::Talk) };
    session.say(render(faults, sources, look).trim_end())
}

fn read_path(sources: &mut Sources, path: &Path) -> Result<Folder> {
    if path.is_dir() {
        return read_folder(sources, path);
    }
    if !path.exists() {
        bail!("{} is not there; give scenario files, or folders of them", path.display());
    }
    let text = read_text(path)?;
    let files = vec![sources.add(inert(&path.display().to_string()), text)];
    Ok(Folder { files, ..Folder::default() })
}
