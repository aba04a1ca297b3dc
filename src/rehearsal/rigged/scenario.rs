//! The rig of a scenario, found and made.

use super::answerer::{AtRig, MOST_TREES};
use super::built_in::add_rig_answers;
use super::fault::{Fault, Making};
use super::hand::Hand;
use super::mapping::{RigAnswers, some_of};
use super::played::{Played, play};
use crate::bench::rig::Rig;
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::raw::RawRig;
use crate::document::{Scalar, Spanned};
use crate::evidence::Engine;
use crate::handbook::{Handbook, QuestionId, TreeId};
use crate::quantity::{QuantityKind, parse_quantity};
use crate::source::Sources;

/// A simulated rig that answers in a scenario.
#[derive(Clone, Debug)]
pub struct RiggedScenario {
    hand: Hand,
    mapping: RigAnswers,
    most_trees: usize,
}

impl RiggedScenario {
    /// Plays the assistant against the rig, with answers that are given in the place of looks.
    #[must_use]
    pub fn play<'h>(
        &self,
        assistant: (&'h Handbook, &'h Engine),
        tree: TreeId,
        given: &[(QuestionId, Vec<String>)],
    ) -> Played<'h> {
        let at_rig = AtRig::new(self.hand.clone(), &self.mapping, given.iter().cloned());
        play(assistant, tree, at_rig.going_on_with(self.most_trees))
    }
}

/// Makes the rig of a scenario: sound, but for the faults that it names.
pub(in crate::rehearsal) fn rigged_scenario(
    raw: &RawRig,
    handbook: &Handbook,
    faults: &mut Vec<Diagnostic>,
) -> Option<RiggedScenario> {
    let before = faults.len();
    let mapping = mapping(raw, handbook, faults);
    let mut making = Making::of(Rig::sound());
    for (name, size) in &raw.faults {
        if let Some((fault, size)) = sized(name, size, faults) {
            making.spoil(fault, size);
        }
    }
    if let Some(text) = &raw.target {
        match parse_quantity(text.text.trim(), QuantityKind::PRESSURE) {
            Ok(target) => making.kit.target = target,
            Err(misread) => faults.push(misfit("`target` of `rig`", text, misread.to_string())),
        }
    }
    let seed = raw.seed.as_ref().map_or(1, |seed| u64::from(seed.value));
    match (Hand::of(making, seed), mapping) {
        (Ok(hand), Some(mapping)) if faults.len() == before => {
            let most_trees = raw.trees.as_ref().map_or(MOST_TREES, |most| most.value as usize);
            Some(RiggedScenario { hand, mapping, most_trees })
        }
        (Err(misbuilt), _) => {
            let title = format!("this rig can't be: {misbuilt}");
            let fault = Diagnostic::at(Code::RigMisfit, title, raw.span, "made of these faults");
            faults.push(fault);
            None
        }
        _ => None,
    }
}

/// What is done for each question; a handbook that asks more than the rig can answer is a fault.
fn mapping(raw: &RawRig, handbook: &Handbook, faults: &mut Vec<Diagnostic>) -> Option<RigAnswers> {
    let written = add_rig_answers(&mut Sources::default()).0.unwrap_or_default();
    let found = RigAnswers::resolve(&written, handbook);
    if let Ok(mapping) = found {
        return Some(mapping);
    }
    let missing = RigAnswers::left_out(&written, handbook);
    let missing: Vec<&str> = missing.iter().map(String::as_str).collect();
    let title = "the simulated rig answers another handbook".to_owned();
    let label = match missing.len() {
        0 => "what it does there doesn't fit this one".to_owned(),
        _ => format!("it has nothing to do for {}", some_of(&missing)),
    };
    faults.push(Diagnostic::at(Code::RigUnanswered, title, raw.span, label));
    None
}

/// A fault with its size.
pub(super) fn sized(
    name: &Spanned<String>,
    size: &Scalar,
    faults: &mut Vec<Diagnostic>,
) -> Option<(Fault, f64)> {
    let Some(fault) = Fault::named(&name.value) else {
        let near = near_name(&name.value, Fault::ALL.iter().map(|fault| fault.word()));
        let title = format!("no rig has the fault `{}`", name.value);
        let told = Diagnostic::at(Code::UnknownWord, title, name.span, "no fault has this name");
        faults.push(told.maybe_help(near.map(|near| format!("did you mean `{near}`?"))));
        return None;
    };
    match fault.read_size(&size.text) {
        Ok(size) => Some((fault, size)),
        Err(why) => {
            faults.push(misfit(&format!("the fault `{}`", name.value), size, why));
            None
        }
    }
}

fn misfit(what: &str, text: &Scalar, why: String) -> Diagnostic {
    let title = format!("`{}` can't be the size of {what}", text.text);
    let why = why.replace("; type ", "; write ");
    Diagnostic::at(Code::RigMisfit, title, text.span, why)
}
