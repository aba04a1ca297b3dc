//! What repairs need, leave and end, and which of them are left to a licensed person.

use dryhold::case::Ending;
use dryhold::evidence::{Engine, RepairStep};
use dryhold::handbook::Handbook;
use dryhold::report::verdict;

use super::mending::{act, named};
use super::pump::HANDBOOK;
use super::{Answers, Bench, answered, answers, handbook};

/// Oil and damp, and no joint.
fn wet() -> Answers {
    answers(&[("looks", "milky"), ("rises", "yes"), ("bubbles", "no")])
}

/// The repairs named, each with what it costs and how many things have to be done before it.
fn listed(handbook: &Handbook, bench: &Bench<'_>) -> Vec<(String, f64, usize)> {
    let steps = bench.case.insight().repairs.steps;
    let told =
        |step: &RepairStep| (named(handbook, step).to_owned(), step.minutes, step.first.len());
    steps.iter().map(told).collect()
}

/// What a repair costs, and how many things have to be done before it.
fn cost(handbook: &Handbook, bench: &Bench<'_>, action: &str) -> (f64, usize) {
    let steps = listed(handbook, bench);
    let found = steps.iter().find(|step| step.0 == action);
    found.map(|step| (step.1, step.2)).unwrap_or_else(|| panic!("no {action} in {steps:?}"))
}

/// With what an action of the handbook says besides.
fn with(action: &str, more: &str) -> String {
    let from = HANDBOOK.find("\nactions:").unwrap();
    let entry = format!("\n  {action}:\n");
    let at = from + HANDBOOK[from..].find(&entry).unwrap() + entry.len();
    [&HANDBOOK[..at], "    ", more, "\n", &HANDBOOK[at..]].concat()
}

#[test]
fn what_one_repair_has_prepared_the_next_does_not_pay_again() {
    let of = |text: &str| {
        let handbook = handbook(text);
        let engine = Engine::new(&handbook).unwrap();
        let bench = answered(&handbook, &engine, &wet());
        [cost(&handbook, &bench, "change_oil"), cost(&handbook, &bench, "heat")]
    };
    let [oil, heat] = of(HANDBOOK);
    assert_eq!(oil, (6.0 + 10.0 + 10.0, 1));
    assert_eq!(heat, (60.0 + 10.0, 0), "the oil change was done warm");
    let [oil, heat] = of(&with("change_oil", "ends: [warm]"));
    assert_eq!(oil, (6.0 + 10.0 + 10.0, 1));
    assert_eq!(heat, (6.0 + 60.0 + 10.0, 1), "the oil change let it cool");
}

#[test]
fn a_condition_ends_with_the_action_that_ends_it() {
    let handbook = handbook(&with("tighten", "ends: [warm]"));
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = answered(&handbook, &engine, &answers(&[("looks", "milky")]));
    assert_eq!(cost(&handbook, &bench, "change_oil"), (26.0, 1));
    act(&mut bench, "run_long");
    assert_eq!(cost(&handbook, &bench, "change_oil"), (20.0, 0));
    act(&mut bench, "tighten");
    assert_eq!(cost(&handbook, &bench, "change_oil"), (26.0, 1), "it has cooled down");
}

/// Two preparations that each need what the other leaves come to an end.
#[test]
fn preparations_that_need_each_other_are_each_done_once() {
    let shut = "\n  shut:\n    do: Shut it off.\n    takes: 3 min\n    needs: [warm]\n    \
                leaves: [shut_off]\n  change_seal:\n";
    let text = with("run_warm", "needs: [shut_off]");
    let from = text.find("\nactions:").unwrap();
    let text = [&text[..from], &text[from..].replacen("\n  change_seal:\n", shut, 1)].concat();
    let handbook = handbook(&text);
    let engine = Engine::new(&handbook).unwrap();
    let bench = answered(&handbook, &engine, &answers(&[("looks", "milky")]));
    assert_eq!(cost(&handbook, &bench, "change_oil"), (6.0 + 3.0 + 10.0 + 10.0, 2));
}

/// What can hurt is left to a licensed person, who is called where it would be next.
#[test]
fn a_repair_that_can_hurt_ends_the_order() {
    let of = |text: &str| {
        let handbook = handbook(text);
        let engine = Engine::new(&handbook).unwrap();
        let repairs = answered(&handbook, &engine, &wet()).case.insight().repairs;
        let steps = repairs.steps.iter().map(|step| named(&handbook, step).to_owned());
        let referred = repairs.referred.map(|id| handbook.action(id).id.clone());
        (steps.collect::<Vec<String>>(), referred)
    };
    let (all, nobody) = of(HANDBOOK);
    assert!(all.len() > 1 && nobody.is_none(), "{all:?}");
    let (first, second) = (all[0].clone(), all[1].clone());
    assert_eq!(of(&with(&second, "hazard: yes")), (vec![first.clone()], Some(second)));
    assert_eq!(of(&with(&first, "hazard: yes")), (Vec::new(), Some(first)));
}

fn said(bench: &Bench<'_>) -> Vec<String> {
    verdict(&bench.case, &Ending::Done).iter().map(|line| line.to_text()).collect()
}

/// A finding that is a matter of safety outweighs every order of repairs while it may be true.
#[test]
fn a_finding_that_refers_leaves_nothing_to_repair() {
    let refers = "    when: bubbles\n    refer: a keeper of joints\n";
    let handbook = handbook(&HANDBOOK.replace("    when: bubbles\n", refers));
    let engine = Engine::new(&handbook).unwrap();
    for (bubbles, is_referred) in [("no", false), ("yes", true)] {
        let given = answers(&[("looks", "milky"), ("bubbles", bubbles)]);
        let bench = answered(&handbook, &engine, &given);
        let repairs = bench.case.insight().repairs;
        assert_eq!(repairs.refer_now.len(), usize::from(is_referred));
        assert_eq!(repairs.steps.is_empty(), is_referred);
        let said = said(&bench);
        let has = |text: &str| said.iter().any(|line| line.contains(text));
        assert_eq!(has("Ask a keeper of joints."), is_referred, "{said:?}");
        assert_eq!(has("What to do about it"), !is_referred, "{said:?}");
    }
}

#[test]
fn a_repair_that_can_hurt_is_said_to_be_for_a_licensed_person() {
    let handbook = handbook(&with("change_oil", "hazard: yes"));
    let engine = Engine::new(&handbook).unwrap();
    let said = said(&answered(&handbook, &engine, &wet()));
    let line = "- Leave this to a licensed person: Change the oil.";
    assert!(said.iter().any(|told| told == line), "{said:?}");
    assert!(!said.iter().any(|told| told.starts_with("- Change the oil.")), "{said:?}");
}
