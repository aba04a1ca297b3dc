//! The worksheet: answers, formulas and findings, evaluated on demand like cells.
//!
//! A worksheet looks at a [`Record`] up to a place in its order, and perhaps at one round alone;
//! it never changes the record. Each cell is evaluated at most once.

mod answers;
mod cells;
mod face;
mod facts;
mod gone_on;
mod in_rounds;
mod looking_back;
mod one_hold;
mod outdated;
mod seen;

pub use cells::Cells;
pub use outdated::Outdating;

use std::rc::Rc;

use cells::{Evaluated, Kept, View};
use gone_on::Base;

use super::doubt::Streams;
use super::finding::{Judged, judge};
use super::record::{Given, Record, Round};
use super::saying::{Saying, saying};
use super::witness::{AsOf, Witness};
use crate::formula::{Checked, Facts, Symbol, Unknown, Value, Verdict, evaluate, verdict};
use crate::handbook::{ActionId, Entry, FindingId, Handbook, Question, QuestionId};

/// A view of a record through a handbook.
#[derive(Debug)]
pub struct Worksheet<'a> {
    handbook: &'a Handbook,
    record: &'a Record,
    streams: &'a Streams,
    view: View,
    /// What the view has evaluated.
    evaluated: Rc<Evaluated>,
    /// What the same view on an earlier record has evaluated.
    kept: Option<Kept>,
    /// What other views on the record have.
    cells: Cells,
    /// What it goes on from, where it supposes more answers.
    base: Option<Rc<Base<'a>>>,
}

impl<'a> Worksheet<'a> {
    /// Everything that the record holds.
    #[must_use]
    pub fn new(handbook: &'a Handbook, record: &'a Record, streams: &'a Streams) -> Self {
        Self::as_of(handbook, record, streams, usize::MAX)
    }

    /// What the record held when everything before place `until` in its order had happened, with
    /// the cells that have been evaluated of it; they must be of this very record.
    #[must_use]
    pub fn kept(
        handbook: &'a Handbook,
        record: &'a Record,
        streams: &'a Streams,
        until: usize,
        cells: &Cells,
    ) -> Self {
        Self::over_cells(handbook, record, streams, View::until(until), cells.clone())
    }

    /// What the record held when everything before place `until` in its order had happened.
    #[must_use]
    pub fn as_of(
        handbook: &'a Handbook,
        record: &'a Record,
        streams: &'a Streams,
        until: usize,
    ) -> Self {
        Self::over_cells(handbook, record, streams, View::until(until), Cells::default())
    }

    fn over_cells(
        handbook: &'a Handbook,
        record: &'a Record,
        streams: &'a Streams,
        view: View,
        cells: Cells,
    ) -> Self {
        let (evaluated, kept) = (cells.of(view), cells.kept(view));
        Self { handbook, record, streams, view, evaluated, kept, cells, base: None }
    }

    /// Another view on the same record.
    fn seen_as(&self, view: View) -> Self {
        let cells = self.cells.clone();
        let seen = Self::over_cells(self.handbook, self.record, self.streams, view, cells);
        Self { base: self.base.clone(), ..seen }
    }

    fn narrowed(&self, until: usize, round: Option<Round>, assumes_settings: bool) -> Self {
        let until = until.min(self.view.until);
        self.seen_as(View { until, round, assumes_settings, is_at_a_step: false, ..self.view })
    }

    /// The same view with only those observations that were made before a place.
    #[must_use]
    pub fn before_deed(&self, order: usize) -> Self {
        self.seen_as(View { observed_until: order, is_at_a_step: false, ..self.view })
    }

    /// The view of a step that leads on. An observation that was asked for and could not be made is
    /// not known here, whatever it was before, and a finding that rests on one that is outdated is
    /// not either: an older reading doesn't stand in, though it goes on speaking about its time.
    #[must_use]
    pub fn at_a_step(self) -> Self {
        self.seen_as(View { is_at_a_step: true, ..self.view })
    }

    /// Whether a step can't go by a question: nobody knew when it was asked last, or what was said
    /// is outdated.
    fn is_lost(&self, question: QuestionId) -> bool {
        self.says_nothing(question) || self.latest_is_outdated(question).is_some()
    }

    /// The facts that it looks at.
    #[must_use]
    pub fn record(&self) -> &'a Record {
        self.record
    }

    /// The same handbook over other facts.
    #[must_use]
    pub fn over<'r>(&self, record: &'r Record) -> Worksheet<'r>
    where
        'a: 'r,
    {
        Worksheet::new(self.handbook, record, self.streams)
    }

    /// The handbook it is read through.
    #[must_use]
    pub fn handbook(&self) -> &'a Handbook {
        self.handbook
    }

    /// What a checked formula gives here.
    #[must_use]
    pub fn evaluate(&self, formula: &Checked) -> Value {
        evaluate(formula, self)
    }

    /// What a yes or no comes to here; none where it is too close or not known.
    #[must_use]
    pub fn decides(&self, condition: &Checked) -> Option<bool> {
        let Value::Truth(draws) = self.evaluate(condition) else { return None };
        match verdict(&draws) {
            Verdict::Yes(_) => Some(true),
            Verdict::No(_) => Some(false),
            Verdict::TooClose(_) | Verdict::Unknown => None,
        }
    }

    /// How a finding stands. An action changes what is there, and a new round is about another
    /// thing, so a finding is judged on what was observed before the first action or new round
    /// that came after its own observations.
    #[must_use]
    pub fn finding(&self, id: FindingId) -> Judged {
        if let Some(judged) = self.evaluated.findings.borrow().get(&id) {
            return judged.clone();
        }
        let finding = self.handbook.finding(id);
        let judge = || match self.untouched(finding.symbol) {
            Some(base) => base.finding(id),
            None => self.view_of(id).map_or_else(|| judge(finding, self), |at| at.finding(id)),
        };
        let judged = self.kept_finding(id).unwrap_or_else(judge);
        self.evaluated.findings.borrow_mut().insert(id, judged.clone());
        judged
    }

    /// How a finding stood in the record before, where nothing since can have touched it.
    fn kept_finding(&self, id: FindingId) -> Option<Judged> {
        let kept = self.kept.as_ref()?;
        let judged = kept.evaluated.findings.borrow().get(&id).cloned()?;
        (!kept.is_touched(self.handbook, self.handbook.finding(id).symbol)).then_some(judged)
    }

    /// What a name stood for in the record before, where nothing since can have touched it.
    fn kept_value(&self, symbol: Symbol) -> Option<Value> {
        let kept = self.kept.as_ref()?;
        let value = kept.evaluated.values.borrow().get(&symbol).cloned()?;
        (!kept.is_touched(self.handbook, symbol)).then_some(value)
    }

    /// What a finding says, in words, on the view that it is judged on.
    #[must_use]
    pub fn says(&self, id: FindingId) -> Saying {
        if let Some(saying) = self.evaluated.sayings.borrow().get(&id) {
            return saying.clone();
        }
        let (finding, judged) = (self.handbook.finding(id), self.finding(id));
        let saying = match self.view_of(id) {
            Some(at) => saying(finding, &judged, &at),
            None => saying(finding, &judged, self),
        };
        self.evaluated.sayings.borrow_mut().insert(id, saying.clone());
        saying
    }

    /// What a witness says, in words; one of the past as things stood then.
    #[must_use]
    pub fn witness_says(&self, witness: &Witness) -> Saying {
        self.of_witness(witness).says(witness.finding)
    }

    /// The view as of which a witness is told.
    fn of_witness(&self, witness: &Witness) -> Self {
        match witness.as_of {
            AsOf::BeforeRound(place) | AsOf::BeforeRepair(place) => self.before_deed(place),
            AsOf::Now => self.seen_as(self.view),
        }
    }

    /// Whether a finding applies as it stands; one that doesn't says nothing, and isn't judged in
    /// full to learn so.
    #[must_use]
    pub(super) fn may_speak(&self, id: FindingId) -> bool {
        if let Some(judged) = self.evaluated.findings.borrow().get(&id) {
            return judged.is_evidence();
        }
        let Some(only_if) = &self.handbook.finding(id).only_if else { return true };
        match self.view_of(id) {
            Some(before) => before.decides(only_if) == Some(true),
            None => self.decides(only_if) == Some(true),
        }
    }

    /// Whether a finding is judged on this very view, and not on an earlier one.
    #[must_use]
    pub fn judges_here(&self, id: FindingId) -> bool {
        self.view_of(id).is_none()
    }

    /// The view that a finding is judged on, where that is not this one.
    fn view_of(&self, id: FindingId) -> Option<Self> {
        let tested = self.handbook.questions_tested(id);
        let is_lost = || tested.iter().any(|question| self.is_lost(*question));
        let order = self.change_after_observing(id)?;
        if self.view.is_at_a_step && is_lost() {
            return None;
        }
        Some(self.before_deed(order))
    }

    /// Whether what was answered shows that an action is done already.
    #[must_use]
    pub fn shows_as_done(&self, action: ActionId) -> bool {
        let done_if = self.handbook.action(action).done_if.as_ref();
        done_if.is_some_and(|condition| self.decides(condition) == Some(true))
    }

    /// Whether what was read shows that an action works elsewhere than at what is wrong.
    #[must_use]
    pub fn shows_elsewhere(&self, action: ActionId) -> bool {
        let not_if = self.handbook.action(action).not_if.as_ref();
        not_if.is_some_and(|condition| self.decides(condition) == Some(true))
    }

    /// The actions done before this view's end, in order, with their places.
    pub fn actions_done(&self) -> impl Iterator<Item = (ActionId, usize)> {
        self.record.done.iter().copied().filter(|(_, order)| *order < self.view.until)
    }

    /// The first action, or round of its own tree, since a finding's observations were last made.
    fn change_after_observing(&self, id: FindingId) -> Option<usize> {
        let observed = self.last_observed(id)?;
        let end = self.view.until.min(self.view.observed_until);
        let is_asked_in = |round: &&Round| {
            let mut asked = self.handbook.tree(round.tree).questions();
            asked.any(|question| {
                self.handbook.is_asked_in_rounds(question)
                    && self.handbook.questions_tested(id).contains(&question)
            })
        };
        let rounds = self.record.rounds.iter().filter(is_asked_in).map(|round| round.from);
        let changes = self.actions_done().map(|(_, order)| order).chain(rounds);
        changes.filter(|&order| order > observed && order < end).min()
    }

    /// When what a finding looks at was last observed: the place of the latest answer among the
    /// observations that its test can be traced to (readings, looks, yes or no): among those made
    /// in rounds alone, if there are any, and among all answers if it looks at settings alone.
    #[must_use]
    pub fn last_observed(&self, id: FindingId) -> Option<usize> {
        let questions = self.handbook.questions_tested(id);
        let last = |wanted: &dyn Fn(QuestionId) -> bool| {
            let chosen = questions.iter().filter(|&&id| wanted(id));
            chosen.filter_map(|&id| self.latest_known(id).map(|given| given.order)).max()
        };
        let is_observed = |id: QuestionId| !self.handbook.question(id).is_setting();
        last(&|id| is_observed(id) && self.handbook.is_asked_in_rounds(id))
            .or_else(|| last(&is_observed))
            .or_else(|| last(&|_| true))
    }

    fn entry_value(&self, symbol: Symbol) -> Value {
        match self.handbook.entry(symbol) {
            Entry::Question(id) => self.question_value(id),
            Entry::Formula(id) => evaluate(&self.handbook.formula(id).is, self),
            Entry::Finding(id) => self.finding(id).value,
        }
    }

    fn nth_answer(
        &self,
        symbol: Symbol,
        pick: impl Fn(&[(usize, &'a Given)]) -> Option<(usize, &'a Given)>,
        value: impl Fn(&Self, &Question, usize, &Given) -> Value,
    ) -> Value {
        let Entry::Question(id) = self.handbook.entry(symbol) else {
            return self.latest(symbol);
        };
        let question = self.handbook.question(id);
        match pick(&self.known(id)) {
            Some((number, given)) => value(self, question, number, given),
            None if self.latest_seen(id).is_none() => {
                Value::Unknown(Unknown::NotAnswered(question.id.clone()))
            }
            None => Value::Unknown(Unknown::NoEarlier(question.id.clone())),
        }
    }

    /// The rounds in which a formula or finding is looked at: those of the trees whose questions
    /// it can be traced to.
    fn rounds_of(&self, symbol: Symbol) -> Vec<Round> {
        let asked = self.handbook.questions_under(symbol);
        let is_asked = |round: &&Round| {
            self.handbook.tree(round.tree).questions().any(|question| asked.contains(&question))
        };
        self.record
            .rounds
            .iter()
            .filter(|r| r.from < self.view.until)
            .filter(is_asked)
            .copied()
            .collect()
    }
}
