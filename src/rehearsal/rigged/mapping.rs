//! The mapping from a handbook's questions, actions and steps to what is done at a rig, checked.

use std::collections::{BTreeMap, BTreeSet};

use super::super::scenario::{found, question};
use super::deed::Deed;
use super::look::{Gives, Look};
use crate::case::{Place, check_answer};
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::Spanned;
use crate::document::raw::{RawRigAnswers, RawWay};
use crate::formula::Kind;
use crate::handbook::{ActionId, Handbook, QuestionId, StepKind};
use crate::text::list_and;

/// How many names are told of those that are left out.
const MOST_NAMED: usize = 5;

/// What is done for a question.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Answering {
    /// A look is taken.
    Look(Look),
    /// This is typed, whatever the rig.
    Says(String),
    /// Nobody can say, for this reason.
    NotSure(String),
}

/// What is done for an action.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Acting {
    /// A deed is done.
    Does(Deed),
    /// It is passed over, for this reason.
    Skips(String),
}

/// What is done at a rig for everything that a handbook asks and says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RigAnswers {
    questions: BTreeMap<QuestionId, Answering>,
    actions: BTreeMap<usize, Acting>,
    steps: BTreeMap<(usize, usize), Deed>,
}

impl RigAnswers {
    /// Finds everything that a mapping names in a handbook, and sees that nothing is left out.
    ///
    /// # Errors
    /// Every fault: an id, a look or a deed that is not there, an answer of another kind, a
    /// question or an action without an entry.
    pub fn resolve(raw: &RawRigAnswers, handbook: &Handbook) -> Result<Self, Vec<Diagnostic>> {
        let mut faults = Vec::new();
        let mut answers = Self::default();
        answers.take_questions(raw, handbook, &mut faults);
        answers.take_actions(raw, handbook, &mut faults);
        answers.take_steps(raw, handbook, &mut faults);
        if faults.is_empty() { Ok(answers) } else { Err(faults) }
    }

    /// What is done for a question.
    #[must_use]
    pub fn question(&self, id: QuestionId) -> Option<&Answering> {
        self.questions.get(&id)
    }

    /// What is done for an action.
    #[must_use]
    pub fn action(&self, id: ActionId) -> Option<&Acting> {
        self.actions.get(&id.index())
    }

    /// What is done at a step that says what to do, if that changes anything at the rig.
    #[must_use]
    pub fn step(&self, place: Place) -> Option<Deed> {
        self.steps.get(&(place.tree.index(), place.step.index())).copied()
    }

    /// The questions that a mapping leaves out, by id.
    #[must_use]
    pub fn left_out(raw: &RawRigAnswers, handbook: &Handbook) -> Vec<String> {
        let has = |list: &[(Spanned<String>, RawWay)], id: &str| {
            list.iter().any(|(name, _)| name.value == id)
        };
        let questions = handbook.questions().iter().map(|question| question.id.as_str());
        let actions = handbook.actions().iter().map(|action| action.id.as_str());
        let questions = questions.filter(|id| !has(&raw.questions, id));
        let actions = actions.filter(|id| !has(&raw.actions, id));
        questions.chain(actions).map(str::to_owned).collect()
    }

    fn take_questions(
        &mut self,
        raw: &RawRigAnswers,
        handbook: &Handbook,
        faults: &mut Vec<Diagnostic>,
    ) {
        for (name, way) in &raw.questions {
            let Some(id) = question(handbook, name, Code::UnknownName, faults) else { continue };
            let answering = match way {
                RawWay::Look(word) => look(handbook, id, word, faults).map(Answering::Look),
                RawWay::Says(text) => match check_answer(handbook, id, &text.text) {
                    Ok(()) => Some(Answering::Says(text.text.clone())),
                    Err(misunderstood) => {
                        let title = format!(
                            "`{}` can't be read as an answer to `{name}`",
                            text.text,
                            name = name.value
                        );
                        let label = misunderstood.message.replace("; type ", "; write ");
                        let fault = Diagnostic::at(Code::UnreadableAnswer, title, text.span, label);
                        faults.push(fault);
                        None
                    }
                },
                RawWay::NotSure(reason) => Some(Answering::NotSure(reason.text.clone())),
                RawWay::Does(_) | RawWay::Skips(_) | RawWay::Faulty => None,
            };
            self.questions.extend(answering.map(|answering| (id, answering)));
        }
        let named: BTreeSet<&str> = raw.questions.iter().map(|(name, _)| &*name.value).collect();
        let ids = handbook.questions().iter().map(|question| question.id.as_str());
        let missing: Vec<&str> = ids.filter(|id| !named.contains(id)).collect();
        faults.extend(left_out("question", &missing, raw.questions.last()));
    }

    fn take_actions(
        &mut self,
        raw: &RawRigAnswers,
        handbook: &Handbook,
        faults: &mut Vec<Diagnostic>,
    ) {
        let ids = || handbook.actions().iter().map(|action| action.id.as_str());
        for (name, way) in &raw.actions {
            let at = handbook.find_action(&name.value);
            let Some(id) = found(at, "action", name, ids(), Code::UnknownName, faults) else {
                continue;
            };
            let acting = match way {
                RawWay::Does(word) => deed(word, faults).map(Acting::Does),
                RawWay::Skips(reason) => Some(Acting::Skips(reason.text.clone())),
                RawWay::Look(_) | RawWay::Says(_) | RawWay::NotSure(_) | RawWay::Faulty => None,
            };
            self.actions.extend(acting.map(|acting| (id.index(), acting)));
        }
        let named: BTreeSet<&str> = raw.actions.iter().map(|(name, _)| &*name.value).collect();
        let missing: Vec<&str> = ids().filter(|id| !named.contains(id)).collect();
        faults.extend(left_out("action", &missing, raw.actions.last()));
    }

    fn take_steps(
        &mut self,
        raw: &RawRigAnswers,
        handbook: &Handbook,
        faults: &mut Vec<Diagnostic>,
    ) {
        for (tree, step, word) in &raw.steps {
            let ids = handbook.trees().iter().map(|tree| tree.id.as_str());
            let at = handbook.find_tree(&tree.value);
            let Some(tree) = found(at, "tree", tree, ids, Code::UnknownName, faults) else {
                continue;
            };
            let steps = &handbook.tree(tree).steps;
            let is_done = |kind: &StepKind| matches!(kind, StepKind::Do { .. });
            let is_it = |(_, known): &(usize, &crate::handbook::Step)| {
                known.id == step.value && is_done(&known.kind)
            };
            let at = steps.iter().enumerate().find(is_it).map(|(place, _)| place);
            let doing = steps.iter().filter(|step| is_done(&step.kind));
            let ids = doing.map(|step| step.id.as_str());
            let at = found(at, "step that says what to do", step, ids, Code::UnknownName, faults);
            if let (Some(at), Some(deed)) = (at, deed(word, faults)) {
                self.steps.insert((tree.index(), at), deed);
            }
        }
    }
}

fn look(
    handbook: &Handbook,
    id: QuestionId,
    word: &Spanned<String>,
    faults: &mut Vec<Diagnostic>,
) -> Option<Look> {
    let Some(look) = Look::ALL.iter().copied().find(|look| look.word() == word.value) else {
        let near = near_name(&word.value, Look::ALL.iter().map(|look| look.word()));
        let title = format!("nobody can take the look `{}`", word.value);
        let fault = Diagnostic::at(Code::UnknownWord, title, word.span, "no look has this name");
        faults.push(fault.maybe_help(near.map(|near| format!("did you mean `{near}`?"))));
        return None;
    };
    let question = handbook.question(id);
    let misfit = match (look.gives(), &question.kind) {
        (Gives::Number(kind), taken) => {
            let is_it = Kind::named(kind).is_some_and(|kind| kind == *taken);
            (!is_it).then(|| format!("a {kind}"))
        }
        (Gives::YesNo, Kind::YesNo)
        | (Gives::Words, Kind::Text)
        | (Gives::Readings, Kind::Readings(_)) => None,
        (Gives::OneOf(words), Kind::Choice(_)) => {
            let is_there = |word: &&&str| question.choices.iter().any(|choice| choice.id == **word);
            let strange = words.iter().find(|word| !is_there(word));
            strange.map(|word| format!("the choice `{word}`, which it doesn't offer"))
        }
        (Gives::YesNo, _) => Some("yes or no".to_owned()),
        (Gives::Words, _) => Some("words".to_owned()),
        (Gives::Readings, _) => Some("the readings of a hold".to_owned()),
        (Gives::OneOf(_), _) => Some("a choice".to_owned()),
    };
    let Some(gives) = misfit else { return Some(look) };
    let title = format!("the look `{}` doesn't answer `{}`", word.value, question.id);
    let label = format!("it gives {gives}");
    faults.push(Diagnostic::at(Code::RigMisfit, title, word.span, label));
    None
}

fn deed(word: &Spanned<String>, faults: &mut Vec<Diagnostic>) -> Option<Deed> {
    let found = Deed::ALL.iter().copied().find(|deed| deed.word() == word.value);
    if found.is_none() {
        let near = near_name(&word.value, Deed::ALL.iter().map(|deed| deed.word()));
        let title = format!("nobody can do `{}` at the rig", word.value);
        let fault = Diagnostic::at(Code::UnknownWord, title, word.span, "no deed has this name");
        faults.push(fault.maybe_help(near.map(|near| format!("did you mean `{near}`?"))));
    }
    found
}

/// The fault of entries that are not there, told once, at the last one that is.
fn left_out(
    what: &str,
    missing: &[&str],
    last: Option<&(Spanned<String>, RawWay)>,
) -> Option<Diagnostic> {
    let (last, first) = (last?, missing.first()?);
    let title = match missing.len() {
        1 => format!("the rig has no entry for the {what} `{first}`"),
        number => format!("the rig has no entry for {number} {what}s"),
    };
    let label = format!("each {what} of the handbook belongs here, the last one is this");
    let fault = Diagnostic::at(Code::RigUnanswered, title, last.0.span, label);
    Some(fault.note(format!("missing: {}", some_of(missing))))
}

/// The first of some names, and how many more there are.
pub(in crate::rehearsal) fn some_of(names: &[&str]) -> String {
    let mut told: Vec<String> =
        names.iter().take(MOST_NAMED).map(|name| format!("`{name}`")).collect();
    if names.len() > MOST_NAMED {
        told.push(format!("{} more", names.len() - MOST_NAMED));
    }
    list_and(&told)
}
