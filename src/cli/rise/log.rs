//! The log of a hold test, from a file or from standard input.

use std::fs::File;
use std::io::{BufReader, Read, empty, stdin};
use std::path::Path;

use anyhow::{Result, anyhow, bail};

use super::no_log::how_to_type;
use crate::cli::arguments::RiseArguments;
use crate::cli::load::reason;
use crate::cli::session::Session;
use crate::diagnostic::{Code, Look, render};
use crate::quantity::{QuantityKind, parse_prompt_unit};
use crate::report::ShownIn;
use crate::series::{Given, LogError, Readings, TimeForm, read_log, read_pasted};
use crate::source::Sources;

/// The longest text that is tried as a block that somebody pasted (bytes; limit of ours: a phone
/// call dictates less).
const LONGEST_BLOCK: usize = 4096;

/// What stands for standard input in the place of a file.
const TYPED: &str = "-";

/// The readings with what was noted about them; none, and told why, where the log can't be read.
pub(super) fn readings(
    session: &mut Session<'_>,
    arguments: &RiseArguments,
    shown: &ShownIn,
) -> Result<Option<Readings>> {
    let given = Given { shown_in: shown.pressure_unit(), ..given(arguments)? };
    if arguments.log == Path::new(TYPED) && session.facts.stdin_is_terminal {
        session.say(&how_to_type(shown))?;
    }
    let (name, mut input) = opened(&arguments.log)?;
    let mut start = Vec::new();
    let unread = |error| anyhow!("the log `{name}` can't be read: {}", reason(&error));
    input.by_ref().take(LONGEST_BLOCK as u64).read_to_end(&mut start).map_err(unread)?;
    let is_block = start.len() < LONGEST_BLOCK;
    // Of a block the end has been read; a terminal would be asked for it again.
    let rest: Box<dyn Read> = if is_block { Box::new(empty()) } else { input };
    let read = match read_log(BufReader::new(start.as_slice().chain(rest)), &given) {
        // Where it is no block either, reading it as one gives the same fault.
        Err(LogError::Fault(fault)) if is_block && fault.code != Code::Unreadable => {
            let text = String::from_utf8_lossy(&start);
            read_pasted(&text, &given).map_err(LogError::Fault)
        }
        read => read,
    };
    match read {
        Ok(readings) => {
            for line in readings.notes().lines() {
                session.tell(&format!("{name}: {line}"))?;
            }
            Ok(Some(readings))
        }
        Err(LogError::Fault(fault)) => {
            let mut sources = Sources::default();
            let fault = fault.diagnostic(&mut sources, &name);
            let look = Look { colour: session.is_talk_coloured() };
            session.say(render(&[fault], &sources, look).trim_end())?;
            Ok(None)
        }
        Err(LogError::Reader(error)) => bail!("the log `{name}` can't be read: {}", reason(&error)),
    }
}

fn opened(path: &Path) -> Result<(String, Box<dyn Read>)> {
    if path == Path::new(TYPED) {
        return Ok(("<standard input>".to_owned(), Box::new(stdin())));
    }
    let name = path.display().to_string();
    let unread = |error| anyhow!("the log `{name}` can't be read: {}", reason(&error));
    let file = File::open(path).map_err(unread)?;
    Ok((name, Box::new(file)))
}

fn given(arguments: &RiseArguments) -> Result<Given> {
    let mut given = Given::default();
    if let Some(text) = &arguments.time_unit {
        given.time_unit = TimeForm::parse(text);
        if given.time_unit.is_none() {
            bail!("--time-unit {text}: give a unit of time such as s or min, mm:ss, or hh:mm");
        }
    }
    if let Some(text) = &arguments.pressure_unit {
        match parse_prompt_unit(text, QuantityKind::PRESSURE) {
            Ok(unit) => given.pressure_unit = Some(unit),
            Err(_) => bail!("--pressure-unit {text}: give a unit of pressure such as micron or Pa"),
        }
    }
    Ok(given)
}
