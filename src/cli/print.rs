//! `dryhold print`: a tree as a card for a van without a computer.

use anyhow::Result;

use super::author_arguments::{PrintArguments, PrintFormat};
use super::exit::ExitStatus;
use super::load::handbook;
use super::named_tree::{find_tree, first_tree};
use super::session::Session;
use crate::report::card;

/// The pages that a card is meant to fit on.
const MOST_PAGES: f64 = 2.0;

pub(super) fn run(session: &mut Session<'_>, arguments: &PrintArguments) -> Result<ExitStatus> {
    let Some(handbook) = handbook(session)? else {
        return Ok(ExitStatus::HandbookFaulty);
    };
    let tree = match &arguments.tree {
        Some(name) => find_tree(session.arguments, &handbook, name)?,
        None => first_tree(&handbook)?,
    };
    let card_of_tree = card::card(&handbook, tree);
    let text = match arguments.format {
        PrintFormat::Markdown => card::markdown(&card_of_tree),
        PrintFormat::Html => card::html(&card_of_tree),
    };
    session.result(text.trim_end())?;
    let pages = card::pages(&card_of_tree);
    if pages > MOST_PAGES {
        session.say(&format!(
            "dryhold: the card takes about {pages:.1} pages of A4, more than the two it is meant \
             for; divide the tree"
        ))?;
    }
    Ok(ExitStatus::Settled)
}
