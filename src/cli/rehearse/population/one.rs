//! One rig of a population: what was hidden in it, and the whole course of its play.

use anyhow::{Context, Result, bail};
use serde_json::json;

use super::begins_with;
use crate::cli::arguments::{RehearsalFormat, RehearseArguments};
use crate::cli::exit::ExitStatus;
use crate::cli::session::Session;
use crate::evidence::Engine;
use crate::handbook::Handbook;
use crate::rehearsal::practice::told_fault;
use crate::rehearsal::rigged::population::{Drawn, Ranges, draw};
use crate::rehearsal::rigged::{AtRig, Hand, Played, RigAnswers, play};
use crate::report::{About, CaseReport};
use crate::text::Line;

pub(super) fn run(
    session: &mut Session<'_>,
    arguments: &RehearseArguments,
    (rig, number): (u64, u64),
    (ranges, mapping): (&Ranges, &RigAnswers),
    (handbook, engine): (&Handbook, &Engine),
) -> Result<ExitStatus> {
    if rig >= number {
        bail!("--rig {rig}: the rigs of a population of {number} are 0 to {}", number - 1);
    }
    let drawn = draw(ranges, handbook, arguments.seed, rig);
    let hand = Hand::of(drawn.making.clone(), drawn.seed)
        .ok()
        .with_context(|| format!("rig {rig} of seed {} can't be built", arguments.seed))?;
    let tree = begins_with(handbook)?;
    let played = play((handbook, engine), tree, AtRig::new(hand, mapping, []));
    let about = About {
        id: format!("rig {rig} of seed {}", arguments.seed),
        day: None,
        times: Vec::new(),
        notices: Vec::new(),
    };
    let report = CaseReport::of(&played.case, &about);
    match arguments.format {
        RehearsalFormat::Json => {
            let told = json!({
                "hidden": hidden(&drawn),
                "shows": drawn.shows(),
                "minutes": played.minutes,
                "at_the_rig": played.told(),
                "report": report.json(),
            });
            session.result(&format!("{told:#}"))?;
        }
        _ => {
            session.result_lines(&before(&drawn, &played))?;
            session.result("")?;
            session.result_lines(&report.lines())?;
        }
    }
    Ok(ExitStatus::Settled)
}

fn hidden(drawn: &Drawn) -> Vec<String> {
    drawn.faults.iter().map(|(fault, size)| told_fault(*fault, *size)).collect()
}

/// What was hidden, and what the rig said to what was done.
fn before(drawn: &Drawn, played: &Played<'_>) -> Vec<Line> {
    let hidden = hidden(drawn);
    let mut lines = vec![Line::strong("Hidden in this rig")];
    lines.extend(hidden.iter().map(|fault| Line::plain(format!("- {fault}"))));
    lines.push(Line::plain(match (hidden.is_empty(), drawn.shows()) {
        (true, _) => "Nothing is wrong with it.",
        (false, true) => "It shows in the job.",
        (false, false) => "It does not show in the job.",
    }));
    lines.extend(played.told().into_iter().map(|told| Line::plain(format!("- {told}"))));
    lines
}
