//! Answers given beforehand: those of an answers file, and those of `--set`, which win.

use std::path::Path;

use anyhow::{Result, anyhow, bail};

use super::arguments::DiagnoseArguments;
use super::hold_log::{beside, named};
use super::load::read_text;
use super::session::Session;
use crate::case::{Script, check_answer, named_log};
use crate::diagnostic::{Look, near_name, render};
use crate::document::raw::read_answers_or_scenario;
use crate::handbook::{Handbook, QuestionId};
use crate::rehearsal::resolve_answers;
use crate::source::Sources;

/// What is given beforehand; every answer in it can be read.
#[derive(Default)]
pub(super) struct Given {
    pub tree: Option<String>,
    pub answers: Vec<(QuestionId, Vec<String>)>,
    pub acknowledge: Vec<String>,
    has_file: bool,
}

impl Given {
    /// Whether there is nothing to run a case by, so that a person has to be asked.
    pub fn is_empty(&self) -> bool {
        self.answers.is_empty() && !self.has_file
    }

    /// These answers as an answerer of a case.
    pub fn script(&self) -> Script {
        let (answers, acknowledge) = (self.answers.clone(), self.acknowledge.clone());
        Script::new(answers, acknowledge).wanting_proof_of_repairs()
    }

    /// Reads and checks everything that was given, before anything is run.
    pub fn read(
        session: &mut Session<'_>,
        handbook: &Handbook,
        arguments: &DiagnoseArguments,
    ) -> Result<Self> {
        let mut given = Self { acknowledge: arguments.acknowledge.clone(), ..Self::default() };
        check_cautions(handbook, &given.acknowledge)?;
        if let Some(path) = &arguments.answers {
            given.read_file(session, handbook, path)?;
        }
        let set = read_set(handbook, &arguments.answers_set)?;
        given.answers.retain(|(id, _)| !set.iter().any(|(known, _)| known == id));
        given.answers.extend(set);
        Ok(given)
    }

    fn read_file(
        &mut self,
        session: &mut Session<'_>,
        handbook: &Handbook,
        path: &Path,
    ) -> Result<()> {
        let mut sources = Sources::default();
        let text = read_text(path)?;
        let id = sources.add(path.display().to_string(), text);
        let (raw, mut faults) = read_answers_or_scenario(&sources, id);
        let expects = raw.as_ref().is_some_and(|raw| raw.expect.is_some());
        let resolved = match (raw, faults.is_empty()) {
            (Some(raw), true) => {
                let logs = beside(path);
                Some(resolve_answers(&raw, handbook, &logs, &mut faults))
            }
            _ => None,
        };
        if !faults.is_empty() {
            let look = Look { colour: session.is_talk_coloured() };
            bail!(
                "{} can't be used\n{}",
                path.display(),
                render(&faults, &sources, look).trim_end()
            );
        }
        if let Some(resolved) = resolved {
            self.has_file = true;
            if expects {
                let file = path.display();
                session.say(&format!(
                    "dryhold: what the scenario {file} expects is not looked at here; that is for \
                     dryhold rehearse {file}"
                ))?;
            }
            self.tree = resolved.tree.map(|tree| handbook.tree(tree).id.clone());
            self.acknowledge.extend(resolved.acknowledge);
            self.answers = resolved.answers;
        }
        Ok(())
    }
}

/// Reads the answers of `--set`; those to one question follow each other.
pub(super) fn read_set(
    handbook: &Handbook,
    texts: &[String],
) -> Result<Vec<(QuestionId, Vec<String>)>> {
    let mut set: Vec<(QuestionId, Vec<String>)> = Vec::new();
    for text in texts {
        let Some((id, typed)) = text.split_once('=') else {
            bail!("`--set {text}` has no `=`; write --set QUESTION=ANSWER");
        };
        let (name, typed) = (id.trim(), typed.trim());
        if name.is_empty() {
            bail!("`--set {text}` names no question; write --set QUESTION=ANSWER");
        }
        let id = find_question(handbook, name)?;
        let question = handbook.question(id);
        let typed = match named_log(question, typed) {
            Some(log) => {
                named(log, Path::new("")).map_err(|why| anyhow!("`--set {text}`: {why}"))?
            }
            None => typed.to_owned(),
        };
        if let Err(misunderstood) = check_answer(handbook, id, &typed) {
            bail!("`--set {text}`: {}", misunderstood.message);
        }
        match set.iter_mut().find(|(known, _)| *known == id) {
            Some((_, answers)) => answers.push(typed),
            None => set.push((id, vec![typed])),
        }
    }
    Ok(set)
}

/// The most questions that are named for a word that several ids hold (limit of ours).
const MOST_NEAR: usize = 6;

fn find_question(handbook: &Handbook, id: &str) -> Result<QuestionId> {
    if let Some(question) = handbook.find_question(id) {
        return Ok(question);
    }
    let ids = || handbook.questions().iter().map(|question| question.id.as_str());
    if let Some(near) = near_name(id, ids()) {
        bail!("the handbook asks no question `{id}`; did you mean `{near}`?");
    }
    let holding: Vec<String> = ids()
        .filter(|known| known.contains(id))
        .take(MOST_NEAR)
        .map(|id| format!("`{id}`"))
        .collect();
    match holding.is_empty() {
        false => bail!("the handbook asks no question `{id}`; there are {}", holding.join(", ")),
        true => bail!("the handbook asks no question `{id}`"),
    }
}

fn check_cautions(handbook: &Handbook, acknowledged: &[String]) -> Result<()> {
    for id in acknowledged {
        if handbook.find_caution(id).is_none() {
            let near = near_name(id, handbook.cautions().iter().map(|c| c.id.as_str()));
            match near {
                Some(near) => bail!("there is no caution `{id}`; did you mean `{near}`?"),
                None => bail!("there is no caution `{id}`"),
            }
        }
    }
    Ok(())
}
