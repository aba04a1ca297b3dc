//! Asking for the readings of a hold: one by one, as a list, or as a log.

use std::time::Duration;

use super::answering::{Person, sentence};
use super::asking::check_typed;
use super::danger::danger_told;
use super::dictation::Dictation;
use crate::case::{Case, QuestionId, interval_alone, named_log};
use crate::terminal::clock::{Clock, SystemClock, spoken};
use crate::terminal::console::Reply;
use crate::terminal::prompt::{Checked, ValuePrompt};
use crate::terminal::words::Action;
use crate::text::{Line, count};

/// The most readings that are typed one by one; an estimate: a day's work at one a minute.
const MOST_READINGS: usize = 1_500;

/// What gives the text of a log by its name, or why it can't be read.
pub type ReadLog<'a> = &'a dyn Fn(&str) -> Result<String, String>;

impl Person<'_> {
    /// Puts a question for readings until they are complete; what was typed is never dropped.
    pub(super) fn put_hold(
        &mut self,
        case: &Case<'_>,
        id: QuestionId,
        title: Vec<Line>,
        actions: Vec<Action>,
        hint: String,
    ) -> Reply {
        let clock = SystemClock::new();
        let name = &case.handbook().question(id).id;
        let mut dictation = self.taken_up(case, name);
        let (mut title, mut actions, mut hint) = (title, actions, hint);
        for _ in 0..MOST_READINGS {
            let check = |typed: &str| check(self.read_log, case, id, &dictation, typed, &clock);
            let shown = (title.clone(), hint.clone(), actions.clone());
            let prompt =
                ValuePrompt { title: shown.0, hint: shown.1, actions: shown.2, check: &check };
            match self.console.value(&prompt) {
                Reply::Typed(typed) => {
                    if let Some(seconds) = interval_before(&dictation, &typed) {
                        dictation.come_every(seconds);
                        title = vec![Line::plain("First reading?")];
                        "a reading".clone_into(&mut hint);
                        continue;
                    }
                    if let Some(block) = self.whole(case, id, &dictation, &typed) {
                        return Reply::Typed(block);
                    }
                    let read = (case.handbook().question(id), case.face_unit(id));
                    if let Ok(taken) = dictation.read(read, &typed, clock.now()) {
                        dictation.take(taken);
                    } else if let Some((line, _)) = dictation.evenly_next(read, &typed) {
                        dictation.take_line(line);
                    }
                }
                Reply::Act(Action::Back) if dictation.len() > 0 => self.shorten(&mut dictation),
                other => return self.left(name, &dictation, other),
            }
            if dictation.len() > 0 {
                title = vec![Line::plain(next(dictation.len()))];
                (actions, hint) = (vec![Action::Back, Action::Stop], "a reading".to_owned());
            }
        }
        Reply::Typed(dictation.block())
    }

    /// The whole answer: a list in one line, a log, or what was typed one by one.
    fn whole(
        &self,
        case: &Case<'_>,
        id: QuestionId,
        dictation: &Dictation,
        typed: &str,
    ) -> Option<String> {
        if typed.is_empty() {
            return Some(dictation.block());
        }
        if dictation.len() > 0 {
            return listed(case, id, dictation, typed).map(|(text, _)| text);
        }
        let text = match named_log(case.handbook().question(id), typed) {
            Some(name) => (self.read_log)(name).ok()?,
            None => typed.to_owned(),
        };
        match check_typed(case, id, &text) {
            Checked::Refused(_) | Checked::Elsewhere => None,
            Checked::Accepted { .. } | Checked::Doubtful { .. } => Some(text),
        }
    }

    /// Somebody leaves in the middle: what was read is noted in the case first, and taken up again
    /// when the question is put the next time.
    fn left(&mut self, id: &str, dictation: &Dictation, reply: Reply) -> Reply {
        if dictation.len() == 0 {
            return reply;
        }
        let kept = count(dictation.len(), "reading");
        self.console.show(&[Line::plain(format!("Kept so far: {kept}."))]);
        self.unfinished = Some(dictation.note(id));
        self.leaving = Some(reply);
        // Nothing was answered: the case asks what is wanted, and is told of the note.
        Reply::Act(Action::More)
    }

    /// The readings that were noted when somebody left in the middle of this question.
    fn taken_up(&mut self, case: &Case<'_>, id: &str) -> Dictation {
        let dictation = Dictation::of_notes(id, case.events());
        if dictation.len() > 0 {
            let kept = count(dictation.len(), "reading");
            let told =
                format!("Kept from before: {kept}, {}.", dictation.block().replace('\n', "; "));
            self.console.show(&[
                Line::plain(told),
                Line::plain(
                    "Go on with the next one and its time; `back` takes the last one back.",
                ),
            ]);
        }
        dictation
    }

    fn shorten(&mut self, dictation: &mut Dictation) {
        if let Some(last) = dictation.take_back() {
            let left = count(dictation.len(), "reading");
            self.console.show(&[Line::plain(format!("Taken back: {last}. {left} left."))]);
        }
    }
}

/// A list typed behind readings, with what came before: one that goes on from them, or a whole one
/// that takes their place. None for what is no such list.
fn listed(
    case: &Case<'_>,
    id: QuestionId,
    dictation: &Dictation,
    typed: &str,
) -> Option<(String, Checked)> {
    if !typed.contains([',', ';']) {
        return None;
    }
    let read = (case.handbook().question(id), case.face_unit(id));
    let ways =
        [dictation.gone_on(read, typed), dictation.gone_on_evenly(typed), Some(typed.to_owned())];
    ways.into_iter().flatten().find_map(|text| match check_typed(case, id, &text) {
        Checked::Refused(_) | Checked::Elsewhere => None,
        checked => Some((text, checked)),
    })
}

/// How far apart the readings to come are, in s, where that is told before the first of them.
fn interval_before(dictation: &Dictation, typed: &str) -> Option<f64> {
    interval_alone(typed).filter(|_| dictation.len() == 0)
}

/// What is said to an interval without readings.
fn every(seconds: f64) -> Line {
    let interval = spoken(Duration::try_from_secs_f64(seconds).unwrap_or_default());
    Line::plain(format!(
        "Readings {interval} apart: type the first one alone, then one after the other."
    ))
}

fn next(number: usize) -> String {
    match number {
        1 => "Next reading? `back` takes the last one back.".to_owned(),
        _ => format!("Reading {}? Enter alone after the last one.", number + 1),
    }
}

fn check(
    read_log: ReadLog<'_>,
    case: &Case<'_>,
    id: QuestionId,
    dictation: &Dictation,
    typed: &str,
    clock: &SystemClock,
) -> Checked {
    if typed.is_empty() && dictation.len() > 1 {
        return check_typed(case, id, &dictation.block());
    }
    if danger_told(case, Some(id), typed).is_some() {
        return Checked::Elsewhere;
    }
    let question = case.handbook().question(id);
    if let Some(seconds) = interval_before(dictation, typed) {
        return Checked::Accepted { echo: every(seconds) };
    }
    if dictation.len() == 0 {
        if let Some(name) = named_log(question, typed) {
            return match read_log(name) {
                Ok(text) => check_typed(case, id, &text),
                Err(why) => Checked::Refused(Line::plain(sentence(&why))),
            };
        }
        let whole = check_typed(case, id, typed);
        if !matches!(whole, Checked::Refused(_)) || typed.contains(',') {
            return whole;
        }
    }
    if dictation.len() > 0
        && let Some((_, checked)) = listed(case, id, dictation, typed)
    {
        return checked;
    }
    let read = (question, case.face_unit(id));
    match dictation.read(read, typed, clock.now()) {
        Err(_) if let Some((_, at)) = dictation.evenly_next(read, typed) => Checked::Doubtful {
            message: Line::plain(format!("The others came evenly: is {} at {at}?", typed.trim())),
            read: format!("{} at {at}", typed.trim()),
            suggestion: None,
        },
        Err(misunderstood) => Checked::Refused(Line::plain(sentence(&misunderstood.message))),
        Ok(taken) => match taken.slip {
            Some(slip) => Checked::Doubtful {
                message: Line::plain(sentence(&slip.message)),
                read: typed.to_owned(),
                suggestion: slip.suggestion.map(|(text, _)| text),
            },
            None => Checked::Accepted { echo: Line::plain(sentence(&taken.echo)) },
        },
    }
}
