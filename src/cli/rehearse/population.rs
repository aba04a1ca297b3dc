//! `dryhold rehearse --population`: the assistant against rigs drawn at random.

mod fitting;
mod json;
mod one;
mod picture;
mod text;

use std::path::Path;

use anyhow::{Context, Result, bail};
use indicatif::{ProgressBar, ProgressStyle};

use super::reading::say_faults;
use crate::cli::arguments::{RehearsalFormat, RehearseArguments};
use crate::cli::exit::ExitStatus;
use crate::cli::load::read_text;
use crate::cli::parallel::in_order;
use crate::cli::session::Session;
use crate::cli::written_file::write_file;
use crate::diagnostic::Diagnostic;
use crate::document::raw::read_rig_ranges;
use crate::evidence::{Alike, Engine, alike};
use crate::handbook::{CauseId, Handbook, TreeId};
use crate::rehearsal::rigged::population::{RIG_RANGES, Ranges, Score, Tally, draw, groups};
use crate::rehearsal::rigged::{AtRig, Hand, RigAnswers, add_rig_answers, play};
use crate::source::Sources;
pub(super) use fitting::Texts;

/// The tree that every play begins with.
const BEGINS_WITH: &str = "start";

/// Two causes between which a finding tells less than so many nats on average are hard to tell apart
/// (limit of ours: under .5 lie more than half of all pairs).
const ALIKE_BELOW: f64 = 0.2;

/// A population that was played.
struct Population<'h> {
    name: String,
    seed: u64,
    handbook: &'h Handbook,
    scores: Vec<Score>,
    /// The causes that a wet system is, and those that its leak is.
    wet: Vec<CauseId>,
    leaking: Vec<CauseId>,
    /// The causes that are hardest to tell apart, two and two, known before any play.
    alike: Vec<Alike>,
    /// The rigs that can't be, or that the play could not be begun with.
    unmade: usize,
}

impl Population<'_> {
    fn tally(&self) -> Tally<'_> {
        Tally::new(self.scores.iter().collect(), self.seed)
    }

    /// Whether a system is wet and has no leak.
    fn is_wet_and_tight(&self, score: &Score) -> bool {
        let is_any = |causes: &[CauseId]| causes.iter().any(|id| score.is_there[id.index()]);
        is_any(&self.wet) && !is_any(&self.leaking)
    }

    /// Whether a cause is there that is hard to tell from another.
    fn is_hard_to_tell(&self, score: &Score) -> bool {
        self.alike.iter().flat_map(|pair| pair.causes).any(|id| score.is_there[id.index()])
    }

    /// Whether a leak of the system leads.
    fn is_called_a_leak(&self, score: &Score) -> bool {
        let places = groups(self.handbook);
        let leads = score.ranked().first().and_then(|place| places.get(*place).copied());
        self.leaking.iter().any(|id| leads == Some(self.handbook.cause(*id).group.as_str()))
    }
}

pub(super) fn run(
    session: &mut Session<'_>,
    arguments: &RehearseArguments,
    number: u64,
    (handbook, engine): (&Handbook, &Engine),
    texts: Option<&Texts>,
) -> Result<ExitStatus> {
    if arguments.format == RehearsalFormat::Junit {
        bail!("a population is told as text or as json; junit tells of scenarios");
    }
    let mut sources = Sources::default();
    let found = read(&mut sources, arguments.ranges.as_deref(), handbook)?;
    let (ranges, mapping) = match found {
        Ok(found) => found,
        Err(faults) => {
            say_faults(session, &faults, &sources)?;
            return Ok(ExitStatus::Unusable);
        }
    };
    if let Some(rig) = arguments.rig {
        return one::run(
            session,
            arguments,
            (rig, number),
            (&ranges, &mapping),
            (handbook, engine),
        );
    }
    let population =
        played(session, (&ranges, &mapping), arguments.seed, number, (handbook, engine))?;
    if let Some(path) = &arguments.svg {
        let picture = picture::picture(&population);
        write_file(path, &picture, "the picture", arguments.force)?;
    }
    match arguments.format {
        RehearsalFormat::Json => {
            let mut whole = json::json(&population);
            if texts.is_some() {
                whole["fit"] = fitting::json(&population);
            }
            session.result(&format!("{whole:#}"))?;
        }
        _ => {
            let mut whole = text::told(&population);
            if let Some(texts) = texts {
                whole.push_str(&fitting::told(&population, texts));
            }
            session.result(whole.trim_end())?;
        }
    }
    Ok(ExitStatus::Settled)
}

/// The ranges and what is done at a rig, or what is wrong with either.
fn read(
    sources: &mut Sources,
    file: Option<&Path>,
    handbook: &Handbook,
) -> Result<Result<(Ranges, RigAnswers), Vec<Diagnostic>>> {
    let id = match file {
        Some(path) => {
            let name = path.display().to_string();
            let text = read_text(path)?;
            sources.add(name, text)
        }
        None => sources.add("src/rehearsal/rigged/population/ranges.yaml", RIG_RANGES),
    };
    let (raw, mut faults) = read_rig_ranges(sources, id);
    let (answers, found) = add_rig_answers(sources);
    faults.extend(found);
    let (Some(raw), Some(answers)) = (raw, answers) else { return Ok(Err(faults)) };
    let ranges = Ranges::resolve(&raw, handbook);
    let answers = RigAnswers::resolve(&answers, handbook);
    Ok(match (ranges, answers) {
        (Ok(ranges), Ok(answers)) if faults.is_empty() => Ok((ranges, answers)),
        (ranges, answers) => {
            faults.extend(ranges.err().into_iter().chain(answers.err()).flatten());
            Err(faults)
        }
    })
}

/// Plays the assistant against every rig, on all cores; what comes of a rig depends on the seed
/// and its number alone.
fn played<'h>(
    session: &Session<'_>,
    (ranges, mapping): (&Ranges, &RigAnswers),
    seed: u64,
    number: u64,
    (handbook, engine): (&'h Handbook, &'h Engine),
) -> Result<Population<'h>> {
    let tree = begins_with(handbook)?;
    let bar = bar(session, number);
    let numbers: Vec<u64> = (0..number).collect();
    let one = |number: &u64| {
        let drawn = draw(ranges, handbook, seed, *number);
        let shows = drawn.shows();
        let hand = Hand::of(drawn.making, drawn.seed).ok()?;
        let played = play((handbook, engine), tree, AtRig::new(hand, mapping, []));
        Some(Score::of(&played, (&drawn.causes, shows), ranges.wet_oil()))
    };
    let (mut scores, mut unmade) = (Vec::new(), 0);
    in_order(&numbers, one, |score| {
        bar.inc(1);
        match score {
            Some(score) => scores.push(score),
            None => unmade += 1,
        }
        Ok(())
    })?;
    bar.finish_and_clear();
    let (wet, leaking) = (ranges.wet_system(), ranges.system_leak());
    let name = ranges.population.clone();
    let alike = alike(engine, handbook, ALIKE_BELOW);
    Ok(Population { name, seed, handbook, scores, wet, leaking, alike, unmade })
}

fn begins_with(handbook: &Handbook) -> Result<TreeId> {
    handbook
        .find_tree(BEGINS_WITH)
        .with_context(|| format!("the handbook has no tree `{BEGINS_WITH}` to begin with"))
}

/// A bar on standard error, where that is a terminal.
fn bar(session: &Session<'_>, number: u64) -> ProgressBar {
    if !session.facts.stderr_is_terminal {
        return ProgressBar::hidden();
    }
    let bar = ProgressBar::new(number);
    match ProgressStyle::with_template("{pos} of {len} rigs {wide_bar} {eta} left") {
        Ok(style) => bar.with_style(style),
        Err(_) => bar,
    }
}
