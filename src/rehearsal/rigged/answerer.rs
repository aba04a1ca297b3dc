//! Somebody at a simulated rig as the answerer of an interview.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use super::hand::Hand;
use super::mapping::{Acting, Answering, RigAnswers};
use super::typed::Said;
use crate::case::{
    ActionId, Answerer, Case, Now, Objection, Place, QuestionId, Refusal, Response, TreeId,
};

/// The most responses that one play takes; a sound handbook needs far fewer (limit of ours).
const MOST_RESPONSES: usize = 400;
/// The most trees that a play goes on with after its first (limit of ours).
pub(super) const MOST_TREES: usize = 10;
/// How often a play goes on with the same tree (limit of ours).
const TIMES_PER_TREE: usize = 2;
/// How many of the best checks are looked at for a tree to go on with (limit of ours).
const BEST_CHECKS: usize = 3;
/// Who acknowledges.
const WHO: &str = "whoever stands at the simulated rig";

/// Somebody at a simulated rig, who does what is asked and told, and types what there is to see.
#[derive(Debug)]
pub struct AtRig<'m> {
    /// The one at the rig.
    pub hand: Hand,
    mapping: &'m RigAnswers,
    /// Answers that are given in the place of a look; the last one stands.
    given: BTreeMap<QuestionId, VecDeque<String>>,
    /// What nobody could say, with why, each question once.
    unsure: BTreeMap<QuestionId, String>,
    /// What could not be read, by question.
    unread: BTreeSet<QuestionId>,
    /// What was passed over or not taken, in words.
    remarks: Vec<String>,
    again: Option<(QuestionId, String)>,
    trees: Vec<TreeId>,
    most_trees: usize,
    responses: usize,
}

impl<'m> AtRig<'m> {
    /// Somebody at a rig, with answers that are given in the place of looks.
    #[must_use]
    pub fn new(
        hand: Hand,
        mapping: &'m RigAnswers,
        given: impl IntoIterator<Item = (QuestionId, Vec<String>)>,
    ) -> Self {
        let given = given.into_iter().map(|(id, texts)| (id, VecDeque::from(texts)));
        Self {
            hand,
            mapping,
            given: given.collect(),
            unsure: BTreeMap::new(),
            unread: BTreeSet::new(),
            remarks: Vec::new(),
            again: None,
            trees: Vec::new(),
            most_trees: MOST_TREES,
            responses: 0,
        }
    }

    /// The same, going on with so many trees at most.
    #[must_use]
    pub fn going_on_with(self, most_trees: usize) -> Self {
        Self { most_trees, ..self }
    }

    /// What nobody could say, with why.
    #[must_use]
    pub fn unsure(&self) -> &BTreeMap<QuestionId, String> {
        &self.unsure
    }

    /// What was passed over or not taken.
    #[must_use]
    pub fn remarks(&self) -> &[String] {
        &self.remarks
    }

    /// The trees that it went on with.
    #[must_use]
    pub fn trees(&self) -> &[TreeId] {
        &self.trees
    }

    fn answer(&mut self, question: QuestionId, names_a_round: bool) -> Response {
        if let Some((_, typed)) = self.again.take().filter(|(id, _)| *id == question) {
            return Response::Answer(typed);
        }
        if self.unread.contains(&question) {
            return Response::Answer("not sure".to_owned());
        }
        let said = match self.given.get_mut(&question) {
            Some(texts) if texts.len() > 1 => texts.pop_front().map(Said::Typed),
            Some(texts) => texts.front().cloned().map(Said::Typed),
            None => None,
        };
        let said = said.unwrap_or_else(|| match self.mapping.question(question) {
            Some(Answering::Look(look)) => self.hand.look(*look),
            Some(Answering::Says(text)) => Said::Typed(text.clone()),
            Some(Answering::NotSure(reason)) => Said::Unsure(reason.clone()),
            None => Said::Unsure("nothing is done for it".to_owned()),
        });
        match said {
            Said::Typed(text) => Response::Answer(text),
            Said::Unsure(_) if names_a_round => Response::NoMore,
            Said::Unsure(reason) => {
                self.unsure.entry(question).or_insert(reason);
                Response::Answer("not sure".to_owned())
            }
        }
    }

    /// Does what a step says, and lets its time pass.
    fn do_step(&mut self, place: Place, wait: Option<f64>) -> Response {
        if let Some(deed) = self.mapping.step(place) {
            // What is refused has been counted, and the questions behind it tell.
            let _ = self.hand.do_deed(deed);
        }
        if let Some(seconds) = wait {
            let _ = self.hand.pass(seconds);
        }
        Response::Done
    }

    fn act(&mut self, case: &Case<'_>, action: ActionId) -> Response {
        // What is settled is what was found before the repair.
        if case.assessment().settled {
            return Response::Leave;
        }
        match self.mapping.action(action) {
            Some(Acting::Does(deed)) => match self.hand.do_deed(*deed) {
                Ok(()) => Response::Done,
                Err(_) => Response::Skip,
            },
            Some(Acting::Skips(reason)) => {
                let id = &case.handbook().action(action).id;
                self.remark(format!("`{id}` is passed over: {reason}"));
                Response::Skip
            }
            None => Response::Skip,
        }
    }

    fn remark(&mut self, remark: String) {
        if !self.remarks.contains(&remark) {
            self.remarks.push(remark);
        }
    }

    /// Goes on as the assistant names it: with the first tree that the end offers and that could
    /// still tell something, else with the tree that asks most of what the best check needs.
    fn go_on(&mut self, case: &Case<'_>, offered: &[TreeId]) -> Response {
        if case.assessment().settled || self.trees.len() >= self.most_trees {
            return Response::Leave;
        }
        let checks = self.checks(case);
        let asked = |tree: TreeId, ids: &[QuestionId]| {
            let asked: Vec<QuestionId> = case.handbook().tree(tree).questions().collect();
            (ids.iter().filter(|id| asked.contains(id)).count(), asked.len())
        };
        let could_tell = |tree: &TreeId| checks.iter().any(|ids| asked(*tree, ids).0 == ids.len());
        let is_passed = |tree: TreeId| case.path().iter().any(|step| step.place.tree == tree);
        let is_new = |tree: &TreeId| !is_passed(*tree) && !self.trees.contains(tree);
        let going = offered.iter().copied().filter(is_new).find(could_tell);
        let is_left =
            |tree: &TreeId| self.trees.iter().filter(|gone| *gone == tree).count() < TIMES_PER_TREE;
        let home = |ids: &Vec<QuestionId>| {
            let asking = ids.iter().flat_map(|id| case.trees_asking(*id));
            asking.filter(is_left).max_by_key(|tree| {
                let (of_it, all) = asked(*tree, ids);
                (of_it, std::cmp::Reverse(all), std::cmp::Reverse(tree.index()))
            })
        };
        match going.or_else(|| checks.iter().take(BEST_CHECKS).find_map(home)) {
            Some(tree) => {
                self.trees.push(tree);
                Response::GoOn(tree)
            }
            None => Response::Leave,
        }
    }

    /// What the checks that are left ask for, best first, without those that nobody at this rig can
    /// answer.
    fn checks(&self, case: &Case<'_>) -> Vec<Vec<QuestionId>> {
        let can_be_told = |id: &QuestionId| {
            let is_open = matches!(self.mapping.question(*id), Some(Answering::NotSure(_)));
            !is_open && !self.unsure.contains_key(id)
        };
        let checks = case.checks_left().into_iter().map(|check| check.questions);
        checks.filter(|questions| questions.iter().all(can_be_told)).collect()
    }
}

impl Answerer for AtRig<'_> {
    fn respond(&mut self, case: &Case<'_>) -> Response {
        self.responses += 1;
        if self.responses > MOST_RESPONSES {
            return Response::Leave;
        }
        match case.now() {
            Now::Acknowledge { caution, .. } => Response::Acknowledge(*caution, WHO.to_owned()),
            Now::Ask { question, names_a_round, .. } => self.answer(*question, *names_a_round),
            Now::Do { place, wait, .. } => self.do_step(*place, *wait),
            Now::Act { action, .. } => self.act(case, *action),
            Now::Ended { then, .. } => self.go_on(case, then),
            Now::Stopped { .. } => Response::Leave,
        }
    }

    fn object(&mut self, case: &Case<'_>, objection: &Objection) -> bool {
        let id = |question: &QuestionId| case.handbook().question(*question).id.clone();
        match objection {
            Objection::Doubtful(question, _, _) => match self.hand.take_meant() {
                // Asked back, somebody sees the slip.
                Some(meant) => {
                    self.again = Some((*question, meant));
                    false
                }
                None => true,
            },
            Objection::Misunderstood(question, misunderstood) => {
                self.remark(format!("`{}`: {}", id(question), misunderstood.message));
                self.unread.insert(*question)
            }
            Objection::Refused(Refusal::NeedsAcknowledgement(_)) => false,
            Objection::Refused(refusal) => {
                self.remark(refusal.to_string());
                false
            }
            Objection::OutOfPlace | Objection::NothingToTakeBack => false,
        }
    }
}
