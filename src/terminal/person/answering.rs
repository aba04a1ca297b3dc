//! The person: what is wanted as a prompt, what came back as a response.

use std::collections::VecDeque;

use super::attaching::{LookAt, elsewhere};
use super::danger::{danger_told, points_to_danger};
use super::doing::Waiting;
use super::early::Early;
use super::holding::ReadLog;
use super::minding::danger_to_mind;
use super::picking::ended;
use super::reminders::Reminders;
use crate::case::{ActionId, Answerer, Case, Now, Objection, QuestionId, Response};
use crate::report::{board, ranking_line};
use crate::terminal::console::{Console, Reply};
use crate::terminal::paint::says_it_itself;
use crate::terminal::prompt::{Checked, ValuePrompt};
use crate::terminal::words::Action;
use crate::text::{Line, Role};

/// Whom the questions are worded for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Audience {
    /// Somebody at the rig.
    Site,
    /// Somebody on the phone, who reads aloud and types for a caller.
    Phone,
}

impl Audience {
    /// A text as this audience gets it: as it stands, or to be read out.
    pub(super) fn told(self, text: Line) -> Line {
        match self {
            Self::Site => text,
            // One label is enough: the mark of a warning would stand before this one.
            Self::Phone if is_unmarked_warning(&text) => {
                Line::warning(format!("Caution, read this out: {}", text.to_text()))
            }
            Self::Phone => Line::new().push(Role::Quiet, "Say: ").join(text),
        }
    }
}

/// A warning that does not begin with a label of its own, such as `Stop.`
fn is_unmarked_warning(text: &Line) -> bool {
    text.pieces.iter().any(|piece| piece.role == Role::Warning) && !says_it_itself(text)
}

/// What may be done instead of answering, everywhere.
pub(super) const ALWAYS: [Action; 10] = [
    Action::Back,
    Action::Note,
    Action::File,
    Action::Another,
    Action::TakeBack,
    Action::Ranking,
    Action::Board,
    Action::Explain,
    Action::Leave,
    Action::Stop,
];

/// How many asides one response may take before the input counts as ended; an estimate: far more
/// than a person makes, and little enough for an endless pipe.
const MOST_ASIDES: usize = 1_000;

/// The most characters of a note (limit of ours: a page of a record).
const LONGEST_NOTE: usize = 2_000;

/// How many responses one sitting may take before the input counts as ended; an estimate: far
/// more than a day's work.
const MOST_RESPONSES: usize = 5_000;

/// A person at a console.
pub struct Person<'c> {
    pub(super) console: &'c mut dyn Console,
    pub(super) audience: Audience,
    /// A question chosen out of turn, to be put once the caution before it is acknowledged.
    pub(super) chosen: Option<QuestionId>,
    /// Work that was told, to count as done once the caution before it is acknowledged.
    pub(super) worked: Option<ActionId>,
    /// The value that a question chosen out of turn is answered with.
    pub(super) chosen_value: Option<(QuestionId, String)>,
    /// What a line told that is still to be offered to its question, and what belongs to none.
    pub(super) facts: VecDeque<String>,
    pub(super) unplaced: Vec<String>,
    /// Figures that were told before anything asked for them.
    pub(super) early: Vec<Early>,
    /// The words of the answer before, which may name the next one too.
    pub(super) said_before: Option<String>,
    /// The value of a line whose words gave an answer without it, to be offered next.
    pub(super) left_over: Option<String>,
    /// The question that was put for words which may tell of a danger, and the words.
    pub(super) asked_for: Option<(QuestionId, String)>,
    /// Words of which it was said that they tell of no danger.
    pub(super) denied: Option<String>,
    /// Who acknowledged last; shown with the next caution.
    pub(super) last_name: Option<String>,
    /// A wait that has begun.
    pub(super) waiting: Option<Waiting>,
    pub(super) reminders: Reminders,
    /// The ranking as it was shown last.
    pub(super) ranking_shown: String,
    /// What opens logs.
    pub(super) read_log: ReadLog<'c>,
    pub(super) look_at: LookAt<'c>,
    /// Readings of a hold that is not complete, to be noted.
    pub(super) unfinished: Option<String>,
    /// A remark for the record, to be noted.
    pub(super) remark: Option<String>,
    /// What was wanted while readings were typed; they are noted first.
    pub(super) leaving: Option<Reply>,
    /// What was typed at another prompt, as the reply to what is put next.
    pub(super) answered: Option<Reply>,
    /// Whether the question that stopped the case is put again once the stop was shown.
    pub(super) asks_stop_again: bool,
    /// Questions that are asked though another answer gives theirs.
    pub(super) by_hand: Vec<QuestionId>,
    /// Why what happened is not kept, as it was said last.
    unkept: Option<String>,
    responses: usize,
}

fn no_log(name: &str) -> Result<String, String> {
    Err(format!("the log `{name}` can't be read: no files are read here"))
}

impl std::fmt::Debug for Person<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Person").field("audience", &self.audience).finish_non_exhaustive()
    }
}

impl<'c> Person<'c> {
    /// A person at a console, with questions worded for an audience.
    pub fn new(console: &'c mut dyn Console, audience: Audience) -> Self {
        Self {
            console,
            audience,
            chosen: None,
            worked: None,
            chosen_value: None,
            facts: VecDeque::new(),
            unplaced: Vec::new(),
            left_over: None,
            early: Vec::new(),
            said_before: None,
            asked_for: None,
            denied: None,
            last_name: None,
            unkept: None,
            waiting: None,
            reminders: Reminders::default(),
            ranking_shown: String::new(),
            read_log: &no_log,
            look_at: &elsewhere,
            unfinished: None,
            remark: None,
            leaving: None,
            answered: None,
            asks_stop_again: false,
            by_hand: Vec::new(),
            responses: 0,
        }
    }

    /// The same person, who can name logs.
    #[must_use]
    pub fn with_logs(self, read_log: ReadLog<'c>) -> Self {
        Self { read_log, ..self }
    }

    /// The same person, whose files are looked at.
    #[must_use]
    pub fn with_files(self, look_at: LookAt<'c>) -> Self {
        Self { look_at, ..self }
    }

    /// The same person, to whom the question that stopped the case is put again.
    #[must_use]
    pub fn asked_again_at_a_stop(self) -> Self {
        Self { asks_stop_again: true, ..self }
    }

    /// Puts what the case wants; nothing if it has to be put again.
    fn put(&mut self, case: &Case<'_>) -> Option<Response> {
        if let Some(note) = self.unfinished.take().or_else(|| self.remark.take()) {
            return Some(Response::Note(note));
        }
        if let Some(reply) = self.leaving.take() {
            return self.other(case, &reply, None);
        }
        if let Some(danger) = danger_to_mind(case) {
            return self.mind(case, danger);
        }
        // Nothing that was chosen before is asked at a stop.
        let is_stopped = matches!(case.now(), Now::Stopped { .. });
        let chosen = self.chosen.take().filter(|_| !is_stopped);
        if let Some(question) = chosen {
            return self.answer_out_of_turn(case, question);
        }
        if let Some(action) = self.worked.take().filter(|_| !is_stopped) {
            return self.work(case, action);
        }
        if self.has_facts() {
            return self.next_fact(case);
        }
        match case.now() {
            Now::Acknowledge { caution, .. } => self.acknowledge(case, *caution),
            Now::Ask { question, names_a_round, .. } => self.ask(case, *question, *names_a_round),
            Now::Do { text, wait, place } => self.step(case, text.clone(), *wait, *place),
            Now::Act { action, .. } => self.act(case, *action),
            Now::Ended { done, then, .. } => self.ended(case, done.clone(), then.clone()),
            Now::Stopped { text, why, refer, .. } => self.stopped(case, text, why.as_ref(), refer),
        }
    }

    /// What is done instead of answering; nothing if what was wanted has to be put again.
    pub(super) fn other(
        &mut self,
        case: &Case<'_>,
        reply: &Reply,
        asked: Option<QuestionId>,
    ) -> Option<Response> {
        let action = match reply {
            Reply::Act(action) => action,
            Reply::EndOfInput => return Some(Response::EndOfInput),
            Reply::Interrupted => return Some(Response::Interrupted),
            Reply::Elsewhere(typed) => return self.elsewhere(case, typed, asked),
            Reply::Chosen(_) | Reply::Typed(_) | Reply::Done => return None,
        };
        match action {
            Action::NotSure => asked.map(|_| Response::Answer("not sure".to_owned())),
            Action::Skip if asked.is_some() => Some(Response::Answer("skip".to_owned())),
            Action::Skip => Some(Response::Skip),
            Action::Back => Some(self.back(case)),
            Action::Stop => Some(Response::Leave),
            Action::Why => self.why(case, asked),
            Action::Ranking => {
                self.show_ranking(case);
                None
            }
            Action::Board => {
                self.console.show(&board(case, self.audience == Audience::Phone));
                None
            }
            Action::Explain => self.explain(case),
            Action::Leave => {
                self.console.show(&[how_to_leave(case)]);
                None
            }
            Action::Note => self.note(case),
            Action::File => self.file(),
            Action::Another => self.another(case),
            Action::TakeBack => self.take_back(case),
            Action::GiveUp | Action::More | Action::Help => None,
        }
    }

    fn why(&mut self, case: &Case<'_>, asked: Option<QuestionId>) -> Option<Response> {
        let why = asked.and_then(|id| case.question_view(id).why);
        let none = || Line::plain("The handbook gives no reason here.");
        self.console.show(&[why.unwrap_or_else(none)]);
        None
    }

    fn note(&mut self, case: &Case<'_>) -> Option<Response> {
        let denied = self.denied.clone();
        let accept = |typed: &str| match typed {
            "" => Checked::Refused(Line::plain("Nothing was typed.")),
            _ if typed.chars().count() > LONGEST_NOTE => Checked::Refused(Line::plain(format!(
                "A note holds up to {LONGEST_NOTE} characters; make several of it."
            ))),
            // Asked about first, and noted only then.
            danger if points_to_danger(case, denied.as_deref(), danger) => {
                Checked::Accepted { echo: Line::new() }
            }
            _ => Checked::Accepted { echo: Line::plain("Noted.") },
        };
        let prompt = ValuePrompt {
            title: vec![Line::new(), Line::strong("What do you want to note?")],
            hint: "a few words".to_owned(),
            actions: vec![Action::Back, Action::TakeBack, Action::Stop],
            check: &accept,
        };
        match self.console.value(&prompt) {
            Reply::Typed(text) => match danger_told(case, None, &text) {
                Some(danger) => self.danger(case, &text, danger),
                None if points_to_danger(case, self.denied.as_deref(), &text) => {
                    self.danger_or_note(case, &text)
                }
                None => Some(Response::Note(text)),
            },
            other => ended(&other),
        }
    }

    pub(super) fn show_ranking(&mut self, case: &Case<'_>) {
        let line = ranking_line(case);
        self.ranking_shown = line.to_text();
        self.console.show(&[line]);
    }

    fn complain(&mut self, message: &str) -> bool {
        self.console.show(&[Line::plain(sentence(message))]);
        true
    }
}

impl Answerer for Person<'_> {
    fn respond(&mut self, case: &Case<'_>) -> Response {
        self.responses += 1;
        let rounds = if self.responses > MOST_RESPONSES { 0 } else { MOST_ASIDES };
        for _ in 0..rounds {
            if let Some(response) = self.put(case) {
                return response;
            }
        }
        Response::EndOfInput
    }

    fn hear(&mut self, case: &Case<'_>) {
        // A danger is said by itself; what an answer speaks for is beside the point then.
        if matches!(case.now(), Now::Stopped { .. }) {
            return;
        }
        let news = case.news();
        let is_news = !news.computed.is_empty() || !news.moved.is_empty();
        let lines = [news.passed_over, news.computed, news.moved, news.faces].concat();
        if !lines.is_empty() {
            self.console.show(&lines);
        }
        if is_news && ranking_line(case).to_text() != self.ranking_shown {
            self.show_ranking(case);
        }
        if !news.rounds.is_empty() {
            self.console.show(&news.rounds);
        }
    }

    fn unkept(&mut self, why: &str) {
        if self.unkept.as_deref() != Some(why) {
            let text = format!(
                "This is not kept: {why}. The case goes on, and each answer tries again to keep \
                 all of them."
            );
            self.console.show(&[Line::warning(text)]);
        }
        self.unkept = Some(why.to_owned());
    }

    fn object(&mut self, _: &Case<'_>, objection: &Objection) -> bool {
        match objection {
            // The console has asked back already, and the person has kept the value.
            Objection::Doubtful(..) => true,
            Objection::Misunderstood(_, misunderstood) => self.complain(&misunderstood.message),
            Objection::Refused(refusal) => self.complain(&refusal.to_string()),
            Objection::OutOfPlace => self.complain("That is not possible here."),
            Objection::NothingToTakeBack => self.complain("There is nothing to go back to."),
        }
    }
}

/// How the rig is left safely: the case is stopped first, and the handbook may have a tree for it.
fn how_to_leave(case: &Case<'_>) -> Line {
    match case.leave_by() {
        Some(tree) => Line::plain("To leave the rig safely: ")
            .push(Role::Name, format!("\"{}\"", case.tree_view(tree).1))
            .push(
                Role::Plain,
                ". Type stop: this case is kept, and the last lines say how to start that.",
            ),
        None => Line::plain("Type stop to leave: the case is kept, to be carried on later."),
    }
}

/// A message with its full stop.
pub(super) fn sentence(message: &str) -> String {
    let is_ended = message.ends_with(['.', '?', '!']);
    format!("{message}{}", if is_ended { "" } else { "." })
}
