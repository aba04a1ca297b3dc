//! A whole small handbook with a scenario that passes.

use std::path::{Path, PathBuf};

use anyhow::{Result, bail};

use super::asking::{self, Wanted};
use super::entry::{Named, folder_name, folder_wanted, named};
use super::ground::Ground;
use super::starter::{HANDBOOK, SCENARIO, fill};
use super::writing::{NewFile, write};
use super::yaml_text::{one_line, scalar};
use crate::cli::author_arguments::{NewEntry, NewHandbook};
use crate::cli::command_line::shell_word;
use crate::cli::exit::ExitStatus;
use crate::cli::session::Session;
use crate::diagnostic::Look;
use crate::document::raw::Section;

/// The id of the tree of a handbook that was begun by its name alone.
const FIRST_TREE: &str = "start";

/// Begins a handbook by its name.
pub(super) fn begin(session: &mut Session<'_>, wanted: &NewHandbook) -> Result<ExitStatus> {
    let into = wanted.into.as_deref().map(|folder| folder.display().to_string());
    let folder = folder_wanted(into.as_deref());
    let name = Wanted {
        given: wanted.name.as_deref(),
        flag: "NAME",
        ask: "What is the handbook called?",
        hint: "a few words, as people should read them",
    };
    asking::require(session, "handbook", &[&name, &folder])?;
    asking::open(session, &[&name, &folder])?;
    let folder: PathBuf = asking::text(session, &folder, &folder_name)?.into();
    refuse_rules(&folder)?;
    let title = asking::text(session, &name, &one_line)?;
    write_handbook(session, &folder, FIRST_TREE, &title)
}

/// Begins a handbook around a tree.
pub(super) fn around_a_tree(session: &mut Session<'_>, entry: &NewEntry) -> Result<ExitStatus> {
    if let Some(folder) = &entry.into {
        refuse_rules(folder)?;
    }
    let named =
        named(session, entry, Section::Trees, "tree --handbook", "What is the tree called?")?;
    refuse_rules(&named.folder)?;
    write_around(session, named)
}

/// Writes a handbook around a tree that has been named.
pub(super) fn write_around(session: &mut Session<'_>, named: Named) -> Result<ExitStatus> {
    write_handbook(session, &named.folder, &named.id, &named.title)
}

/// A handbook is begun where there are no rules.
fn refuse_rules(folder: &Path) -> Result<()> {
    if folder.exists() && !crate::cli::load::yaml_files(folder)?.is_empty() {
        bail!(
            "{} holds rules already; begin a handbook in an empty or a new folder",
            folder.display()
        );
    }
    Ok(())
}

fn write_handbook(
    session: &mut Session<'_>,
    folder: &Path,
    tree: &str,
    title: &str,
) -> Result<ExitStatus> {
    let scenarios = beside(folder)?;
    let options = format!("--only-rules {}", shell_word(folder));
    let check = format!("dryhold check {}", shell_word(folder));
    let rehearse = format!("dryhold rehearse {options} {}", shell_word(&scenarios));
    let title = scalar(title);
    let values = [
        ("check", check.as_str()),
        ("rehearse", rehearse.as_str()),
        ("id", tree),
        ("title", title.as_str()),
    ];
    let mut files: Vec<(String, String)> = HANDBOOK
        .iter()
        .map(|(name, text)| {
            let path = folder.join(name.replace("TREE", tree));
            (path.display().to_string(), fill(text, &values))
        })
        .collect();
    let look = Look { colour: session.is_talk_coloured() };
    Ground::nothing(folder).prove(&files, look)?;
    let scenario = scenarios.join(tree).join("torn_seal.yaml");
    files.push((scenario.display().to_string(), fill(SCENARIO, &values)));
    let new = |(path, text): (String, String)| NewFile { path: path.into(), text };
    let names: Vec<String> = files.iter().map(|(path, _)| path.clone()).collect();
    write(&files.into_iter().map(new).collect::<Vec<_>>())?;
    for name in names {
        session.result(&format!("written: {name}"))?;
    }
    session.tell(
        "It is about a part that should hold its vacuum, and it works as it stands. Make it one \
         of your own subject, a text at a time. These look after it:",
    )?;
    for command in [check, rehearse, format!("dryhold diagnose {tree} {options}")] {
        session.say(&format!("  {command}"))?;
    }
    Ok(ExitStatus::Settled)
}

/// The folder for scenarios: beside the rules, since whatever lies below them is a rule.
fn beside(folder: &Path) -> Result<PathBuf> {
    let Some(name) = folder.file_name() else {
        bail!("{} has no name; give the folder by its name", folder.display());
    };
    let mut name = name.to_owned();
    name.push("-scenarios");
    Ok(folder.with_file_name(name))
}
