use jiff::SignedDuration;

use super::*;
use crate::case::{Reach, Reply};

fn at(minute: i64) -> Timestamp {
    let begin: Timestamp = "2026-03-31T10:00:00Z".parse().unwrap();
    begin + SignedDuration::from_mins(minute)
}

fn handed(minute: i64, event: Event) -> HandedEvent {
    HandedEvent::new(at(minute), event).unwrap()
}

fn answer(question: &str, si: f64) -> Event {
    let reply = Reply::Quantity { si, half_width: None, reach: Reach::Exact };
    let (question, typed) = (question.to_owned(), format!("{si} Pa"));
    Event::Answered { question, typed, reply, bare_in: None }
}

fn opened() -> HandedEvent {
    handed(0, Event::Opened { tree: "pump_alone".to_owned(), handbook: "00".to_owned() })
}

fn now() -> Timestamp {
    at(600)
}

#[test]
fn a_case_is_told_from_others_by_how_it_was_opened() {
    let mine = [opened(), handed(1, answer("floor", 10.0)), handed(2, Event::Reopened)];
    assert_eq!(beside(&mine, &mine), Beside::Known);
    assert_eq!(beside(&mine, &mine[..2]), Beside::Known);
    assert_eq!(beside(&mine[..2], &mine), Beside::GoesOn(2));
    let other = [handed(1, opened().event)];
    assert_eq!(beside(&mine, &other), Beside::Another);
    let parted = [mine[0].clone(), handed(1, answer("floor", 11.0))];
    assert_eq!(beside(&mine, &parted), Beside::Parted(1));
}

#[test]
fn a_copy_without_names_is_the_same_case() {
    let note = |text: &str| Event::Noted { text: text.to_owned() };
    let whole = [opened(), handed(1, note("ask Kim")), handed(2, answer("floor", 10.0))];
    let copy = [opened(), handed(1, note("left out")), handed(2, answer("floor", 10.0))];
    assert_eq!(beside(&whole, &copy), Beside::Known);
    assert_eq!(beside(&whole, &copy[..2]), Beside::Known);
    let on = [&copy[..], &[handed(3, Event::Reopened)]].concat();
    assert_eq!(beside(&whole, &on), Beside::GoesOn(3));
    assert_eq!(beside(&copy, &whole), Beside::LacksNames { first: 1, differing: 1 });
    let other = [opened(), handed(1, note("left out")), handed(2, answer("floor", 11.0))];
    assert_eq!(beside(&whole, &other), Beside::Parted(1));
}

#[test]
fn what_does_not_clash_is_put_in_the_order_of_its_times() {
    let mine = [opened(), handed(1, answer("a", 1.0)), handed(5, answer("b", 2.0))];
    let fixed = Event::Corrected {
        answer: 1,
        typed: "4 Pa".to_owned(),
        reply: Reply::Quantity { si: 4.0, half_width: None, reach: Reach::Exact },
        bare_in: None,
    };
    let theirs = [opened(), handed(2, answer("c", 3.0)), handed(6, fixed)];
    assert!(clashes(&mine, &theirs, 1).is_empty());
    let all = joined(&mine, &theirs, 1, Prefer::Both, now()).unwrap();
    let said: Vec<String> = all
        .iter()
        .map(|handed| match &handed.event {
            Event::Answered { question, .. } => question.clone(),
            Event::Corrected { answer, .. } => format!("corrects {answer}"),
            _ => String::new(),
        })
        .collect();
    // The correction was of `c`, their first answer, which is the second now.
    assert_eq!(said, ["", "a", "c", "b", "corrects 2"]);
}

#[test]
fn of_two_answers_that_clash_the_one_that_is_preferred_stands() {
    let mine = [opened(), handed(3, answer("floor", 1.0))];
    let theirs = [opened(), handed(1, answer("floor", 2.0))];
    assert_eq!(clashes(&mine, &theirs, 1), [Clash { here: 1, there: 1 }]);
    let last = |prefer| joined(&mine, &theirs, 1, prefer, now()).unwrap().pop().unwrap();
    // By time theirs is event 1 and mine event 2.
    assert_eq!(last(Prefer::Here), handed(600, Event::TakenBack { order: 1 }));
    assert_eq!(last(Prefer::There), handed(600, Event::TakenBack { order: 2 }));
    assert_eq!(last(Prefer::Both), mine[1]);
}

#[test]
fn the_same_answer_of_both_counts_once() {
    let mine = [opened(), handed(1, answer("floor", 1.0))];
    let theirs = [opened(), handed(2, answer("floor", 1.0))];
    assert!(clashes(&mine, &theirs, 1).is_empty());
    let all = joined(&mine, &theirs, 1, Prefer::Both, now()).unwrap();
    assert_eq!(all.last().unwrap().event, Event::TakenBack { order: 2 });
}

#[test]
fn only_details_that_both_give_otherwise_are_disputed() {
    let told = |place: &str, more: Detail| {
        let details = Details::default().with(Detail::Place, place).with(more, "x");
        Event::Described { details }
    };
    let mine = [opened(), handed(1, told("roof", Detail::Pump))];
    let theirs = [opened(), handed(2, told("cellar", Detail::Gauge))];
    assert_eq!(clashes(&mine, &theirs, 1).len(), 1);
    let all = joined(&mine, &theirs, 1, Prefer::Here, now()).unwrap();
    let events: Vec<Event> = all.into_iter().map(|handed| handed.event).collect();
    let details = Details::of(&events);
    let given = [Detail::Place, Detail::Pump, Detail::Gauge].map(|one| details.get(one));
    assert_eq!(given, [Some("roof"), Some("x"), Some("x")]);
}
