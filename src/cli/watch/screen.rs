//! A watch on a screen that is drawn in place.

use std::time::Duration;

use anyhow::{Context, Result};

use super::every::Every;
use super::frame::{PROMPT, View, frame, help, said, why};
use super::keeping::{Keeping, Outcome};
use super::now;
use super::state::{Effect, Heard, Watch};
use super::{Left, Moment};
use crate::cli::session::Session;
use crate::quantity::{QuantityKind, show};
use crate::series::Beyond;
use crate::terminal::{LiveEvent, LiveScreen, Paper};
use crate::text::{Line, Role};

/// How often the countdown moves.
const STEP: Duration = Duration::from_secs(1);

/// What stands on the screen beside the readings.
struct Shown {
    page: Option<Vec<Line>>,
    message: Option<Line>,
    /// Whether the bell has rung for the reading that is due.
    has_rung: bool,
}

/// Watches until the person leaves.
pub(super) fn run(
    session: &Session<'_>,
    watch: &mut Watch<'_>,
    keeping: &mut Keeping,
    every: &Every,
    opening: &[Line],
) -> Result<Left> {
    let paper = Paper::of_terminal(session.is_talk_coloured());
    let is_ascii = session.facts.is_ascii();
    let mut screen = LiveScreen::open().context("the terminal can't be used")?;
    let page = watch.entries().is_empty().then(|| opening.to_vec());
    let message = opening.first().filter(|_| page.is_none()).cloned();
    let mut shown = Shown { page, message, has_rung: false };
    loop {
        let (due, since) = times(watch, every, now());
        if due.is_some_and(|due| due <= 0.0) && !shown.has_rung {
            screen.ring();
            shown.has_rung = true;
        }
        let view = View {
            watch,
            page: shown.page.as_deref(),
            message: shown.message.as_ref(),
            due,
            since,
            paper,
            is_ascii,
        };
        let rows = frame(&view, LiveScreen::size().1.saturating_sub(1));
        if screen.draw(&rows, PROMPT).is_err() {
            return Ok(Left::default());
        }
        let heard = match screen.next(STEP) {
            LiveEvent::Passed | LiveEvent::Changed => continue,
            LiveEvent::Line(line) => Heard::Line(line),
            LiveEvent::Interrupt => Heard::Interrupt,
            LiveEvent::End => Heard::End,
        };
        let was_settled = watch.look().is_settled();
        let outcome = keeping.hear(watch, heard, now());
        if let Some(left) = shown.take(&mut screen, watch, outcome) {
            return Ok(left);
        }
        if watch.look().is_settled() && !was_settled {
            screen.ring();
        }
    }
}

/// Seconds until the next reading is due, and since the first one.
fn times(watch: &Watch<'_>, every: &Every, now: Moment) -> (Option<f64>, Option<f64>) {
    let moments = watch.entries().iter().map(|entry| entry.at);
    let since = |at: jiff::Timestamp| now.at.duration_since(at).as_secs_f64();
    let first = moments.clone().min().map(since);
    let last = moments.max().map(since);
    (last.map(|last| every.after(watch.entries().len()) - last), first)
}

impl Shown {
    /// Shows what came of a line; how the watch is left, if it is.
    fn take(
        &mut self,
        screen: &mut LiveScreen,
        watch: &Watch<'_>,
        outcome: Outcome,
    ) -> Option<Left> {
        let is_correctable = matches!(outcome.effect, Effect::Refused(_));
        (self.page, self.message) = (None, None);
        match outcome.effect {
            Effect::Counted { .. } => {
                self.has_rung = false;
                self.message = Some(counted(watch));
            }
            Effect::TakenBack => {
                self.has_rung = false;
                self.message = Some(taken_back(watch));
            }
            Effect::Refused(why) => self.message = Some(said(&why)),
            Effect::Doubted(message) => self.message = Some(said(&message)),
            Effect::Help => self.page = Some(help(watch.unit())),
            Effect::Why => self.page = Some(why(watch)),
            Effect::Leave { is_interrupted } => {
                return Some(Left { is_interrupted, is_drawn: true, ..Left::default() });
            }
            Effect::Nothing | Effect::Keep(_) | Effect::TakeBack => {}
        }
        if let Some(fault) = outcome.fault {
            self.message = Some(Line::new().push(Role::Warning, fault));
        }
        if !is_correctable {
            screen.clear_field();
        }
        None
    }
}

/// The last reading as it was read.
fn counted(watch: &Watch<'_>) -> Line {
    Line::plain(format!("The last reading is {}.", last(watch)))
}

fn taken_back(watch: &Watch<'_>) -> Line {
    if watch.entries().is_empty() {
        return Line::plain("Taken back; there is no reading.");
    }
    Line::plain(format!("Taken back; the last reading is {}.", last(watch)))
}

fn last(watch: &Watch<'_>) -> String {
    match watch.entries().last().map(|entry| entry.pressure) {
        Some(Ok(pressure)) => show(pressure, None, watch.unit(), QuantityKind::PRESSURE),
        Some(Err(Beyond::Over)) => "above the gauge's scale".to_owned(),
        Some(Err(Beyond::Under)) => "below the gauge's scale".to_owned(),
        None => "none".to_owned(),
    }
}
