//! A wait that is told as over before it was begun here: how long it was.

use std::time::Duration;

use super::answering::Person;
use crate::terminal::clock::spoken;
use crate::terminal::console::Reply;
use crate::terminal::past::{Past, minutes};
use crate::terminal::prompt::{Checked, ValuePrompt};
use crate::terminal::words::{Action, is_started};
use crate::text::Line;

impl Person<'_> {
    /// How much of a wait that is told as over has passed: as it was told, or as it is asked for.
    /// None of it where nobody knows.
    pub(super) fn time_that_passed(
        &mut self,
        past: Past,
        length: Duration,
    ) -> Result<Duration, Reply> {
        let told = match past.seconds {
            Some(seconds) => Some(seconds),
            None => self.minutes_that_passed(length)?,
        };
        let passed = told.and_then(|seconds| Duration::try_from_secs_f64(seconds).ok());
        let Some(passed) = passed else { return Ok(Duration::ZERO) };
        if passed >= length {
            self.remark = Some(format!(
                "The wait of {} was told as over, after {}.",
                spoken(length),
                spoken(passed)
            ));
        } else {
            let (passed, length) = (spoken(passed), spoken(length));
            let told = format!("{passed} of {length} have passed; the rest is waited for here.");
            self.console.show(&[Line::plain(told)]);
        }
        Ok(passed)
    }

    /// For how many seconds it has been as the step asks; none where the wait is to begin now.
    fn minutes_that_passed(&mut self, length: Duration) -> Result<Option<f64>, Reply> {
        let asked =
            format!("How many minutes did it stand so? Enter alone: {} at least.", spoken(length));
        let told = |typed: &str| match typed.trim() {
            "" => Some(length.as_secs_f64()),
            typed => minutes(typed),
        };
        let check = |typed: &str| match told(typed) {
            _ if is_started(typed) => Checked::Accepted { echo: Line::plain("It begins now.") },
            Some(seconds) => {
                let passed = Duration::try_from_secs_f64(seconds).unwrap_or_default();
                Checked::Accepted { echo: Line::plain(format!("Taken as {}.", spoken(passed))) }
            }
            None => Checked::Refused(Line::plain(
                "Type the minutes as a number, or start to begin the wait now.",
            )),
        };
        let prompt = ValuePrompt {
            title: vec![Line::plain(asked)],
            hint: "the minutes, or start to begin the wait now".to_owned(),
            actions: vec![Action::NotSure, Action::Back, Action::Stop],
            check: &check,
        };
        match self.console.value(&prompt) {
            Reply::Typed(typed) => Ok(told(&typed)),
            Reply::Act(Action::NotSure) => Ok(None),
            // The step itself is put again.
            Reply::Act(Action::Back) => Err(Reply::Act(Action::More)),
            other => Err(other),
        }
    }
}
