//! Steps and branches that no answers lead to.

use std::collections::BTreeSet;

use super::example::Examples;
use super::{step, trees};
use crate::analysis::branch::{Branch, branches_of, target_of};
use crate::analysis::reach::Analysis;
use crate::analysis::sweep::Came;
use crate::analysis::truths::Truths;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::{RawHandbook, RawNext, RawStep, RawTree};
use crate::handbook::{Next, StepId, StepKind, Target, Tree, TreeId};
use crate::source::Span;

/// The most branches that a message about a step shows.
const MOST_SHOWN: usize = 3;

pub(super) fn advise(written: &RawHandbook, analysis: &Analysis<'_>, advice: &mut Vec<Diagnostic>) {
    let examples = Examples::new(analysis);
    for (id, raw) in trees(written, analysis.handbook()) {
        let tree = analysis.handbook().tree(id);
        let look =
            Look { analysis, examples: &examples, id, tree, raw, explained: BTreeSet::new() };
        look.advise(advice);
    }
}

/// A look at one tree.
struct Look<'a, 'h> {
    analysis: &'a Analysis<'h>,
    examples: &'a Examples<'a, 'h>,
    id: TreeId,
    tree: &'a Tree,
    raw: &'a RawTree,
    /// Steps whose conditions have been told of.
    explained: BTreeSet<usize>,
}

impl Look<'_, '_> {
    fn advise(mut self, advice: &mut Vec<Diagnostic>) {
        for place in 0..self.tree.steps.len() {
            advice.extend(self.dead_step(place));
        }
        for place in 0..self.tree.steps.len() {
            if self.is_reached(place) && !self.explained.contains(&place) {
                advice.extend(self.of_rules(place));
                advice.extend(self.of_answers(place));
            }
        }
    }

    fn is_reached(&self, place: usize) -> bool {
        !self.analysis.is_out_of_reach(self.id, StepId::at(place))
    }

    fn is_taken(&self, place: usize, branch: Branch) -> bool {
        !self.analysis.is_never_taken(self.id, StepId::at(place), branch)
    }

    fn came(&self, place: usize) -> &[Came] {
        &self.analysis.explored.swept[self.id.index()].came[place]
    }

    /// A step that is dead although a step before it is not; what only follows is not told.
    fn dead_step(&mut self, place: usize) -> Option<Diagnostic> {
        if self.is_reached(place) {
            return None;
        }
        let target = Target::Step(StepId::at(place));
        let mut ways: Vec<(usize, Branch)> = Vec::new();
        for before in (0..self.tree.steps.len()).filter(|before| self.is_reached(*before)) {
            let step = &self.tree.steps[before];
            let all = branches_of(step).into_iter();
            let here = all.filter(|branch| target_of(step, *branch) == Some(target));
            ways.extend(here.map(|branch| (before, branch)));
        }
        if ways.is_empty() {
            return None;
        }
        let raw = step(self.raw, place)?;
        let title =
            format!("no answers lead to step `{}` of tree `{}`", raw.id.value, self.raw.id.value);
        let mut fault = Diagnostic::at(Code::DeadStep, title, raw.id.span, "never come to");
        for (before, branch) in ways.iter().take(MOST_SHOWN) {
            if let Some((span, why)) = self.why_not(*before, *branch) {
                fault = fault.and_at(span, why);
            }
            self.explained.insert(*before);
        }
        let note = "what was answered on the way rules out every branch that leads there";
        Some(self.with_example(fault, Some(note), ways[0].0))
    }

    /// A fault with its note, and with answers that lead to where it shows.
    fn with_example(&self, fault: Diagnostic, note: Option<&str>, place: usize) -> Diagnostic {
        let example = self.examples.of_step(self.id, StepId::at(place));
        let notes: Vec<&str> = note.into_iter().chain(example.as_deref()).collect();
        if notes.is_empty() { fault } else { fault.note(notes.join("; ")) }
    }

    /// The place of a branch that is never taken, and why it is not.
    fn why_not(&self, place: usize, branch: Branch) -> Option<(Span, String)> {
        let raw = step(self.raw, place)?;
        let came = self.came(place);
        let always_yes = came.iter().position(|came| is_always(*came, Truths::YES));
        let said = |text: &str| text.to_owned();
        match (&raw.next, branch) {
            (Some(RawNext::ByFormula(_)), Branch::Rule(rule)) => {
                let span = condition(raw, rule)?;
                match always_yes.filter(|earlier| *earlier < rule) {
                    Some(earlier) => Some((condition(raw, earlier)?, said("always yes here"))),
                    None => Some((span, in_words(came[rule]))),
                }
            }
            (Some(RawNext::ByFormula(_)), Branch::Otherwise) => match always_yes {
                Some(rule) => Some((condition(raw, rule)?, said("always yes here"))),
                None => Some((raw.id.span, said("one of its conditions always holds"))),
            },
            (Some(RawNext::ByFormula(_)), Branch::TooClose) => {
                Some((raw.id.span, said("none of its conditions is ever too close")))
            }
            (Some(RawNext::ByFormula(_)), Branch::Unknown) => {
                Some((raw.id.span, said("each of its conditions can always be told")))
            }
            (Some(RawNext::ByChoice(_)), Branch::Answer(answer)) => {
                Some((self.choice(place, answer)?, said("never answered so here")))
            }
            (_, Branch::UsedUp) => Some((raw.id.span, said("never entered so often"))),
            _ => Some((raw.id.span, said("never goes on"))),
        }
    }

    /// Conditions that always come out the same, and those that never say yes.
    fn of_rules(&self, place: usize) -> Vec<Diagnostic> {
        let (Some(raw), Next::ByRules { rules, .. }) =
            (step(self.raw, place), &self.tree.steps[place].next)
        else {
            return Vec::new();
        };
        let mut advice = Vec::new();
        for (rule, came) in self.came(place).iter().enumerate() {
            let Some(span) = condition(raw, rule) else { continue };
            let text = rules[rule].condition.text().trim().to_owned();
            let always = [Truths::YES, Truths::NO, Truths::UNKNOWN]
                .into_iter()
                .find(|truth| is_always(*came, *truth));
            if always == Some(Truths::YES) && self.follows_from_those_before(place, rule) {
                // The last of a list may say in full what the ones before it leave.
                continue;
            }
            if let Some(truth) = always {
                let word = word(truth);
                let title = format!("`{text}` is always {word} at step `{}`", raw.id.value);
                let label = format!("{word}, whatever was answered on the way");
                let fault = Diagnostic::at(Code::AlwaysTheSame, title, span, label);
                advice.push(self.with_example(fault, Some(note(truth)), place));
                if truth == Truths::YES {
                    break;
                }
            } else if !self.is_taken(place, Branch::Rule(rule)) && !came.is_close {
                let title = format!("step `{}` never goes on by `{text}`", raw.id.value);
                let label = match came.to.is_empty() {
                    true => "never looked at: the conditions before it always decide",
                    false => "never yes here",
                };
                let fault = Diagnostic::at(Code::NeverTaken, title, span, label);
                advice.push(self.with_example(fault, None, place));
            }
        }
        advice
    }

    /// Whether a condition looks at something that one before it in its list looks at too.
    fn follows_from_those_before(&self, place: usize, rule: usize) -> bool {
        let rules = &self.analysis.explored.rules[self.id.index()][place];
        let slots = |rule: usize| &self.analysis.explored.conditions.graph.node(rules[rule]).slots;
        (0..rule).any(|before| slots(before).iter().any(|slot| slots(rule).contains(slot)))
    }

    /// Answers that can't be given where the question is come to.
    fn of_answers(&self, place: usize) -> Vec<Diagnostic> {
        let step = &self.tree.steps[place];
        let (Next::ByAnswer { targets, .. }, StepKind::Ask { question, .. }) =
            (&step.next, &step.kind)
        else {
            return Vec::new();
        };
        let question = &self.analysis.handbook().question(*question).id;
        let never =
            (0..targets.len()).filter(|place_| !self.is_taken(place, Branch::Answer(*place_)));
        never
            .filter_map(|answer| {
                let title =
                    format!("step `{}` never goes on by this answer of `{question}`", step.id);
                let label = "never answered so here";
                let fault =
                    Diagnostic::at(Code::NeverTaken, title, self.choice(place, answer)?, label);
                let note = format!(
                    "`{question}` has been answered on the way, and `again: true` does not stand here"
                );
                Some(self.with_example(fault, Some(&note), place))
            })
            .collect()
    }

    /// Where a choice of a step is written.
    fn choice(&self, place: usize, answer: usize) -> Option<Span> {
        let StepKind::Ask { question, .. } = self.tree.steps[place].kind else { return None };
        let question = self.analysis.handbook().question(question);
        let id = match question.choices.get(answer) {
            Some(choice) => choice.id.as_str(),
            None => ["no", "yes"].get(answer).copied()?,
        };
        let Some(RawNext::ByChoice(choices)) = &step(self.raw, place)?.next else { return None };
        choices.iter().find(|(choice, _)| choice.value == id).map(|(choice, _)| choice.span)
    }
}

fn condition(raw: &RawStep, rule: usize) -> Option<Span> {
    let Some(RawNext::ByFormula(branches)) = &raw.next else { return None };
    branches.branches.get(rule)?.condition.as_ref().map(|condition| condition.span)
}

fn is_always(came: Came, truth: Truths) -> bool {
    came.to == truth && !came.is_close
}

fn word(truth: Truths) -> &'static str {
    match truth {
        Truths::YES => "yes",
        Truths::NO => "no",
        _ => "not known",
    }
}

fn note(truth: Truths) -> &'static str {
    match truth {
        Truths::YES => "the branches behind it are never taken",
        Truths::NO => "its branch is never taken",
        _ => "something that it needs is never known here",
    }
}

fn in_words(came: Came) -> String {
    match came.to {
        _ if came.to.is_empty() => "never looked at: the conditions before it decide".to_owned(),
        Truths::NO | Truths::UNKNOWN => format!("always {} here", word(came.to)),
        _ => "never yes here".to_owned(),
    }
}
