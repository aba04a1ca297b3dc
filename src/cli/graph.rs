//! `dryhold graph`: a tree as a drawing, or the visits between trees.

use std::path::PathBuf;

use anyhow::{Context, Result, bail};

use super::author_arguments::{GraphArguments, GraphFormat};
use super::diagnose::book;
use super::exit::ExitStatus;
use super::load::handbook;
use super::named_case::find;
use super::named_tree::find_tree;
use super::rehearse;
use super::session::Session;
use crate::book::read_journal;
use crate::case::{Case, Event};
use crate::drawing::{Marks, between_trees, dot, mermaid, of_tree, svg};
use crate::evidence::Engine;
use crate::handbook::{Handbook, TreeId};

pub(super) fn run(session: &mut Session<'_>, arguments: &GraphArguments) -> Result<ExitStatus> {
    if arguments.format == GraphFormat::Svg && session.facts.stdout_is_terminal {
        let tree = arguments.tree.as_deref().unwrap_or_default();
        let name = if tree.is_empty() { "trees" } else { tree };
        let command = format!("dryhold graph {tree}");
        bail!(
            "a picture says nothing on a terminal; send it into a file that a browser opens: {} > \
             {name}.svg, or read it here with --format mermaid",
            command.trim_end()
        );
    }
    let Some(handbook) = handbook(session)? else {
        return Ok(ExitStatus::HandbookFaulty);
    };
    let tree = arguments
        .tree
        .as_deref()
        .map(|name| find_tree(session.arguments, &handbook, name))
        .transpose()?;
    let Some(marks) = marks(session, &handbook, arguments, tree)? else {
        return Ok(ExitStatus::Unusable);
    };
    let graph = match tree {
        Some(tree) => of_tree(&handbook, tree, &marks),
        None => between_trees(&handbook, &marks),
    };
    let text = match arguments.format {
        GraphFormat::Dot => dot(&graph),
        GraphFormat::Mermaid => mermaid(&graph),
        GraphFormat::Svg => svg(&graph),
    };
    session.result(text.trim_end())?;
    Ok(ExitStatus::Settled)
}

/// What is told on the drawing; none where scenarios have faults, which are then reported.
fn marks(
    session: &mut Session<'_>,
    handbook: &Handbook,
    arguments: &GraphArguments,
    tree: Option<TreeId>,
) -> Result<Option<Marks>> {
    if let Some(case) = &arguments.case {
        return path(session, handbook, case, tree).map(Some);
    }
    if !arguments.coverage {
        return Ok(Some(Marks::nothing()));
    }
    let default = [PathBuf::from("scenarios")];
    let named = if arguments.scenarios.is_empty() { &default[..] } else { &arguments.scenarios };
    let mut marks = Marks::coverage();
    let engine = Engine::new(handbook)?;
    let Some(cases) = rehearse::cases(session, handbook, &engine, named)? else {
        return Ok(None);
    };
    cases.iter().for_each(|case| marks.add(case));
    Ok(Some(marks))
}

fn path(
    session: &mut Session<'_>,
    handbook: &Handbook,
    id: &str,
    tree: Option<TreeId>,
) -> Result<Marks> {
    let Some(book) = book(session) else {
        bail!("there is no home folder; name the folder of the cases with --book FOLDER");
    };
    let file = find(&book, Some(id))?;
    let reading = read_journal(&file.path)?;
    for notice in &reading.notices {
        session.tell(notice)?;
    }
    let events: Vec<Event> = reading.entries.iter().map(|entry| entry.event.clone()).collect();
    let engine = Engine::new(handbook)?;
    let case = Case::replay(handbook, &engine, &events)
        .with_context(|| format!("the case `{id}` can't be read with this handbook"))?;
    let marks = Marks::path(&case);
    if let Some(tree) = tree.filter(|tree| !marks.has_been_in(*tree)) {
        let name = &handbook.tree(tree).id;
        session.say(&format!("dryhold: the case `{id}` has not been in the tree `{name}`"))?;
    }
    Ok(marks)
}
