//! Entries that nothing uses.

use std::collections::BTreeSet;

use crate::diagnostic::{Code, Diagnostic};
use crate::document::Spanned;
use crate::document::raw::{RawAction, RawBasis, RawHandbook, RawWork, Section};

pub(super) fn advise(raw: &RawHandbook, advice: &mut Vec<Diagnostic>) {
    let mut tell = |section: Section, ids: Vec<&Spanned<String>>, used: &BTreeSet<&str>| {
        for id in ids.into_iter().filter(|id| !used.contains(id.as_str())) {
            let title = format!("nothing uses {} `{}`", section.entry(), id.value);
            advice.push(Diagnostic::at(Code::NeverUsed, title, id.span, "not named anywhere"));
        }
    };
    let instruments = raw.questions.iter().filter_map(|question| question.instrument.as_ref());
    let instruments = instruments.map(Spanned::as_str).collect();
    tell(Section::Instruments, raw.instruments.iter().map(|i| &i.id).collect(), &instruments);
    tell(Section::Actions, raw.actions.iter().map(|action| &action.id).collect(), &actions(raw));
    tell(Section::Cautions, raw.cautions.iter().map(|c| &c.id).collect(), &cautions(raw));
    tell(Section::Sources, raw.sources.iter().map(|s| &s.id).collect(), &sources(raw));
}

fn actions(raw: &RawHandbook) -> BTreeSet<&str> {
    let steps = raw.trees.iter().flat_map(|tree| &tree.steps);
    let done = steps.filter_map(|step| match &step.work {
        Some(RawWork::Action(id)) => Some(id),
        _ => None,
    });
    let fixes = raw.causes.iter().flat_map(|cause| &cause.fix);
    let cures = raw.causes.iter().flat_map(|cause| &cause.cured_by).map(|(id, _)| id);
    // What brings about a condition is proposed before what needs it.
    let needs: BTreeSet<&str> =
        raw.actions.iter().flat_map(|action| &action.needs).map(Spanned::as_str).collect();
    let prepares =
        |action: &&RawAction| action.leaves.iter().any(|left| needs.contains(left.as_str()));
    let preparing = raw.actions.iter().filter(prepares).map(|action| &action.id);
    done.chain(fixes).chain(cures).chain(preparing).map(Spanned::as_str).collect()
}

fn cautions(raw: &RawHandbook) -> BTreeSet<&str> {
    let of_questions = raw.questions.iter().flat_map(|question| &question.cautions);
    let of_actions = raw.actions.iter().flat_map(|action| &action.cautions);
    let of_causes = raw.causes.iter().flat_map(|cause| &cause.cautions);
    let of_steps = raw.trees.iter().flat_map(|tree| &tree.steps).flat_map(|step| &step.cautions);
    of_questions.chain(of_actions).chain(of_causes).chain(of_steps).map(Spanned::as_str).collect()
}

fn sources(raw: &RawHandbook) -> BTreeSet<&str> {
    let bases = raw.questions.iter().map(|entry| &entry.basis);
    let bases = bases.chain(raw.instruments.iter().map(|entry| &entry.basis));
    let bases = bases.chain(raw.formulas.iter().map(|entry| &entry.basis));
    let bases = bases.chain(raw.findings.iter().map(|entry| &entry.basis));
    let bases = bases.chain(raw.causes.iter().map(|entry| &entry.basis));
    let bases = bases.chain(raw.actions.iter().map(|entry| &entry.basis));
    let bases = bases.chain(raw.trees.iter().map(|entry| &entry.basis));
    bases.flatten().flat_map(marks).collect()
}

/// The marks that a basis names, sources among them.
fn marks(basis: &RawBasis) -> Vec<&str> {
    match basis {
        RawBasis::One(mark) => vec![mark.as_str()],
        RawBasis::ByKey(marks) => marks.iter().map(|(_, mark)| mark.as_str()).collect(),
    }
}
