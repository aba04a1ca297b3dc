//! Loading handbooks: the built-in one, added folders, or a folder instead.

mod folder;
mod ready;
mod rules;

use std::collections::BTreeSet;
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow, bail};

pub(super) use folder::{Folder, read_folder, yaml_files};
pub(super) use ready::{Ready, Texts, handbook, ready, ready_unless_faulty};
pub(super) use rules::{Rules, rules_in};

use super::session::Session;
use crate::built_in::add_built_in;
use crate::diagnostic::{Look, Severity, is_cut_short, render};
use crate::document::Spanned;
use crate::document::raw::{RawFinding, Section};
use crate::handbook::{Compiled, Handbook, compile_around};
use crate::source::{SourceId, Sources};

/// A compiled handbook with the texts it came from.
pub(super) struct Loaded {
    pub sources: Sources,
    /// The files that were added to the built-in handbook.
    pub added: Vec<SourceId>,
    pub compiled: Compiled,
}

/// Loads the handbook that the arguments ask for.
pub(super) fn load(session: &Session<'_>) -> Result<Loaded> {
    match &session.arguments.only_rules {
        Some(folder) => load_folder(folder),
        None => load_built_in(&session.arguments.rules),
    }
}

/// Loads a folder as a handbook of its own.
pub(super) fn load_folder(folder: &Path) -> Result<Loaded> {
    let mut sources = Sources::default();
    let Folder { files, unread, advice } = read_folder(&mut sources, folder)?;
    let mut compiled = compile_around(unread, &sources, &files, &[]);
    compiled.faults.extend(advice);
    Ok(Loaded { sources, added: Vec::new(), compiled })
}

/// Loads the built-in handbook with these folders added.
pub(super) fn load_built_in(added: &[PathBuf]) -> Result<Loaded> {
    let mut sources = Sources::default();
    let built_in = add_built_in(&mut sources);
    let (mut more, mut unread, mut advice) = (Vec::new(), Vec::new(), Vec::new());
    for folder in added {
        let folder = read_folder(&mut sources, folder)?;
        more.extend(folder.files);
        unread.extend(folder.unread);
        advice.extend(folder.advice);
    }
    let mut compiled = compile_around(unread, &sources, &built_in, &more);
    compiled.faults.extend(advice);
    Ok(Loaded { sources, added: more, compiled })
}

impl Loaded {
    /// Every entry that an added file brought or replaced, by section and id. A finding that was
    /// copied for another cause's sake, and looks at what the built-in one looks at, is none.
    pub(super) fn added_entries(&self) -> Result<BTreeSet<(Section, String)>> {
        let is_added = |id: &Spanned<String>| self.added.contains(&id.span.source);
        let ids = self.compiled.written.ids().filter(|(_, id)| is_added(id));
        let mut added: BTreeSet<_> = ids.map(|(section, id)| (section, id.value.clone())).collect();
        let findings = self.compiled.written.findings.iter();
        let replacing: Vec<&RawFinding> =
            findings.filter(|f| f.replaces && is_added(&f.id)).collect();
        if !replacing.is_empty() {
            let built_in = load_built_in(&[])?.compiled.written;
            let is_copied = |finding: &&RawFinding| {
                let id = &finding.id.value;
                let replaced = built_in.findings.iter().find(|known| known.id.value == *id);
                replaced.is_some_and(|replaced| replaced.looks_at_the_same(finding))
            };
            for copied in replacing.into_iter().filter(is_copied) {
                added.remove(&(Section::Findings, copied.id.value.clone()));
            }
        }
        Ok(added)
    }

    /// The handbook, or nothing after its errors have been reported on standard error.
    pub(super) fn handbook(self, session: &mut Session<'_>) -> Result<Option<Handbook>> {
        Ok(self.ready(session)?.map(|ready| ready.handbook))
    }

    /// The same with its texts.
    fn ready(self, session: &mut Session<'_>) -> Result<Option<Ready>> {
        if self.compiled.handbook.is_none() {
            self.tell_errors(session)?;
        }
        Ok(self.into_ready())
    }

    fn into_ready(self) -> Option<Ready> {
        let texts = Texts::Loaded(self.sources, self.added);
        self.compiled.handbook.map(|handbook| Ready { handbook, texts })
    }

    fn tell_errors(&self, session: &mut Session<'_>) -> Result<()> {
        let faults = self.compiled.faults.iter();
        let errors: Vec<_> =
            faults.filter(|fault| fault.severity() == Severity::Error).cloned().collect();
        let look = Look { colour: session.is_talk_coloured() };
        let text = render(&errors, &self.sources, look);
        session.say(text.trim_end())?;
        if is_cut_short(&errors) {
            session.say("`dryhold check --format json` lists all of them.")?;
        }
        Ok(())
    }
}

/// The largest file of text that is read, in bytes (limit of ours: twice that of a case file, which
/// travels with its handbook).
const LARGEST_TEXT: u64 = 128 << 20;

/// Reads a file that must be UTF-8 text. A pipe or a device may give no more than a file may hold.
pub(super) fn read_text(path: &Path) -> Result<String> {
    let name = path.display();
    let unread = |error: &std::io::Error| anyhow!("{name} can't be read: {}", reason(error));
    let file = std::fs::File::open(path).map_err(|error| unread(&error))?;
    let mut bytes = Vec::new();
    file.take(LARGEST_TEXT + 1).read_to_end(&mut bytes).map_err(|error| unread(&error))?;
    if bytes.len() as u64 > LARGEST_TEXT {
        bail!("{name} is larger than the {} MiB that are read of a file", LARGEST_TEXT >> 20);
    }
    if bytes.contains(&0) {
        bail!("{name} is no text: it holds a byte 0; save it as UTF-8");
    }
    String::from_utf8(bytes).map_err(|_| anyhow!("{name} is not UTF-8 text; save it as UTF-8"))
}

/// Why a file or folder can't be read, in words.
pub(super) fn reason(error: &std::io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "it is not there".to_owned(),
        ErrorKind::PermissionDenied => "you have no permission".to_owned(),
        ErrorKind::IsADirectory => "it is a folder".to_owned(),
        ErrorKind::NotADirectory => "it is not a folder".to_owned(),
        _ => error.to_string(),
    }
}
