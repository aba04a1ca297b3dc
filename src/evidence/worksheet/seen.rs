//! Which answers of a question a view sees, and whether the latest of them says anything.

use super::Worksheet;
use crate::evidence::record::Given;
use crate::handbook::{Question, QuestionId};

impl<'a> Worksheet<'a> {
    /// Whether nobody has answered a question in this view, not even with "not sure", or what was
    /// answered is outdated.
    #[must_use]
    pub fn is_unanswered(&self, question: QuestionId) -> bool {
        let latest = self.latest_seen(question);
        latest.is_none_or(|given| self.outdated(question, given.order).is_some())
    }

    /// The answers of a question that this view sees, each with how many came before it in the
    /// whole record (its streams are named by that, and so stay the same in every view).
    pub(super) fn seen(&self, question: QuestionId) -> Vec<(usize, &'a Given)> {
        let is_seen = self.sees(question);
        self.record.answers(question).filter(|(_, given)| is_seen(given)).collect()
    }

    /// The latest answer of a question that this view sees.
    pub(super) fn latest_seen(&self, question: QuestionId) -> Option<&'a Given> {
        let is_seen = self.sees(question);
        let mut latest = self.record.given.iter().rev();
        latest.find(|given| given.question == question && is_seen(given))
    }

    /// The latest answer of a question that says something, in this view.
    pub(super) fn latest_known(&self, question: QuestionId) -> Option<&'a Given> {
        let (is_seen, asked) = (self.sees(question), self.handbook.question(question));
        let mut latest = self.record.given.iter().rev();
        latest.find(|given| {
            given.question == question && is_seen(given) && stands_for_something(asked, given)
        })
    }

    /// Whether this view sees an answer of a question.
    fn sees(&self, question: QuestionId) -> impl Fn(&Given) -> bool {
        let is_setting = self.handbook.question(question).is_setting();
        let belongs_to_round = self.view.round.filter(|round| {
            self.handbook.tree(round.tree).questions().any(|asked| asked == question)
        });
        let is_of_the_time = move |given: &Given| match is_setting {
            true => !self.is_of_later_thing(question, given),
            false => given.order < self.view.observed_until,
        };
        let is_of_the_round = move |given: &Given| {
            belongs_to_round.is_none_or(|round| {
                let is_late_enough = is_setting || given.order >= round.from;
                is_late_enough && round.until.is_none_or(|end| given.order < end)
            })
        };
        move |given| {
            given.order < self.view.until && is_of_the_time(given) && is_of_the_round(given)
        }
    }

    /// The answers of a question that say something, in this view.
    pub(super) fn known(&self, question: QuestionId) -> Vec<(usize, &'a Given)> {
        let mut seen = self.seen(question);
        seen.retain(|(_, given)| stands_for_something(self.handbook.question(question), given));
        seen
    }

    /// Whether the latest that was said to a question is that nobody knows, or nothing at all. Of
    /// a setting and of a safety question that stands for something, and so is an answer.
    pub(super) fn says_nothing(&self, question: QuestionId) -> bool {
        if self.is_about_nothing(question) {
            return true;
        }
        let stands = |given| stands_for_something(self.handbook.question(question), given);
        self.latest_seen(question).is_some_and(|given| !stands(given))
    }

    /// Whether a question asks about a reading that was skipped, or that nobody is sure of, and has
    /// no answer since: then it asks about nothing.
    #[must_use]
    pub fn is_about_nothing(&self, question: QuestionId) -> bool {
        let latest = |id: &QuestionId| self.latest_seen(*id);
        let readings = &self.handbook.question(question).about;
        let Some(reading) = readings.iter().filter_map(latest).max_by_key(|given| given.order)
        else {
            return false;
        };
        let of_it = self.handbook.question(reading.question);
        let is_answered_since = || latest(&question).is_some_and(|own| own.order > reading.order);
        !stands_for_something(of_it, reading) && !is_answered_since()
    }

    /// Whether a question was asked from this place on, and the latest that was said is that nobody
    /// knows, or nothing.
    pub(in crate::evidence) fn said_nothing_since(
        &self,
        question: QuestionId,
        order: usize,
    ) -> bool {
        let is_since = |given: &Given| given.order >= order;
        self.says_nothing(question) && self.latest_seen(question).is_some_and(is_since)
    }
}

/// "Not sure" of a setting or of a safety question stands for something; of an observation it
/// is no answer at all.
fn stands_for_something(question: &Question, given: &Given) -> bool {
    given.reply.is_known() || question.not_sure.is_some() || question.hazard.is_some()
}
