//! `dryhold try`: starts anywhere in a tree, with what is given, and says why it goes where it goes.

use anyhow::{Result, anyhow, bail};

use super::author_arguments::TryArguments;
use super::exit::ExitStatus;
use super::given::read_set;
use super::load::handbook;
use super::named_tree::find_tree;
use super::session::Session;
use crate::case::{Case, Ending, KeepNothing, Place, Trial, interview};
use crate::diagnostic::near_name;
use crate::evidence::Engine;
use crate::handbook::{Handbook, StepId, TreeId};
use crate::report::{tried, tried_json};
use crate::text::inert;

pub(super) fn run(session: &mut Session<'_>, arguments: &TryArguments) -> Result<ExitStatus> {
    let Some(handbook) = handbook(session)? else {
        return Ok(ExitStatus::HandbookFaulty);
    };
    let tree = find_tree(session.arguments, &handbook, &arguments.tree)?;
    let step = match &arguments.from {
        Some(name) => find_step(&handbook, tree, name)?,
        None => handbook.tree(tree).start,
    };
    let set = read_set(&handbook, &arguments.answers_set)?;
    let engine = Engine::new(&handbook)?;
    let (mut case, mut trial) =
        Trial::open(&handbook, &engine, Place { tree, step }, set).map_err(|why| anyhow!(why))?;
    let ending = interview(&mut case, &mut trial, &mut KeepNothing);
    for remark in &trial.remarks {
        session.say(&format!("dryhold: {remark}"))?;
    }
    if matches!(ending, Ending::Unusable(_)) {
        return Ok(ExitStatus::Unusable);
    }
    told(session, &case, &trial, arguments.json)?;
    Ok(ExitStatus::Settled)
}

fn told(session: &mut Session<'_>, case: &Case<'_>, trial: &Trial, json: bool) -> Result<()> {
    if json {
        session.result(&tried_json(case, trial).to_string())
    } else {
        session.result_lines(&tried(case, trial))
    }
}

fn find_step(handbook: &Handbook, tree: TreeId, name: &str) -> Result<StepId> {
    let tree = handbook.tree(tree);
    let ids = || tree.steps.iter().map(|step| step.id.as_str());
    if let Some(place) = ids().position(|id| id == name) {
        return Ok(StepId::at(place));
    }
    let shown = inert(name);
    match near_name(name, ids()) {
        Some(near) => {
            bail!("tree `{}` has no step `{shown}`; did you mean `{near}`?", tree.id)
        }
        None => bail!(
            "tree `{}` has no step `{shown}`; its steps are {}",
            tree.id,
            ids().collect::<Vec<_>>().join(", ")
        ),
    }
}
