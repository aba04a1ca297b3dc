//! A danger that words were offered for, and that was put aside: what to do if it is so after all is
//! said before anything goes on.

use super::answering::Person;
use super::danger::dangers_hinted;
use super::elsewhere::{Asked, Before, Offered};
use super::matching::{Match, likely};
use crate::case::{Case, QuestionId, Response};
use crate::terminal::console::Reply;
use crate::terminal::prompt::MenuOption;
use crate::terminal::words::{Action, folded};
use crate::text::{Line, also_said};

impl Person<'_> {
    /// Remembers for which words a question is put; of a danger that was denied for them nothing more
    /// is said.
    pub(super) fn asks_for(&mut self, id: QuestionId, typed: &str) {
        self.asked_for = Some((id, folded(typed)));
    }

    /// Offers the question of a danger to which a word of a name points. Said not to be so, the name is
    /// taken when it is typed again.
    pub(super) fn danger_or_name(&mut self, case: &Case<'_>, typed: &str) -> Option<Response> {
        let told =
            format!("\"{typed}\" may tell of a danger. If it is a name, type it again after this.");
        self.danger_or_kept(case, typed, told)
    }

    /// Offers the question of a danger to which a word of a note points. Said not to be so, it stays a
    /// note.
    pub(super) fn danger_or_note(&mut self, case: &Case<'_>, typed: &str) -> Option<Response> {
        let told =
            format!("\"{typed}\" may tell of a danger, so that is asked before it is noted.");
        self.danger_or_kept(case, typed, told)
    }

    fn danger_or_kept(&mut self, case: &Case<'_>, typed: &str, told: String) -> Option<Response> {
        let told = Line::plain(told);
        let found = likely(case, None, typed);
        match self.offer(case, (told, typed), &found, Before::Nothing) {
            Offered::Met(response) => response,
            Offered::Left => {
                self.denied = Some(folded(typed));
                Some(self.kept(typed))
            }
        }
    }

    /// Puts the question of a danger that words tell of. Whoever goes back or leaves without an answer
    /// hears what to do if it is so after all.
    pub(super) fn ask_for_danger(
        &mut self,
        case: &Case<'_>,
        id: QuestionId,
        typed: &str,
    ) -> Option<Response> {
        self.asks_for(id, typed);
        let response = self.answer_out_of_turn(case, id);
        let is_left = response.as_ref().is_none_or(|response| as_reply(response).is_some());
        if !is_left || self.chosen.is_some() {
            return response;
        }
        match self.past(case, (typed, "no answer"), &[id], Offered::Met(response)) {
            Offered::Met(response) => response,
            Offered::Left => None,
        }
    }

    /// The dangers among the questions that words were offered to, to which a word pointed; none that
    /// was just answered for the same words.
    fn dangers_offered(&self, case: &Case<'_>, typed: &str, found: &[Match]) -> Vec<QuestionId> {
        let hinted = dangers_hinted(case, None, typed);
        let said = folded(typed);
        let is_answered = |id: QuestionId| {
            self.asked_for.as_ref().is_some_and(|(of, words)| *of == id && *words == said)
                && case.latest_answer(id).is_some_and(|given| given.reply.is_known())
        };
        let ids = found.iter().map(|found| found.id);
        ids.filter(|id| hinted.contains(id) && !is_answered(*id)).collect()
    }

    /// Says what to do if a danger is so after all that was put aside, and asks once more whether it
    /// is. That it was told, and what was said to it, is kept as a note.
    pub(super) fn past_dangers(
        &mut self,
        case: &Case<'_>,
        (typed, found): (&str, &[Match]),
        went_on: Offered,
    ) -> Offered {
        let dangers = self.dangers_offered(case, typed, found);
        // A danger that was told in the list meanwhile has been asked for.
        let is_met = match &went_on {
            Offered::Met(Some(response)) => as_reply(response).is_none(),
            _ => false,
        };
        if dangers.is_empty() || is_met || self.chosen.is_some() {
            return went_on;
        }
        self.past(case, (typed, "none of these"), &dangers, went_on)
    }

    fn past(
        &mut self,
        case: &Case<'_>,
        (typed, chosen): (&str, &str),
        dangers: &[QuestionId],
        went_on: Offered,
    ) -> Offered {
        let told = self.if_so(case, dangers);
        let note = note(case, typed, dangers, chosen);
        let leaves = match &went_on {
            Offered::Met(Some(response)) => as_reply(response),
            _ => None,
        };
        if let Some(reply) = leaves {
            self.console.show(&told);
            return self.noted_and_left(note, reply);
        }
        let mut title = vec![Line::new()];
        title.extend(told);
        title.push(Line::strong("Is it so, or may it be?"));
        match self.ask_beside(case, (title, None), &ways(case, dangers), Before::Nothing) {
            Asked::Chosen(place) => match dangers.get(place) {
                Some(&id) => Offered::Met(self.asked_after_all(case, id, typed)),
                None => self.noted(typed, note, went_on),
            },
            Asked::Met(Some(response)) => match as_reply(&response) {
                Some(reply) => self.noted_and_left(note, reply),
                None => Offered::Met(Some(response)),
            },
            Asked::Met(None) => Offered::Met(None),
        }
    }

    /// Says what to do if a danger is so after all to which a word pointed, where the words were taken
    /// for another question.
    pub(super) fn past_hints(
        &mut self,
        case: &Case<'_>,
        typed: &str,
        found: &[Match],
        id: QuestionId,
    ) {
        let dangers = self.dangers_offered(case, typed, found);
        if dangers.is_empty() || dangers.contains(&id) {
            return;
        }
        let told = self.if_so(case, &dangers);
        self.console.show(&told);
        self.remark = Some(note(case, typed, &dangers, "another question"));
    }

    /// What is to be done if dangers are so after all, for this audience.
    fn if_so(&self, case: &Case<'_>, dangers: &[QuestionId]) -> Vec<Line> {
        let told = |id: &QuestionId| {
            let stop = case.stop_of_danger(*id).map(|stop| stop.to_text());
            let stop = stop.unwrap_or_else(|| {
                let ask = case.ask(*id).to_text();
                format!("stop the work, leave everything as it is, and answer this: {ask}")
            });
            self.audience.told(Line::warning(format!("If it is so after all: {stop}")))
        };
        let mut lines: Vec<Line> = dangers.iter().map(told).collect();
        lines.dedup_by_key(|line| line.to_text());
        lines
    }

    /// Puts the question of a danger that may be so after all. What was typed for another meanwhile is
    /// asked for again.
    fn asked_after_all(
        &mut self,
        case: &Case<'_>,
        id: QuestionId,
        typed: &str,
    ) -> Option<Response> {
        (self.answered, self.leaving) = (None, None);
        self.asks_for(id, typed);
        self.answer_out_of_turn(case, id)
    }

    /// Keeps what was told, and goes on as it was wanted.
    fn noted(&mut self, typed: &str, note: String, went_on: Offered) -> Offered {
        self.denied = Some(folded(typed));
        self.console.show(&[Line::plain(format!("\"{typed}\" is kept as a note."))]);
        match went_on {
            Offered::Left => Offered::Met(Some(Response::Note(note))),
            met @ Offered::Met(_) => {
                self.remark = Some(note);
                met
            }
        }
    }

    fn noted_and_left(&mut self, note: String, reply: Reply) -> Offered {
        self.leaving = Some(reply);
        Offered::Met(Some(Response::Note(note)))
    }
}

/// To ask for each danger, and to go on without.
fn ways(case: &Case<'_>, dangers: &[QuestionId]) -> Vec<MenuOption> {
    let words = |is_yes: bool, word: &str| {
        let also = also_said(is_yes).iter().map(|word| (*word).to_owned());
        also.chain([word.to_owned()]).collect()
    };
    let mut ways: Vec<MenuOption> = match dangers {
        [_] => vec![MenuOption::new("It is so, or may be: ask it").with_words(words(true, "yes"))],
        several => {
            let ask = |id: &QuestionId| case.ask(*id).to_text();
            several.iter().map(|id| MenuOption::new(format!("Ask it: {}", ask(id)))).collect()
        }
    };
    ways.push(MenuOption::new("It is not so: go on").with_words(words(false, "no")));
    ways
}

/// What the case keeps of a danger that was put aside.
fn note(case: &Case<'_>, typed: &str, dangers: &[QuestionId], chosen: &str) -> String {
    let asked: Vec<String> =
        dangers.iter().map(|id| format!("\"{}\"", case.ask(*id).to_text())).collect();
    format!("\"{typed}\" was told and offered to {}; chosen: {chosen}.", asked.join(", "))
}

/// The reply that a response comes from by which the dialogue ends; none of any other.
fn as_reply(response: &Response) -> Option<Reply> {
    match response {
        Response::Leave => Some(Reply::Act(Action::Stop)),
        Response::EndOfInput => Some(Reply::EndOfInput),
        Response::Interrupted => Some(Reply::Interrupted),
        _ => None,
    }
}
