//! What answers would be worth, asked before they are known.

use dryhold::case::{Case, Event, QuestionId};
use dryhold::handbook::Handbook;

use crate::commands::built_in;

fn ids(handbook: &Handbook, ids: &[&str]) -> Vec<QuestionId> {
    ids.iter().map(|id| handbook.find_question(id).unwrap()).collect()
}

fn answer(case: &mut Case<'_>, id: &str, typed: &str) {
    let question = case.handbook().find_question(id).unwrap();
    let read = case.read(question, typed).unwrap();
    let event = Event::Answered {
        question: id.to_owned(),
        typed: read.echo,
        reply: read.reply,
        bare_in: read.bare_in,
    };
    case.apply(event).unwrap();
}

#[test]
fn answers_are_worth_what_they_would_tell_and_nothing_twice() {
    let (handbook, engine) = built_in();
    let tree = handbook.find_tree("pump_alone").unwrap();
    let mut case = Case::open(handbook, engine, tree);
    let oil = ids(handbook, &["oil_look"]);
    let worth = case.worth_of(&oil);
    let network = engine.network();
    let prior = network.posterior(&[], &[]).unwrap();
    let seen = handbook.find_finding("oil_seen").unwrap();
    // The look settles one finding: its bits are those of the network.
    assert!((worth.bits - network.information(seen.index(), &prior)).abs() < 1e-9, "{worth:?}");
    assert!(worth.bits > 0.05 && worth.lacks.is_empty(), "{worth:?}");
    answer(&mut case, "oil_look", "cloudy");
    assert_eq!(case.worth_of(&oil).bits, 0.0, "it is known by then");
}

#[test]
fn an_answer_that_settles_nothing_alone_says_what_is_lacking() {
    let (handbook, engine) = built_in();
    let tree = handbook.find_tree("pump_alone").unwrap();
    let case = Case::open(handbook, engine, tree);
    let worth = case.worth_of(&ids(handbook, &["blank_off"]));
    assert_eq!(worth.bits, 0.0);
    for lacking in ids(handbook, &["ballast_state", "pump_minutes"]) {
        assert!(worth.lacks.contains(&lacking), "{worth:?}");
    }
    let all = [
        "blank_off",
        "target",
        "pump_rating",
        "ballast_state",
        "pump_minutes",
        "pump_is_capped",
        "still_falling",
    ];
    let worth = case.worth_of(&ids(handbook, &all));
    assert!(worth.bits > 0.05 && worth.lacks.is_empty(), "{worth:?}");
    assert_eq!(case.worth_of(&[]).lacks, [], "nothing is touched by nothing");
}
