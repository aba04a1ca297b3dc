//! What to look for so that something missing is reached.

use super::coverage::{Compared, LookedAt, Named, Target};
use crate::analysis::{Goal, branches_of, target_of};
use crate::case::questions_reached;
use crate::formula::Limit;
use crate::handbook::{CauseId, Finding, FindingId, Handbook, Observes, QuestionId, TreeId};

/// In how many trees the answers for a finding or a side of a threshold are looked for (limit of
/// ours).
const MOST_TREES: usize = 3;

/// How many findings are tried so that a cause leads (limit of ours).
const MOST_FINDINGS: usize = 4;

/// What to look for, the most promising first; nothing where there is no way to look.
pub(super) fn goals(handbook: &Handbook, named: &Named) -> Vec<Goal> {
    match named.target {
        Target::Step(tree, step) => vec![Goal::Step(tree, step)],
        Target::Branch(tree, step, way) => {
            let at = handbook.tree(tree).step(step);
            let branches = branches_of(at).into_iter();
            let leading = branches.filter(|branch| target_of(at, *branch) == Some(way.led()));
            leading.map(|branch| Goal::Branch(tree, step, branch)).collect()
        }
        Target::Finding(place, outcome) => {
            of_finding(handbook, FindingId::at(place), outcome.into(), MOST_TREES)
        }
        Target::Threshold(_, holds) => match &named.compared {
            Some(Compared::Answer(question, limit)) => {
                let (low, high) = side(handbook, *question, limit, holds);
                let trees = trees_asking(handbook, &[*question]).into_iter().take(MOST_TREES);
                trees.map(|tree| Goal::Between(tree, *question, low, high)).collect()
            }
            Some(Compared::Anything { places, .. }) => {
                places.iter().flat_map(|place| looking_at(handbook, *place, holds)).collect()
            }
            None => Vec::new(),
        },
        Target::Cause(cause) => of_cause(handbook, cause),
        Target::Caution(_) => Vec::new(),
    }
}

/// What makes a condition be looked at, with what most likely brings a comparison in it to a side.
fn looking_at(handbook: &Handbook, place: LookedAt, holds: bool) -> Vec<Goal> {
    match place {
        LookedAt::Before(id) | LookedAt::In(id) => {
            let outcome = |outcome| of_finding(handbook, id, outcome, 1);
            [outcome(usize::from(holds)), outcome(usize::from(!holds))].concat()
        }
        LookedAt::At(tree, step, _) => {
            let branches = branches_of(handbook.tree(tree).step(step));
            branches.into_iter().map(|branch| Goal::Branch(tree, step, branch)).collect()
        }
    }
}

/// That a finding comes out so: no before yes, or a choice by its place.
fn of_finding(handbook: &Handbook, id: FindingId, outcome: usize, most: usize) -> Vec<Goal> {
    let finding = handbook.finding(id);
    let asking =
        |questions: &[QuestionId]| trees_asking(handbook, questions).into_iter().take(most);
    match finding.observes {
        Observes::When(_) => {
            let trees = asking(handbook.questions_under(finding.symbol));
            trees.map(|tree| Goal::Finding(tree, id, outcome == 1)).collect()
        }
        Observes::Of(question) => {
            asking(&[question]).map(|tree| Goal::Choice(tree, question, outcome)).collect()
        }
    }
}

/// The findings that speak loudest for a cause, each in the tree that asks most for it.
fn of_cause(handbook: &Handbook, cause: CauseId) -> Vec<Goal> {
    let mut speaking: Vec<(f64, FindingId, usize)> = handbook
        .finding_ids()
        .filter_map(|id| {
            let (outcome, weight) = loudest(handbook.finding(id), cause)?;
            Some((weight, id, outcome))
        })
        .collect();
    speaking.sort_by(|a, b| b.0.total_cmp(&a.0));
    let loudest = speaking.into_iter().take(MOST_FINDINGS);
    loudest.flat_map(|(_, id, outcome)| of_finding(handbook, id, outcome, 1)).collect()
}

/// The outcome of a finding that a cause makes likelier by the largest factor, with the factor.
fn loudest(finding: &Finding, cause: CauseId) -> Option<(usize, f64)> {
    let (_, shares) = finding.shown_by.iter().find(|(shown, _)| *shown == cause)?;
    let factors = shares.iter().zip(&finding.background).map(|(with, without)| with / without);
    factors.enumerate().filter(|(_, factor)| *factor > 1.0).max_by(|a, b| a.1.total_cmp(&b.1))
}

/// The trees that can ask any of some questions: those first that ask most of them, and of equals
/// those that ask least beside them.
fn trees_asking(handbook: &Handbook, questions: &[QuestionId]) -> Vec<TreeId> {
    let mut asking: Vec<(usize, usize, TreeId)> = (0..handbook.trees().len())
        .map(TreeId::at)
        .map(|tree| {
            let asked = questions_reached(handbook, tree);
            let wanted = questions.iter().filter(|question| asked.contains(question)).count();
            (wanted, asked.len(), tree)
        })
        .filter(|(wanted, _, _)| *wanted > 0)
        .collect();
    asking.sort_by_key(|(wanted, all, _)| (std::cmp::Reverse(*wanted), *all));
    asking.into_iter().map(|(_, _, tree)| tree).collect()
}

/// The values in SI units on one side of a threshold, within the range of the question.
fn side(handbook: &Handbook, id: QuestionId, limit: &Limit, holds: bool) -> (f64, f64) {
    let question = handbook.question(id);
    let (low, high) = question.range.unwrap_or((f64::NEG_INFINITY, f64::INFINITY));
    let here = limit.constant();
    let is_on_it = limit.holds(here) == holds;
    match (limit.holds(f64::NEG_INFINITY) == holds, limit.holds(f64::INFINITY) == holds) {
        (true, false) => (low, if is_on_it { here } else { here.next_down() }),
        (false, true) => (if is_on_it { here } else { here.next_up() }, high),
        (true, true) if !is_on_it => (low, high),
        _ => (here, here),
    }
}
