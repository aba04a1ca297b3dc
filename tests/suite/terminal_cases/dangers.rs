//! A danger that is told in a sentence, wherever the case stands.

use dryhold::built_in::built_in_handbook;

use super::desk::{Desk, Sitting};
use super::handbook::BENCH;

/// As people told of gas.
const SENTENCES: [&str; 4] =
    ["strong smell of gas", "smells of gas", "i smell gas", "gas alarm beeps"];

#[test]
fn a_smell_of_gas_stops_the_case_at_the_first_prompt_of_every_tree() {
    let desk = Desk::new();
    let trees = built_in_handbook().unwrap();
    let trees: Vec<String> = trees.trees().iter().map(|tree| tree.id.clone()).collect();
    for (place, tree) in trees.iter().enumerate() {
        let audience = if place % 2 == 0 { "" } else { "--for phone" };
        let mut person = desk.sit(&format!("--plain diagnose {tree} {audience}"));
        person.answers(SENTENCES[place % SENTENCES.len()]);
        let said = person.answers("yes");
        assert!(said.contains("may tell of a danger, so that is asked first."), "{tree}: {said}");
        let said = person.answers("1");
        assert!(said.contains("Stop. Go out into good air"), "{tree}: {said}");
        person.ends(4);
    }
}

/// The bench, where a part under pressure may be told of in words.
fn with_words() -> String {
    let asked = "    ask: Does any part stand above 0 bar gauge?\n    kind: yes/no\n";
    BENCH.replacen(asked, &format!("{asked}    in_words: {{gas hisses: yes}}\n"), 1)
}

#[test]
fn a_danger_is_asked_for_at_every_kind_of_prompt() {
    let desk = Desk::with_rules(&with_words());
    let told = "\"gas is hissing\" may tell of a danger, so that is asked first.";
    let asks = "Does any part stand above 0 bar gauge? 1. Yes 2. No";
    let mut person = desk.sit("--plain --only-rules rules diagnose bench");
    let mut tell = |before: &[&str], first: &str| {
        for line in before {
            person.answers(line);
        }
        person.answers("gas is hissing");
        let said = person.answers("no");
        assert!(said.contains(told) && said.contains(asks), "at {first}: {said}");
    };
    tell(&[], "a caution");
    tell(&["A. B."], "a step");
    tell(&["1", "done"], "a value");
    tell(&["1", "500"], "the start of a wait");
    tell(&["1", "start"], "a wait");
    tell(&["1", "", "900"], "a choice");
    tell(&["1", "note"], "a note");
}

#[test]
fn a_danger_is_found_where_a_word_of_a_question_is_wanted() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose");
    person.answers("other");
    person.answers("strong smell of gas");
    assert!(person.answers("no").contains("does a gas alarm or detector sound there"));
    person.answers("stop");
    person.ends(3);
}

#[test]
fn a_danger_is_no_name_of_a_part() {
    let desk = Desk::with_rules(&with_words());
    let mut person = desk.sit("--plain --only-rules rules diagnose hoses");
    person.answers("gas hisses from the blue one");
    let said = person.answers("yes");
    assert!(said.contains("Does any part stand above 0 bar gauge? 1. Yes"), "{said}");
    let said = person.answers("1");
    assert!(said.contains("Stop. Leave it shut."), "{said}");
    person.ends(4);
}

#[test]
fn a_danger_in_a_sentence_is_asked_for_before_the_rest_of_it() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose");
    person.answers("fogging, strong smell, R-290");
    let said = person.answers("");
    assert!(said.contains("may tell of a danger, so that is asked first."), "{said}");
    assert!(said.contains("Does it smell of gas or refrigerant"), "{said}");
    assert!(said.contains("Enter alone takes Yes, number 1."), "{said}");
    let said = person.answers("1");
    let taken = "Taken as told: Which refrigerant stands on the unit's nameplate, or, where no \
                 unit is there, was in the rig last? [R-290, propane]";
    assert!(said.contains(taken) && said.contains("\"fogging\" is kept as a note."), "{said}");
    assert!(said.contains("Stop. Go out into good air"), "{said}");
    person.ends(4);
}

#[test]
fn what_stands_beside_a_danger_is_offered_once_it_is_answered() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose");
    person.answers("it has CO2 and is under pressure");
    let said = person.answers("A. B.");
    assert!(said.contains("Caution, read first: Never open the pump or the gauge"), "{said}");
    let said = person.answers("no");
    assert!(said.contains("Is refrigerant still to be recovered"), "{said}");
    let said = person.answers("1");
    assert!(said.contains("You told this too: \"it has CO2\"."), "{said}");
    assert!(said.contains("was in the rig last? [R-744, carbon dioxide] 2. "), "{said}");
    assert!(said.contains("[A1, not flammable, lower toxicity]"), "{said}");
    let said = person.answers("");
    assert!(said.contains("Enter alone takes R-744, carbon dioxide, number 22"), "{said}");
    let said = person.answers("stop");
    assert!(said.contains("Chosen: R-744, carbon dioxide"), "{said}");
    person.ends(3);
}

/// A word alone may be meant of something else, so its question is offered, before all others.
#[test]
fn a_word_that_points_to_a_danger_offers_its_question_first() {
    let about = "Does it belong to";
    let cases = [
        ("smells", "1. Does it smell of gas or refrigerant"),
        ("gas", "1. Does it smell of gas or refrigerant"),
        ("there is hissing", "1. Does it smell of gas or refrigerant"),
        ("he is dizzy", "1. Does it smell of gas or refrigerant"),
        ("fire", "1. What is odd about the pump? [Smoke, sparks"),
        ("burn", "1. What is odd about the pump? [Smoke, sparks"),
        ("the motor sparks", "1. What is odd about the pump? [Smoke, sparks"),
        ("oxygen", "1. Is anyone using or offering oxygen"),
    ];
    let desk = Desk::new();
    for (told, first) in cases {
        let mut person = desk.sit("--plain diagnose path");
        person.answers(told);
        let said = person.answers("stop");
        let (_, offered) = said.split_once(about).unwrap_or_else(|| panic!("{told}: {said}"));
        let (_, offered) = offered.split_once("? ").unwrap();
        assert!(offered.starts_with(first), "{told}: {said}");
        person.ends(3);
    }
}

const CAUTION: &str = "If it is so after all: Go out into good air and take everybody with you.";
const ASKED: &str = "Is it so, or may it be? 1. It is so, or may be: ask it 2. It is not so: go on";

/// Whoever passes over a danger that was offered hears what to do if it is so after all.
#[test]
fn a_danger_that_is_put_aside_leaves_its_caution() {
    let desk = Desk::new();
    // The last answers what was asked before.
    let past = ["None of these", "2", "no", "none", "back", "nope"];
    for (place, away) in past.into_iter().enumerate() {
        let phone = if place % 2 == 1 { " --for phone" } else { "" };
        let mut person = desk.sit(&format!("--plain diagnose gauge_odd{phone}"));
        person.answers("a mate got dizzy");
        person.answers(away);
        let said = person.answers("");
        assert!(said.contains(CAUTION) && said.contains(ASKED), "{away}: {said}");
        let lead = "Caution, read this out: If it is so after all";
        assert_eq!(said.contains(lead), place % 2 == 1, "{away}: {said}");
        assert!(person.answers("2").contains("Nothing was typed."), "{away}");
        let said = person.answers("stop");
        assert!(said.contains("\"a mate got dizzy\" is kept as a note."), "{away}: {said}");
        person.ends(3);
        let case = std::fs::read_to_string(desk.cases().last().unwrap()).unwrap();
        assert!(case.contains(r#"\"a mate got dizzy\" was told and offered to"#), "{case}");
        assert!(case.contains("chosen: none of these."), "{case}");
    }
}

#[test]
fn a_danger_that_may_be_so_after_all_is_asked_for() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose path");
    person.answers("he hooked up oxygen to press it");
    person.answers("none");
    let said = person.answers("yes");
    assert!(said.contains("If it is so after all: No oxygen and no compressed air"), "{said}");
    let said = person.answers("no");
    assert!(said.contains("Is anyone using or offering oxygen"), "{said}");
    // Answered for these words, it is not said once more.
    person.answers("he hooked up oxygen to press it");
    person.answers("none");
    let said = person.answers("stop");
    assert!(!said.contains("If it is so after all"), "{said}");
    person.ends(3);
}

#[test]
fn who_stops_at_a_danger_that_was_offered_hears_its_caution_and_leaves_a_note() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose path");
    person.answers("i smell something");
    person.answers("stop");
    assert!(person.ends(3).contains(CAUTION));
    let case = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    assert!(case.contains(r#"\"i smell something\" was told and offered to"#), "{case}");
}

/// Going back from the question of a danger, or leaving at it, answers nothing of it.
#[test]
fn who_goes_back_from_the_question_of_a_danger_hears_its_caution_too() {
    let desk = Desk::new();
    for (told, chosen) in [("strong smell of gas", None), ("he is dizzy", Some("1"))] {
        for left in ["back", "stop"] {
            let mut person = desk.sit("--plain diagnose path");
            person.answers(told);
            if let Some(chosen) = chosen {
                person.answers(chosen);
            }
            person.answers(left);
            if left == "back" {
                let said = person.answers("no");
                assert!(said.contains(CAUTION) && said.contains(ASKED), "{told}: {said}");
                person.answers("stop");
                person.ends(3);
            } else {
                assert!(person.ends(3).contains(CAUTION), "{told}");
            }
            let case = std::fs::read_to_string(desk.cases().last().unwrap()).unwrap();
            let noted = format!(r#"\"{told}\" was told and offered to"#);
            assert!(case.contains(&noted), "{case}");
        }
    }
}

#[test]
fn a_danger_put_aside_on_a_screen_leaves_its_caution_too() {
    let desk = Desk::new();
    let mut person = desk.sit("diagnose gauge_odd").widened();
    person.picks("a mate got dizzy");
    person.picks("None of these");
    assert!(person.picks("It is not so").contains(CAUTION));
    person.picks("stop");
    person.ends(3);
}

/// What points to a danger is no name before somebody has said that it is none.
#[test]
fn a_word_of_a_danger_is_no_name() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose path");
    person.answers("yes");
    person.answers("J. Burns");
    let said = person.answers("none");
    assert!(said.contains("\"J. Burns\" may tell of a danger. If it is a name, type it"), "{said}");
    let said = person.answers("no");
    assert!(said.contains("If it is so after all: Shut the valve at the system"), "{said}");
    let said = person.answers("J. Burns");
    assert!(said.contains("Type your name or initials"), "{said}");
    let said = person.answers("stop");
    assert!(said.contains("Is refrigerant still to be recovered"), "{said}");
    person.ends(3);
}

/// A note holds what nobody asked for, and a danger is asked for before it is one.
#[test]
fn a_word_of_a_danger_in_a_note_is_asked_for_before_it_is_noted() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose");
    person.answers("note");
    person.answers("it smells odd by the unit");
    let said = person.answers("none");
    assert!(said.contains("may tell of a danger, so that is asked before it is noted."), "{said}");
    assert!(!said.contains("Noted."), "{said}");
    let said = person.answers("no");
    assert!(said.contains("If it is so after all: Go out into good air"), "{said}");
    let said = person.answers("stop");
    assert!(said.contains("\"it smells odd by the unit\" is kept as a note."), "{said}");
    person.ends(3);
}

#[test]
fn a_word_of_a_danger_in_the_name_of_a_part_is_asked_for_first() {
    let desk = Desk::with_rules(&with_words().replacen("gas hisses: yes", "hisses: yes", 1));
    let mut person = desk.sit("--plain --only-rules rules diagnose hoses");
    person.answers("the hose that hisses");
    let said = person.answers("1");
    assert!(said.contains("Does it belong to this question?"), "{said}");
    assert!(person.answers("1").contains("Does any part stand above 0 bar gauge? 1. Yes"));
    let said = person.answers("1");
    assert!(said.contains("Stop. Leave it shut."), "{said}");
    person.ends(4);
}

#[test]
fn a_danger_is_told_in_the_list_of_another_one_too() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose path");
    person.answers("he is dizzy");
    person.answers("strong smell of gas");
    let said = person.answers("yes");
    assert!(said.contains("may tell of a danger, so that is asked first."), "{said}");
    assert!(person.answers("").contains("Stop. Go out into good air"));
    person.ends(4);
}

#[test]
fn somebody_who_felt_ill_is_a_danger() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose path");
    person.answers("somebody felt ill");
    let said = person.answers("1");
    assert!(said.contains("or does anybody feel dizzy or ill?"), "{said}");
    assert!(person.answers("1").contains("Stop. Go out into good air"));
    person.ends(4);
}

/// A person who is asked which refrigerant it is.
fn at_the_refrigerant(desk: &Desk) -> Sitting {
    let mut person = desk.sit("--plain diagnose wont_pull_below");
    for line in ["yes", "A. B.", "no", "no", "aired", "yes"] {
        person.answers(line);
    }
    person
}

/// What nobody could read for certain is asked for, and Enter alone answers none of it.
#[test]
fn a_doubt_makes_no_answer_to_a_safety_question_ready() {
    let desk = Desk::new();
    let told = [
        "label half reads R-32",
        "maybe R-290",
        "can't read it, R-410A I think",
        "not sure, perhaps still charged",
    ];
    for told in told {
        let mut person = at_the_refrigerant(&desk);
        person.answers(told);
        let mut said = person.answers("1");
        // A danger that is told all the same stops at once, and there the safe way stands ready.
        let asked = person.answers("stop");
        said += asked.split(" Stop. ").next().unwrap();
        for ready in ["[A1", "[A2L", "[A3", "[R-", "[Yes]", "Enter alone takes"] {
            assert!(!said.contains(ready), "{told}: {said}");
        }
        person.control('c');
    }
}

#[test]
fn who_asks_has_not_answered() {
    let desk = Desk::new();
    let mut person = at_the_refrigerant(&desk);
    person.answers("R-32?");
    let said = person.answers("stop");
    assert!(!said.contains("Chosen: R-32"), "{said}");
    person.ends(3);
}

#[test]
fn a_charge_that_was_guessed_is_asked_for_by_its_mass() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose wont_pull_below");
    person.answers("the scale was broken, charged by guess");
    let said = person.answers("stop");
    assert!(said.contains("may tell of a danger, so that is asked first."), "{said}");
    assert!(said.contains("Has all of the charge gone in by mass"), "{said}");
    assert!(!said.contains("Is refrigerant still to be recovered"), "{said}");
    person.control('c');
}

/// *Charged* alone tells nothing of a charge that is still there.
#[test]
fn a_word_of_a_danger_makes_no_answer_ready() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose path");
    person.answers("we charged it at noon");
    let said = person.answers("none");
    assert!(said.contains("does any part of the system stand above 0 bar gauge? 2. "), "{said}");
    person.answers("it is still charged");
    let said = person.answers("A. B.");
    assert!(said.contains("may tell of a danger, so that is asked first."), "{said}");
    let said = person.answers("stop");
    assert!(said.contains("Enter alone takes Yes, number 1."), "{said}");
    person.ends(3);
}

/// The plainest true answer is understood, and asked back since it takes a danger away.
#[test]
fn words_that_take_a_danger_away_are_asked_back() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose come_back");
    for line in ["yes", "aired", "done", "yes"] {
        person.answers(line);
    }
    let said = person.answers("vacuum");
    assert!(!said.contains("Enter alone takes"), "{said}");
    let said = person.answers("no");
    let back = "\"vacuum\" is taken as No: Does the system stand under nitrogen pressure now? Is that \
                so? 1. No, ask it again 2. Yes, the answer is No";
    assert!(said.contains(back), "{said}");
    let said = person.answers("vacuum");
    assert!(said.contains("Does the system stand under nitrogen pressure now?"), "{said}");
    person.answers("yes");
    let said = person.answers("stop");
    assert!(said.contains("Nitrogen apart: is refrigerant still in any part of it"), "{said}");
    person.ends(3);
}

/// A pressure above the air's is no vacuum that was mistyped: the system may be charged.
#[test]
fn a_pressure_above_the_air_is_asked_for_as_a_danger_first() {
    let desk = Desk::new();
    for told in ["3 bar", "5 barg", "the gauge shows 40 psi"] {
        let mut person = desk.sit("--plain diagnose wont_pull_below");
        for line in ["yes", "A. B.", "no", "no", "aired", "yes", "r410a"] {
            person.answers(line);
        }
        person.answers(told);
        let mut said = person.answers("");
        let first = "is more than the air's pressure: the system may be charged, or under nitrogen, \
                     so that is asked first.";
        assert!(said.contains(first), "{told}: {said}");
        assert!(said.contains("does any part of the system stand above 0 bar gauge?"), "{said}");
        said += &person.answers("yes");
        assert!(!said.contains("Enter alone takes"), "{told}: {said}");
        let said = person.answers("");
        assert!(said.contains("Stop. Open nothing, and shut what is open."), "{told}: {said}");
        person.ends(4);
    }
}

/// Where a test with nitrogen asks for its pressure, at its other prompts too, and below the air's.
#[test]
fn a_pressure_of_a_test_with_nitrogen_or_below_the_air_is_no_danger() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose standing_pressure");
    for line in ["yes", "A. B.", "no", "no", "aired", "yes", "20 barg"] {
        person.answers(line);
    }
    let mut said = person.answers("none");
    said += &person.answers("0.3 bar");
    said += &person.answers("none");
    assert!(said.contains("20 barg"), "{said}");
    assert!(!said.contains("is more than the air's pressure"), "{said}");
    person.answers("stop");
    person.control('c');
}

/// What was told of a danger stays in the case, and its stop is heard once more.
#[test]
fn a_danger_that_was_taken_back_is_acknowledged_and_stays_in_report_and_message() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose gauge_odd");
    for line in ["strong smell of gas", "yes", "2"] {
        person.answers(line);
    }
    let said = person.answers("no");
    assert!(said.contains("How is it now? Does it smell of gas"), "{said}");
    let said = person.answers("ok");
    let once = "a danger was told first and is taken back now: Does it smell of gas";
    assert!(said.contains("Caution, read first") && said.contains(once), "{said}");
    assert!(said.contains("If the danger is there after all: Go out into good air"), "{said}");
    assert!(said.contains("Go on only once the place is aired and a detector made for"), "{said}");
    let said = person.answers("B. Good");
    assert!(said.contains("\"ok\" is no name."), "{said}");
    assert!(!person.answers("stop").contains("a danger was told first"));
    person.ends(3);
    let report = |format: &str| {
        let printed = desk.program(&["report", "1", "--format", format]).output().unwrap().stdout;
        let printed = String::from_utf8(printed).unwrap();
        printed.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    for format in ["text", "markdown", "html"] {
        let told = report(format);
        assert!(told.contains("A danger was told first and taken back: Does it smell"), "{told}");
        assert!(told.contains("Go on only once the place is aired"), "{told}");
        assert!(told.contains("Acknowledged by B. Good."), "{told}");
    }
    let json = report("json");
    assert!(json.contains(r#""now": "No""#) && json.contains(r#""told": "Yes""#), "{json}");
    let message = report("message");
    let told = "A danger was told first and taken back: Does it smell of gas";
    assert!(message.contains(told), "{message}");
    assert!(
        message.contains("[Yes] Go on only once the place is aired and a detector"),
        "{message}"
    );
}

/// Neither going away nor coming back gets past it, nor taking the answer back out of turn.
#[test]
fn a_danger_that_was_taken_back_is_acknowledged_in_a_later_sitting_too() {
    let desk = Desk::with_rules(&with_words());
    let mut person = desk.sit("--plain --only-rules rules diagnose hoses");
    for line in ["gas hisses from the blue one", "yes", "2", "no"] {
        person.answers(line);
    }
    let wanted = "taken back now: Does any part stand above 0 bar gauge? If the danger is there after \
                  all: Leave it shut. Go on only where there is none of that danger.";
    let said = person.answers("stop");
    assert!(said.contains(wanted), "{said}");
    person.ends(3);
    let mut person = desk.sit("--plain --only-rules rules resume");
    let said = person.answers("A. B.");
    assert!(said.contains(wanted), "{said}");
    assert!(person.answers("stop").contains("Which hose is next?"));
    person.ends(3);
}

/// A danger stops the work each time that it is told: nothing is asked of the answers before.
#[test]
fn a_danger_that_is_told_again_stops_at_once() {
    let desk = Desk::new();
    for way in ["other", "dizzy in here"] {
        let mut person = desk.sit("--plain diagnose gauge_odd");
        for line in ["strong smell of gas", "yes", "2", "no", "A. B."] {
            person.answers(line);
        }
        for time in ["second", "third"] {
            person.answers(way);
            person.answers(if way == "other" { "dizzy" } else { "1" });
            person.answers("1");
            let said = person.answers("2");
            assert!(said.contains("Stop. Go out into good air"), "the {time} time: {said}");
            assert!(!said.contains("come beside it"), "the {time} time: {said}");
            person.answers("no");
            person.answers("A. B.");
        }
        person.answers("stop");
        person.ends(3);
    }
}
