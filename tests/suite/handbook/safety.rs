//! What is asked before anything is opened: the name of a refrigerant against its safety class.

use dryhold::case::{Case, Closes, Event, Now, read_answer};
use dryhold::evidence::{Engine, Reply};
use dryhold::handbook::{Handbook, StepKind};

use super::handbook;
use crate::cases::handbooks::Bench;
use crate::commands::{built_in, scenario_events};

/// From the least to the most that is asked of those who work on it.
const CLASS_NAMES: [&str; 5] = ["a1", "a2l", "a2", "a3", "b"];

/// Safety classes of ANSI/ASHRAE 34 (the same in ISO 817), by refrigerant, from memory.
const CLASSES: [(&str, &str); 22] = [
    ("r410a", "a1"),
    ("r32", "a2l"),
    ("r454b", "a2l"),
    ("r22", "a1"),
    ("r134a", "a1"),
    ("r513a", "a1"),
    ("r404a", "a1"),
    ("r407c", "a1"),
    ("r448a", "a1"),
    ("r449a", "a1"),
    ("r452a", "a1"),
    ("r507a", "a1"),
    ("r454c", "a2l"),
    ("r455a", "a2l"),
    ("r1234yf", "a2l"),
    ("r1234ze", "a2l"),
    ("r152a", "a2"),
    ("r290", "a3"),
    ("r600a", "a3"),
    ("r1270", "a3"),
    ("r744", "a1"),
    ("r717", "b"),
];

/// Where the safety tree gets to with a name and a class, trained and equipped for what burns.
fn goes_to(book: &Handbook, engine: &Engine, name: &str, class: &str) -> String {
    let mut bench = Bench::open(book, engine, "safety");
    bench.acknowledge("system_open");
    bench.acknowledge("flammable_residue");
    let answers = [
        ("system_connected", "yes"),
        ("system_charged", "no"),
        ("oxygen_offered", "no"),
        ("confined_space", "aired"),
        ("locked_out", "yes"),
        ("refrigerant_class", class),
        ("class_read", "yes"),
        ("carbon_dioxide_ready", "yes"),
        ("flammable_ready", "yes"),
        ("refrigerant", name),
    ];
    for (question, typed) in answers {
        let id = book.find_question(question).unwrap();
        let reply = read_answer(book.question(id), None, typed).unwrap().reply;
        let (question, typed) = (question.to_owned(), typed.to_owned());
        bench.case.apply(Event::Answered { question, typed, reply, bare_in: None }).unwrap();
    }
    bench.wanted()
}

/// How strict a class is, in the order of the work that it asks for.
fn strictness(class: &str) -> usize {
    CLASS_NAMES.iter().position(|known| *known == class).unwrap()
}

#[test]
fn no_class_milder_than_that_of_the_refrigerant_named_gets_past_the_safety_questions() {
    let book = handbook();
    let engine = Engine::new(&book).unwrap();
    for (name, right) in CLASSES {
        for class in CLASS_NAMES {
            let passes = strictness(class) >= strictness(right) && !["a3", "b"].contains(&class);
            let wanted = if passes { "ended" } else { "stopped" };
            assert_eq!(goes_to(&book, &engine, name, class), wanted, "{name} as {class}");
        }
    }
}

#[test]
fn every_refrigerant_that_can_be_named_stands_in_the_table() {
    let book = handbook();
    let question = book.question(book.find_question("refrigerant").unwrap());
    let named: Vec<&str> = question.choices.iter().map(|choice| choice.id.as_str()).collect();
    let table: Vec<&str> = CLASSES.iter().map(|(name, _)| *name).collect();
    assert_eq!(named[1..], table);
    assert_eq!(named[0], "another");
}

#[test]
fn a_refrigerant_is_known_by_its_number_its_id_and_its_name() {
    let book = handbook();
    let question = book.question(book.find_question("refrigerant").unwrap());
    let read = |typed: &str| read_answer(question, None, typed).map(|read| read.echo);
    for typed in ["r290", "R-290", "propane", "Propane", "R-290, propane"] {
        assert_eq!(read(typed).unwrap(), "R-290, propane", "{typed}");
    }
    assert_eq!(read("R-32").unwrap(), "R-32");
    assert!(read("propanol").is_err());
}

#[test]
fn a_refrigerant_named_at_the_class_stands_for_its_own_class() {
    let book = handbook();
    let question = |id: &str| book.question(book.find_question(id).unwrap());
    let (named, class) = (question("refrigerant"), question("refrigerant_class"));
    let mut read = 0;
    for choice in &named.choices[1..] {
        let right = CLASSES.iter().find(|(name, _)| *name == choice.id).unwrap().1;
        let names = choice.label.split(", ").map(str::to_owned);
        for typed in
            names.chain([choice.id.clone(), choice.label.to_uppercase().replace("R-", "R ")])
        {
            if typed.contains(", ") {
                continue;
            }
            let reply = read_answer(class, None, &typed).unwrap().reply;
            assert_eq!(reply, Reply::Choice(right.to_owned()), "{typed}");
            read += 1;
        }
    }
    assert!(read > 60, "{read}");
    assert!(read_answer(class, None, "R-12345").is_err());
}

#[test]
fn a_stop_for_a_mismatch_says_both_answers_and_leads_back_to_one_of_them() {
    let book = handbook();
    let engine = Engine::new(&book).unwrap();
    let mut bench = Bench::open(&book, &engine, "safety");
    bench.acknowledge("system_open");
    for (question, typed) in [
        ("system_connected", "yes"),
        ("system_charged", "no"),
        ("oxygen_offered", "no"),
        ("confined_space", "aired"),
        ("locked_out", "yes"),
        ("refrigerant", "propane"),
        ("refrigerant_class", "a1"),
    ] {
        bench.answer(question, typed);
    }
    let Now::Stopped { text, .. } = bench.case.now() else { panic!("{:?}", bench.case.now()) };
    let text = text.to_text();
    assert!(text.contains("R-290, propane") && text.contains("A1, not flammable"), "{text}");
    let order = bench.case.given_last().unwrap();
    bench.case.apply(Event::TakenBack { order }).unwrap();
    assert_eq!(bench.wanted(), "ask refrigerant_class");
}

#[test]
fn a_name_that_is_told_once_the_class_has_passed_stops_the_case_too() {
    let book = handbook();
    let engine = Engine::new(&book).unwrap();
    assert_eq!(goes_to(&book, &engine, "not sure", "a1"), "ended");
    let mut bench = Bench::open(&book, &engine, "safety");
    bench.acknowledge("system_open");
    for (question, typed) in [
        ("system_charged", "no"),
        ("oxygen_offered", "no"),
        ("confined_space", "aired"),
        ("locked_out", "yes"),
        ("system_connected", "yes"),
        ("refrigerant", "skip"),
        ("refrigerant_class", "a1"),
    ] {
        bench.answer(question, typed);
    }
    assert_eq!(bench.wanted(), "ask class_read", "A1 without a name is often a guess");
    bench.answer("class_read", "yes");
    assert_eq!(bench.wanted(), "ended");
    bench.answer("refrigerant", "propane");
    assert_eq!(bench.wanted(), "stopped");
}

#[test]
fn each_class_that_is_left_to_others_stops_as_soon_as_it_is_told() {
    let (book, engine) = built_in();
    let wanted = |class: &str| {
        let mut bench = Bench::open(book, engine, "pump_alone");
        bench.answer("refrigerant_class", class);
        bench.wanted()
    };
    for class in ["a3", "b"] {
        assert_eq!(wanted(class), "stopped", "{class}");
    }
    for class in ["a1", "a2l", "a2", "not_known", "not sure"] {
        assert_ne!(wanted(class), "stopped", "{class}: the questions before it come first");
    }
}

/// The cautions met on the way of a scenario of the built-in handbook.
fn met(scenario: &str) -> Vec<String> {
    let (book, engine) = built_in();
    let case = Case::replay(book, engine, &scenario_events(scenario)).unwrap();
    case.cautions_met().into_iter().map(|view| view.id).collect()
}

#[test]
fn what_burns_is_warned_of_where_the_pump_runs_and_nowhere_else() {
    let (book, _) = built_in();
    let flammable = ["flammable_exhaust", "flammable_oil"];
    let burning = met("pump_alone/flammable_ready");
    assert!(burning.iter().any(|id| id == "flammable_exhaust"), "{burning:?}");
    let harmless = met("prove_it/kept");
    assert!(!harmless.iter().any(|id| flammable.contains(&id.as_str())), "A1: {harmless:?}");
    let named = met("exhaust_sniff/class_by_name");
    assert!(!named.iter().any(|id| flammable.contains(&id.as_str())), "A1 by name: {named:?}");
    for action in book.actions() {
        let ids: Vec<&str> =
            action.cautions.iter().map(|&id| book.caution(id).id.as_str()).collect();
        let exhausts = ids.contains(&"exhaust_outdoors");
        assert!(!exhausts || ids.contains(&"flammable_exhaust"), "{}: {ids:?}", action.id);
        let drains = ids.contains(&"waste_oil");
        assert!(!drains || ids.contains(&"flammable_oil"), "{}: {ids:?}", action.id);
    }
    for step in book.trees().iter().flat_map(|tree| &tree.steps) {
        let ids: Vec<&str> = step.cautions.iter().map(|&id| book.caution(id).id.as_str()).collect();
        let exhausts = ids.contains(&"exhaust_outdoors");
        assert!(!exhausts || ids.contains(&"flammable_exhaust"), "{}: {ids:?}", step.id);
    }
}

/// Also whoever leaves off at the first answers has heard of the fog by then.
#[test]
fn fog_is_led_outdoors_before_ballast_or_oil_is_looked_at() {
    let (book, engine) = built_in();
    let mut bench = Bench::open(book, engine, "pump_odd");
    let warned = |bench: &Bench| {
        let met: Vec<String> = bench.case.cautions_met().into_iter().map(|view| view.id).collect();
        ["exhaust_outdoors", "flammable_exhaust"].iter().all(|id| met.iter().any(|met| met == id))
    };
    assert!(warned(&bench));
    bench.answer("pump_sign", "fogs_on");
    bench.answer("gas_about", "no");
    assert_eq!(bench.wanted(), "do lead_off");
    assert!(warned(&bench));
}

#[test]
fn a_frozen_exchanger_is_warned_of_where_a_valve_is_shut_to_read_the_rig() {
    let shut = met("which_side/pump_side");
    assert!(shut.iter().any(|id| id == "exchanger_freezes"), "{shut:?}");
}

#[test]
fn pressure_is_warned_of_only_where_the_system_may_stand_under_it() {
    let warned = |scenario: &str| met(scenario).iter().any(|id| id == "left_under_pressure");
    for left in ["leave_overnight/under_nitrogen", "leave_overnight/still_charged"] {
        assert!(warned(left), "{left}");
    }
    assert!(!warned("leave_overnight/under_vacuum"));
}

#[test]
fn a_plan_begins_with_the_lock_out() {
    let (book, _) = built_in();
    let plan = book.trees().iter().find(|tree| tree.id == "before_the_job").unwrap();
    let first = plan.step(plan.start);
    let StepKind::Do { text, .. } = &first.kind else { panic!("{first:?}") };
    assert!(text.spelled().contains("the lock-out comes first"), "{}", text.spelled());
    for step in &plan.steps {
        let StepKind::End { done, closes: Some(Closes::Planned), .. } = &step.kind else {
            continue;
        };
        let said = done.spelled();
        let at = |word: &str| said.find(word).unwrap_or_else(|| panic!("{word}: {said}"));
        let is_new = said.contains("It is new");
        assert_eq!(said.contains("Recover"), !is_new, "a new system has no charge: {said}");
        let emptied = at(if is_new { "no charge" } else { "Recover" });
        let order = [at("Lock out"), emptied, at("nitrogen"), at("Open every way"), at("Pull")];
        assert!(order.is_sorted(), "{said}");
        // The time is for the gas alone, so what it leaves out is said beside it.
        assert!(at("at the least") < at("come on top"), "{said}");
    }
}

/// What runs on keeps its charge, and no valve alone parts anybody from it.
#[test]
fn a_branch_is_parted_before_it_is_emptied_and_blanked_before_it_is_opened() {
    let (book, _) = built_in();
    let plan = book.trees().iter().find(|tree| tree.id == "before_a_branch").unwrap();
    let mut plans = 0;
    for step in &plan.steps {
        let StepKind::End { done, closes: Some(Closes::Planned), .. } = &step.kind else {
            continue;
        };
        let said = done.spelled();
        let at = |word: &str| said.find(word).unwrap_or_else(|| panic!("{word}: {said}"));
        let order = [
            at("Shut, lock and tag"),
            at("Recover this branch alone"),
            at("See that no pressure comes back"),
            at("set a blank behind each valve"),
            at("nitrogen"),
            at("Open every way inside the branch"),
            at("Pull"),
        ];
        assert!(order.is_sorted(), "{said}");
        assert!(!said.contains("both sides, to 0 bar"), "the rest runs on: {said}");
        plans += 1;
    }
    assert_eq!(plans, 3);
}

#[test]
fn only_what_prepares_a_job_closes_as_a_plan() {
    let (book, _) = built_in();
    for tree in book.trees() {
        let is_plan =
            |kind: &StepKind| matches!(kind, StepKind::End { closes: Some(Closes::Planned), .. });
        let plans = tree.steps.iter().any(|step| is_plan(&step.kind));
        let prepares = ["before_the_job", "before_a_branch"].contains(&tree.id.as_str());
        assert_eq!(plans, prepares, "{}", tree.id);
    }
}
