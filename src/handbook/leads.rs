//! Where a step may lead, and what leads there.

use super::model::{Handbook, Next, Step, StepKind, Target};
use crate::formula::{Checked, Kind};

/// What leads from a step to another.
#[derive(Clone, Debug)]
pub enum Lead<'h> {
    /// Nothing else does.
    Always,
    /// This answer.
    Answer(&'h str),
    /// An answer of "not sure".
    NotSure,
    /// A condition that holds.
    If(&'h Checked),
    /// No condition holds.
    Otherwise,
    /// A condition is too close to call.
    TooClose,
    /// A condition can't be told.
    Unknown,
    /// The step has been run this often.
    After(u32),
}

impl Lead<'_> {
    /// In words, with the condition as it is written; empty where nothing else leads there.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::Always => String::new(),
            Self::Answer(label) => (*label).to_owned(),
            Self::NotSure => "not sure".to_owned(),
            Self::If(condition) => {
                format!("if {}", condition.text().split_whitespace().collect::<Vec<_>>().join(" "))
            }
            Self::Otherwise => "otherwise".to_owned(),
            Self::TooClose => "too close".to_owned(),
            Self::Unknown => "not known".to_owned(),
            Self::After(1) => "after one time".to_owned(),
            Self::After(times) => format!("after {times} times"),
        }
    }
}

/// Where a step may lead, in the order of the file, with what leads there; what follows when its
/// bound is used up comes last. The same target may come more than once.
#[must_use]
pub fn leads<'h>(handbook: &'h Handbook, step: &'h Step) -> Vec<(Lead<'h>, Target)> {
    let mut leads: Vec<(Lead<'h>, Target)> = match &step.next {
        Next::Nothing => Vec::new(),
        Next::Always(target) => vec![(Lead::Always, *target)],
        Next::ByAnswer { targets, not_sure } => {
            let answered = answers(handbook, step).into_iter().map(Lead::Answer);
            let unsure = not_sure.map(|target| (Lead::NotSure, target));
            answered.zip(targets.iter().copied()).chain(unsure).collect()
        }
        Next::ByRules { rules, otherwise, too_close, unknown } => rules
            .iter()
            .map(|rule| (Lead::If(&rule.condition), rule.go))
            .chain(too_close.map(|target| (Lead::TooClose, target)))
            .chain(unknown.map(|target| (Lead::Unknown, target)))
            .chain([(Lead::Otherwise, *otherwise)])
            .collect(),
    };
    leads.extend(step.bound.map(|(most, then)| (Lead::After(most), Target::Step(then))));
    leads
}

/// The answers in the order of the branches: no before yes, choices in their order.
fn answers<'h>(handbook: &'h Handbook, step: &Step) -> Vec<&'h str> {
    let StepKind::Ask { question, .. } = &step.kind else { return Vec::new() };
    let question = handbook.question(*question);
    if question.kind == Kind::YesNo {
        return vec!["no", "yes"];
    }
    question.choices.iter().map(|choice| choice.label.as_str()).collect()
}
