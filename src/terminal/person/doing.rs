//! What is to be done: steps, waits, actions, and cautions to be acknowledged.

use std::time::Duration;

use super::answering::{ALWAYS, Audience, Person, sentence};
use super::asking::time_here;
use super::danger::{danger_told, points_to_danger};
use crate::case::{ActionId, Case, CautionId, Place, Response};
use crate::terminal::acknowledging::{is_sentence, no_name};
use crate::terminal::clock::{Clock, SystemClock, spoken, time_of_day};
use crate::terminal::console::Reply;
use crate::terminal::past::past;
use crate::terminal::prompt::{ConfirmPrompt, Confirmation, WaitPrompt};
use crate::terminal::words::Action;
use crate::text::{Line, Role, list_and};

/// The longest wait that is counted down, in seconds: a day (limit of ours).
const LONGEST_WAIT: f64 = 86_400.0;

/// From this length on a caller is asked to call back instead of holding the line (`estimate`).
const WORTH_A_CALL: Duration = Duration::from_secs(240);

/// A wait that has begun; an aside, such as a note, does not begin it anew.
#[derive(Debug)]
pub(super) struct Waiting {
    place: Place,
    length: Duration,
    /// What had passed of it before this sitting.
    before: Duration,
    clock: SystemClock,
}

impl Waiting {
    /// What is left, rounded up to whole seconds.
    fn left(&self) -> Duration {
        let left = self.length.saturating_sub(self.before).saturating_sub(self.clock.now());
        Duration::from_secs(left.as_secs() + u64::from(left.subsec_nanos() > 0))
    }
}

impl Person<'_> {
    /// The same person, who takes up a wait that was begun in an earlier sitting.
    #[must_use]
    pub fn with_wait(mut self, place: Place, seconds: f64, passed: Duration) -> Self {
        self.waiting = begin(seconds, place, passed);
        self
    }

    /// Puts a stop caution, which somebody has to acknowledge.
    pub(super) fn acknowledge(&mut self, case: &Case<'_>, id: CautionId) -> Option<Response> {
        let view = case.caution_view(id);
        let ask = view.refer.map(|refer| format!(" and ask {}", refer.to_text()));
        match self.acknowledged_by_name(case, &view.text.to_text(), &ask.unwrap_or_default()) {
            Ok(name) => {
                self.reminders.stand(vec![view.id]);
                Some(Response::Acknowledge(id, name))
            }
            Err(response) => response,
        }
    }

    /// Puts a warning that somebody has to acknowledge by name; what was done instead, if nobody did.
    pub(super) fn acknowledged_by_name(
        &mut self,
        case: &Case<'_>,
        warning: &str,
        way_out: &str,
    ) -> Result<String, Option<Response>> {
        let (first, who, by) = match self.audience {
            Audience::Site => ("Caution, read first", "you", Confirmation::Acknowledged),
            Audience::Phone => {
                ("Caution, read this out first", "the caller", Confirmation::AcknowledgedByCaller)
            }
        };
        let mut title = vec![Line::new(), Line::warning(format!("{first}: {warning}"))];
        title.push(Line::plain(format!("If {who} can't acknowledge it, type stop{way_out}.")));
        if let Some(name) = &self.last_name {
            title
                .push(Line::plain(sentence(&format!("The one before was acknowledged by {name}"))));
        }
        let prompt =
            ConfirmPrompt { title, by, actions: vec![Action::Back, Action::Note, Action::Stop] };
        Err(match self.console.confirm(&prompt) {
            Reply::Typed(name) if let Some(danger) = danger_told(case, None, &name) => {
                self.danger(case, &name, danger)
            }
            Reply::Typed(told) if points_to_danger(case, self.denied.as_deref(), &told) => {
                self.danger_or_name(case, &told)
            }
            Reply::Typed(told) if is_sentence(&told) => {
                let way = "What is to be told of the job goes in with note.";
                self.console.show(&[Line::plain(no_name(&told)), Line::plain(way)]);
                None
            }
            Reply::Typed(name) => {
                self.last_name = Some(name.clone());
                return Ok(name);
            }
            other => self.other(case, &other, None),
        })
    }

    /// Puts a step that says what to do, and lets its wait pass.
    pub(super) fn step(
        &mut self,
        case: &Case<'_>,
        text: Line,
        wait: Option<f64>,
        place: Place,
    ) -> Option<Response> {
        let is_waiting = self.waiting.as_ref().is_some_and(|waiting| waiting.place == place);
        if !is_waiting {
            self.waiting = None;
            let mut title = vec![Line::new()];
            title.extend(self.cautions_here(case));
            title.extend(time_here(case));
            title.push(self.audience.told(text));
            let waiting = wait.and_then(|seconds| begin(seconds, place, Duration::ZERO));
            let by = match &waiting {
                Some(waiting) => Confirmation::Started(waiting.length),
                None => Confirmation::Done,
            };
            let before = match (self.confirm(title, by), &waiting) {
                (Reply::Done, _) => Duration::ZERO,
                (Reply::Typed(typed) | Reply::Elsewhere(typed), Some(waiting))
                    if let Some(past) = past(&typed) =>
                {
                    match self.time_that_passed(past, waiting.length) {
                        Ok(passed) => passed,
                        Err(other) => return self.other(case, &other, None),
                    }
                }
                (other, _) => return self.other(case, &other, None),
            };
            // Begun only now, and not when it was asked for.
            self.waiting = wait.and_then(|seconds| begin(seconds, place, before));
            if self.waiting.as_ref().is_some_and(|waiting| waiting.left().is_zero()) {
                self.waiting = None;
            }
            return Some(match self.waiting {
                Some(_) => Response::Wait,
                None => Response::Done,
            });
        }
        self.let_pass(case)
    }

    /// Lets what is left of a wait pass.
    fn let_pass(&mut self, case: &Case<'_>) -> Option<Response> {
        let Some(waiting) = &self.waiting else { return Some(Response::Done) };
        let left = waiting.left();
        let title = match self.audience {
            Audience::Phone if left >= WORTH_A_CALL => vec![call_back(left)],
            _ => Vec::new(),
        };
        let prompt = WaitPrompt { title, length: left, actions: ALWAYS.to_vec() };
        let reply = match self.answered.take() {
            Some(reply) => reply,
            None => self.console.wait(&prompt),
        };
        if matches!(reply, Reply::Done) {
            self.remark = self.waiting.as_ref().and_then(cut_short);
        }
        if matches!(reply, Reply::Done | Reply::Act(Action::Back)) {
            self.waiting = None;
        }
        match reply {
            Reply::Done => Some(Response::Done),
            Reply::Elsewhere(typed) => self.told_in_a_wait(case, &typed),
            other => self.other(case, &other, None),
        }
    }

    /// Puts an action.
    pub(super) fn act(&mut self, case: &Case<'_>, id: ActionId) -> Option<Response> {
        let view = case.action_view(id);
        let mut title = vec![Line::new()];
        title.extend(self.cautions_here(case));
        if !view.parts.is_empty() {
            title.push(Line::plain(format!("You need: {}.", list_and(&view.parts))));
        }
        title.extend(time_here(case));
        let told = self.audience.told(view.instruction);
        title.push(match view.minutes {
            Some(minutes) => told.push(Role::Quiet, format!(" (about {minutes:.0} min)")),
            None => told,
        });
        match self.confirm(title, Confirmation::Done) {
            Reply::Done => Some(Response::Done),
            other => self.other(case, &other, None),
        }
    }

    /// The cautions of what is wanted now, as far as they were not said right before.
    pub(super) fn cautions_here(&mut self, case: &Case<'_>) -> Vec<Line> {
        let lines = self.reminders.of(&case.cautions_here());
        lines.into_iter().map(|line| self.audience.told(line)).collect()
    }

    fn confirm(&mut self, title: Vec<Line>, by: Confirmation) -> Reply {
        match (self.answered.take(), by) {
            // What is told of a step as done is told of its wait as over.
            (Some(Reply::Done), Confirmation::Started(_)) => {
                return Reply::Typed("done".to_owned());
            }
            (Some(reply), _) => return reply,
            (None, _) => {}
        }
        self.console.confirm(&ConfirmPrompt { title, by, actions: at_a_step() })
    }
}

/// What may be done instead of a step or an action.
pub(super) fn at_a_step() -> Vec<Action> {
    let mut actions = vec![Action::Skip];
    actions.extend(ALWAYS);
    actions
}

/// A remark for the record on a wait that was left well before its end.
fn cut_short(waiting: &Waiting) -> Option<String> {
    let passed = waiting.before.saturating_add(waiting.clock.now()).min(waiting.length);
    let is_short = passed.as_secs_f64() < PASSED_ENOUGH * waiting.length.as_secs_f64();
    is_short.then(|| {
        format!(
            "The wait of {} was cut short after {}.",
            spoken(waiting.length),
            spoken(Duration::from_secs(passed.as_secs()))
        )
    })
}

/// A wait of which this part has passed counts as waited for (`estimate`).
const PASSED_ENOUGH: f64 = 0.9;

/// A wait of which so much has passed by now; none if it takes no time.
fn begin(seconds: f64, place: Place, before: Duration) -> Option<Waiting> {
    let length = Duration::try_from_secs_f64(seconds.min(LONGEST_WAIT)).ok()?;
    (!length.is_zero()).then(|| Waiting { place, length, before, clock: SystemClock::new() })
}

/// A time to call back at, so that nobody has to hold the line.
fn call_back(left: Duration) -> Line {
    let (length, at) = (spoken(left), time_of_day(left));
    Line::new()
        .push(Role::Quiet, "Say: ")
        .push(
            Role::Strong,
            format!("Call me back at {at}, in {length}. Until then change nothing."),
        )
        .push(Role::Quiet, " Type stop to leave the case until then; its wait goes on.")
}
