//! What one case has reached.

use super::target::{Named, Target};
use crate::case::{Case, Event, Now, Place};
use crate::evidence::wording::{Likelihood, word};
use crate::evidence::{FindingState, Reach, Reply};
use crate::formula::Limit;
use crate::handbook::{CauseId, CautionId};

/// Everything that a case has reached, as it stands; some may come more than once. `targets`
/// holds the thresholds.
pub(super) fn by(case: &Case<'_>, targets: &[Named]) -> Vec<Target> {
    let mut reached: Vec<Target> = places(case).map(|p| Target::Step(p.tree, p.step)).collect();
    let branches = case.branches().iter();
    reached.extend(branches.map(|(p, led)| Target::Branch(p.tree, p.step, (*led).into())));
    reached.extend(findings(case));
    reached.extend(targets.iter().filter(|named| is_answered_on(case, named)).map(|n| n.target));
    reached.extend(leader(case).map(Target::Cause));
    reached.extend(cautions(case).into_iter().map(Target::Caution));
    reached
}

/// The steps passed, and the one where it stands.
fn places<'a>(case: &'a Case<'_>) -> impl Iterator<Item = Place> + 'a {
    let here = match case.now() {
        Now::Ask { place, .. }
        | Now::Do { place, .. }
        | Now::Act { place, .. }
        | Now::Stopped { place, .. } => Some(*place),
        Now::Acknowledge { .. } | Now::Ended { .. } => None,
    };
    case.path().iter().map(|passed| passed.place).chain(here)
}

fn findings(case: &Case<'_>) -> impl Iterator<Item = Target> {
    case.assessment().witnesses.iter().filter_map(|witness| {
        let outcome = match witness.judged.state {
            FindingState::True(_) => 1,
            FindingState::False(_) => 0,
            FindingState::Seen(choice) => choice,
            _ => return None,
        };
        Some(Target::Finding(witness.finding.index(), outcome))
    })
}

/// Whether some answer lies on this side of this threshold.
fn is_answered_on(case: &Case<'_>, named: &Named) -> bool {
    let (Target::Threshold(_, holds), Some((question, limit))) = (named.target, &named.limit)
    else {
        return false;
    };
    case.record().answers(*question).any(|(_, given)| side(limit, &given.reply) == Some(holds))
}

/// Whether a comparison holds for an answer as it was given; nothing where the answer is only a
/// bound that leaves it open.
fn side(limit: &Limit, reply: &Reply) -> Option<bool> {
    let Reply::Quantity { si, reach, .. } = reply else { return None };
    let far = match reach {
        Reach::Exact => return Some(limit.holds(*si)),
        Reach::Over => f64::INFINITY,
        Reach::Under => f64::NEG_INFINITY,
    };
    let is_open = limit.holds(*si) != limit.holds(far);
    (!is_open).then(|| limit.holds(far))
}

/// The cause that leads the ranking, if one does.
fn leader(case: &Case<'_>) -> Option<CauseId> {
    let assessment = case.assessment();
    let says_something = assessment.has_evidence && !assessment.contradicts_itself;
    let leader = assessment.leader().filter(|_| says_something && !assessment.nothing_leads());
    leader.map(|ranked| ranked.cause)
}

/// The cautions of every step come to, of what was acknowledged, and of the repairs that the
/// verdict names for a leading cause that is at least as likely as not.
fn cautions(case: &Case<'_>) -> Vec<CautionId> {
    let mut shown: Vec<CautionId> =
        places(case).flat_map(|place| case.cautions_of(place)).collect();
    if let Now::Acknowledge { caution, .. } = case.now() {
        shown.push(*caution);
    }
    shown.extend(case.events().iter().filter_map(|event| match event {
        Event::Acknowledged { caution, .. } => case.handbook().find_caution(caution),
        _ => None,
    }));
    let handbook = case.handbook();
    let is_likely =
        |cause: &CauseId| word(case.assessment().probability(*cause)) >= Likelihood::RoughlyEven;
    if let Some(cause) = leader(case).filter(is_likely) {
        let repairs = handbook.cause(cause).fix.iter().map(|action| handbook.action(*action));
        shown.extend(repairs.filter(|a| !a.is_hazardous).flat_map(|a| a.cautions.clone()));
    }
    shown
}
