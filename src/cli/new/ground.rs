//! The handbook that a new entry joins: which ids it has taken, and whether it stays sound.

use std::path::{Path, PathBuf};

use anyhow::{Result, bail};

use crate::built_in::add_built_in;
use crate::cli::command_line::shell_word;
use crate::cli::load::{Folder, read_folder, yaml_files};
use crate::cli::session::Session;
use crate::diagnostic::{Diagnostic, Look, near_name, render};
use crate::document::raw::{RawHandbook, Section, read_handbook};
use crate::document::{Spanned, is_id, nearest_id};
use crate::handbook::{compile, reserved_value};
use crate::source::{SourceId, Sources};

/// The files of the handbook that a new entry joins, as they are written.
pub(super) struct Ground {
    folder: PathBuf,
    sources: Sources,
    base: Vec<SourceId>,
    added: Vec<SourceId>,
    raw: RawHandbook,
    /// Whether the folder is a handbook of its own.
    is_own: bool,
    /// The options that make the program use it, before the folder itself.
    options: String,
}

/// An id of one section, and where it is written.
type Taken<'a> = (Section, &'a Spanned<String>);

impl Ground {
    /// Looks at what the folder holds and what it adds to; it need not be there.
    pub fn look(session: &Session<'_>, folder: &Path) -> Result<Self> {
        let mut sources = Sources::default();
        let own = if folder.exists() { all_of(&mut sources, folder)? } else { Vec::new() };
        let is_own = read_handbook(&sources, &own, &[]).0.format.is_some();
        if is_own {
            let options = "--only-rules".to_owned();
            return Ok(Self::of(folder, sources, own, Vec::new(), is_own, options));
        }
        let (base, mut added, options) = beneath(session, folder, &mut sources)?;
        added.extend(own);
        Ok(Self::of(folder, sources, base, added, is_own, options))
    }

    fn of(
        folder: &Path,
        sources: Sources,
        base: Vec<SourceId>,
        added: Vec<SourceId>,
        is_own: bool,
        options: String,
    ) -> Self {
        // What is wrong with them is for `check` to say.
        let (raw, _) = read_handbook(&sources, &base, &added);
        Self { folder: folder.to_owned(), sources, base, added, raw, is_own, options }
    }

    /// A folder without any rules, for a handbook of its own.
    pub fn nothing(folder: &Path) -> Self {
        let (sources, options) = (Sources::default(), "--only-rules".to_owned());
        Self::of(folder, sources, Vec::new(), Vec::new(), true, options)
    }

    /// The options that make a command use the handbook with the folder: `--rules my-rules`.
    pub fn options(&self) -> String {
        format!("{} {}", self.options, shell_word(&self.folder))
    }

    /// Whether the folder is, or may become, no more than an addition to another handbook.
    pub fn is_addition(&self) -> bool {
        !self.is_own
    }

    /// Whether the handbook has an instrument of this id.
    pub fn has_instrument(&self, id: &str) -> bool {
        self.raw.instruments.iter().any(|one| one.id.value == id)
    }

    /// An id that a new entry of a section can have, or why it can't.
    pub fn free_id(&self, section: Section, typed: &str) -> Result<String, String> {
        let id = typed.trim();
        if !is_id(id) {
            let near = nearest_id(id).filter(|near| self.taken(section, near).is_none());
            let help = near.map(|near| format!("; write `{near}`")).unwrap_or_default();
            return Err(format!(
                "`{}` is no id, which is a small letter, then small letters, digits and _{help}",
                crate::text::inert(id)
            ));
        }
        let taken_by = section.shares_names_with(Section::Questions).then(|| reserved_value(id));
        if let Some(taken_by) = taken_by.flatten() {
            return Err(format!("`{id}` is {taken_by}; choose another id, such as `the_{id}`"));
        }
        match self.taken(section, id) {
            Some((other, at)) => Err(format!(
                "there is {} `{id}` already, in {}; choose another id",
                other.one_entry(),
                self.place(at)
            )),
            None => Ok(id.to_owned()),
        }
    }

    /// Says which id is so near to a new one that a slip of the finger would take one for the
    /// other.
    pub fn near(&self, section: Section, id: &str) -> Option<String> {
        let ids = self.raw.ids().filter(|(other, _)| section.shares_names_with(*other));
        let near = near_name(id, ids.map(|(_, id)| id.as_str()))?;
        let (other, at) = self.taken(section, near)?;
        Some(format!(
            "`{id}` is near to {} `{near}`, in {}; whoever mistypes one gets the other",
            other.one_entry(),
            self.place(at)
        ))
    }

    /// Refuses texts that would bring a fault of their own into the handbook; other faults are
    /// counted.
    pub fn prove(&self, files: &[(String, String)], look: Look) -> Result<usize> {
        let (sources, own, others) = self.with(files);
        if !own.is_empty() {
            bail!(
                "what would be written does not go with the handbook\n{}",
                render(&own, &sources, look).trim_end()
            );
        }
        Ok(others)
    }

    /// Whether texts would bring no fault of their own into the handbook.
    pub fn takes(&self, files: &[(String, String)]) -> bool {
        self.with(files).1.is_empty()
    }

    /// The handbook with these texts: all sources, the faults that the texts have part in, and how
    /// many others there are.
    fn with(&self, files: &[(String, String)]) -> (Sources, Vec<Diagnostic>, usize) {
        let mut sources = self.sources.clone();
        let new: Vec<SourceId> =
            files.iter().map(|(name, text)| sources.add(name, text.clone())).collect();
        let (mut base, mut added) = (self.base.clone(), self.added.clone());
        if base.is_empty() { &mut base } else { &mut added }.extend(&new);
        let faults = compile(&sources, &base, &added).faults;
        let is_new = |fault: &Diagnostic| fault.labels.iter().any(|l| new.contains(&l.span.source));
        let (own, others): (Vec<_>, Vec<_>) = faults.into_iter().partition(is_new);
        (sources, own, others.len())
    }

    fn taken(&self, section: Section, id: &str) -> Option<Taken<'_>> {
        self.raw.ids().find(|(other, taken)| section.shares_names_with(*other) && taken.value == id)
    }

    fn place(&self, id: &Spanned<String>) -> String {
        let (line, _) = self.sources.position(id.span);
        format!("{}:{line}", self.sources.get(id.span.source).name())
    }
}

/// The handbook that a folder of additions is added to, and the options that name it.
fn beneath(
    session: &Session<'_>,
    folder: &Path,
    sources: &mut Sources,
) -> Result<(Vec<SourceId>, Vec<SourceId>, String)> {
    let is_same = |other: &PathBuf| {
        other == folder
            || matches!((other.canonicalize(), folder.canonicalize()), (Ok(a), Ok(b)) if a == b)
    };
    if let Some(only) = &session.arguments.only_rules {
        if is_same(only) {
            return Ok((Vec::new(), Vec::new(), "--only-rules".to_owned()));
        }
        bail!(
            "--only-rules {} and --into {} are two folders; write into the first, or name the \
             second with --rules",
            only.display(),
            folder.display()
        );
    }
    let base = add_built_in(sources);
    let (mut added, mut options) = (Vec::new(), String::new());
    for other in session.arguments.rules.iter().filter(|other| !is_same(other)) {
        added.extend(all_of(sources, other)?);
        options.push_str(&format!("--rules {} ", shell_word(other)));
    }
    Ok((base, added, format!("{options}--rules")))
}

/// Every rule of a folder, which may be none; a file that can't be read may hold any id.
fn all_of(sources: &mut Sources, folder: &Path) -> Result<Vec<SourceId>> {
    if yaml_files(folder)?.is_empty() {
        return Ok(Vec::new());
    }
    let Folder { files, unread, .. } = read_folder(sources, folder)?;
    match unread.first() {
        Some(fault) => bail!("{}; what it holds must be known first", fault.title),
        None => Ok(files),
    }
}
