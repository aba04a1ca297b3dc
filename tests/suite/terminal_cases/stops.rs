//! Stop cautions and stop steps.

use super::desk::Desk;
use super::handbook::BENCH;

#[test]
fn a_stop_caution_wants_a_name_and_refusing_it_stops_the_work() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench");
    for nobody in ["yes", "", "not sure", "done"] {
        person.answers(nobody);
    }
    let said = person.answers("stop");
    assert!(said.contains("Type the name or the initials of the person"), "{said}");
    let said = person.ends(4);
    assert!(said.contains("Stopped for safety. Never open a charged circuit."), "{said}");
    assert!(said.contains("Ask a person licensed for it."), "{said}");
}

/// What tells of something is no name, and never stands in the record as one.
#[test]
fn a_sentence_acknowledges_nothing() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench --for phone");
    person.answers("not charged, air in it");
    let said = person.answers("nope");
    assert!(said.contains("\"not charged, air in it\" is no name. Type the name"), "{said}");
    assert!(said.contains("What is to be told of the job goes in with note."), "{said}");
    let said = person.answers("C. D.");
    assert!(said.contains("\"nope\" is no name. Type the name"), "{said}");
    person.answers("stop");
    person.ends(3);
    let case = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    assert!(case.contains("\"by\":\"C. D.\"") && !case.contains("air in it"), "{case}");
}

#[test]
fn a_caution_is_refused_on_a_screen_too() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--only-rules rules diagnose bench");
    person.picks("stop");
    assert!(person.ends(4).contains("Stopped for safety."));
}

#[test]
fn a_slip_at_a_stop_step_can_be_mended() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose charge");
    person.answers("yes");
    let said = person.answers("2");
    assert!(said.contains("Stop. Leave it shut. What stands above 0 bar gauge"), "{said}");
    assert!(said.contains("Ask a person licensed for it. The case goes on only by"), "{said}");
    assert!(said.contains("[yes] 1. Stop here"), "{said}");
    let said = person.answers("no");
    let again = "This was answered: yes. How is it now? Does any part stand above 0 bar gauge?";
    assert!(said.contains(again), "{said}");
    assert!(person.answers("A. B.").contains("a danger was told first and is taken back now"));
    person.answers("1");
    let verdict = person.ends(3);
    assert!(!verdict.contains("Stopped for safety"), "{verdict}");
}

#[test]
fn not_sure_of_a_hazard_stops_and_a_stopped_case_can_be_taken_up() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose charge");
    person.answers("not sure");
    person.answers("1");
    assert!(person.ends(4).contains("Stopped for safety. Leave it shut."));
    let mut person = desk.sit("--plain --only-rules rules resume");
    assert!(person.answers("back").contains("Stop. Leave it shut."));
    assert!(person.answers("no").contains("Does any part stand above 0 bar gauge?"));
    assert!(person.answers("stop").contains("Nothing forbids going on."));
    person.ends(3);
}

#[test]
fn a_stopped_case_says_whom_to_ask_when_it_is_taken_up_and_can_be_ended() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose charge");
    person.answers("yes");
    person.answers("1");
    person.ends(4);
    let mut person = desk.sit("--plain --only-rules rules resume");
    let said = person.answers("3");
    assert!(said.contains("Ask a person licensed for it."), "{said}");
    assert!(said.contains("3. End the case: it is handed over"), "{said}");
    let said = person.ends(4);
    assert!(said.contains("Stopped for safety. Leave it shut."), "{said}");
    assert!(said.contains("It is closed.") && !said.contains("Carry on with"), "{said}");
    let case = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    let closed =
        r#""what":"closed","fixed_by":"unknown","note":"Stopped for safety. To be asked: "#;
    assert!(case.contains(closed), "{case}");
}

#[test]
fn who_stops_in_the_middle_is_told_how_to_leave_the_work() {
    let text = BENCH.replacen("version: 1\n", "version: 1\nleave_by: charge\n", 1);
    assert_ne!(text, BENCH);
    let desk = Desk::with_rules(&text);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench");
    for line in ["A. B.", "done", "500", "stop"] {
        person.answers(line);
    }
    let said = person.ends(3);
    assert!(said.contains("Leaving the rig as well? \""), "{said}");
    assert!(
        said.contains("says how: dryhold --plain --only-rules rules diagnose charge"),
        "{said}"
    );
    // Who is in that very tree needs no word of it.
    let mut person = desk.sit("--plain --only-rules rules diagnose charge");
    person.answers("no");
    person.answers("stop");
    let said = person.ends(3);
    assert!(!said.contains("Leaving the rig as well?"), "{said}");
}

#[test]
fn the_message_of_a_stop_says_why() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose charge --for phone");
    person.answers("yes");
    person.answers("1");
    let said = person.ends(4);
    let message = said.split("To send to the caller:").nth(1).unwrap();
    assert!(message.contains("What stands above 0 bar gauge"), "{message}");
}

#[test]
fn a_stopped_case_that_is_taken_up_on_the_phone_shows_the_stop_and_nothing_to_ask_next() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose charge --for phone");
    person.answers("yes");
    person.answers("1");
    person.ends(4);
    let mut person = desk.sit("--plain --only-rules rules resume");
    let said = person.answers("1");
    assert!(said.contains("Stop. Leave it shut."), "{said}");
    assert!(!said.contains("Best next") && !said.contains("So far"), "{said}");
    person.ends(4);
}

#[test]
fn the_command_that_leaves_the_rig_stands_in_a_row_of_its_own() {
    let text = BENCH.replacen("version: 1\n", "version: 1\nleave_by: charge\n", 1);
    let desk = Desk::with_rules(&text);
    let mut person = desk.sit_raw("--plain --only-rules rules diagnose bench").sized(24, 40);
    for line in ["A. B.", "done", "500", "stop"] {
        person.answers(line);
    }
    person.matches(r"says\s+how:\r?\ndryhold --plain --only-rules rules diagnose charge\r?\n");
}

#[test]
fn the_message_of_work_left_in_the_middle_says_how_the_rig_is_left() {
    let text = BENCH.replacen("version: 1\n", "version: 1\nleave_by: charge\n", 1);
    let desk = Desk::with_rules(&text);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench --for phone");
    for line in ["A. B.", "done", "500", "stop"] {
        person.answers(line);
    }
    let said = person.ends(3);
    let message = said.split("To send to the caller:").nth(1).unwrap();
    assert!(message.contains("Before the rig is left, have it read out how: \""), "{message}");
}

#[test]
fn nothing_is_checked_before_a_plan_is_done_nor_beside_a_stop() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose before_the_job --for phone");
    for line in ["A. B.", "done", "r744"] {
        person.answers(line);
    }
    let said = person.answers("stop");
    assert!(said.contains("Will trained people with gear for carbon dioxide do it"), "{said}");
    let said = person.ends(3);
    let told = "Go on with \"Before the job\": nothing is opened or checked before it is done.";
    assert_eq!(said.matches(told).count(), 2, "in verdict and message: {said}");
    assert!(!said.contains("jump") && !said.contains("What to check next"), "{said}");
    let mut person = desk.sit("--plain resume");
    person.answers("no");
    let said = person.answers("1");
    assert!(said.contains("Leave this plan, and carbon dioxide, to those trained"), "{said}");
    let said = person.ends(4);
    assert!(said.contains("Stopped for safety. Leave this plan"), "{said}");
    assert!(!said.contains("jump") && !said.contains("to check"), "{said}");
    let told = desk.program(&["why", "changes_when_touched"]).output().unwrap();
    let told = String::from_utf8(told.stdout).unwrap();
    assert!(
        told.contains("`changes_when_touched`") && !told.contains("As the next check"),
        "{told}"
    );
}

/// What was found before a caution that nobody has acknowledged is still known.
#[test]
fn what_was_found_before_a_refused_caution_stays_in_the_list_and_the_message() {
    let draining = BENCH.replace(
        "parts: [pump oil]\n    cautions: [hot]",
        "parts: [pump oil]\n    cautions: [drain]",
    ) + "  drain:\n    severity: stop\n    text: Hot oil scalds.\n    refer: the pump's maker\n";
    for leaves in ["stop", "\u{4}"] {
        let desk = Desk::with_rules(&draining);
        let mut person = desk.sit("--plain --only-rules rules diagnose bench --for phone");
        for line in ["A. B.", "done", "500", "done", "", "900"] {
            person.answers(line);
        }
        person.answers("cloudy");
        let said = person.wants();
        assert!(said.contains("Hot oil scalds."), "{said}");
        person.presses(leaves);
        person.presses(if leaves == "stop" { "\r" } else { "" });
        let said = person.ends(4);
        assert!(said.contains("Stopped for safety. Hot oil scalds."), "{said}");
        let message = said.split("To send to the caller:").nth(1).unwrap();
        let found =
            "Ask the pump's maker. What was found before: Settled: Wet oil is almost certain";
        assert!(message.contains(found), "{message}");
        let listed = desk.program(&["--only-rules", "rules", "cases"]).output().unwrap();
        let listed = String::from_utf8(listed.stdout).unwrap();
        let so_far = "Waits, stopped for safety, until somebody acknowledges a caution; so far Wet \
                      oil:";
        assert!(listed.contains(so_far), "{listed}");
    }
}

/// A stopped case goes on by nothing but another answer to the question that stopped it.
#[test]
fn a_stop_names_its_question_and_asks_it_anew() {
    let desk = Desk::with_rules(BENCH);
    for answer in ["2", "no", "nope"] {
        let mut person = desk.sit("--plain --only-rules rules diagnose charge");
        person.answers("yes");
        let said = person.answers(answer);
        let anew = "The case goes on only by answering this anew, which going back asks: Does any \
                    part stand above 0 bar gauge? [yes]";
        assert!(said.contains(anew), "{said}");
        let said = person.answers("stop");
        assert!(said.contains("This was answered: yes. How is it now?"), "{answer}: {said}");
        let said = person.ends(4);
        assert!(said.contains("Stopped for safety. Leave it shut."), "still stopped: {said}");
    }
}

/// Enter alone is the safe way at a stop, in lines and on a screen.
#[test]
fn enter_alone_stops_at_a_stop() {
    let desk = Desk::with_rules(BENCH);
    for audience in ["", "--for phone"] {
        let mut person =
            desk.sit(&format!("--plain --only-rules rules diagnose charge {audience}"));
        person.answers("yes");
        let said = person.answers("");
        assert!(
            said.contains("Enter alone takes Stop here; the case is kept, number 1."),
            "{said}"
        );
        let said = person.ends(4);
        assert!(said.contains("Chosen: Stop here; the case is kept"), "{said}");
        assert!(said.contains("Carry on with: "), "{said}");
    }
    let mut person = desk.sit("--only-rules rules diagnose charge");
    person.picks("yes");
    person.picks("");
    assert!(person.ends(4).contains("Stopped for safety. Leave it shut."));
}

/// The answer that was put right stops the case, and not another one that was given after it.
#[test]
fn a_stop_by_an_answer_put_right_names_that_question() {
    let desk = Desk::new();
    for way in [&["3 bar", "yes"][..], &["take back", "Is refrigerant", "yes"]] {
        let mut person = desk.sit("--plain diagnose wont_pull_below");
        for line in ["yes", "A. B.", "no", "no", "aired", "yes", "r410a"].iter().chain(way) {
            person.answers(line);
        }
        let said = person.answers("");
        let anew = "which going back asks: Is refrigerant still to be recovered, or does any part \
                    of the system stand above 0 bar gauge? [yes]";
        assert!(said.contains(anew), "{way:?}: {said}");
        person.ends(4);
    }
}

/// Where a stop names another way, the command that begins it as a case of its own stands at the end.
#[test]
fn the_way_that_a_stop_names_is_told_with_its_command() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose hold_test");
    for line in ["yes", "A. B.", "yes"] {
        person.answers(line);
    }
    let said = person.answers("1");
    assert!(said.contains("as a case of its own, \"Before the job\""), "{said}");
    let said = person.ends(4);
    let way = "Nothing of this case is touched by it: dryhold --plain diagnose before_the_job The";
    assert!(said.contains(way), "{said}");
}

/// The way is told by the key of the stop, whatever stands in its words.
#[test]
fn a_stop_tells_the_way_of_its_key_alone() {
    let why = "why: What stands above 0 bar gauge has to be recovered first.\n";
    let quoted = BENCH.replacen(why, "why: Then \"Each hose\" can be looked at.\n", 1);
    let keyed = BENCH.replacen(why, &format!("{why}        meanwhile: hoses\n"), 1);
    assert!(quoted != BENCH && keyed != BENCH);
    for (text, is_told) in [(quoted, false), (keyed, true)] {
        let desk = Desk::with_rules(&text);
        let mut person = desk.sit("--plain --only-rules rules diagnose charge");
        person.answers("yes");
        person.answers("");
        let said = person.ends(4);
        let way = "\"Each hose\" can be a case of its own.";
        assert_eq!(said.contains(way), is_told, "{said}");
        let command = "touched by it: dryhold --plain --only-rules rules diagnose hoses The";
        assert_eq!(said.contains(command), is_told, "{said}");
    }
}

/// A command that is told on the phone begins a case on the phone.
#[test]
fn another_way_is_told_for_the_phone_on_the_phone() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose hold_test --for phone");
    for line in ["yes", "A. B.", "yes", ""] {
        person.answers(line);
    }
    let said = person.ends(4);
    let way = "touched by it: dryhold --plain diagnose before_the_job --for phone The case is";
    assert!(said.contains(way), "{said}");
    let mut person = desk.sit("--plain diagnose hold_test --for phone");
    for line in ["yes", "A. B.", "no", "stop"] {
        person.answers(line);
    }
    let said = person.ends(3);
    assert!(said.contains("dryhold --plain diagnose leave_overnight --for phone"), "{said}");
}

/// What stops the work because something is not ready may come from a wrong answer before it.
#[test]
fn a_stop_offers_the_answer_before_from_which_its_question_came() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose wont_pull_below");
    let safe = ["yes", "A. B.", "no", "no", "aired", "yes", "r410a"];
    let wet = ["yes", "yes", "yes", "done", "no", "done", "no", "done"];
    for line in safe.iter().chain(&wet) {
        person.answers(line);
    }
    let said = person.answers("2");
    let before = "Or, where that came from a wrong answer before it: Is there an exchanger with \
                  water or brine in it, and may the water have come in there, by a burst or frozen \
                  tube? [Yes]";
    assert!(said.contains("Is the water shut off on both sides of that exchanger"), "{said}");
    assert!(said.contains(before), "{said}");
    let said = person.answers("2");
    assert!(said.contains("Which answer was wrong, or is no longer so?"), "{said}");
    assert!(person.answers("2").contains("This was answered: yes. How is it now? Is there an ex"));
    let said = person.answers("stop");
    assert!(!said.contains("Stop. Shut the valve"), "{said}");
    person.ends(3);
}
