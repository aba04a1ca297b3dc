//! What can be done instead of answering.

use super::desk::{Desk, Sitting};
use super::handbook::BENCH;

/// A person who has answered up to the reading of the pump.
fn at_the_reading(desk: &Desk) -> Sitting {
    let mut person = desk.sit("--plain --only-rules rules diagnose bench");
    for line in ["A. B.", "done", "500", "start", ""] {
        person.answers(line);
    }
    person
}

#[test]
fn why_ranking_and_note_come_back_to_the_question() {
    let desk = Desk::with_rules(BENCH);
    let mut person = at_the_reading(&desk);
    person.answers("900");
    person.answers("why");
    let said = person.answers("ranking");
    assert!(said.starts_with("Wet oil turns cloudy. How does the oil look?"), "{said}");
    let said = person.answers("note");
    assert!(said.starts_with("So far: Wet oil: likely"), "{said}");
    assert!(person.answers("back").contains("What do you want to note?"));
    assert!(person.answers("note").contains("How does the oil look?"));
    person.answers("smells of solvent");
    let said = person.answers("stop");
    assert!(said.contains("Noted. How does the oil look?"), "{said}");
    person.ends(3);
    let case = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    assert!(case.contains("smells of solvent"), "{case}");
}

#[test]
fn another_question_is_answered_out_of_turn_and_not_asked_again() {
    let desk = Desk::with_rules(BENCH);
    let mut person = at_the_reading(&desk);
    person.answers("other");
    let said = person.answers("how");
    assert!(said.contains("Which vacuum must be reached? [500 micron]"), "{said}");
    person.answers("cloudy");
    let said = person.answers("900");
    assert!(said.contains("The oil has been looked at. So far:"), "{said}");
    let said = person.answers("stop");
    assert!(said.contains("Known already: How does the oil look? [Cloudy or milky]"), "{said}");
    assert!(said.contains("Drain the oil"), "{said}");
    person.ends(3);
}

#[test]
fn an_earlier_answer_is_corrected_and_what_moved_is_told() {
    let desk = Desk::with_rules(BENCH);
    let mut person = at_the_reading(&desk);
    person.answers("250");
    person.answers("other");
    person.answers("which vacuum");
    person.answers("900");
    let said = person.answers("1");
    assert!(said.contains("This was answered before: 500 micron."), "{said}");
    assert!(said.contains("1. A correction: the earlier answer was wrong"), "{said}");
    let said = person.answers("stop");
    let revised = "Corrected: Which vacuum must be reached? [900 micron, not 500 micron]";
    assert!(said.contains(revised), "{said}");
    assert!(said.contains("Before: The pump stops at 250 micron, above"), "{said}");
    assert!(said.contains("Now: The pump reaches 250 micron, below 300"), "{said}");
    assert!(said.contains("Wet oil was likely"), "{said}");
    assert!(said.contains("What next? 1. Finish"), "the path follows: {said}");
    person.ends(3);
}

#[test]
fn a_reading_taken_back_is_asked_again_and_its_conclusion_goes() {
    let desk = Desk::with_rules(BENCH);
    let mut person = at_the_reading(&desk);
    person.answers("900");
    person.answers("take back");
    let said = person.answers("where");
    assert!(said.contains("1. Where does the capped pump stop? [900 micron] 2. Which"), "{said}");
    let said = person.answers("stop");
    let taken = "Taken back: Where does the capped pump stop? [900 micron] No longer known: The";
    assert!(said.contains(taken), "{said}");
    assert!(said.contains("So far: no answer speaks for or against a cause yet."), "{said}");
    assert!(said.contains("Where does the capped pump stop? (about 5 min) Type"), "{said}");
    person.ends(3);
}

#[test]
fn back_at_the_first_question_stays_there() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose charge");
    person.answers("back");
    let said = person.answers("take back");
    assert!(said.contains("There is nothing to go back to. Does any part stand"), "{said}");
    let said = person.answers("no");
    assert!(said.contains("Nothing is answered yet. Does any part stand"), "{said}");
    assert!(person.answers("back").contains("Nothing forbids going on."));
    assert!(person.answers("stop").contains("Does any part stand"));
    person.ends(3);
}

/// What was told out of turn was told last: it goes first, and not the answer before it.
#[test]
fn back_takes_back_what_was_given_last_and_says_which() {
    let desk = Desk::with_rules(BENCH);
    let mut person = at_the_reading(&desk);
    for line in ["other", "how does the oil", "cloudy"] {
        person.answers(line);
    }
    person.answers("back");
    let said = person.answers("back");
    assert!(said.contains("Taken back: How does the oil look? [Cloudy or milky]"), "{said}");
    assert!(said.contains("Where does the capped pump stop?"), "the same is asked: {said}");
    let said = person.answers("stop");
    assert!(!said.contains("Taken back: How does the oil"), "{said}");
    person.ends(3);
    let mut person = at_the_reading(&desk);
    for line in ["other", "which vacuum", "900", "1"] {
        person.answers(line);
    }
    person.answers("back");
    let said = person.answers("stop");
    assert!(said.contains("Taken back: Which vacuum must be reached? [900 micron]"), "{said}");
    person.ends(3);
}

#[test]
fn an_aside_does_not_begin_a_wait_anew() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench");
    for line in ["A. B.", "done", "500", "start"] {
        person.answers(line);
    }
    assert!(person.answers("note").contains("Wait 5 min, then press Enter"));
    person.answers("warm day");
    let said = person.answers("");
    assert!(said.contains("Noted. Wait "), "{said}");
    assert!(!said.contains("Run the pump"), "{said}");
    assert!(person.answers("stop").contains("Where does the capped pump stop?"));
    person.ends(3);
}

#[test]
fn what_is_typed_beside_a_wait_is_never_lost() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench");
    for line in ["A. B.", "done", "500", "start"] {
        person.answers(line);
    }
    person.answers("s");
    let said = person.answers("480 micron");
    assert!(said.contains("\"s\" is no word here; the wait goes on. "), "{said}");
    let said = person.answers("none");
    let next = "Does it belong to this question? 1. Where does the capped pump stop? [480 micron]";
    assert!(said.contains(next), "{said}");
    let said = person.answers("the oil looks milky");
    assert!(said.contains("\"480 micron\" is kept as a note, and the wait goes on."), "{said}");
    assert!(said.contains("Wait "), "{said}");
    let said = person.answers("1");
    let offered = "Does it belong to this question? 1. How does the oil look?";
    assert!(said.contains(offered), "{said}");
    let said = person.answers("cloudy");
    assert!(said.contains("1. Clear as water 2. Cloudy or milky"), "{said}");
    let said = person.answers("");
    assert!(said.contains("The oil has been looked at."), "{said}");
    assert!(said.contains("Wait "), "the wait goes on: {said}");
    let said = person.answers("stop");
    assert!(said.contains("Where does the capped pump stop?"), "{said}");
    person.ends(3);
    let case = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    assert!(case.contains("{\"what\":\"noted\",\"text\":\"480 micron\"}"), "{case}");
}

#[test]
fn a_line_is_typed_beside_a_countdown() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--only-rules rules diagnose bench");
    person.picks("A. B.");
    for keys in ["", "500", ""] {
        person.picks(keys);
    }
    person.sees("Wait 5 min.");
    person.presses("480 micron");
    person.sees("left 480 micron");
    person.presses("\r");
    person.sees("Where does the capped pump stop? [480 micron]");
    person.picks("2");
    person.sees("\"480 micron\" is kept as a note, and the wait goes on.");
    person.sees(" left");
    person.presses("\r");
    person.sees("Where does the capped pump stop?");
    person.control('c');
}

#[test]
fn a_repair_passed_over_is_not_taken_for_done() {
    let desk = Desk::with_rules(BENCH);
    let mut person = at_the_reading(&desk);
    person.answers("900");
    person.answers("cloudy");
    person.answers("skip");
    let said = person.answers("finish");
    assert!(said.contains("Not done yet:") && said.contains("What next?"), "{said}");
    let verdict = person.ends(0);
    assert!(!verdict.contains("Mended"), "{verdict}");
    let case = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    assert!(case.contains(r#""what":"skipped","tree":"bench","step":"change""#), "{case}");
    assert!(!case.contains(r#""what":"acted""#), "{case}");
}

#[test]
fn the_end_of_input_ends_the_case_unsettled() {
    let desk = Desk::with_rules(BENCH);
    let mut person = at_the_reading(&desk);
    person.answers("900");
    person.wants();
    person.control('d');
    let verdict = person.ends(3);
    assert!(verdict.contains("Verdict Not settled: Wet oil is likely"), "{verdict}");
    assert!(
        verdict.contains("Carry on with: dryhold --plain --only-rules rules resume"),
        "{verdict}"
    );
}

#[test]
fn an_earlier_reading_is_taken_back_and_given_anew_in_its_place() {
    let desk = Desk::with_rules(BENCH);
    let mut person = at_the_reading(&desk);
    for line in ["4000", "cloudy", "done", "done", "", "280", "take back", "where"] {
        person.answers(line);
    }
    let said = person.answers("2");
    assert!(
        said.contains("1. 280 micron (answer 2 of 2) 2. 4000 micron (answer 1 of 2)"),
        "{said}"
    );
    let said = person.answers("900");
    assert!(said.contains("Taken back: Where does the capped pump stop? [4000 micron]"), "{said}");
    assert!(said.contains("This takes the place of the answer that was taken back"), "{said}");
    let said = person.answers("stop");
    assert!(said.contains("Drain the oil and fill in fresh oil."), "the path follows: {said}");
    person.ends(3);
    let case = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    assert!(case.lines().last().unwrap().contains("corrected"), "{case}");
}

#[test]
fn a_step_that_comes_again_says_for_which_time() {
    let desk = Desk::with_rules(BENCH);
    let mut person = at_the_reading(&desk);
    for line in ["900", "cloudy", "done", "done"] {
        person.answers(line);
    }
    person.answers("");
    let said = person.answers("280");
    assert!(said.contains("This is asked for the second time; it may come once more."), "{said}");
    person.answers("stop");
    person.ends(3);
}

/// The bench with a gauge whose face may show one of two units.
fn with_a_face() -> String {
    let face = "questions:
  shows:
    ask: Which unit does the face show?
    choices: {mercury: Micron, pascal: Pa}
    units: {mercury: micron, pascal: Pa}
";
    BENCH.replacen("    name: Gauge\n", "    name: Gauge\n    face: shows\n", 1).replacen(
        "questions:\n",
        face,
        1,
    )
}

#[test]
fn a_face_in_pascal_is_named_and_a_changed_one_lists_what_was_taken() {
    let desk = Desk::with_rules(&with_a_face());
    let mut person = at_the_reading(&desk);
    person.answers("other");
    person.answers("which unit");
    person.answers("pa");
    let said = person.answers("120");
    assert!(said.contains("Type a pressure; a bare number is read in Pa"), "{said}");
    let said = person.answers("other");
    assert!(said.contains("Read as 120 Pa (900.1 micron)."), "{said}");
    person.answers("which unit");
    person.answers("micron");
    person.answers("1");
    let said = person.answers("stop");
    let told =
        "- Where does the capped pump stop? [120 Pa (900.1 micron)], taken in Pa and not in micron";
    assert!(said.contains(told), "{said}");
    person.ends(3);
}

#[test]
fn words_that_belong_to_another_question_offer_it() {
    let desk = Desk::with_rules(BENCH);
    let mut person = at_the_reading(&desk);
    person.answers("a part stands above it");
    let said = person.answers("1");
    assert!(said.contains("\"a part stands above it\" is not one of the answers here."), "{said}");
    assert!(said.contains("1. Does any part stand above 0 bar gauge? 2. None of these"), "{said}");
    let said = person.answers("no");
    assert!(said.contains("Does any part stand above 0 bar gauge? 1. Yes"), "{said}");
    assert!(person.answers("900").contains("Where does the capped pump stop?"));
    let said = person.answers("nothing of the kind");
    assert!(said.contains("How does the oil look?"), "{said}");
    let said = person.answers("stop");
    assert!(
        said.contains("For another question, or a danger that has come up, type other."),
        "{said}"
    );
    person.ends(3);
}

#[test]
fn what_is_told_of_the_oil_where_a_number_is_asked_offers_its_question() {
    let desk = Desk::with_rules(BENCH);
    let mut person = at_the_reading(&desk);
    person.answers("the oil is milky");
    let said = person.answers("1");
    assert!(said.contains("Does it belong to this question? 1. How does the oil look?"), "{said}");
    let said = person.answers("cloudy");
    assert!(said.contains("Cloudy or milky"), "{said}");
}

#[test]
fn what_a_caller_tells_at_a_danger_is_asked_for_at_once_or_kept() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose safety --for phone");
    person.answers("done");
    let said = person.answers("milky oil in the pump");
    assert!(said.contains("type other"), "one word that is no danger's offers nothing: {said}");
    let said = person.answers("none");
    let offered = "Does it belong to this question? 1. What does the oil look like in the sight \
                   glass? [Cloudy or milky] 2. None of these";
    assert!(said.contains(offered), "the rare word decides: {said}");
    let said = person.answers("the oil is milky");
    assert!(said.contains("\"milky oil in the pump\" is kept as a note."), "{said}");
    person.answers("yes");
    let said = person.answers("cloudy");
    assert!(said.contains("Cloudy or milky"), "{said}");
    let said = person.answers("the pump smells of burning");
    assert!(said.contains("Say: Is a unit connected"), "then the danger again: {said}");
    let said = person.answers("stop");
    assert!(said.contains("may tell of a danger, so that is asked first."), "{said}");
    assert!(said.contains("Enter alone takes Smoke, sparks, burning"), "{said}");
    person.ends(3);
    let case = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    assert!(case.contains("{\"what\":\"noted\",\"text\":\"milky oil in the pump\"}"), "{case}");
    assert!(case.contains("\"question\":\"oil_look\""), "{case}");
}

#[test]
fn an_answer_to_the_question_before_is_taken_where_another_is_offered() {
    let desk = Desk::with_rules(BENCH);
    let mut person = at_the_reading(&desk);
    person.answers("a part stands above it");
    person.answers("purple");
    let said = person.answers("4000");
    let unheard = "\"purple\" answers neither this nor what was asked before.";
    assert!(said.contains(unheard) && said.contains("2. None of these"), "{said}");
    let said = person.answers("a part stands above it");
    assert!(said.contains("Taken for the question before: Read as 4000 micron."), "{said}");
    assert!(said.contains("How does the oil look?"), "{said}");
    let said = person.answers("cloudy");
    assert!(said.contains("1. Does any part stand above 0 bar gauge? 2. None of these"), "{said}");
    let said = person.answers("a part stands above it");
    assert!(said.contains("Taken for the question before: Cloudy or milky."), "{said}");
    assert!(person.answers("done").contains("Does it belong to this question?"));
    let said = person.answers("stop");
    assert!(said.contains("Taken for the step before: it is done."), "{said}");
    person.ends(3);
    let case = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    for kept in ["\"4000 micron\"", "\"cloudy\""] {
        assert!(case.contains(kept), "{case}");
    }
    assert!(!case.contains("\"charged\""), "nothing was said of the danger: {case}");
}

/// A nod to a list is for one of the list: taken for the question before, it would say of a danger
/// what nobody has said.
#[test]
fn yes_to_several_questions_is_never_taken_for_the_one_before() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose safety");
    for line in ["yes", "A. B.", "the oil was changed", "no"] {
        person.answers(line);
    }
    let said = person.answers("yes");
    assert!(said.contains("Does it belong to one of these questions? 1. "), "{said}");
    for nod in ["Yep.", "ok", "no"] {
        let said = person.answers(nod);
        assert!(said.contains("Yes to which of these? Type its number, or no. 1. "), "{said}");
    }
    let said = person.answers("stop");
    assert!(said.contains("\"the oil was changed\" is kept as a note."), "{said}");
    person.ends(3);
    let case = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    assert_eq!(case.matches("\"what\":\"answered\"").count(), 1, "{case}");
}

#[test]
fn an_odd_answer_to_the_question_before_is_asked_for_again() {
    let desk = Desk::with_rules(BENCH);
    let mut person = at_the_reading(&desk);
    person.answers("a part stands above it");
    person.answers("0.5");
    let said = person.answers("500");
    assert!(said.contains("lower than a service gauge shows"), "{said}");
    assert!(said.contains("Where does the capped pump stop?"), "{said}");
    person.answers("stop");
    person.ends(3);
}

#[test]
fn a_slip_in_the_words_of_another_question_is_put_right() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose");
    person.answers("other");
    person.answers("compresed air");
    let said = person.answers("compressed air");
    assert!(said.contains("No question holds these words. Did you mean compressed air?"), "{said}");
    assert!(person.answers("no").contains("Is anyone using or offering oxygen"));
    person.answers("stop");
}

#[test]
fn leave_says_which_tree_tells_how() {
    let text = BENCH.replacen("version: 1\n", "version: 1\nleave_by: charge\n", 1);
    let desk = Desk::with_rules(&text);
    let mut person = at_the_reading(&desk);
    person.answers("leave");
    let said = person.answers("stop");
    assert!(said.contains("To leave the rig safely: \""), "{said}");
    assert!(said.contains("Type stop: this case is kept"), "{said}");
    person.ends(3);
}

#[test]
fn what_is_not_done_is_not_ticked_off_and_a_wait_cut_short_is_noted() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench");
    person.answers("A. B.");
    person.answers("not sure");
    let said = person.answers("done");
    assert!(said.contains("Nothing is ticked off. Type done when it is done."), "{said}");
    assert!(said.contains("If it can't be done: skip leaves it undone"), "{said}");
    for line in ["500", "start", ""] {
        person.answers(line);
    }
    person.answers("stop");
    person.ends(3);
    let case = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    assert!(case.contains("The wait of 5 min was cut short after "), "{case}");
}

#[test]
fn what_stands_on_the_screen_is_found_before_what_does_not() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose --for phone");
    person.answers("other");
    person.answers("knob");
    let said = person.answers("stop");
    assert!(said.contains("Say: Is the ballast knob shut or open?"), "only said: {said}");
    person.ends(3);
    let mut person = desk.sit("--plain diagnose");
    person.answers("other");
    person.answers("knob");
    assert!(person.answers("stop").contains("Is the gas ballast shut?"), "said to others: found");
    person.ends(3);
    let mut person = desk.sit("--plain diagnose --for phone");
    person.answers("other");
    person.answers("sight glass");
    let said = person.answers("back");
    let shown =
        "Which of them? 1. Was all as it should be, or was the pressure high, or bubbles in";
    assert!(said.contains(shown), "as it is said: {said}");
    assert!(said.contains("2. Is the oil clear, low, dark, foaming or milky?"), "{said}");
    person.answers("stop");
    person.ends(3);
}

#[test]
fn stop_stops_at_a_question_that_was_chosen_too() {
    let desk = Desk::with_rules(BENCH);
    for before in [&["other"][..], &["other", "How does the oil look?"], &["note"]] {
        let mut person = at_the_reading(&desk);
        for line in before {
            person.answers(line);
        }
        person.answers("stop");
        person.ends(3);
    }
    let mut person = desk.sit("--only-rules rules diagnose bench");
    person.picks("A. B.");
    person.picks("other");
    person.picks("How does the oil look?");
    person.sees("Esc for more");
    person.presses("\u{1b}");
    person.sees("stop: stop here; a case keeps everything, an exercise begins anew");
    person.presses("ranking\r");
    person
        .sees("ranking is not offered here. What is: not sure, back, why, other, take back, stop.");
    person.presses("stop\r");
    person.ends(3);
}

#[test]
fn the_class_that_a_name_gives_is_not_asked_and_back_asks_for_it() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose safety");
    for line in ["yes", "A. B.", "no", "no", "aired", "yes", "r410a"] {
        person.answers(line);
    }
    let said = person.answers("back");
    let told = "Not asked, since R-410A tells it: Which safety class does the refrigerant in the unit \
                or rig have? [A1, not flammable, lower toxicity]";
    assert!(said.contains(told) && said.contains("none of it forbids going on"), "{said}");
    let said = person.answers("back");
    assert!(
        said.contains("Which safety class does the refrigerant in the unit or rig have? (about")
    );
    person.answers("r32");
    let said = person.answers("stop");
    assert!(said.contains("Which safety class"), "what burns is held against its class: {said}");
    person.ends(3);
}

/// Words at a safety question of the built-in handbook, and the question that is offered first.
#[test]
fn words_out_of_turn_are_offered_to_the_question_that_they_speak_of() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose safety --for phone");
    let mut typed = "the question before";
    for (words, offered) in [
        ("rated 20 micron", "1. What lowest pressure is the pump rated for? [20 micron] 2. "),
        ("pump rating", "1. What lowest pressure is the pump rated for? 2. "),
        ("pump alone 900 micron", "1. With only the gauge on the capped pump, where does the"),
        ("target 400 micron", "1. What vacuum must this job reach? [400 micron] 2. None of these"),
    ] {
        person.answers(words);
        let said = person.answers("none");
        assert!(said.contains(offered), "after \"{typed}\", \"{words}\": {said}");
        assert!(!said.contains("flammable"), "{words}: {said}");
        typed = words;
    }
    let said = person.answers("stop");
    assert!(said.contains("\"target 400 micron\" is kept as a note."), "{said}");
    person.ends(3);
}

/// A value that is told with its words is taken with them, as it was read.
#[test]
fn a_value_in_a_sentence_is_the_answer_to_its_question() {
    let desk = Desk::with_rules(BENCH);
    let mut person = at_the_reading(&desk);
    for line in ["900", "which vacuum 400 micron"] {
        person.answers(line);
    }
    person.answers("yes");
    let said = person.answers("2");
    assert!(said.contains("Which vacuum must be reached? Read as 400 micron."), "{said}");
    assert!(said.contains("This was answered before: 500 micron."), "{said}");
    person.answers("stop");
    person.ends(3);
}

#[test]
fn several_facts_in_one_line_are_offered_in_turn_and_the_rest_is_kept() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose safety --for phone");
    person.answers("pump alone 900 micron, oil milky, a blue van");
    let said = person.answers("1");
    assert!(said.contains("It tells several things: they come one after the other."), "{said}");
    assert!(said.contains("You told this too: \"pump alone 900 micron\"."), "{said}");
    let said = person.answers("yes");
    assert!(said.contains("Read as 900 micron."), "{said}");
    assert!(
        said.contains("\"oil milky\". Does it belong to this question? 1. What does the")
            && said.contains("[Cloudy or milky]"),
        "{said}"
    );
    let said = person.answers("cloudy");
    assert!(said.contains("Say: Is the oil clear, low, dark, foaming or milky?"), "{said}");
    let said = person.answers("yes");
    let kept = "No question was found for \"a blue van\". Keep it as a note? 1. Yes, keep it 2. No";
    assert!(said.contains(kept), "{said}");
    let said = person.answers("stop");
    assert!(said.contains("\"a blue van\" is kept as a note."), "{said}");
    person.ends(3);
    let case = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    for event in ["\"question\":\"blank_off\"", "\"question\":\"oil_look\"", "a blue van"] {
        assert!(case.contains(event), "{event}: {case}");
    }
}

/// A word that a safety question happens to have offers none, and what speaks of the question at hand
/// is never taken for an answer to it.
#[test]
fn a_weak_word_offers_no_safety_question_and_answers_none() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose safety --for phone");
    for words in ["air is good", "400 and 900"] {
        person.answers(words);
        let said = person.answers("no");
        let asked = format!("No question was found for \"{words}\". Keep it as a note?");
        assert!(said.contains(&asked), "{said}");
    }
    person.answers("slow");
    let said = person.answers("stop");
    assert!(
        said.contains("Does it belong to this question? 1. What are you seeing? [It comes down"),
        "{said}"
    );
    person.ends(3);
    let case = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    assert!(!case.contains("\"noted\""), "nobody wanted it kept: {case}");
    // A danger is offered by one word that stands for it, and asked for at once by all of them.
    let mut person = desk.sit("--plain diagnose safety --for phone");
    person.answers("the room smells");
    let said = person.answers("stop");
    let asked = "1. Does it smell of gas or refrigerant where you are";
    assert!(said.contains("Does it belong to") && said.contains(asked), "{said}");
    person.ends(3);
    let mut person = desk.sit("--plain diagnose safety --for phone");
    person.answers("it is under pressure, 40 bar");
    let said = person.answers("C. D.");
    assert!(said.contains("may tell of a danger, so that is asked first."), "{said}");
    let said = person.answers("stop");
    assert!(said.contains("Say: Is there still charge or pressure anywhere in it"), "{said}");
    person.ends(3);
    let mut person = desk.sit("--plain diagnose safety --for phone");
    for line in ["yes", "C. D.", "no", "no", "aired"] {
        person.answers(line);
    }
    person.answers("locked out");
    let said = person.answers("stop");
    let own = "\"locked out\" speaks of this very question, and may be meant either way. Which is it: \
               Yes or No?";
    assert!(said.contains(own), "{said}");
    person.ends(3);
    let case = std::fs::read_to_string(&desk.cases()[3]).unwrap();
    assert!(!case.contains("\"question\":\"locked_out\""), "{case}");
}

#[test]
fn who_wants_all_answers_taken_back_hears_that_they_go_one_by_one() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose come_back");
    for line in ["yes", "aired", "done", "yes", "take back"] {
        person.answers(line);
    }
    for all in ["all", "everything"] {
        let said = person.answers(all);
        assert!(said.contains("Which answer do you want to take back?"), "{said}");
        let said = person.answers("take back");
        let told = "Each answer is taken back by itself, the latest first: type back at a question. \
                    Next goes \"Is ";
        assert!(said.contains(told) && !said.contains("Taken back"), "{said}");
        let told = "[yes]\", then 2 answers before it. A new case begins with: stop, then dryhold \
                    diagnose.";
        assert!(said.contains(told), "{said}");
    }
    assert!(person.answers("back").contains("Which answer do you want to take back?"));
    person.answers("stop");
    person.ends(3);
}

/// Who puts a reading right at the question behind it is offered just that.
#[test]
fn a_figure_that_puts_the_reading_before_right_is_offered_as_a_correction() {
    let desk = Desk::new();
    for (told, taken) in [("no, fifteen thousand", true), ("sorry, it was 15000", false)] {
        let mut person = desk.sit("--plain diagnose wont_pull_below");
        for line in ["yes", "A. B.", "no", "no", "aired", "yes", "r410a", "no", "4", "1", "2"] {
            person.answers(line);
        }
        for line in ["10 %", "5 micron", "500", "fifteen hundred"] {
            person.answers(line);
        }
        person.answers(told);
        let said = person.answers(if taken { "1" } else { "2" });
        assert!(said.contains("may put the answer before right."), "{said}");
        assert!(
            said.contains("1. A correction: it is 15000 micron, and 1500 micron was"),
            "{said}"
        );
        let said = person.answers("stop");
        assert!(said.contains("For how many minutes"), "{said}");
        person.ends(3);
        let case = std::fs::read_to_string(desk.cases().last().unwrap()).unwrap();
        assert_eq!(case.contains(r#""what":"corrected""#), taken, "{case}");
    }
}

/// A rise told in one sentence goes to the readings of the hold, and is put right in one as well.
#[test]
fn a_rise_told_in_a_sentence_is_offered_as_readings_and_put_right_the_same_way() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose");
    person.answers("rises from 400 to 2000 micron in ten minutes");
    let said = person.answers("1");
    assert!(
        said.contains("1. What were the readings of the hold, each with its minute?"),
        "{said}"
    );
    let said = person.answers("no, it was 400 to 900 micron in ten minutes");
    assert!(said.contains("Read as 2 readings over 10 min, 400 micron to 2000 micron."), "{said}");
    let said = person.answers("1");
    assert!(said.contains("may put the answer before right."), "{said}");
    let said = person.answers("1");
    assert!(said.contains("[2 readings over 10 min, 400 micron to 900 micron, not 2"), "{said}");
    // Behind another answer it is still the readings that a rise in a sentence puts right.
    person.answers("no, it was 400 to 800 micron in ten minutes");
    let said = person.answers("2");
    assert!(said.contains("it is 2 readings over 10 min, 400 micron to 800 micron"), "{said}");
    person.answers("stop");
    person.ends(3);
}
