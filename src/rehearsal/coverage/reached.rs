//! What one case has reached.

use std::collections::BTreeSet;

use super::compared::{Compared, LookedAt, looks};
use super::target::{Named, Target, Way};
use crate::case::{Case, Event, Now, Place};
use crate::evidence::wording::{Likelihood, word};
use crate::evidence::{FindingState, Reach, Record, Reply, Worksheet};
use crate::formula::Limit;
use crate::handbook::{CauseId, CautionId};

/// Everything that a case has reached, as it stands; some may come more than once. `targets`
/// holds the comparisons.
pub(super) fn by(case: &Case<'_>, targets: &[Named]) -> Vec<Target> {
    let mut reached: Vec<Target> = places(case).map(|p| Target::Step(p.tree, p.step)).collect();
    let branches = case.branches().iter();
    reached.extend(branches.map(|(p, led)| Target::Branch(p.tree, p.step, (*led).into())));
    reached.extend(findings(case));
    reached.extend(sides(case, targets));
    reached.extend(leader(case).map(Target::Cause));
    reached.extend(cautions(case).into_iter().map(Target::Caution));
    reached
}

/// Whether a case has reached one thing. Nothing else is judged for it.
pub(super) fn has(case: &Case<'_>, named: &Named) -> bool {
    match named.target {
        Target::Step(tree, step) => places(case).any(|place| place == Place { tree, step }),
        Target::Branch(tree, step, way) => {
            let here = Place { tree, step };
            case.branches().iter().any(|(place, led)| *place == here && Way::from(*led) == way)
        }
        target @ Target::Finding(..) => findings(case).any(|reached| reached == target),
        target @ Target::Threshold(place, _) => {
            // Both sides are looked at for the one that holds.
            let whole = Named { target: Target::Threshold(place, true), ..named.clone() };
            sides(case, &[whole]).contains(&target)
        }
        Target::Cause(cause) => leader(case) == Some(cause),
        Target::Caution(caution) => cautions(case).contains(&caution),
    }
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

/// The sides of comparisons that it has come to.
fn sides(case: &Case<'_>, targets: &[Named]) -> Vec<Target> {
    let views = views(case, targets);
    let mut reached = Vec::new();
    for Named { target, compared, .. } in targets {
        // Both sides of a comparison are looked at together.
        let (Target::Threshold(place, true), Some(compared)) = (target, compared) else { continue };
        let sides: Vec<bool> = match compared {
            Compared::Answer(question, limit) => {
                let answers = case.record().answers(*question);
                answers.filter_map(|(_, given)| side(limit, &given.reply)).collect()
            }
            Compared::Anything { comparison, places } => {
                let looking = views.iter().filter(|view| view.looks_at_any(places));
                looking.filter_map(|view| view.sheet.decides(comparison)).collect()
            }
        };
        reached.extend(sides.into_iter().map(|holds| Target::Threshold(*place, holds)));
    }
    reached
}

/// What was known when something was judged, and the places that were then looked at.
struct View<'c> {
    sheet: Worksheet<'c>,
    looked_at: BTreeSet<LookedAt>,
}

impl<'c> View<'c> {
    fn of(sheet: Worksheet<'c>, places: impl Iterator<Item = LookedAt>) -> Self {
        let looked_at = places.filter(|place| looks(&sheet, *place)).collect();
        Self { sheet, looked_at }
    }

    fn looks_at_any(&self, places: &[LookedAt]) -> bool {
        places.iter().any(|place| self.looked_at.contains(place))
    }
}

/// Every view on which something is compared. Findings are judged with all that is known, and with
/// what was known before each action and each further round; a step when it is led on from.
fn views<'c>(case: &'c Case<'_>, targets: &[Named]) -> Vec<View<'c>> {
    let places = targets.iter().flat_map(|named| match &named.compared {
        Some(Compared::Anything { places, .. }) => &places[..],
        _ => &[],
    });
    let places: BTreeSet<LookedAt> = places.copied().collect();
    let of_step = |step| places.iter().copied().filter(move |place| place.step() == step);
    let Record { done, rounds, .. } = case.record();
    let mut changes: Vec<usize> = done.iter().map(|(_, order)| *order).collect();
    changes.extend(rounds.iter().map(|round| round.from));
    let before = changes.into_iter().map(|order| case.worksheet().before_deed(order));
    let judged = std::iter::once(case.worksheet()).chain(before);
    let mut views: Vec<View<'_>> = judged.map(|sheet| View::of(sheet, of_step(None))).collect();
    for decided in case.decided().iter().filter(|decided| !decided.is_by_bound) {
        let mut looking = of_step(Some((decided.place.tree, decided.place.step))).peekable();
        if looking.peek().is_some() {
            views.push(View::of(case.worksheet_at(decided), looking));
        }
    }
    views
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
