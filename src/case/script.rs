//! A script as the answerer: answers given beforehand, by question.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use super::case::{Case, Refusal};
use super::face;
use super::interview::{Answerer, Objection, Response};
use super::now::{Now, Place};
use super::reading::ends_rounds;
use crate::handbook::{
    ActionId, CautionId, Handbook, QuestionId, Step, StepId, StepKind, Target, TreeId,
};

/// Answers given beforehand. A list answers a repeated question in turn; what the path does not
/// ask is volunteered, before the first question if no step of the way could ask it and at the
/// end otherwise; what the script does not know is skipped; what is to be done is done.
#[derive(Clone, Debug, Default)]
pub struct Script {
    answers: BTreeMap<QuestionId, VecDeque<String>>,
    acknowledges: BTreeSet<String>,
    acknowledges_by: String,
    /// What was objected to, and what was passed over.
    pub remarks: Vec<String>,
    first: Option<VecDeque<QuestionId>>,
    /// How many answers to a question were asked for.
    asked: BTreeMap<QuestionId, usize>,
    told_last: BTreeSet<QuestionId>,
    told: Vec<QuestionId>,
    wants_proof_of_repairs: bool,
    answers_only_when_asked: bool,
}

impl Script {
    /// A script of answers as typed, and the cautions it acknowledges.
    #[must_use]
    pub fn new(
        answers: impl IntoIterator<Item = (QuestionId, Vec<String>)>,
        acknowledges: impl IntoIterator<Item = String>,
    ) -> Self {
        Self {
            answers: answers.into_iter().map(|(id, texts)| (id, texts.into())).collect(),
            acknowledges: acknowledges.into_iter().collect(),
            acknowledges_by: "given beforehand".to_owned(),
            remarks: Vec::new(),
            first: None,
            asked: BTreeMap::new(),
            told_last: BTreeSet::new(),
            told: Vec::new(),
            wants_proof_of_repairs: false,
            answers_only_when_asked: false,
        }
    }

    /// The same script, which acknowledges these cautions instead.
    #[must_use]
    pub fn acknowledging(self, cautions: impl IntoIterator<Item = String>) -> Self {
        Self { acknowledges: cautions.into_iter().collect(), ..self }
    }

    /// The same script for a rig that stands somewhere: a repair counts as done only where the
    /// script holds an answer to something asked after it. Without one the answers come from
    /// before the repair, and the script leaves there.
    #[must_use]
    pub fn wanting_proof_of_repairs(self) -> Self {
        Self { wants_proof_of_repairs: true, ..self }
    }

    /// The same script for a case with a known outcome, in which only what was asked for was
    /// measured: what is left of a list stays unsaid, and where a question is asked once more that
    /// has no answer left, the script leaves. Nobody has said what came of what was done
    /// since the answer before.
    #[must_use]
    pub fn answering_only_when_asked(self) -> Self {
        Self { answers_only_when_asked: true, ..self }
    }

    /// The same script, which tells its answers to these questions before anything is asked.
    #[must_use]
    pub fn telling_first(self, told: Vec<QuestionId>) -> Self {
        Self { told, ..self }
    }

    /// Questions that the script has answers left for.
    pub fn unused(&self) -> impl Iterator<Item = QuestionId> + '_ {
        self.answers.iter().filter(|(_, left)| !left.is_empty()).map(|(id, _)| *id)
    }

    /// The answers that no step asked for although one could have.
    #[must_use]
    pub fn unasked(&self) -> Vec<Unasked> {
        let told = self.told_last.iter().map(|question| Unasked::Told(*question));
        let left = self.answers.iter().flat_map(|(question, left)| {
            let asked = self.asked.get(question).copied().filter(|_| !left.is_empty());
            let numbers = asked.map(|asked| asked + 1..=asked + left.len());
            numbers.into_iter().flatten().map(|number| Unasked::Left(*question, number))
        });
        told.chain(left).collect()
    }

    fn take(&mut self, question: QuestionId) -> Option<String> {
        self.answers.get_mut(&question)?.pop_front()
    }

    /// Whether what comes next to a question that names parts only ends its rounds: told where nothing
    /// asks for a name, it names no part.
    fn only_ends_rounds(&self, case: &Case<'_>, question: QuestionId) -> bool {
        let next = self.answers.get(&question).and_then(VecDeque::front);
        next.is_some_and(|typed| ends_rounds(typed)) && case.names_rounds(question)
    }

    /// Answers that no step on any way from the tree could ask for.
    fn volunteered_first(&mut self, case: &Case<'_>) -> Option<Response> {
        if self.first.is_none() {
            let asked = questions_reached(case.handbook(), case.tree());
            let is_told = |id: &QuestionId| self.told.contains(id) || !asked.contains(id);
            let mut told: Vec<QuestionId> = self.unused().filter(is_told).collect();
            // A face is known before what is read from it.
            told.sort_by_key(|id| !face::tells_one(case.handbook(), *id));
            self.first = Some(told.into());
        }
        let question = *self.first.as_ref()?.front()?;
        if let Some(acknowledged) = self.acknowledge_before(case, question) {
            return Some(acknowledged);
        }
        let is_told = !self.only_ends_rounds(case, question);
        match is_told.then(|| self.take(question)).flatten() {
            Some(typed) => {
                // Of several answers only the first is told; a step asks for the others.
                if self.told.contains(&question) {
                    self.first.as_mut()?.pop_front();
                }
                Some(Response::Volunteer(question, typed))
            }
            None => {
                self.first.as_mut()?.pop_front();
                self.volunteered_first(case)
            }
        }
    }

    fn volunteered_last(&mut self, case: &Case<'_>) -> Option<Response> {
        let is_leftover =
            |id: &QuestionId| self.answers_only_when_asked && self.asked.contains_key(id);
        let is_told = |id: &QuestionId| !is_leftover(id) && !self.only_ends_rounds(case, *id);
        let question = self.unused().find(is_told)?;
        if let Some(acknowledged) = self.acknowledge_before(case, question) {
            return Some(acknowledged);
        }
        self.told_last.insert(question);
        self.take(question).map(|typed| Response::Volunteer(question, typed))
    }

    fn acknowledge(&self, case: &Case<'_>, caution: CautionId) -> Option<Response> {
        let id = &case.handbook().caution(caution).id;
        let by = self.acknowledges_by.clone();
        self.acknowledges.contains(id).then_some(Response::Acknowledge(caution, by))
    }

    /// The acknowledgement that must come before a question is answered out of turn.
    fn acknowledge_before(&self, case: &Case<'_>, question: QuestionId) -> Option<Response> {
        let cautions = &case.handbook().question(question).cautions;
        let barring = cautions.iter().find(|&&caution| case.is_barred_by(caution))?;
        self.acknowledge(case, *barring)
    }

    fn repair(&mut self, case: &Case<'_>, action: ActionId, place: Place) -> Response {
        let behind = questions_behind(case.handbook(), place);
        if self.unused().any(|question| behind.contains(&question)) {
            return Response::Done;
        }
        if let Some(volunteered) = self.volunteered_last(case) {
            return volunteered;
        }
        let id = &case.handbook().action(action).id;
        self.remarks.push(format!(
            "`{id}` is not taken as done: no answer given is from after it. Once it is done, give \
             what is read then too{}",
            read_then(case, &behind)
        ));
        Response::Leave
    }

    fn leave_at(&mut self, case: &Case<'_>, question: QuestionId) -> Response {
        let id = &case.handbook().question(question).id;
        self.remarks.push(format!(
            "`{id}` is asked once more and has no answer left, so it ends there; where it is passed \
             over, the answer is `skip`"
        ));
        Response::Leave
    }

    fn answer(&mut self, case: &Case<'_>, question: QuestionId, names_a_round: bool) -> Response {
        let typed = self.take(question);
        let is_asked_again = !names_a_round && self.asked.contains_key(&question);
        if self.answers_only_when_asked && typed.is_none() && is_asked_again {
            return self.volunteered_last(case).unwrap_or_else(|| self.leave_at(case, question));
        }
        if typed.is_some() {
            *self.asked.entry(question).or_default() += 1;
        }
        match typed {
            Some(typed) if names_a_round && ends_rounds(&typed) => Response::NoMore,
            Some(typed) => Response::Answer(typed),
            None if names_a_round => Response::NoMore,
            None => Response::Answer("skip".to_owned()),
        }
    }
}

/// `, such as a second answer to `blank_off``: what is asked after a repair, first of all what was asked
/// before it.
fn read_then(case: &Case<'_>, behind: &BTreeSet<QuestionId>) -> String {
    let id = |question: &QuestionId| &case.handbook().question(*question).id;
    let is_reading = |question: &&QuestionId| !case.handbook().question(**question).is_setting();
    let mut readings = behind.iter().filter(is_reading);
    let known = readings.clone().find(|question| case.latest_answer(**question).is_some());
    match (known, readings.next()) {
        (Some(known), _) => format!(", such as one more answer to `{}`", id(known)),
        (None, Some(next)) => format!(", such as an answer to `{}`", id(next)),
        (None, None) => String::new(),
    }
}

/// An answer that was given beforehand and that no step asked for, although one could have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unasked {
    /// It was volunteered at the end.
    Told(QuestionId),
    /// It stands in a list at this place, from 1, behind those that were asked for.
    Left(QuestionId, usize),
}

impl Unasked {
    /// What is said of it.
    #[must_use]
    pub fn said(self, handbook: &Handbook) -> String {
        match self {
            Self::Told(question) => {
                let id = &handbook.question(question).id;
                format!("no step asked for `{id}`; it counts as told beforehand")
            }
            Self::Left(question, number) => {
                let id = &handbook.question(question).id;
                format!("the {} answer to `{id}` was not asked for", ordinal(number))
            }
        }
    }
}

impl Answerer for Script {
    fn respond(&mut self, case: &Case<'_>) -> Response {
        if let Now::Acknowledge { caution, .. } = case.now() {
            return self.acknowledge(case, *caution).unwrap_or(Response::Leave);
        }
        if let Some(volunteered) = self.volunteered_first(case) {
            return volunteered;
        }
        match case.now() {
            Now::Ask { question, names_a_round, .. } => {
                self.answer(case, *question, *names_a_round)
            }
            Now::Act { action, place } if self.wants_proof_of_repairs => {
                self.repair(case, *action, *place)
            }
            Now::Do { .. } | Now::Act { .. } => Response::Done,
            Now::Ended { .. } => self.volunteered_last(case).unwrap_or(Response::Leave),
            Now::Stopped { .. } | Now::Acknowledge { .. } => Response::Leave,
        }
    }

    fn object(&mut self, case: &Case<'_>, objection: &Objection) -> bool {
        let id = |question: &QuestionId| case.handbook().question(*question).id.clone();
        match objection {
            Objection::Doubtful(question, _, slip) => {
                self.remarks.push(format!("`{}`: {}; taken as typed", id(question), slip.message));
                true
            }
            Objection::Misunderstood(question, misunderstood) => {
                self.remarks.push(format!("`{}`: {}", id(question), misunderstood.message));
                false
            }
            Objection::Refused(Refusal::NeedsAcknowledgement(_)) => false,
            Objection::Refused(refusal) => {
                self.remarks.push(refusal.to_string());
                false
            }
            Objection::OutOfPlace | Objection::NothingToTakeBack => false,
        }
    }
}

/// `3rd`.
fn ordinal(number: usize) -> String {
    let ending = match (number % 10, number % 100) {
        (_, 11..=13) => "th",
        (1, _) => "st",
        (2, _) => "nd",
        (3, _) => "rd",
        _ => "th",
    };
    format!("{number}{ending}")
}

/// Every question that a step on any way from a tree asks, through visits, jumps and offers.
#[must_use]
pub fn questions_reached(handbook: &Handbook, tree: TreeId) -> BTreeSet<QuestionId> {
    let trees = handbook.trees_reached(tree).into_iter();
    trees.flat_map(|tree| handbook.tree(tree).questions().collect::<Vec<_>>()).collect()
}

/// Every question that a step behind this one asks, in its own tree and in those visited there.
fn questions_behind(handbook: &Handbook, place: Place) -> BTreeSet<QuestionId> {
    let tree = handbook.tree(place.tree);
    let mut behind = BTreeSet::new();
    let mut open = steps_led_to(tree.step(place.step));
    while let Some(step) = open.pop() {
        if behind.insert(step) {
            open.extend(steps_led_to(tree.step(step)));
        }
    }
    let asked = |step: StepId| match tree.step(step).kind {
        StepKind::Ask { question, .. } => BTreeSet::from([question]),
        StepKind::Visit(visited) => questions_reached(handbook, visited),
        _ => BTreeSet::new(),
    };
    behind.into_iter().flat_map(asked).collect()
}

/// The steps of its own tree that a step may lead to.
fn steps_led_to(step: &Step) -> Vec<StepId> {
    let own = step.next.targets().into_iter().filter_map(|target| match target {
        Target::Step(step) => Some(step),
        Target::Tree(_) => None,
    });
    own.chain(step.bound.map(|(_, then)| then)).collect()
}

#[cfg(test)]
mod tests {
    use super::ordinal;

    #[test]
    fn a_place_in_a_list_is_said_as_people_say_it() {
        let said = [1, 2, 3, 4, 11, 12, 13, 21, 102, 111].map(ordinal);
        let words = ["1st", "2nd", "3rd", "4th", "11th", "12th", "13th", "21st", "102nd", "111th"];
        assert_eq!(said, words);
    }
}
