//! Seeded random networks: what would change a decision, checked by letting it happen.

use super::drawn::{Drawn, each};
use super::yes_no::assert_close;
use dryhold::evidence::decision::{Decisions, Lead};
use dryhold::evidence::left_out::{each_left_out, rests_on};
use dryhold::evidence::network::{Evidence, FindingModel, Model, Network, Posterior};
use dryhold::evidence::sensitivity::{Crossing, Parameter, crossing};
use dryhold::evidence::what_if::{flips, same_decision};

/// Neighbours in twos: the first two causes call for the same action, and so on.
fn in_twos(causes: usize) -> Decisions {
    let causes: Vec<usize> = (0..causes).collect();
    Decisions::new(causes.chunks(2).map(<[usize]>::to_vec).collect())
}

fn after(drawn: &Drawn, outcomes: &[(usize, usize)]) -> Posterior {
    let mut evidence = drawn.evidence.clone();
    let seen = |(finding, outcome): &(usize, usize)| Evidence::Seen {
        finding: *finding,
        outcome: *outcome,
    };
    evidence.extend(outcomes.iter().map(seen));
    drawn.network().posterior(&drawn.odds, &evidence).unwrap()
}

#[test]
fn a_flip_comes_about_when_its_outcomes_are_seen() {
    each(31, |drawn| {
        let (network, now, open) = (drawn.network(), drawn.posterior(), drawn.open());
        let decisions = in_twos(network.causes());
        let (lead, _) = decisions.lead(&now.states);
        for flip in flips(&network, &decisions, &now, &open) {
            let then = after(drawn, &flip.outcomes);
            assert_eq!(decisions.lead(&then.states).0, flip.lead);
            assert_ne!(flip.lead, lead);
            let chance = libm::exp(then.log_evidence - now.log_evidence);
            assert_close(&[flip.probability], &[chance], 1e-12);
        }
    });
}

#[test]
fn what_flips_a_decision_is_all_that_does_not_leave_it() {
    each(32, |drawn| {
        let (network, now, open) = (drawn.network(), drawn.posterior(), drawn.open());
        let decisions = in_twos(network.causes());
        for finding in &open {
            let found = flips(&network, &decisions, &now, &[*finding]);
            let flipping: f64 = found.iter().map(|flip| flip.probability).sum();
            let same = same_decision(&network, &decisions, &now, &[*finding]);
            assert_close(&[same + flipping], &[1.0], 1e-12);
        }
        let mut turned = open.clone();
        turned.reverse();
        let same = same_decision(&network, &decisions, &now, &open);
        assert_close(&[same_decision(&network, &decisions, &now, &turned)], &[same], 1e-12);
    });
}

#[test]
fn a_decision_rests_on_what_changes_it_by_its_absence() {
    each(33, |drawn| {
        let network = drawn.network();
        let decisions = in_twos(network.causes());
        let lead = decisions.lead(&drawn.posterior().states).0;
        let left_out = each_left_out(&network, &decisions, &drawn.odds, &drawn.evidence).unwrap();
        let rests = rests_on(lead, &left_out);
        for left_out in 0..drawn.evidence.len() {
            let mut rest = drawn.evidence.clone();
            rest.remove(left_out);
            let without = network.posterior(&drawn.odds, &rest).unwrap();
            let then = decisions.lead(&without.states).0;
            assert_eq!(rests.get(&left_out), (then != lead).then_some(&then));
        }
    });
}

/// The chain rule: the second finding is worth what it tells once the first is known.
#[test]
fn findings_together_are_worth_one_and_then_the_other() {
    each(34, |drawn| {
        let (network, now) = (drawn.network(), drawn.posterior());
        let [one, other, ..] = drawn.open()[..] else { return };
        let together = network.information_together(&[one, other], &now);
        let first = network.information(one, &now);
        let chances = network.predict(one, &now);
        let then: f64 = (0..chances.len())
            .map(|outcome| {
                chances[outcome] * network.information(other, &after(drawn, &[(one, outcome)]))
            })
            .sum();
        assert_close(&[together], &[first + then], 1e-11);
        assert_close(&[network.information_together(&[other, one], &now)], &[together], 1e-12);
    });
}

/// What leads once a number of the author has another value.
fn lead_at(drawn: &Drawn, decisions: &Decisions, parameter: Parameter, value: f64) -> Lead {
    let mut model = drawn.model.clone();
    *number(&mut model, parameter) = value;
    if let Parameter::Strength { finding, cause } = parameter {
        let shown = model.findings[finding].shown_by.iter_mut().find(|(by, _)| *by == cause);
        shown.unwrap().1[0] = 1.0 - value;
    }
    let posterior = Network::new(model).unwrap().posterior(&drawn.odds, &drawn.evidence).unwrap();
    decisions.lead(&posterior.states).0
}

fn number(model: &mut Model, parameter: Parameter) -> &mut f64 {
    match parameter {
        Parameter::Prior { cause } => &mut model.causes[cause].prior,
        Parameter::Strength { finding, cause } => {
            let shown = model.findings[finding].shown_by.iter_mut();
            &mut shown.into_iter().find(|(by, _)| *by == cause).unwrap().1[1]
        }
        Parameter::Share { .. } => panic!("only findings of yes or no are moved here"),
    }
}

/// The lowest and highest value that a number may take.
fn bounds(model: &Model, parameter: Parameter) -> (f64, f64) {
    match parameter {
        Parameter::Prior { cause } => {
            let brought = model.causes[cause].brought_by.iter().map(|(_, chance)| *chance);
            (0.001, brought.fold(0.999, f64::min))
        }
        Parameter::Strength { finding, .. } => (model.findings[finding].background[1], 0.999),
        Parameter::Share { .. } => panic!("only findings of yes or no are moved here"),
    }
}

fn strengths(model: &Model) -> Vec<Parameter> {
    let findings = model.findings.iter().enumerate().filter(|(_, told)| told.background.len() == 2);
    let of = |(finding, told): (usize, &FindingModel)| {
        let shown = told.shown_by.iter();
        shown.map(|(cause, _)| Parameter::Strength { finding, cause: *cause }).collect::<Vec<_>>()
    };
    findings.flat_map(of).collect()
}

/// Asserts that a decision holds up to the crossing and changes beyond it, or anywhere at all
/// where there is none.
#[track_caller]
fn assert_holds(drawn: &Drawn, parameter: Parameter) -> Option<Crossing> {
    let decisions = in_twos(drawn.model.causes.len());
    let stated = *number(&mut drawn.model.clone(), parameter);
    let (low, high) = bounds(&drawn.model, parameter);
    let found = crossing(&drawn.model, &decisions, &drawn.odds, &drawn.evidence, parameter);
    let now = decisions.lead(&drawn.posterior().states).0;
    let lead = |value| lead_at(drawn, &decisions, parameter, value);
    let Some(crossing) = found else {
        for tenth in 0..=10 {
            let value = low + (high - low) * f64::from(tenth) / 10.0;
            assert_eq!(lead(value), now, "{parameter:?} at {value} of {low} to {high}");
        }
        return None;
    };
    assert_eq!(crossing.stated, stated);
    let way = crossing.at - stated;
    let step = (1e-6 * (high - low)).min(way.abs() / 2.0).copysign(way);
    for share in [0.25, 0.5, 0.75] {
        assert_eq!(lead(stated + share * way), now, "{parameter:?} before {crossing:?}");
    }
    assert_eq!(lead(crossing.at - step), now, "{parameter:?} just before {crossing:?}");
    let beyond = crossing.at + step;
    if (low..=high).contains(&beyond) {
        assert_eq!(lead(beyond), crossing.lead, "{parameter:?} just beyond {crossing:?}");
    }
    Some(crossing)
}

#[test]
fn a_decision_holds_while_a_strength_stays_on_its_side() {
    let found = std::cell::Cell::new(0);
    each(35, |drawn| {
        for parameter in strengths(&drawn.model) {
            let crossing = assert_holds(drawn, parameter);
            found.set(found.get() + usize::from(crossing.is_some()));
        }
    });
    assert!(found.get() > 10, "only {} strengths have a crossing", found.get());
}

/// A base rate without a past, of a cause that at most one other brings.
#[test]
fn a_decision_holds_while_a_base_rate_stays_on_its_side() {
    let found = std::cell::Cell::new(0);
    each(36, |drawn| {
        let brought = |cause: &usize| drawn.model.causes[*cause].brought_by.len();
        let straight = (0..drawn.model.causes.len()).filter(|cause| brought(cause) < 2);
        for cause in straight.collect::<Vec<_>>() {
            let crossing = assert_holds(drawn, Parameter::Prior { cause });
            found.set(found.get() + usize::from(crossing.is_some()));
        }
    });
    assert!(found.get() > 30, "only {} base rates have a crossing", found.get());
}
