//! What the handbook concludes from holds: nothing too much from one, and more from two.
//!
//! Readings are laid out from closed forms and shown in steps of one micron.

use std::fmt::Write;

use dryhold::case::{Case, Event, read_answer};
use dryhold::evidence::{Engine, FindingState};
use dryhold::handbook::Handbook;

use super::{handbook, probability, state, told};

/// The valve at the system is shut, the gauge is on the system, and the place stays as warm.
const RIGHT: [(&str, &str); 5] = [
    ("gauge_scale", "10 %"),
    ("gauge_offset", "5 micron"),
    ("gauge_place", "system_far"),
    ("valve_closed_at", "at_system"),
    ("hold_temperature", "steady"),
];

/// Half an hour of readings, one every two minutes, of a pressure in micron by minutes.
fn readings(pressure: impl Fn(f64) -> f64) -> String {
    let mut block = String::new();
    for minute in (0..=30).step_by(2) {
        write!(block, "{minute} min {:.0}, ", pressure(f64::from(minute))).unwrap();
    }
    format!("{} micron", block.trim_end_matches(", "))
}

fn steady(rate: f64) -> String {
    readings(|t| 400.0 + rate * t)
}

fn levelling(height: f64, minutes: f64) -> String {
    readings(|t| 400.0 - height * libm::expm1(-t / minutes))
}

/// The case goes on: something is done, and then these answers are given.
fn after(case: &mut Case<'_>, action: &str, answers: &[(&str, &str)]) {
    let (tree, step) = ("hold_again".to_owned(), "pump_on".to_owned());
    case.apply(Event::Acted { action: action.to_owned(), tree, step }).unwrap();
    for (id, typed) in answers {
        let handbook: &Handbook = case.handbook();
        let question = handbook.question(handbook.find_question(id).unwrap());
        let reply = read_answer(question, None, typed).unwrap().reply;
        let typed = (*typed).to_owned();
        case.apply(Event::Answered { question: (*id).to_owned(), typed, reply, bare_in: None })
            .unwrap();
    }
}

/// One straight hold is a leak, or a source slower than the hold could show: whatever is known
/// of symptom and history, and however good the pump is, it settles nothing.
#[test]
fn one_hold_alone_concludes_no_leak() {
    let handbook = handbook();
    let engine = Engine::new(&handbook).unwrap();
    let hold = steady(60.0);
    let history = [("new_joints", "yes"), ("wet_history", "no"), ("cold_weather", "no")];
    let pump = [
        ("target", "500 micron"),
        ("pump_rating", "15 micron"),
        ("pump_is_capped", "yes"),
        ("pump_minutes", "10 min"),
        ("ballast_state", "shut"),
        ("still_falling", "no"),
        ("blank_off", "20 micron"),
    ];
    for symptom in ["none", "rises", "wont_pull_below"] {
        for known in [&[][..], &history, &[&history[..], &pump].concat()] {
            let read = [("symptom", symptom), ("hold_readings", &hold)];
            let case = told(&handbook, &engine, &[&RIGHT[..], known, &read].concat());
            assert!(matches!(state(&case, "hold_straight"), FindingState::True(_)));
            let leak = probability(&case, "system_leak");
            assert!(leak > 0.15, "{symptom}: a leak of {leak:.2} is not looked for");
            assert!(leak < 0.8 && !case.assessment().settled, "{symptom} {known:?}: {leak:.2}");
            assert!(probability(&case, "moisture") > 0.05, "{symptom}: moisture is ruled out");
        }
    }
}

#[test]
fn a_second_hold_tells_a_leak_from_what_runs_dry() {
    let handbook = handbook();
    let engine = Engine::new(&handbook).unwrap();
    let first = steady(40.0);
    let leak_after = |second: &str| {
        let read =
            [("symptom", "rises"), ("hold_readings", &first), ("between_holds", "pumped_on")];
        let mut case = told(&handbook, &engine, &[&RIGHT[..], &read].concat());
        let before = probability(&case, "system_leak");
        after(&mut case, "pump_longer", &[("hold_readings", second)]);
        (before, probability(&case, "system_leak"), state(&case, "rise_repeats"))
    };
    let (before, same, repeats) = leak_after(&steady(41.0));
    assert!(matches!(repeats, FindingState::True(_)) && same > before + 0.1, "{before} {same}");
    let (before, less, repeats) = leak_after(&steady(12.0));
    // It still rises by what matters, so that something is left: the leak falls to half at most.
    assert!(matches!(repeats, FindingState::False(_)) && less < 0.5 * before, "{before} {less}");
    let (_, _, unlike) = leak_after(&readings(|t| 150.0 + 40.0 * t));
    assert!(matches!(unlike, FindingState::NotApplicable), "other starts don't compare");
}

#[test]
fn moisture_alone_is_never_taken_for_a_leak() {
    let handbook = handbook();
    let engine = Engine::new(&handbook).unwrap();
    for (height, minutes) in [(300.0, 3.0), (800.0, 6.0), (1500.0, 10.0)] {
        let hold = levelling(height, minutes);
        let read = [("symptom", "rises"), ("hold_readings", &hold)];
        let case = told(&handbook, &engine, &[&RIGHT[..], &read].concat());
        assert!(matches!(state(&case, "hold_straight"), FindingState::False(_)), "{minutes}");
        let (moisture, leak) = (probability(&case, "moisture"), probability(&case, "system_leak"));
        assert!(moisture > 5.0 * leak, "{minutes} min: {moisture:.2} and {leak:.2}");
    }
}

/// Behind another valve, or with the gauge elsewhere, a rise speaks of hoses and pump.
#[test]
fn what_is_not_a_hold_of_the_system_changes_nothing() {
    let handbook = handbook();
    let engine = Engine::new(&handbook).unwrap();
    let (rising, falling) = (steady(60.0), readings(|t| 700.0 - 5.0 * t));
    let wrong = [
        ("valve_closed_at", "manifold", &rising),
        ("gauge_place", "pump", &rising),
        ("hold_temperature", "steady", &falling),
    ];
    for (question, answer, hold) in wrong {
        let mut answers = RIGHT.to_vec();
        answers.retain(|(id, _)| *id != question);
        answers.extend([("symptom", "rises"), (question, answer)]);
        let without = told(&handbook, &engine, &answers);
        answers.push(("hold_readings", hold));
        let with = told(&handbook, &engine, &answers);
        for finding in ["hold_straight", "hold_levels_off", "above_water"] {
            let stands = state(&with, finding);
            assert!(matches!(stands, FindingState::NotApplicable), "{question}: {stands:?}");
        }
        let leak = |case: &Case<'_>| probability(case, "system_leak");
        assert_eq!(leak(&with).to_bits(), leak(&without).to_bits(), "{question}");
    }
}
