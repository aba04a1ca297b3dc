//! Whatever happens in whatever order, a case stays a case.

use dryhold::case::{Case, Ending, Event, Now, read_answer};
use dryhold::evidence::Engine;
use dryhold::handbook::Handbook;
use dryhold::report::verdict_json;
use proptest::prelude::*;

use super::handbooks::{PUMP, handbook};

const TYPED: &[(&str, &[&str])] = &[
    ("charged", &["no", "yes", "not sure", "skip"]),
    ("target", &["300 micron", "40 Pa", "not sure"]),
    ("floor", &["30 micron", "101 micron", "900 micron", "over 20000 micron", "not sure", "skip"]),
    ("part", &["red hose", "blue hose"]),
    ("with_part", &["40 micron", "25 +- 5 micron", "skip"]),
];

/// What somebody might do next: a kind of deed and two numbers to choose by.
fn event(handbook: &Handbook, case: &Case<'_>, (what, a, b): (u8, usize, usize)) -> Event {
    let (question, texts) = TYPED[a % TYPED.len()];
    let typed = texts[b % texts.len()];
    let id = handbook.find_question(question).unwrap();
    let reply = read_answer(handbook.question(id), None, typed).unwrap().reply;
    let (question, typed) = (question.to_owned(), typed.to_owned());
    match what % 8 {
        0..=2 => Event::Answered { question, typed, reply, bare_in: None },
        3 => Event::TakenBack { order: a % (case.events().len() + 2) },
        4 => {
            Event::Corrected { answer: b % (case.events().len() + 2), typed, reply, bare_in: None }
        }
        5 => Event::Acknowledged { caution: "hot".to_owned(), by: "Ada".to_owned() },
        6 => Event::RoundsEnded { tree: "parts".to_owned() },
        _ => done(handbook, case),
    }
}

fn done(handbook: &Handbook, case: &Case<'_>) -> Event {
    let ids = |place: dryhold::case::Place| {
        let tree = handbook.tree(place.tree);
        (tree.id.clone(), tree.step(place.step).id.clone())
    };
    match *case.now() {
        Now::Do { place, .. } => {
            let (tree, step) = ids(place);
            Event::Did { tree, step }
        }
        Now::Act { action, place } => {
            let (tree, step) = ids(place);
            Event::Acted { action: handbook.action(action).id.clone(), tree, step }
        }
        Now::Ended { .. } => Event::WentOn { tree: "parts".to_owned() },
        _ => Event::Noted { text: "nothing to do".to_owned() },
    }
}

fn json(case: &Case<'_>) -> String {
    verdict_json(case, &Ending::Left).to_string()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..Default::default() })]

    /// No order of events panics; a refused one changes nothing; what stands replays to the bit,
    /// with probabilities that are probabilities.
    #[test]
    fn any_order_of_events_replays_to_the_bit(
        moves in prop::collection::vec((any::<u8>(), 0usize..40, 0usize..40), 1..25)
    ) {
        let handbook = handbook(PUMP);
        let engine = Engine::new(&handbook).unwrap();
        let mut case = Case::open(&handbook, &engine, handbook.find_tree("bench").unwrap());
        for wanted in moves {
            let event = event(&handbook, &case, wanted);
            let count = case.events().len();
            let is_taken = case.apply(event).is_ok();
            prop_assert_eq!(case.events().len(), count + usize::from(is_taken));
            for ranked in &case.assessment().ranking {
                prop_assert!((0.0..=1.0).contains(&ranked.probability));
            }
        }
        let again = Case::replay(&handbook, &engine, case.events()).unwrap();
        prop_assert_eq!(json(&again), json(&case));
        prop_assert_eq!(again.now(), case.now());
        prop_assert_eq!(again.path(), case.path());
        prop_assert_eq!(again.decided(), case.decided());
    }
}
