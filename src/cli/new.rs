//! `dryhold new`: writes what an author begins with.
//!
//! What is written passes `dryhold check` beside the handbook that it joins; that is tried before
//! anything is on the disk. No file is ever overwritten.

mod asking;
mod entry;
mod ground;
mod handbook;
mod met;
mod scenario;
mod starter;
mod writing;
mod yaml_text;

use anyhow::Result;

use super::author_arguments::{New, NewArguments};
use super::exit::ExitStatus;
use super::session::Session;
use asking::Left;

pub(super) fn run(session: &mut Session<'_>, arguments: &NewArguments) -> Result<ExitStatus> {
    let written = match &arguments.what {
        New::Handbook(wanted) => handbook::begin(session, wanted),
        New::Tree(wanted) if wanted.handbook => handbook::around_a_tree(session, &wanted.entry),
        New::Tree(wanted) => entry::tree(session, &wanted.entry),
        New::Cause(wanted) => entry::cause(session, wanted),
        New::Question(wanted) => entry::question(session, wanted),
        New::Scenario(wanted) => scenario::begin(session, wanted),
    };
    match written {
        Err(error) => match error.downcast_ref::<Left>() {
            Some(left) => {
                session.say("dryhold: nothing is written")?;
                Ok(left.status())
            }
            None => Err(error),
        },
        written => written,
    }
}
