//! What is told at another question finds its own, with the answer that it gives.

use super::desk::{Desk, Sitting};
use super::handbook::BENCH;

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
        (
            "three eighths",
            "1. How wide is the hose inside? One called 1/4 in is about 4.8 mm. [3/8 in]",
        ),
        (
            "hose is three eighths",
            "1. How wide is the hose inside? One called 1/4 in is about 4.8 mm. [3/8 in]",
        ),
        ("3/8", "1. How wide is the hose inside? One called 1/4 in is about 4.8 mm. [3/8 in]"),
        ("cold morning 3 degrees", "1. How warm or cold is the air around the system? [3 degrees]"),
        ("500 micron", "1. What vacuum must this job reach? [500 micron]"),
        (
            "500, 600, 700 every 5 min",
            "1. What were the readings of the hold, each with its minute?",
        ),
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

/// From the first safety question on to the reading, where a figure of before is told again.
fn is_told_again_at_the_reading(mut person: Sitting) {
    for line in ["yes", "A. B.", "no", "no", "aired", "yes", "other", "gauge read now"] {
        person.answers(line);
    }
    person.answers("1");
    let said = person.answers("2000");
    let told = "You told this before: 2000. Type it again if it was read of this.";
    assert!(said.contains(told), "{said}");
    person.answers("stop");
    person.ends(3);
}

/// A figure that nothing near takes is kept, and told again where a reading is asked for.
#[test]
fn a_figure_that_is_told_early_is_told_again_at_the_reading() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose");
    person.answers("it won't go below 2000");
    for line in ["yes", ""] {
        person.answers(line);
    }
    let said = person.answers("follow");
    let kept = "\"2000\" is kept as a note, and told again where a reading like it is asked for.";
    assert!(said.contains(kept), "{said}");
    is_told_again_at_the_reading(person);
    let case = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    assert!(case.contains("2000, told before it was asked for"), "{case}");
}

/// Also after a stop, as the note promises.
#[test]
fn a_figure_that_is_told_early_outlives_a_stop() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose");
    for line in ["it won't go below 2000", "yes", "", "follow", "stop"] {
        person.answers(line);
    }
    person.ends(3);
    let person = desk.sit("--plain resume");
    is_told_again_at_the_reading(person);
}

#[test]
fn the_answer_of_the_list_itself_is_asked_back_where_a_figure_stands_beside_it() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose");
    person.answers("follow");
    person.answers("it won't go below 2000");
    let said = person.answers("yes");
    let may_be = "may be this answer: It stops and won't pull below a value. Is it? 1. Yes 2. No";
    assert!(said.contains(may_be), "{said}");
    let said = person.answers("stop");
    assert!(said.contains("2000"), "{said}");
    person.control('c');
}

/// Of two figures for one question the second is offered too.
#[test]
fn two_figures_of_a_line_are_dealt_with_one_after_the_other() {
    let desk = Desk::new();
    for told in ["gauges show 400 and 900", "400 and 900"] {
        let mut person = at_the_target(&desk);
        person.answers(told);
        let mut said = String::new();
        for _ in 0..3 {
            said += &person.answers("none");
            if said.contains("900]") {
                break;
            }
        }
        assert!(said.contains("It tells several things"), "{told}: {said}");
        assert!(said.contains("400]") && said.contains("900]"), "{told}: {said}");
        person.answers("stop");
        person.control('c');
    }
}

/// A size is said in words as well, alone and among others, and asked back in inches at its question.
#[test]
fn a_size_in_words_is_understood() {
    let desk = Desk::new();
    let mut person = at_the_target(&desk);
    for (told, offered) in [
        (
            "five eighths",
            "1. How wide is the hose inside? One called 1/4 in is about 4.8 mm. [5/8 in]",
        ),
        (
            "hose is five-eighths",
            "1. How wide is the hose inside? One called 1/4 in is about 4.8 mm. [5/8 in]",
        ),
        (
            "three quarters",
            "1. How wide is the hose inside? One called 1/4 in is about 4.8 mm. [3/4 in]",
        ),
        (
            "half inch",
            "1. How wide is the hose inside? One called 1/4 in is about 4.8 mm. [1/2 inch]",
        ),
        (
            "quarter inch",
            "1. How wide is the hose inside? One called 1/4 in is about 4.8 mm. [1/4 inch]",
        ),
    ] {
        person.answers(told);
        let said = person.answers("none");
        assert!(said.contains(offered), "{told}: {said}");
    }
    person.answers("hose width");
    person.answers("1");
    person.answers("seven eighths");
    let said = person.answers("stop");
    assert!(said.contains("7/8 in"), "{said}");
    person.control('c');
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

/// On a screen what is ready is marked in its place.
#[test]
fn the_answer_that_is_ready_on_a_screen_is_the_one_that_enter_takes() {
    let desk = Desk::new();
    let mut person = desk.sit("diagnose");
    person.picks("it rises");
    person.sees("What are you seeing?");
    person.sees("1. Nothing yet, I am checking my tools");
    person.matches("> 2[.] It rises after I isolate it");
    person.sees("Esc for more");
    person.presses("\r");
    person.sees("Seen first: It rises after I isolate it.");
    person.control('c');
}

/// Readings in the form that is asked for come a question too early and find theirs.
#[test]
fn readings_that_are_told_too_early_are_offered_to_their_question() {
    let told = [
        ("0 min 300, 30 min 303 micron", "[0 min 300, 30 min 303 micron]"),
        ("0: 1500, 10: 1900, 20: 1900", "[0: 1500, 10: 1900, 20: 1900]"),
        ("hold 300 micron, 303 micron after 30 min", "[0 min 300 micron, 30 min 303 micron]"),
    ];
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose hold_test");
    for line in ["yes", "A. B.", "no", "no", "aired", "yes", "r410a"] {
        person.answers(line);
    }
    for (told, read) in told {
        person.answers(told);
        let said = person.answers("none");
        let offered =
            format!("1. What were the readings of the hold, each with its minute? {read}");
        assert!(said.contains(&offered), "{told}: {said}");
    }
    person.answers("0: 1500, 10: 1900, 20: 1900");
    person.answers("1");
    let said = person.answers("stop");
    assert!(said.contains("Who has written down what this hold must keep?"), "{said}");
    assert!(said.contains("Read as 3 readings over 20 min"), "{said}");
    person.ends(3);
}

/// A number that no list has is a value: it is said which questions take it.
#[test]
fn a_number_beyond_the_list_is_offered_as_a_value() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose hold_test");
    for line in ["yes", "A. B.", "no", "no", "aired", "yes", "r410a"] {
        person.answers(line);
    }
    person.answers("480");
    let said = person.answers("none");
    assert!(said.contains("480 what? There is no 480 in the list. Does it belong to"), "{said}");
    assert!(said.contains("1. What vacuum must this job reach? [480]"), "{said}");
    person.answers("7");
    let said = person.answers("stop");
    assert!(said.contains("There is no 7 in the list; its last number is 6."), "{said}");
    person.ends(3);
}

#[test]
fn what_the_rig_read_alone_is_no_tolerance() {
    let desk = Desk::new();
    let mut person = at_the_target(&desk);
    person.answers("60 micron rig alone");
    let said = person.answers("none");
    let asked = "1. With the valves at the system shut and nothing but the rig on the pump, where does \
                 the reading settle? [60 micron]";
    assert!(said.contains(asked), "{said}");
    person.answers("stop");
    person.ends(3);
}

/// A value told where its wait begins is the answer to what is asked behind it.
#[test]
fn a_value_at_a_wait_is_offered_to_the_question_that_comes_next() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose pump_alone");
    let before = ["done", "yes", "20 micron", "5 %", "5 micron", "500 micron", "clear", "1 h"];
    for line in ["no", "no", "no", "aired", "r410a"].into_iter().chain(before) {
        person.answers(line);
    }
    let said = person.answers("35 micron");
    assert!(
        said.contains("Type start to begin the wait of 5 min, or done if it has passed."),
        "{said}"
    );
    let said = person.answers("none");
    let first =
        "1. With only the gauge on the capped pump, where does the reading settle? [35 micron]";
    assert!(said.contains(&format!("Does it belong to one of these questions? {first}")), "{said}");
    assert!(said.contains("[35 micron] 3. None of these"), "{said}");
    person.answers("start");
    person.answers("35 micron");
    let said = person.answers("none");
    assert!(said.contains(first), "beside the wait: {said}");
    assert!(said.contains("[35 micron] 3. None of these"), "beside the wait: {said}");
    person.answers("stop");
    person.ends(3);
}

/// Work that was done before it was asked for is told as done, with how long it was.
#[test]
fn a_wait_that_is_over_is_told_with_its_minutes() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose pump_alone");
    let before = ["done", "yes", "20 micron", "5 %", "5 micron", "500 micron", "clear", "1 h"];
    for line in ["no", "no", "no", "aired", "r410a"].into_iter().chain(before) {
        person.answers(line);
    }
    let said = person.answers("did that already");
    assert!(said.contains("Type start to begin the wait of 5 min"), "{said}");
    let said = person.answers("half");
    assert!(said.ends_with("start to begin the wait now. Or: not sure, back, stop."), "{said}");
    let said = person.answers("back");
    assert!(said.contains("Type the minutes as a number, or start"), "{said}");
    let said = person.answers("waited 2 min");
    assert!(said.contains("Type start to begin the wait of 5 min"), "the step again: {said}");
    let said = person.answers("back");
    assert!(said.contains("2 min of 5 min have passed; the rest is waited for here."), "{said}");
    assert!(said.contains("Wait 3 min, then press Enter"), "{said}");
    person.answers("1 h");
    let said = person.answers("waited already");
    assert!(said.contains("Type start to begin the wait of 5 min"), "taken back: {said}");
    let said = person.answers("12");
    assert!(
        said.contains("How many minutes did it stand so? Enter alone: 5 min at least."),
        "{said}"
    );
    let said = person.answers("35 micron");
    assert!(said.contains("Taken as 12 min.") && !said.contains("Wait "), "{said}");
    person.answers("stop");
    person.ends(3);
    let kept = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    assert!(kept.contains("The wait of 5 min was told as over, after 12 min."), "{kept}");
}

#[test]
fn what_did_not_rise_is_offered_to_the_rate_that_comes_next() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose nitrogen_sweep");
    for line in ["yes", "A. B.", "no", "no", "aired", "yes", "r410a", "A. B.", "A. B.", "yes"] {
        person.answers(line);
    }
    person.answers("40 micron in 10 min");
    person.answers("done");
    let asked = "1. Pumped down to the same pressure and shut off for as long: how fast does it rise \
                 after the sweep, in its last ten minutes?";
    for begun in [false, true] {
        for told in ["no rise at all", "0"] {
            person.answers(told);
            let said = person.answers("none");
            assert!(said.contains(asked), "{told}, begun {begun}: {said}");
        }
        person.answers(if begun { "stop" } else { "start" });
    }
    person.ends(3);
}

#[test]
fn both_halves_of_before_and_after_are_taken_in_turn() {
    let desk = Desk::new();
    let mut person = at_the_target(&desk);
    person.answers("before 40 micron in 10 min, after no rise");
    let said = person.answers("1");
    assert!(said.contains("You told this too: \"before 40 micron in 10 min\"."), "{said}");
    assert!(!said.contains("1. Pumped down to the same pressure"), "{said}");
    let mut said = person.answers("none");
    if !said.contains("after no rise") {
        said = person.answers("none");
    }
    assert!(said.contains("You told this too: \"after no rise\"."), "{said}");
    let after = "how fast does it rise after the sweep, in its last ten minutes? [0 micron/min]";
    assert!(
        said.contains(&format!(
            "1. Pumped down to the same pressure and shut off for as long: {after}"
        )),
        "{said}"
    );
    person.control('c');
}

/// Two values of one unit go to their questions in the order of their days.
#[test]
fn two_values_of_one_unit_go_by_their_days() {
    let desk = Desk::new();
    for told in [
        "yesterday 350 micron, today 900 micron, 14 h",
        "left at 350 micron, found at 900 micron, 14 h",
    ] {
        let mut person = desk.sit("--plain diagnose come_back");
        for line in ["yes", "aired", "done", "yes", "no", "no"] {
            person.answers(line);
        }
        person.answers(told);
        let said = person.answers("1");
        let noted =
            "1. What vacuum was noted, on the notice or in the record, when it was left? [350";
        assert!(said.contains(noted), "{said}");
        let said = person.answers("1");
        assert!(said.contains("900 micron\". Does it belong to"), "{said}");
        let now =
            "1. What does the gauge read on coming back, before anything is touched? [900 micron]";
        assert!(said.contains(now), "{said}");
        let said = person.answers("1");
        assert!(said.contains("1. How long has it stood since it was left? [14 h]"), "{said}");
        person.answers("stop");
        person.ends(3);
    }
}

/// Work that is told in passing counts as done once that is asked back; a plan, a doubt and another day
/// never do.
#[test]
fn work_that_is_told_in_passing_counts_as_done() {
    let desk = Desk::new();
    let mut person = at_the_target(&desk);
    person.answers("he changed the oil");
    let said = person.answers("no");
    assert!(said.contains("Count this as done now: the oil was changed? In full: Shut"), "{said}");
    let said = person.answers("none");
    assert!(
        said.contains("1. How many hours has this oil run since it was changed? [0 h]"),
        "{said}"
    );
    let others = [
        "should I change the oil",
        "will have changed the oil",
        "didn't change the oil",
        "oil not changed",
        "changed the oil last month",
        "maybe he changed the oil",
        "was the oil changed",
    ];
    for told in others {
        person.answers(told);
        let said = person.answers("no");
        assert!(!said.contains("Count this as done now"), "{told}: {said}");
    }
    person.answers("I swapped the hose");
    let said = person.answers("yes");
    assert!(said.contains("Count this as done now: a part of the rig was changed?"), "{said}");
    let said = person.answers("A. B.");
    assert!(said.contains("Caution, read first: Shut the valve at the system"), "{said}");
    let said = person.answers("stop");
    assert!(said.contains("Counted as done: a part of the rig was changed."), "{said}");
    person.ends(3);
    let case = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    assert_eq!(case.matches("\"what\":\"acted\"").count(), 1, "{case}");
    assert!(case.contains("\"action\":\"replace_part\""), "{case}");
}

/// What a deed told out of turn mends is mended, and no step of the way asks for it to be done.
#[test]
fn what_was_mended_by_work_told_in_passing_is_told_as_mended() {
    let desk = Desk::with_rules(&BENCH.replace(
        "    do: Drain the oil and fill in fresh oil.\n",
        "    do: Drain the oil and fill in fresh oil.\n    once_done: the oil was changed\n    \
         told_as: [changed oil]\n    outdates: [floor, oil]\n",
    ));
    let mut person = desk.sit("--plain --only-rules rules diagnose bench");
    for line in ["A. B.", "done", "500", "done", "", "900", "cloudy"] {
        person.answers(line);
    }
    let said = person.answers("he changed the oil");
    assert!(said.contains("Drain the oil and fill in fresh oil."), "{said}");
    let said = person.answers("yes");
    assert!(said.contains("Count this as done now: the oil was changed?"), "{said}");
    for line in ["done", "", "30", "1"] {
        person.answers(line);
    }
    let said = person.ends(0);
    assert!(said.contains("Wet oil"), "{said}");
    let listed = desk.program(&["--only-rules", "rules", "cases"]).output().unwrap();
    let listed = String::from_utf8(listed.stdout).unwrap();
    assert!(listed.contains("Mended: Wet oil; now nothing wrong"), "{listed}");
}

/// A part's colour is its name: beside a second part's reading it is told whose the first one was.
#[test]
fn parts_that_are_told_by_their_colour_keep_their_names() {
    let desk = Desk::new();
    let mut person = at_the_target(&desk);
    person.answers("yellow hose 1800 micron");
    let said = person.answers("yes");
    assert!(said.contains("where does the reading settle? yellow hose: [1800 micron]"), "{said}");
    person.answers("the red hose is 900");
    let said = person.answers("1");
    assert!(said.contains("where does the reading settle? red hose: [900]"), "{said}");
    let said = person.answers("2");
    let asked = "The yellow hose was read at 1800 micron before. Is 900 a correction of the yellow \
                 hose's 1800 micron, or the red hose's?";
    assert!(said.contains(asked), "{said}");
    person.answers("pump alone 40 micron");
    person.answers("1");
    person.answers("stop");
    let said = person.ends(3);
    let told =
        "the yellow hose at 1800 micron and the red hose at 900 micron. \"One part at a time";
    assert!(said.contains(told), "{said}");
}

/// A search of which no alone says too little.
const SEARCH: &str = r"
format: 1
name: A search
version: 1
questions:
  shows:
    ask: What shows?
    choices:
      nothing: Nothing shows anywhere
      found: Something shows
      not_now: It can't be searched now
trees:
  start:
    title: Search
    start: ask
    steps:
      ask: {ask: shows, next: done}
      done: {end: Searched.}
";

/// No is taken for an answer that says more than no only once that is asked back.
#[test]
fn a_bare_no_is_asked_back_where_it_is_no_answer_of_its_own() {
    let desk = Desk::with_rules(SEARCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose start");
    person.answers("no");
    let said = person.answers("1");
    assert!(said.contains("\"no\" is taken as Nothing shows anywhere: What shows?"), "{said}");
    let said = person.answers("nothing");
    assert!(said.contains("What shows? 1. Nothing shows anywhere"), "asked again: {said}");
    let said = person.answers("stop");
    assert!(said.contains("Searched."), "{said}");
    person.ends(3);
}
