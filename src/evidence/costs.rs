//! How long it takes to look: the questions' own minutes, and what has to be done before they can
//! be asked, as far as that does not stand already.

use std::cell::OnceCell;

use super::configuration::Configuration;
use super::engine::Engine;
use super::way::Behind;
use super::worksheet::Worksheet;
use crate::handbook::{ActionId, Handbook, QuestionId, TreeId};

/// How long a question takes that does not say so, in seconds; `estimate`: reading it and
/// answering.
const ANSWERING: f64 = 30.0;

/// What looking costs as things stand.
#[derive(Debug)]
pub(super) struct Costs<'a> {
    handbook: &'a Handbook,
    behind: &'a Behind,
    configuration: Configuration,
    /// What has to be done before each question, as far as that was asked.
    least: Vec<OnceCell<&'a [ActionId]>>,
}

impl<'a> Costs<'a> {
    pub(super) fn of(engine: &'a Engine, sheet: &Worksheet<'a>) -> Self {
        let (handbook, configuration) = (sheet.handbook(), Configuration::of(sheet));
        let least = handbook.question_ids().map(|_| OnceCell::new()).collect();
        Self { handbook, behind: engine.behind(), configuration, least }
    }

    /// Minutes of questions that are asked in one go, with what has to be done before each in the
    /// tree that needs the least.
    pub(super) fn minutes(&self, questions: &[QuestionId]) -> f64 {
        let mut actions: Vec<ActionId> = Vec::new();
        for question in questions {
            let least = self.least[question.index()].get_or_init(|| self.least(*question));
            actions.extend(
                least.iter().filter(|id| !actions.contains(id)).copied().collect::<Vec<_>>(),
            );
        }
        self.asking(questions) + self.doing(&actions)
    }

    /// Minutes of questions that are asked in one tree.
    pub(super) fn minutes_in(&self, tree: TreeId, questions: &[QuestionId]) -> f64 {
        let mut actions: Vec<ActionId> = Vec::new();
        for id in questions.iter().flat_map(|question| self.behind.actions(tree, *question)) {
            if !actions.contains(id) {
                actions.push(*id);
            }
        }
        self.asking(questions) + self.doing(&actions)
    }

    fn asking(&self, questions: &[QuestionId]) -> f64 {
        let takes = |question: &QuestionId| self.handbook.question(*question).takes;
        questions.iter().map(|question| takes(question).unwrap_or(ANSWERING)).sum::<f64>() / 60.0
    }

    /// Minutes of actions after each other; one whose good stands already is passed over.
    fn doing(&self, actions: &[ActionId]) -> f64 {
        let mut configuration = self.configuration.clone();
        let mut minutes = 0.0;
        for id in actions {
            if !configuration.has_all_of(self.handbook.action(*id)) {
                minutes += configuration.minutes(self.handbook, *id);
                configuration.act(self.handbook, *id);
            }
        }
        minutes
    }

    /// What has to be done before a question, in the tree in which that takes least.
    fn least(&self, question: QuestionId) -> &'a [ActionId] {
        let asks = |(_, tree): &(usize, &crate::handbook::Tree)| {
            tree.questions().any(|asked| asked == question)
        };
        let asking = self.handbook.trees().iter().enumerate().filter(asks);
        let behind = asking.map(|(place, _)| self.behind.actions(TreeId::at(place), question));
        behind.min_by(|a, b| self.doing(a).total_cmp(&self.doing(b))).unwrap_or(&[])
    }
}
