//! From loaded files to a handbook that can run, or to every fault that keeps it from running.

use super::checks::{check_tables, check_written, too_many};
use super::follow_on::drop_follow_on;
use super::graph::NameGraph;
use super::model::{Handbook, Parts};
use super::resolve::resolve;
use crate::diagnostic::{Diagnostic, Severity, sort_in_file_order};
use crate::document::bound;
use crate::document::raw::{RawHandbook, read_part};
use crate::source::{SourceId, Sources};

/// What compiling gives: the handbook if it can run, and every fault, warnings among them.
#[derive(Debug)]
pub struct Compiled {
    /// The handbook, if no fault is an error.
    pub handbook: Option<Handbook>,
    /// What the files say, as written.
    pub written: RawHandbook,
    /// Every fault, in the order of the files.
    pub faults: Vec<Diagnostic>,
}

/// Compiles the files of a handbook; entries of `added` files may replace those of `built_in`.
#[must_use]
pub fn compile(sources: &Sources, built_in: &[SourceId], added: &[SourceId]) -> Compiled {
    compile_around(Vec::new(), sources, built_in, added)
}

/// Compiles the files of a handbook of which others could not be loaded, `unread` says why.
///
/// A name that leads nowhere is then not held against the files that were loaded: it may stand in
/// one of the others.
#[must_use]
pub fn compile_around(
    unread: Vec<Diagnostic>,
    sources: &Sources,
    built_in: &[SourceId],
    added: &[SourceId],
) -> Compiled {
    let (raw, mut faults) = read_part(sources, built_in, added, unread.is_empty());
    faults.extend(unread);
    if let Some(fault) = too_many(&raw) {
        faults.push(fault);
        sort_in_file_order(&mut faults);
        return Compiled { handbook: None, written: raw, faults };
    }
    let mut found = Vec::new();
    check_written(&raw, &mut found);
    let (mut parts, resolving) = resolve(&raw, sources);
    found.extend(resolving);
    if is_complete(&raw, &parts) {
        check_tables(&raw, &parts, &mut found);
    }
    drop_follow_on(&raw, &mut faults, &mut found);
    sort_in_file_order(&mut found);
    bound(&mut found);
    faults.extend(found);
    sort_in_file_order(&mut faults);
    let is_sound = raw.is_whole
        && is_complete(&raw, &parts)
        && faults.iter().all(|fault| fault.severity() != Severity::Error);
    parts.hash = hash(sources, built_in.iter().chain(added));
    let handbook = is_sound.then(|| finish(parts));
    Compiled { handbook, written: raw, faults }
}

fn finish(mut parts: Parts) -> Handbook {
    parts.questions_under = NameGraph::of(&parts).into_questions();
    Handbook::new(parts)
}

/// Whether every entry could be built, so that ids are places in the tables.
fn is_complete(raw: &RawHandbook, parts: &Parts) -> bool {
    raw.questions.len() == parts.questions.len()
        && raw.instruments.len() == parts.instruments.len()
        && raw.formulas.len() == parts.formulas.len()
        && raw.findings.len() == parts.findings.len()
        && raw.causes.len() == parts.causes.len()
        && raw.actions.len() == parts.actions.len()
        && raw.trees.len() == parts.trees.len()
        && raw.cautions.len() == parts.cautions.len()
}

/// A hash over the names and texts of the files, in an order that does not depend on the folder.
fn hash<'a>(sources: &Sources, files: impl Iterator<Item = &'a SourceId>) -> String {
    let mut files: Vec<(&str, &str)> =
        files.map(|&id| (sources.get(id).name(), sources.get(id).text())).collect();
    files.sort_unstable();
    let mut hasher = blake3::Hasher::new();
    for (name, text) in files {
        for part in [name, text] {
            hasher.update(&(part.len() as u64).to_le_bytes());
            hasher.update(part.as_bytes());
        }
    }
    hasher.finalize().to_hex().to_string()
}
