//! What lies on the way through a tree: the actions without which a question is never asked, and
//! the safety questions that come with it.

use super::worksheet::Worksheet;
use crate::formula::{Facts, Value, Verdict, verdict};
use crate::handbook::{
    ActionId, Handbook, Hazard, Next, QuestionId, Rule, Step, StepId, StepKind, Target, Tree,
    TreeId,
};

/// For each tree the questions that it asks behind an action, with those actions.
#[derive(Clone, Debug, Default)]
pub(super) struct Behind {
    trees: Vec<Vec<(QuestionId, Vec<ActionId>)>>,
}

impl Behind {
    /// Looks through the trees of a handbook, whatever has been answered.
    pub(super) fn of(handbook: &Handbook) -> Self {
        Self { trees: handbook.trees().iter().map(behind_in).collect() }
    }

    /// The actions without which a tree doesn't come to ask a question, in the order of the tree.
    pub(super) fn actions(&self, tree: TreeId, question: QuestionId) -> &[ActionId] {
        let found = self.trees.get(tree.index()).into_iter().flatten();
        let mut of_question = found.filter(|(asked, _)| *asked == question);
        of_question.next().map_or(&[], |(_, actions)| actions)
    }
}

fn behind_in(tree: &Tree) -> Vec<(QuestionId, Vec<ActionId>)> {
    let everywhere = |step: &Step| step.next.targets();
    let mut behind: Vec<(QuestionId, Vec<ActionId>)> = Vec::new();
    for (place, step) in tree.steps.iter().enumerate() {
        let StepKind::Act { action, .. } = step.kind else { continue };
        let without = reached(tree, Some(StepId::at(place)), &everywhere);
        let is_asked = |question: QuestionId| {
            without.iter().any(|id| matches!(tree.step(*id).kind, StepKind::Ask { question: asked, .. } if asked == question))
        };
        for question in tree.questions().filter(|question| !is_asked(*question)) {
            match behind.iter_mut().find(|(asked, _)| *asked == question) {
                Some((_, actions)) if actions.contains(&action) => {}
                Some((_, actions)) => actions.push(action),
                None => behind.push((question, vec![action])),
            }
        }
    }
    behind.retain(|(question, _)| tree.rounds != Some(*question));
    behind
}

/// The steps of a tree that its start leads to without a step, first things first.
fn reached(
    tree: &Tree,
    without: Option<StepId>,
    targets: &dyn Fn(&Step) -> Vec<Target>,
) -> Vec<StepId> {
    let mut reached = Vec::new();
    let mut left = vec![tree.start];
    while let Some(id) = left.pop() {
        if reached.contains(&id) || without == Some(id) {
            continue;
        }
        reached.push(id);
        let step = tree.step(id);
        let bound = step.bound.map(|(_, then)| Target::Step(then));
        let next = targets(step).into_iter().chain(bound).filter_map(|target| match target {
            Target::Step(step) => Some(step),
            Target::Tree(_) => None,
        });
        let next: Vec<StepId> = next.collect();
        // The last is looked at first.
        left.extend(next.into_iter().rev());
    }
    reached
}

/// The safety questions that a tree may still ask, itself or in the trees that it visits, as far
/// as the answers given lead there; first things first.
pub(super) fn safety_questions(sheet: &Worksheet<'_>, tree: TreeId) -> Vec<QuestionId> {
    let (mut asked, mut met) = (Vec::new(), Vec::new());
    collect(sheet, tree, &mut met, &mut asked);
    asked
}

fn collect(sheet: &Worksheet<'_>, id: TreeId, met: &mut Vec<TreeId>, asked: &mut Vec<QuestionId>) {
    if met.contains(&id) {
        return;
    }
    met.push(id);
    let handbook = sheet.handbook();
    let tree = handbook.tree(id);
    for step in reached(tree, None, &|step| as_answered(sheet, step)) {
        match tree.step(step).kind {
            StepKind::Visit(visited) => collect(sheet, visited, met, asked),
            StepKind::Ask { question, .. } => {
                let is_open =
                    handbook.question(question).hazard.is_some() && sheet.is_unanswered(question);
                if is_open && !asked.contains(&question) {
                    asked.push(question);
                }
            }
            _ => {}
        }
    }
}

/// Where a step leads, as far as the answer given tells.
fn as_answered(sheet: &Worksheet<'_>, step: &Step) -> Vec<Target> {
    if let (StepKind::Ask { question, again: false }, Next::ByAnswer { targets, .. }) =
        (&step.kind, &step.next)
        && !sheet.is_unanswered(*question)
        && let Some(target) = answer(sheet, *question).and_then(|answer| targets.get(answer))
    {
        return vec![*target];
    }
    if let (StepKind::Ask { question, again: false }, Next::ByRules { rules, otherwise, .. }) =
        (&step.kind, &step.next)
        && !sheet.is_unanswered(*question)
        // What a reading decides may be decided otherwise by the next one.
        && !sheet.handbook().question(*question).choices.is_empty()
        && let Some(target) = ruled(sheet, rules, *otherwise)
    {
        return vec![target];
    }
    step.next.targets()
}

/// Where the first condition that holds leads; none where one before it is not decided.
fn ruled(sheet: &Worksheet<'_>, rules: &[Rule], otherwise: Target) -> Option<Target> {
    for rule in rules {
        if sheet.decides(&rule.condition)? {
            return Some(rule.go);
        }
    }
    Some(otherwise)
}

/// The answer of a question by its place in the order of its choices; a safety question that was
/// asked and not answered counts as its dangerous answer.
fn answer(sheet: &Worksheet<'_>, question: QuestionId) -> Option<usize> {
    let dangerous = || match sheet.handbook().question(question).hazard? {
        Hazard::YesNo(yes) => Some(usize::from(yes)),
        Hazard::Choice(choice) => Some(usize::from(choice)),
    };
    match sheet.latest(sheet.handbook().question(question).symbol) {
        Value::Truth(draws) => match verdict(&draws) {
            Verdict::Yes(_) => Some(1),
            Verdict::No(_) => Some(0),
            Verdict::TooClose(_) | Verdict::Unknown => dangerous(),
        },
        Value::Choice(draws) => Some(usize::from(draws.at(0))),
        _ => dangerous(),
    }
}
