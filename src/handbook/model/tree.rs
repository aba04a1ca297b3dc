//! Trees: what is asked next. A tree never states a cause.

use serde::{Deserialize, Serialize};

use super::{ActionId, CautionId, QuestionId, StepId, TreeId};
use crate::formula::{Checked, CheckedTemplate};

/// Where a branch leads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Target {
    /// To a step of the same tree.
    Step(StepId),
    /// On to another tree, without coming back.
    Tree(TreeId),
}

/// One line of a list of conditions.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Rule {
    /// The condition, a yes or no.
    pub condition: Checked,
    /// Where it leads when it holds.
    pub go: Target,
}

/// What follows a step.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub enum Next {
    /// Nothing: an end or a stop.
    Nothing,
    /// Always the same.
    Always(Target),
    /// By the answer given: one target for each choice in the question's order (no before yes).
    ByAnswer {
        /// The targets, in the order of the choices.
        targets: Vec<Target>,
        /// Where "not sure" leads; without it, where the last (worst) choice leads.
        not_sure: Option<Target>,
    },
    /// By conditions, the first that holds.
    ByRules {
        /// The conditions in order.
        rules: Vec<Rule>,
        /// Where it goes when none holds.
        otherwise: Target,
        /// Where it goes when a condition is too close to call.
        too_close: Option<Target>,
        /// Where it goes when a condition can't be judged yet.
        unknown: Option<Target>,
    },
}

impl Next {
    /// Every target, in the order written; the same one may come more than once.
    #[must_use]
    pub fn targets(&self) -> Vec<Target> {
        match self {
            Self::Nothing => Vec::new(),
            Self::Always(target) => vec![*target],
            Self::ByAnswer { targets, not_sure } => {
                targets.iter().copied().chain(*not_sure).collect()
            }
            Self::ByRules { rules, otherwise, too_close, unknown } => {
                let ruled = rules.iter().map(|rule| rule.go);
                ruled.chain([*otherwise]).chain(*too_close).chain(*unknown).collect()
            }
        }
    }
}

/// What a step is.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub enum StepKind {
    /// Something to do that changes nothing in the evidence.
    Do {
        /// What to do.
        text: CheckedTemplate,
        /// How long to wait afterwards, in seconds.
        wait: Option<f64>,
    },
    /// A question.
    Ask {
        /// Which one.
        question: QuestionId,
        /// Whether it is measured anew each time.
        again: bool,
    },
    /// An action.
    Act {
        /// Which one.
        action: ActionId,
        /// Whether the tree goes on where it is passed over; else it is over then.
        is_optional: bool,
    },
    /// Another tree, run and come back from.
    Visit(TreeId),
    /// The work must not go on.
    Stop {
        /// What to do, or to leave.
        text: CheckedTemplate,
        /// Why.
        why: Option<CheckedTemplate>,
        /// Whom to refer to.
        refer: CheckedTemplate,
        /// The tree that may be begun meanwhile, as a case of its own.
        meanwhile: Option<TreeId>,
    },
    /// The tree is done.
    End {
        /// What has been done.
        done: CheckedTemplate,
        /// Trees to offer next; none where nothing is left to do.
        then: Vec<TreeId>,
        /// What it says of the work, if anything.
        closes: Option<Closes>,
    },
}

/// What an end says of the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Closes {
    /// What the work was for has been shown.
    Proved,
    /// The way has come to its end; nothing was to be shown.
    Done,
    /// What is to be done has been laid down; the trees offered are the work itself.
    Planned,
    /// The work has been left and waits; the trees offered are the way back to it.
    Waits,
}

impl Closes {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Proved, Self::Done, Self::Planned, Self::Waits];

    /// The word by which rules and programs name it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Proved => "proved",
            Self::Done => "done",
            Self::Planned => "planned",
            Self::Waits => "waits",
        }
    }
}

/// One step of a tree.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Step {
    /// Its id within the tree.
    pub id: String,
    /// What it is.
    pub kind: StepKind,
    /// What follows it.
    pub next: Next,
    /// Cautions shown here besides those of its question or action.
    pub cautions: Vec<CautionId>,
    /// How often it may be entered, and where the next time leads.
    pub bound: Option<(u32, StepId)>,
}

/// A question tree.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Tree {
    /// Its id.
    pub id: String,
    /// What people read.
    pub title: String,
    /// What is done first in it, as it is told to a caller.
    pub say: Option<String>,
    /// How long it usually takes, in seconds.
    pub takes: Option<f64>,
    /// The first step.
    pub start: StepId,
    /// The steps in the order of the file.
    pub steps: Vec<Step>,
    /// The text question that names what each round is about, if the tree runs in rounds.
    pub rounds: Option<QuestionId>,
}

impl Tree {
    /// The step behind an id of this tree.
    #[must_use]
    pub fn step(&self, id: StepId) -> &Step {
        &self.steps[id.index()]
    }

    /// The trees that this one visits or jumps to; those it only offers at its end don't count.
    #[must_use]
    pub fn leads_to(&self) -> Vec<TreeId> {
        let mut led = Vec::new();
        for step in &self.steps {
            if let StepKind::Visit(visited) = step.kind {
                led.push(visited);
            }
            led.extend(step.next.targets().into_iter().filter_map(|target| match target {
                Target::Tree(tree) => Some(tree),
                Target::Step(_) => None,
            }));
        }
        led
    }

    /// The questions that this tree asks itself, in the order of the file.
    pub fn questions(&self) -> impl Iterator<Item = QuestionId> + '_ {
        self.rounds.into_iter().chain(self.steps.iter().filter_map(|step| match step.kind {
            StepKind::Ask { question, .. } => Some(question),
            _ => None,
        }))
    }

    /// The same in the order in which somebody comes to them who begins the tree: those first that are
    /// the fewest steps from its start.
    pub fn questions_from_start(&self) -> impl Iterator<Item = QuestionId> + '_ {
        let mut order = vec![self.start];
        let mut at = 0;
        while let Some(&step) = order.get(at) {
            for target in self.step(step).next.targets() {
                if let Target::Step(next) = target
                    && !order.contains(&next)
                {
                    order.push(next);
                }
            }
            at += 1;
        }
        let asked = order.into_iter().filter_map(|step| match self.step(step).kind {
            StepKind::Ask { question, .. } => Some(question),
            _ => None,
        });
        self.rounds.into_iter().chain(asked)
    }
}
