//! A watch on a screen that is drawn in place.

use std::time::Duration;

use anyhow::{Context, Result};
use jiff::Timestamp;

use super::every::Every;
use super::frame::{PROMPT, View, frame, help, is_followed, said, why};
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
    /// Which part of the page, and whether another one follows it.
    part: usize,
    is_followed: bool,
    message: Option<Line>,
    /// Whether the bell has rung for the reading that is due.
    has_rung: bool,
    /// When the last reading was typed.
    typed: Option<Timestamp>,
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
    let mut shown =
        Shown { page, part: 0, is_followed: false, message, has_rung: false, typed: None };
    loop {
        let (due, since) = times(watch, every, shown.typed, now());
        let is_due = due.is_some_and(|due| due <= 0.0) && !watch.look().is_settled();
        if is_due && !shown.has_rung {
            screen.ring();
            shown.has_rung = true;
        }
        let view = View {
            watch,
            page: shown.page.as_deref(),
            part: shown.part,
            message: shown.message.as_ref(),
            due,
            since,
            paper,
            is_ascii,
        };
        let room = LiveScreen::size().1.saturating_sub(1);
        let rows = frame(&view, room);
        let is_followed = is_followed(&view, room);
        shown.is_followed = is_followed;
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
///
/// Readings that were noted elsewhere may have times ahead of the clock: the next one is then
/// due after they were typed, and the clock says nothing of the first.
fn times(
    watch: &Watch<'_>,
    every: &Every,
    typed: Option<Timestamp>,
    now: Moment,
) -> (Option<f64>, Option<f64>) {
    let moments = watch.entries().iter().map(|entry| entry.at);
    let (Some(first), Some(last)) = (moments.clone().min(), moments.max()) else {
        return (None, None);
    };
    let since = |at: Timestamp| now.at.duration_since(at).as_secs_f64();
    let from = last.min(typed.unwrap_or(last)).min(now.at);
    let due = every.after(watch.entries().len()) - since(from);
    (Some(due), (last <= now.at).then(|| since(first)))
}

impl Shown {
    /// Shows what came of a line; how the watch is left, if it is.
    fn take(
        &mut self,
        screen: &mut LiveScreen,
        watch: &Watch<'_>,
        outcome: Outcome,
    ) -> Option<Left> {
        if outcome.effect == Effect::Nothing && self.is_followed {
            self.part += 1;
            screen.clear_field();
            return None;
        }
        let is_correctable = matches!(outcome.effect, Effect::Refused(_));
        (self.page, self.part, self.message) = (None, 0, None);
        match outcome.effect {
            Effect::Counted { .. } => {
                (self.has_rung, self.typed) = (false, Some(now().at));
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
        if is_correctable {
            screen.refuse_line();
        } else {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::rise::Wanted;
    use crate::quantity::parse_unit;

    #[test]
    fn readings_noted_elsewhere_hold_up_no_countdown() {
        use clap::Parser;
        let arguments = crate::cli::Arguments::try_parse_from(["dryhold", "watch"]).unwrap();
        let Some(crate::cli::Command::Watch(asked)) = arguments.command else { panic!("no watch") };
        let (wanted, micron) = (Wanted::of(&asked.hold).unwrap(), parse_unit("micron").unwrap());
        let mut watch = Watch::new(&wanted, micron.clone(), micron, true);
        let at = |second: i64| Moment {
            at: Timestamp::from_second(1_700_000_000 + second).unwrap(),
            offset: jiff::tz::Offset::UTC,
        };
        let every = Every::of(None).unwrap();
        assert_eq!(times(&watch, &every, None, at(0)), (None, None));
        watch.hear(Heard::Line("0 min 420".to_owned()), at(0));
        watch.hear(Heard::Done, at(0));
        assert_eq!(times(&watch, &every, Some(at(0).at), at(20)), (Some(40.0), Some(20.0)));
        watch.hear(Heard::Line("10 min 450".to_owned()), at(30));
        watch.hear(Heard::Done, at(30));
        assert_eq!(times(&watch, &every, Some(at(30).at), at(40)), (Some(50.0), None));
        assert_eq!(times(&watch, &every, None, at(700)), (Some(-40.0), Some(700.0)));
    }
}
