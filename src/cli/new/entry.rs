//! New trees, causes and questions, each in a file of its own.

use std::path::Path;

use anyhow::{Result, bail};

use super::asking::{self, Wanted};
use super::ground::Ground;
use super::starter::{self, ASKED, fill};
use super::writing::{NewFile, write};
use super::yaml_text::{folded, one_line, scalar};
use crate::cli::author_arguments::{NewEntry, NewQuestion};
use crate::cli::exit::ExitStatus;
use crate::cli::session::Session;
use crate::diagnostic::{Look, near_name};
use crate::document::raw::Section;
use crate::text::count;

/// What was wanted of an entry.
pub(super) struct Named {
    pub ground: Ground,
    pub id: String,
    pub title: String,
    pub folder: std::path::PathBuf,
}

/// Begins a tree.
pub(super) fn tree(session: &mut Session<'_>, entry: &NewEntry) -> Result<ExitStatus> {
    let named = named(session, entry, Section::Trees, "tree", "What is the tree called?")?;
    if named.ground.is_addition() && is_empty(&named.folder) {
        if session.facts.dialogue().is_some() && !entry.is_whole() {
            let whole = asking::choice(
                session,
                "There are no rules in this folder yet. What shall it become?",
                &[
                    ("A whole small handbook", "for a subject of its own"),
                    ("An addition to the built-in handbook", "its questions can be used"),
                ],
            )?;
            if whole == 0 {
                return super::handbook::write_around(session, named);
            }
        } else {
            session.say(&format!(
                "dryhold: there are no rules in {} yet, so this adds to the built-in handbook; \
                 --handbook writes a whole small one",
                named.folder.display()
            ))?;
        }
    }
    let gauge = if named.ground.has_instrument("gauge") { "" } else { starter::GAUGE };
    let mut text = format!("{}{gauge}", starter::TREE);
    let probe = fill(&text, &[("id", &named.id), ("title", "A tree"), ("check", "")]);
    if !named.ground.takes(&[("probe.yaml".to_owned(), probe)]) {
        // The handbook's own gauge may be no vacuum gauge: then the reading goes without one.
        text = text.replace(starter::READ_FROM_GAUGE, "");
    }
    finish(session, named, Section::Trees, &text, &[])
}

/// Begins a cause.
pub(super) fn cause(session: &mut Session<'_>, entry: &NewEntry) -> Result<ExitStatus> {
    let named = named(session, entry, Section::Causes, "cause", "What do people call the cause?")?;
    let look = folded(&format!("Look for this: {}. What do you see?", named.title), 6);
    finish(session, named, Section::Causes, starter::CAUSE, &[("look", &look)])
}

/// Begins a question.
pub(super) fn question(session: &mut Session<'_>, wanted: &NewQuestion) -> Result<ExitStatus> {
    let kind = wanted.kind.as_deref().map(kind_of).transpose()?;
    let named = named(session, &wanted.entry, Section::Questions, "question", "What is asked?")?;
    let kind = match kind {
        Some(kind) => kind,
        None if wanted.entry.is_whole() => KINDS[0],
        None => {
            let options: Vec<(&str, &str)> = KINDS.iter().map(|kind| (*kind, "")).collect();
            KINDS[asking::choice(session, "What kind of answer does it take?", &options)?]
        }
    };
    let ask = folded(&named.title, 6);
    let asked = ASKED.iter().find(|asked| asked.kind == kind);
    let (text, mut values) = match (kind, asked) {
        (_, Some(asked)) => (
            starter::QUANTITY,
            vec![
                ("kind", asked.kind),
                ("unit", asked.unit),
                ("range", asked.range),
                ("usual", asked.usual),
            ],
        ),
        ("choice", None) => (starter::CHOICE, Vec::new()),
        _ => (starter::YES_NO, Vec::new()),
    };
    values.push(("ask", &ask));
    finish(session, named, Section::Questions, text, &values)
}

/// The kinds that a question may be begun with.
const KINDS: [&str; 8] =
    ["yes/no", "choice", "pressure", "temperature", "time", "length", "volume", "ratio"];

fn kind_of(typed: &str) -> Result<&'static str> {
    if let Some(kind) = KINDS.iter().find(|kind| **kind == typed.trim()) {
        return Ok(kind);
    }
    match near_name(typed, KINDS) {
        Some(near) => bail!("no question is begun with the kind `{typed}`; did you mean `{near}`?"),
        None => bail!(
            "no question is begun with the kind `{typed}`; the kinds are {}, and any other can \
             be written into the file",
            KINDS.join(", ")
        ),
    }
}

impl NewEntry {
    /// Whether nothing has to be asked for.
    pub(super) fn is_whole(&self) -> bool {
        self.id.is_some() && self.title.is_some() && self.into.is_some()
    }
}

/// The id, the title and the folder: as given, or asked for.
pub(super) fn named(
    session: &mut Session<'_>,
    entry: &NewEntry,
    section: Section,
    word: &str,
    ask_title: &'static str,
) -> Result<Named> {
    let into = entry.into.as_deref().map(|folder| folder.display().to_string());
    let folder = folder_wanted(into.as_deref());
    let title = Wanted {
        given: entry.title.as_deref(),
        flag: "--title TEXT",
        ask: ask_title,
        hint: "a few words, as people should read them",
    };
    let id = Wanted {
        given: entry.id.as_deref(),
        flag: "--id ID",
        ask: "Which id shall it have? Rules use it, people don't see it.",
        hint: "an id, such as each_hose",
    };
    asking::require(session, word, &[&id, &title, &folder])?;
    asking::open(session, &[&id, &title, &folder])?;
    let into = asking::text(session, &folder, &folder_name)?;
    let ground = Ground::look(session, Path::new(&into))?;
    let title = asking::text(session, &title, &one_line)?;
    let id = asking::text(session, &id, &|typed| ground.free_id(section, typed))?;
    if let Some(near) = ground.near(section, &id) {
        session.say(&format!("dryhold: {near}"))?;
    }
    Ok(Named { ground, id, title, folder: into.into() })
}

/// How a folder is asked for.
pub(super) fn folder_wanted(given: Option<&str>) -> Wanted<'_> {
    Wanted {
        given,
        flag: "--into FOLDER",
        ask: "Which folder shall it go into?",
        hint: "the name of a folder, such as my-rules",
    }
}

/// A folder's name as typed.
pub(super) fn folder_name(typed: &str) -> Result<String, String> {
    if typed.trim().is_empty() || !crate::text::is_inert(typed) {
        return Err("this is no name of a folder; write one such as my-rules".to_owned());
    }
    Ok(typed.trim().to_owned())
}

/// Whether there is no YAML file below a folder, or no folder.
fn is_empty(folder: &Path) -> bool {
    crate::cli::load::yaml_files(folder).is_ok_and(|files| files.is_empty()) || !folder.exists()
}

/// Fills the starter, proves it beside the handbook, and writes it.
fn finish(
    session: &mut Session<'_>,
    named: Named,
    section: Section,
    text: &str,
    values: &[(&str, &str)],
) -> Result<ExitStatus> {
    let Named { ground, id, title, folder } = named;
    let options = ground.options();
    let check = format!("dryhold check {options}");
    let title = scalar(&title);
    let mut all = vec![("check", check.as_str()), ("id", id.as_str())];
    // What a person typed comes last, so that nothing is put into it.
    all.extend(values);
    all.push(("title", &title));
    let text = fill(text, &all);
    let path = folder.join(section.key()).join(format!("{id}.yaml"));
    let look = Look { colour: session.is_talk_coloured() };
    let others = ground.prove(&[(path.display().to_string(), text.clone())], look)?;
    write(&[NewFile { path: path.clone(), text }])?;
    session.result(&format!("written: {}", path.display()))?;
    if others > 0 {
        let faults = count(others, "fault");
        session.say(&format!("dryhold: the handbook has {faults} besides; `{check}` tells"))?;
    }
    session.tell("Next, change its texts in an editor. These look after it:")?;
    session.say(&format!("  {check}"))?;
    if section == Section::Trees {
        session.say(&format!("  dryhold diagnose {id} {options}"))?;
        session.say(&format!(
            "  dryhold new scenario --id first --title '...' --tree {id} {options} --into scenarios"
        ))?;
    }
    Ok(ExitStatus::Settled)
}
