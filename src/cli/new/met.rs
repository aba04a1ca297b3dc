//! What a case of a tree may meet: the stop cautions, and what its questions tell of.

use std::collections::BTreeSet;

use crate::case::{QuestionId, TreeId, questions_reached};
use crate::handbook::{CautionId, CautionSeverity, Finding, Handbook, Observes, StepKind};

/// What the questions of a tree tell of, by id, in the order of the handbook.
pub(super) struct Judged<'h> {
    pub causes: Vec<&'h str>,
    /// Each with an outcome that it may have.
    pub findings: Vec<(&'h str, &'h str)>,
}

/// The stop cautions of what a tree and those that it leads to ask and do, in the order of the
/// handbook.
pub(super) fn stops(handbook: &Handbook, tree: TreeId) -> Vec<&str> {
    let mut met: BTreeSet<CautionId> = BTreeSet::new();
    for tree in handbook.trees_reached(tree) {
        for step in &handbook.tree(tree).steps {
            met.extend(&step.cautions);
            match step.kind {
                StepKind::Ask { question, .. } => met.extend(&handbook.question(question).cautions),
                StepKind::Act { action, .. } => met.extend(&handbook.action(action).cautions),
                _ => {}
            }
        }
    }
    let cautions = met.into_iter().map(|id| handbook.caution(id));
    let stops = cautions.filter(|caution| caution.severity == CautionSeverity::Stop);
    stops.map(|caution| caution.id.as_str()).collect()
}

/// The findings whose observations a tree asks for, itself or in those that it leads to, and the
/// causes that they show; those of which its own steps ask come first.
pub(super) fn judged(handbook: &Handbook, tree: TreeId) -> Judged<'_> {
    let own: BTreeSet<QuestionId> = handbook.tree(tree).questions().collect();
    let asked = questions_reached(handbook, tree);
    let observed = |finding: &Finding| -> Vec<QuestionId> {
        let under = handbook.questions_under(finding.symbol).iter().copied();
        under.filter(|id| !handbook.question(*id).is_setting()).collect()
    };
    let is_told = |finding: &&Finding| {
        let observed = observed(finding);
        !observed.is_empty() && observed.iter().all(|id| asked.contains(id))
    };
    let mut findings: Vec<&Finding> = handbook.findings().iter().filter(is_told).collect();
    findings.sort_by_key(|finding| !observed(finding).iter().any(|id| own.contains(id)));
    let mut causes = Vec::new();
    for (cause, _) in findings.iter().flat_map(|finding| &finding.shown_by) {
        let id = handbook.cause(*cause).id.as_str();
        if !causes.contains(&id) {
            causes.push(id);
        }
    }
    let outcome = |finding: &Finding| match finding.observes {
        Observes::When(_) => "true",
        Observes::Of(question) => {
            let choices = &handbook.question(question).choices;
            choices.last().map_or("true", |choice| choice.id.as_str())
        }
    };
    let findings = findings.iter().map(|f| (f.id.as_str(), outcome(f))).collect();
    Judged { causes, findings }
}
