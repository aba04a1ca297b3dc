//! `dryhold practice`: a simulated rig with a hidden fault to be found, and a class's records.

mod class;
mod debriefed;
mod dialogue;
mod listed;
mod naming;

use std::time::{SystemTime, UNIX_EPOCH};

use anyhow::{Context, Result, bail};

use self::dialogue::{Dialogue, Ended};
use super::exit::ExitStatus;
use super::load::handbook;
use super::practice_arguments::PracticeArguments;
use super::session::Session;
use super::written_file::write_file;
use crate::document::raw::read_rig_ranges;
use crate::evidence::Engine;
use crate::handbook::Handbook;
use crate::rehearsal::practice::{Exercise, Ground, Record, deal, debrief};
use crate::rehearsal::rigged::population::{RIG_RANGES, Ranges};
use crate::rehearsal::rigged::{RigAnswers, add_rig_answers};
use crate::source::Sources;
use crate::terminal::{Dialogue as Held, open};

/// The most different seeds that the clock gives, few enough to be read out.
const SEEDS_OF_THE_CLOCK: u128 = 10_000;

pub(super) fn run(session: &mut Session<'_>, arguments: &PracticeArguments) -> Result<ExitStatus> {
    if !arguments.class.is_empty() {
        return class::run(session, arguments);
    }
    refuse_a_record_that_is_there(arguments)?;
    let Some(handbook) = handbook(session)? else {
        return Ok(ExitStatus::HandbookFaulty);
    };
    let Some((ranges, mapping)) = read(&handbook) else {
        bail!(
            "practice needs the built-in handbook: the simulated rig has nothing to do for some of \
             what these rules ask"
        );
    };
    let engine = Engine::new(&handbook)?;
    let ground = Ground { handbook, engine, mapping };
    let seed = arguments.seed.unwrap_or_else(seed_of_the_clock);
    let dealt = deal(&ranges, &ground.handbook, arguments.level.into(), seed)?;
    let mut exercise = Exercise::begin(&ground, dealt)
        .context("the handbook has no tree, so nothing can be judged by it")?;
    practise(session, arguments, &mut exercise)
}

/// Lets somebody practise to the end, or until they leave; keeps the record either way.
fn practise(
    session: &mut Session<'_>,
    arguments: &PracticeArguments,
    exercise: &mut Exercise<'_>,
) -> Result<ExitStatus> {
    let held = session.facts.dialogue();
    let mut console = match held {
        Some(_) => session.take_console()?,
        // A pipe is read line by line.
        None => {
            open(Held::Plain, session.is_talk_coloured()).context("standard input can't be read")?
        }
    };
    let is_screen = held == Some(Held::Screen);
    let mut dialogue = Dialogue { console: console.as_mut(), is_screen, hourly: arguments.hourly };
    let ended = dialogue.run(exercise);
    session.console = Some(console);
    match ended {
        Ended::Named(named) => {
            session.tell("The assistant goes to the same rig now ...")?;
            let debrief = debrief(exercise, named);
            session.result_lines(&debriefed::lines(exercise, &debrief, arguments.hourly))?;
            keep(session, arguments, Record::of(exercise, Some(&debrief)))?;
            Ok(ExitStatus::Settled)
        }
        Ended::Left | Ended::Interrupted => {
            let (level, seed) = (exercise.dealt().level.word(), exercise.dealt().seed);
            session.tell(&format!(
                "Left before its end. dryhold practice --level {level} --seed {seed} begins the \
                 same rig anew."
            ))?;
            keep(session, arguments, Record::of(exercise, None))?;
            let is_left = matches!(ended, Ended::Left);
            Ok(if is_left { ExitStatus::NotSettled } else { ExitStatus::Interrupted })
        }
    }
}

fn keep(session: &mut Session<'_>, arguments: &PracticeArguments, record: Record) -> Result<()> {
    let Some(path) = &arguments.save else { return Ok(()) };
    let record = Record { name: arguments.name.clone(), hourly: arguments.hourly, ..record };
    let text = serde_json::to_string_pretty(&record).context("the record can't be written")?;
    write_file(path, &(text + "\n"), "the record", arguments.force)?;
    session.tell(&format!("The record is kept in {}.", path.display()))
}

/// Nobody is to learn at the end that the file was there all along.
fn refuse_a_record_that_is_there(arguments: &PracticeArguments) -> Result<()> {
    match &arguments.save {
        Some(path) if path.exists() && !arguments.force => {
            bail!("`{}` is there already; --force replaces it", path.display())
        }
        _ => Ok(()),
    }
}

/// The ranges and what is done at a rig; nothing where they don't fit this handbook.
fn read(handbook: &Handbook) -> Option<(Ranges, RigAnswers)> {
    let mut sources = Sources::default();
    let id = sources.add("src/rehearsal/rigged/population/ranges.yaml", RIG_RANGES);
    let (ranges, _) = read_rig_ranges(&sources, id);
    let (answers, _) = add_rig_answers(&mut sources);
    let ranges = Ranges::resolve(&ranges?, handbook).ok()?;
    Some((ranges, RigAnswers::resolve(&answers?, handbook).ok()?))
}

fn seed_of_the_clock() -> u64 {
    let since = SystemTime::now().duration_since(UNIX_EPOCH);
    since.map_or(1, |since| 1 + (since.as_nanos() % SEEDS_OF_THE_CLOCK) as u64)
}
