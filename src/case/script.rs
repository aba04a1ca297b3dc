//! A script as the answerer: answers given beforehand, by question.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use super::case::{Case, Refusal};
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
    wants_proof_of_repairs: bool,
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
            wants_proof_of_repairs: false,
        }
    }

    /// The same script for a rig that stands somewhere: a repair counts as done only where the
    /// script holds an answer to something asked after it. Without one the answers come from
    /// before the repair, and the script leaves there.
    #[must_use]
    pub fn wanting_proof_of_repairs(self) -> Self {
        Self { wants_proof_of_repairs: true, ..self }
    }

    /// Questions that the script has answers left for.
    pub fn unused(&self) -> impl Iterator<Item = QuestionId> + '_ {
        self.answers.iter().filter(|(_, left)| !left.is_empty()).map(|(id, _)| *id)
    }

    fn take(&mut self, question: QuestionId) -> Option<String> {
        self.answers.get_mut(&question)?.pop_front()
    }

    /// Answers that no step on any way from the tree could ask for.
    fn volunteered_first(&mut self, case: &Case<'_>) -> Option<Response> {
        if self.first.is_none() {
            let asked = questions_reached(case.handbook(), case.tree());
            self.first = Some(self.unused().filter(|id| !asked.contains(id)).collect());
        }
        let question = *self.first.as_ref()?.front()?;
        if let Some(acknowledged) = self.acknowledge_before(case, question) {
            return Some(acknowledged);
        }
        match self.take(question) {
            Some(typed) => Some(Response::Volunteer(question, typed)),
            None => {
                self.first.as_mut()?.pop_front();
                self.volunteered_first(case)
            }
        }
    }

    fn volunteered_last(&mut self, case: &Case<'_>) -> Option<Response> {
        let question = self.unused().next()?;
        if let Some(acknowledged) = self.acknowledge_before(case, question) {
            return Some(acknowledged);
        }
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
            "no answer given comes from after `{id}`, so it is not taken as done yet"
        ));
        Response::Leave
    }

    fn answer(&mut self, question: QuestionId, names_a_round: bool) -> Response {
        match self.take(question) {
            Some(typed) if names_a_round && ends_rounds(&typed) => Response::NoMore,
            Some(typed) => Response::Answer(typed),
            None if names_a_round => Response::NoMore,
            None => Response::Answer("skip".to_owned()),
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
            Now::Ask { question, names_a_round, .. } => self.answer(*question, *names_a_round),
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

/// Every question that a step on any way from a tree asks, through visits, jumps and offers.
#[must_use]
pub fn questions_reached(handbook: &Handbook, tree: TreeId) -> BTreeSet<QuestionId> {
    let mut trees = BTreeSet::new();
    let mut open = vec![tree];
    while let Some(tree) = open.pop() {
        if trees.insert(tree) {
            open.extend(handbook.tree(tree).leads_to());
        }
    }
    trees.into_iter().flat_map(|tree| handbook.tree(tree).questions().collect::<Vec<_>>()).collect()
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
