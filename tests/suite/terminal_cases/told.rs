//! What is told at another question finds its own, with the answer that it gives.

use super::desk::{Desk, Sitting};

/// A person who is asked for the target, on the way to a pull that stops.
fn at_the_target(desk: &Desk) -> Sitting {
    let mut person = desk.sit("--plain diagnose wont_pull_below");
    for line in ["yes", "A. B.", "no", "no", "aired", "yes", "r410a"] {
        person.answers(line);
    }
    person
}

#[test]
fn what_people_say_alone_finds_its_question() {
    let cases = [
        (
            "cores are in",
            "1. Are the valve cores still in the service ports you pull through? [Yes]",
        ),
        ("three eighths", "1. How wide is the hose inside? [3/8 in]"),
        ("hose is three eighths", "1. How wide is the hose inside? [3/8 in]"),
        ("3/8", "1. How wide is the hose inside? [3/8 in]"),
        ("cold morning 3 degrees", "1. How warm or cold is the air around the system? [3 degrees]"),
        ("500 micron", "1. What vacuum must this job reach? [500 micron]"),
        (
            "500, 600, 700 every 5 min",
            "1. What were the readings of the hold, each with its minute?",
        ),
        ("he changed the oil", "1. How many hours has this oil run since it was changed? [0 h]"),
        ("milky", "1. What does the oil look like in the sight glass? [Cloudy or milky]"),
        ("CO2", "1. Which refrigerant stands on the unit's nameplate, or, where"),
        ("yellow hose on the pump 1800", "does the reading settle? yellow hose: [1800]"),
    ];
    let desk = Desk::new();
    let mut person = at_the_target(&desk);
    for (told, offered) in cases {
        person.answers(told);
        let said = person.answers("none");
        assert!(said.contains("Does it belong to"), "{told}: {said}");
        assert!(said.contains(offered), "{told}: {said}");
    }
    person.answers("stop");
    person.ends(3);
}

#[test]
fn a_symptom_and_its_value_are_offered_in_turn() {
    let desk = Desk::new();
    let mut person = at_the_target(&desk);
    person.answers("won't go below 2000");
    let said = person.answers("yes");
    assert!(
        said.contains("1. What are you seeing? [It stops and won't pull below a value]"),
        "{said}"
    );
    let said = person.answers("");
    assert!(said.contains("Enter alone takes It stops and won't pull below a value"), "{said}");
    let said = person.answers("no");
    assert!(said.contains("You told this too: \"2000\"."), "{said}");
    assert!(said.contains("with the pump running on the system? [2000]"), "{said}");
    person.answers("stop");
    person.ends(3);
}

#[test]
fn each_of_two_gauges_gets_its_own_figure() {
    let desk = Desk::new();
    let mut person = at_the_target(&desk);
    person.answers("gauge A 400, gauge B 900");
    let said = person.answers("1");
    assert!(
        said.contains("1. What does gauge A, the one in use, show on the tee? [400]"),
        "{said}"
    );
    let said = person.answers("1");
    assert!(
        said.contains("1. What does gauge B show beside it, at the same moment? [900]"),
        "{said}"
    );
    let said = person.answers("stop");
    assert!(said.contains("Read as 900 micron."), "{said}");
    person.ends(3);
}

/// The words of one answer may name the next one too.
#[test]
fn the_answer_that_words_name_stands_ready_at_the_question_behind() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose");
    person.answers("it rises");
    let said = person.answers("");
    assert!(said.contains("Chosen: Find the fault, from what I am seeing"), "{said}");
    assert!(said.contains("Enter alone takes It rises after I isolate it, number 2"), "{said}");
    let said = person.answers("stop");
    assert!(said.contains("Chosen: It rises after I isolate it"), "{said}");
    person.ends(3);
}

#[test]
fn a_part_that_is_told_with_its_reading_keeps_its_name() {
    let desk = Desk::new();
    let mut person = at_the_target(&desk);
    person.answers("yellow hose on the pump 1800");
    person.answers("yes");
    let said = person.answers("stop");
    assert!(said.contains("Read as 1800 micron."), "{said}");
    person.ends(3);
    let case = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    let named = case.find("\"question\":\"part\",\"typed\":\"yellow hose\"").unwrap();
    assert!(named < case.find("\"question\":\"part_reading\"").unwrap(), "{case}");
}

#[test]
fn other_is_offered_at_a_question_that_words_opened() {
    let desk = Desk::new();
    let mut person = at_the_target(&desk);
    person.answers("pump rating");
    person.answers("1");
    let said = person.answers("other");
    assert!(said.contains("What lowest pressure is the pump rated for?"), "{said}");
    let said = person.answers("What does the oil look like");
    assert!(said.contains("Which question do you want to answer?"), "{said}");
    person.answers("clear");
    let said = person.answers("20 micron");
    assert!(said.contains("What lowest pressure is the pump rated for?"), "it comes back: {said}");
    let said = person.answers("stop");
    assert!(said.contains("Read as 20 micron."), "{said}");
    person.ends(3);
}

#[test]
fn another_way_is_gone_when_it_is_chosen() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose");
    for line in ["follow", "wont_pull_below", "yes", "A. B.", "no", "no", "aired", "yes", "r410a"] {
        person.answers(line);
    }
    person.answers("other");
    person.answers("what do you want");
    let said = person.answers("one_part");
    assert!(said.contains("What do you want to do?"), "{said}");
    let said = person.answers("1");
    let asked = "This decides the way. Do you want to change it? What was answered stays. 1. Go the \
                 other way now: Check hoses, core tools and fittings, one by one 2. Stay on this way: \
                 Find the fault, from what I am seeing";
    assert!(said.contains(asked), "{said}");
    let said = person.answers("stop");
    assert!(said.contains("The way is another one now: Check hoses"), "{said}");
    assert!(said.contains("Which part is judged now"), "{said}");
    person.ends(3);
}

#[test]
fn figures_typed_at_a_wait_are_taken_at_their_question_or_kept() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose nitrogen_sweep");
    for line in ["yes", "A. B.", "no", "no", "aired", "yes", "r410a", "A. B.", "A. B.", "yes"] {
        person.answers(line);
    }
    person.answers("40 micron in 10 min");
    person.answers("done");
    person.answers("500 to 2500 in 10 min");
    let said = person.answers("none");
    assert!(said.contains("Does it belong to"), "before the wait: {said}");
    let said = person.answers("start");
    assert!(said.contains("\"500 to 2500 in 10 min\" is kept as a note."), "{said}");
    person.answers("500 to 2500 in 10 min");
    let said = person.answers("none");
    assert!(said.contains("Does it belong to"), "beside the wait: {said}");
    let said = person.answers("stop");
    assert!(said.contains("\"500 to 2500 in 10 min\" is kept as a note"), "{said}");
    person.ends(3);
}

/// Words for taking back are never looked for among the questions.
#[test]
fn undo_takes_back_wherever_it_is_typed() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose");
    for line in ["follow", "wont_pull_below", "yes", "A. B.", "no", "no", "aired", "yes", "r410a"] {
        person.answers(line);
    }
    person.answers("other");
    person.answers("take back");
    let said = person.answers("undo");
    assert!(said.contains("Which answer do you want to take back?"), "{said}");
    let said = person.answers("stop");
    assert!(said.contains("Taken back: Which"), "the last one: {said}");
    person.ends(3);
}

/// On a screen what is ready stands first, with the number that it has.
#[test]
fn the_answer_that_is_ready_on_a_screen_is_the_one_that_enter_takes() {
    let desk = Desk::new();
    let mut person = desk.sit("diagnose");
    person.picks("it rises");
    person.sees("What are you seeing?");
    person.sees("It rises after I isolate it");
    person.sees("Nothing yet, I am checking my tools");
    person.sees("Esc for more");
    person.presses("\r");
    person.sees("Seen first: It rises after I isolate it.");
    person.control('c');
}
