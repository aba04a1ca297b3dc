//! What is kept of a case, and how it is carried on.

use super::desk::{Desk, one_line};
use super::handbook::BENCH;

#[test]
fn an_interrupted_case_is_carried_on_to_its_verdict() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench");
    for line in ["A. B.", "done", "500", "start", "", "900"] {
        person.answers(line);
    }
    person.wants();
    person.control('c');
    let said = person.ends(130);
    assert!(said.contains("Interrupted. The case is kept in"), "{said}");
    assert!(said.contains("Carry on with: dryhold --plain --only-rules rules resume"), "{said}");
    let mut person = desk.sit("--plain --only-rules rules resume");
    let said = person.answers("cloudy");
    let stopped =
        "you stopped less than a minute ago at \"The pump on the bench\", after 2 answers.";
    assert!(said.contains(stopped), "{said}");
    assert!(said.contains("So far: Wet oil: likely"), "{said}");
    assert!(said.contains("How does the oil look?"), "{said}");
    for line in ["done", "done", "", "30", "1"] {
        person.answers(line);
    }
    assert!(person.ends(0).contains("Settled: "));
    assert_eq!(desk.cases().len(), 1, "it is the same case");
}

#[test]
fn what_is_told_to_carry_on_names_the_folders_that_were_given() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules --book van's diagnose bench");
    person.answers("A. B.");
    person.answers("stop");
    let said = person.ends(3);
    let folders = r"--book 'van'\''s' --only-rules rules";
    let expected = format!("Carry on with: dryhold --plain {folders} resume 20");
    assert!(said.contains(&expected), "{said}");
    let mut person = desk.sit("--plain --book van's --only-rules rules resume");
    assert!(person.answers("stop").contains("after 0 answers."));
    person.ends(3);
}

#[test]
fn alone_it_offers_to_carry_on() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench");
    person.answers("A. B.");
    person.answers("done");
    person.answers("stop");
    person.ends(3);
    let mut person = desk.sit("--plain --only-rules rules");
    let said = person.answers("2");
    let first = "You have a case that is not finished. 1. Start a new case 2. Carry on with case";
    assert!(said.contains(first), "{said}");
    let stands = "you stopped less than a minute ago at \"The pump on the bench\", after 0 answers";
    assert!(said.contains(stands), "{said}");
    let said = person.answers("stop");
    let whose = "It is of a unit that nobody named, begun less than a minute ago. What it was told, \
                 also of dangers, stands for that unit alone; for another one start a new case: \
                 dryhold --plain --only-rules rules diagnose";
    assert!(said.contains(whose), "{said}");
    assert!(said.contains("Which vacuum must be reached?"), "{said}");
    person.ends(3);
}

/// A look at a tap, and how to leave it until tomorrow.
const TAP: &str = r"
format: 1
name: A tap
version: 1
questions:
  drips: {ask: 'Does it drip?', kind: yes/no}
trees:
  start:
    title: Look at the tap
    start: first
    steps:
      first: {ask: drips, next: {yes: left, no: over}}
      left: {end: It is left until tomorrow., closes: waits}
      over: {end: It was looked at.}
";

/// Begins a case at the tap and answers this; at an end finishes it.
fn at_the_tap(desk: &Desk, place: &str, answer: &str, status: i32) {
    let mut person =
        desk.sit(&format!("--plain --only-rules rules diagnose start --place {place}"));
    person.answers(answer);
    if answer != "stop" {
        person.answers("1");
    }
    person.ends(status);
}

#[test]
fn alone_it_offers_the_latest_cases_that_wait_and_not_those_at_their_end() {
    let desk = Desk::with_rules(TAP);
    for (place, answer, status) in
        [("roof", "yes", 0), ("mill", "stop", 3), ("yard", "no", 3), ("dock", "stop", 3)]
    {
        at_the_tap(&desk, place, answer, status);
    }
    let mut person = desk.sit("--plain --only-rules rules");
    let said = person.wants();
    assert!(
        said.contains("You have 3 cases that are not finished. 1. Start a new case 2. Carry on"),
        "{said}"
    );
    let places: Vec<Option<usize>> =
        ["dock: you stopped", "mill: you stopped", "roof: you stopped", "yard", "cases --open"]
            .map(|text| said.find(text))
            .to_vec();
    assert!(places[..3].is_sorted() && places[0].is_some(), "the latest first: {said}");
    assert_eq!(places[3..], [None, None], "one is at its end: {said}");
    person.control('c');
    person.ends(130);
    at_the_tap(&desk, "quay", "stop", 3);
    let mut person = desk.sit("--plain --only-rules rules");
    let said = person.answers("4");
    assert!(said.contains("You have more than 3 cases that are not finished."), "{said}");
    assert!(said.contains("dryhold --plain --only-rules rules cases --open lists all"), "{said}");
    assert!(person.answers("stop").contains("Does it drip?"), "the third is the one at the mill");
    person.ends(3);
    let mill = desk
        .cases()
        .into_iter()
        .find(|case| std::fs::read_to_string(case).unwrap().contains("\"mill\""));
    assert_eq!(mill.as_ref(), desk.cases().get(1), "nothing new was begun");
    assert_eq!(desk.cases().len(), 5);
}

#[test]
fn a_line_of_a_pipe_chooses_no_case_that_waits() {
    let desk = Desk::with_rules(TAP);
    at_the_tap(&desk, "roof", "stop", 3);
    let file = desk.path("typed");
    std::fs::write(&file, "yes\n").unwrap();
    let program = &mut desk.program(&["--plain", "--only-rules", "rules"]);
    let output = program.stdin(std::fs::File::open(&file).unwrap()).output().unwrap();
    let talk = one_line(&String::from_utf8(output.stderr).unwrap());
    assert!(talk.contains("waits; dryhold --plain --only-rules rules resume 20"), "{talk}");
    assert!(talk.contains("carries it on. Case 20") && !talk.contains("not finished"), "{talk}");
    assert!(talk.contains("Does it drip?") && talk.contains("Chosen: Yes"), "{talk}");
    assert_eq!(desk.cases().len(), 2);
}

#[test]
fn two_terminals_do_not_write_one_case() {
    let desk = Desk::with_rules(BENCH);
    let mut first = desk.sit("--plain --only-rules rules diagnose bench");
    first.answers("A. B.");
    first.wants();
    let second = desk.sit("--plain --only-rules rules resume");
    assert!(second.ends(2).contains("is open in another terminal; close it there first"));
    first.control('d');
    first.ends(3);
}

#[test]
fn where_nothing_can_be_kept_the_case_goes_on_and_says_so() {
    let desk = Desk::with_rules(BENCH);
    std::fs::write(desk.path("file"), "").unwrap();
    let mut person = desk.sit("--plain --only-rules rules --book file/book diagnose hoses");
    let said = person.answers("yellow");
    assert!(said.contains("this case goes on without being kept"), "{said}");
    person.answers("yes");
    person.answers("no more");
    person.answers("1");
    let verdict = person.ends(3);
    assert!(verdict.contains("Damp hose") && !verdict.contains("is kept in"), "{verdict}");
}

#[test]
fn a_terminal_that_was_left_raw_can_be_used_again() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--only-rules rules diagnose bench");
    for keys in ["A. B.", "", "500"] {
        person.picks(keys);
    }
    person.sees("Read as 500 micron.");
    person.kill();
    let mut person = desk.sit_at_a_raw_terminal("--only-rules rules resume");
    let said = person.picks("");
    assert!(said.contains("after 1 answer."), "what was answered is kept: {said}");
    person.sees("Wait 5 min.");
    person.sees(" left");
    person.presses("\r");
    person.picks("900");
    person.sees("The pump stops at 900 micron");
    person.control('c');
}

#[test]
fn a_torn_last_line_is_left_out_with_a_notice() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench");
    for line in ["A. B.", "done", "500", "stop"] {
        person.answers(line);
    }
    person.ends(3);
    let file = &desk.cases()[0];
    let text = std::fs::read_to_string(file).unwrap();
    std::fs::write(file, &text[..text.len() - 9]).unwrap();
    let mut person = desk.sit("--plain --only-rules rules resume");
    let said = person.answers("500");
    assert!(said.contains("was not written to its end and is left out."), "{said}");
    assert!(said.contains("after 0 answers. It is of "), "{said}");
    assert!(said.contains("rules diagnose Which vacuum must be reached?"), "{said}");
    person.answers("stop");
    person.ends(3);
    assert_eq!(std::fs::read_to_string(file).unwrap().lines().count(), text.lines().count());
}

/// A disk with room for a kilobyte of case: the shell's limit on the size of files stands for it.
#[test]
fn on_a_full_disk_the_case_goes_on_and_its_answers_are_shown_at_the_end() {
    let desk = Desk::with_rules(BENCH);
    let script = "trap '' XFSZ; ulimit -f 1; exec \"$0\" \"$@\"";
    let arguments = ["--plain", "--only-rules", "rules", "diagnose", "bench"];
    let mut program = std::process::Command::new("bash");
    program.args(["-c", script, env!("CARGO_BIN_EXE_dryhold")]).args(arguments);
    program.current_dir(desk.path("")).env_clear().env("HOME", desk.path(""));
    program.env("XDG_DATA_HOME", desk.path("data")).env("NO_COLOR", "1");
    std::fs::write(desk.path("typed"), "A. B.\ndone\n500\ndone\n\n900\ncloudy\nstop\n").unwrap();
    let output = program.stdin(std::fs::File::open(desk.path("typed")).unwrap()).output().unwrap();
    let talk = String::from_utf8(output.stderr).unwrap();
    let talk = talk.split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(output.status.code(), Some(2), "{talk}");
    assert_eq!(talk.matches("This is not kept: the case file").count(), 1, "{talk}");
    let shown = talk.split("What was answered").nth(1).unwrap();
    assert!(shown.contains("- Where does the capped pump stop? 900 micron"), "{shown}");
    assert!(shown.contains("These answers are not all kept: "), "{shown}");
    let kept = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    assert!(kept.len() <= 1024 && kept.ends_with('\n'), "only whole lines stand: {kept}");
}

/// Whatever has been answered when the next thing is asked has been kept, however it ends.
#[test]
fn what_was_accepted_survives_a_kill_at_any_answer() {
    let lines = ["A. B.", "done", "500", "start", "", "900", "cloudy", "done"];
    for count in 1..=lines.len() {
        let desk = Desk::with_rules(BENCH);
        let mut person = desk.sit("--plain --only-rules rules diagnose bench");
        for line in &lines[..count] {
            person.answers(line);
        }
        person.wants();
        person.kill();
        let reading = dryhold::book::read_journal(&desk.cases()[0]).unwrap();
        assert!(reading.notices.is_empty(), "{:?}", reading.notices);
        let answers: Vec<String> = reading
            .entries
            .into_iter()
            .filter_map(|entry| match entry.event {
                dryhold::case::Event::Answered { typed, .. } => Some(typed),
                _ => None,
            })
            .collect();
        let accepted = [(2, "500 micron"), (5, "900 micron"), (6, "Cloudy or milky")];
        let accepted = accepted.iter().filter(|(place, _)| *place < count);
        let accepted: Vec<&str> = accepted.map(|(_, typed)| *typed).collect();
        assert_eq!(answers, accepted, "after {:?}", &lines[..count]);
        if count == lines.len() {
            let said = desk.sit("--plain --only-rules rules resume").wants();
            assert!(said.contains("after 3 answers"), "{said}");
        }
    }
}

/// A desk with a case that got as far as a cloudy oil, and whose handbook then changed.
fn desk_whose_handbook_changed() -> Desk {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench");
    for line in ["A. B.", "done", "500", "start", "", "900", "cloudy", "stop"] {
        person.answers(line);
    }
    person.ends(3);
    let mut changed = BENCH.to_owned();
    for (was, now) in [
        ("How does the oil look?", "What colour has the oil?"),
        ("how_common: 0.2\n", "how_common: 0.001\n"),
    ] {
        assert_eq!(changed.matches(was).count(), 1, "{was}");
        changed = changed.replace(was, now);
    }
    std::fs::write(desk.path("rules/handbook.yaml"), changed).unwrap();
    desk
}

#[test]
fn a_case_goes_on_in_its_own_handbook_and_says_what_todays_would_conclude() {
    let desk = desk_whose_handbook_changed();
    let mut person = desk.sit("--plain --only-rules rules resume");
    let said = person.answers("back");
    assert!(said.contains("another version of the handbook, and goes on in that one."), "{said}");
    assert!(said.contains("Today's handbook would conclude otherwise:"), "{said}");
    assert!(person.answers("stop").contains("How does the oil look?"));
    person.ends(3);
}

#[test]
fn where_its_handbook_is_lost_todays_judges_the_case() {
    let desk = desk_whose_handbook_changed();
    std::fs::remove_dir_all(desk.path("data/dryhold/cases/handbooks")).unwrap();
    let mut person = desk.sit("--plain --only-rules rules resume");
    let said = person.answers("back");
    assert!(said.contains("and the book doesn't hold it; today's judges it now."), "{said}");
    assert!(person.answers("stop").contains("What colour has the oil?"));
    person.ends(3);
}

#[test]
fn a_call_that_is_taken_up_again_begins_with_the_board() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench --for phone");
    for line in ["A. B.", "done", "500", "start", ""] {
        person.answers(line);
    }
    let said = person.answers("900");
    let asked =
        "Say: What does the gauge show now? (about 5 min) Listen for: The unit with the number.";
    assert!(said.contains(asked), "{said}");
    person.answers("stop");
    person.ends(3);
    let mut person = desk.sit("--plain --only-rules rules resume --for phone");
    let said = person.answers("board");
    let board = "Where the case stands Known: target: 500 micron; floor: 900 micron.";
    assert!(said.contains(board), "{said}");
    assert!(said.contains("Best next: ") && said.contains("How does the oil look?"), "{said}");
    assert!(person.answers("stop").contains(board), "it comes when it is asked for too");
    let said = person.ends(3);
    let sent = said.split("To send to the caller: ").nth(1).unwrap();
    let message = sent.split(" The case is kept in").next().unwrap();
    assert!(message.starts_with("Case 20") && message.chars().count() <= 1_000, "{message}");
    assert!(message.contains("The makers' instructions, your local codes"), "{message}");
}

#[test]
fn a_call_goes_on_as_a_call_unless_the_site_is_asked_for() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench --for phone");
    for line in ["A. B.", "done", "500", "start", ""] {
        person.answers(line);
    }
    person.answers("stop");
    person.ends(3);
    let asked = "Say: What does the gauge show now?";
    let mut person = desk.sit("--plain --only-rules rules resume");
    person.answers("why");
    assert!(person.answers("stop").contains(asked));
    person.ends(3);
    let mut person = desk.sit("--plain --only-rules rules");
    person.answers("2");
    person.answers("why");
    assert!(person.answers("stop").contains(asked), "without a command too");
    person.ends(3);
    for more in [" --for site", ""] {
        let mut person = desk.sit(&format!("--plain --only-rules rules resume{more}"));
        person.answers("why");
        assert!(!person.answers("stop").contains("Say: "), "it is for the site from there on");
        person.ends(3);
    }
}

#[test]
fn a_wait_goes_on_while_nobody_is_there_and_a_caller_is_told_when_to_call_back() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench --for phone");
    for line in ["A. B.", "done", "500", "start"] {
        person.answers(line);
    }
    let said = person.answers("stop");
    assert!(said.contains("Say: Call me back at ") && said.contains(", in 5 min."), "{said}");
    person.ends(3);
    let case = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    assert!(
        case.contains(r#""what":"waited","tree":"bench","step":"run","seconds":300.0"#),
        "{case}"
    );
    std::thread::sleep(std::time::Duration::from_secs(2));
    let mut person = desk.sit("--plain --only-rules rules resume --for site");
    let said = person.answers("");
    assert!(said.contains("The wait of 5 min goes on: 4 min 5"), "{said}");
    assert!(!said.contains("Run the pump until it is warm"), "that is done: {said}");
    assert!(!said.contains("Call me back"), "nobody calls on site: {said}");
    assert!(person.answers("stop").contains("Where does the capped pump stop?"));
    person.ends(3);
}

/// A tap that may stand under a live wire.
const WIRE: &str = r"
format: 1
name: A tap
version: 1
questions:
  drips: {ask: 'Does it drip?', kind: yes/no}
  live: {ask: 'Does it drip on a live wire?', kind: yes/no, hazard: yes}
trees:
  start:
    title: Look at the tap
    start: first
    steps:
      first: {ask: drips, next: wire}
      wire: {ask: live, next: {yes: away, no: over}}
      away: {stop: Keep away from it. Touch nothing., why: Water leads., refer: an electrician}
      over: {end: It was looked at.}
";

#[test]
fn alone_it_offers_a_case_that_was_stopped_and_asks_its_question_again() {
    let desk = Desk::with_rules(WIRE);
    let mut person = desk.sit("--plain --only-rules rules diagnose start --place roof");
    person.answers("yes");
    person.answers("yes");
    person.answers("1");
    person.ends(4);
    at_the_tap(&desk, "mill", "stop", 3);
    let mut person = desk.sit("--plain --only-rules rules");
    let said = person.answers("3");
    let offered = "You have a case that is not finished. A case was stopped for safety.";
    assert!(said.contains(offered), "{said}");
    assert!(said.contains("A case was stopped for safety. 1. Start a new case 2. Carry"), "{said}");
    assert!(said.contains("roof: stopped for safety. Keep away from it."), "{said}");
    let said = person.answers("yes");
    assert!(said.contains("Stop. Keep away from it. Touch nothing."), "{said}");
    let again = "This was answered: yes. How is it now? Does it drip on a live wire? 1. Yes";
    assert!(said.contains(again), "{said}");
    assert!(person.answers("1").contains("1. Stop here; the case is kept"));
    person.ends(4);
    let mut person = desk.sit("--plain --only-rules rules");
    person.answers("3");
    person.answers("no");
    assert!(person.answers("A. B.").contains("Keep away from it."), "before anything goes on");
    assert!(person.answers("1").contains("It was looked at."));
    person.ends(3);
    let mut person = desk.sit("--plain --only-rules rules");
    let said = person.answers("stop");
    assert!(!said.contains("stopped for safety"), "it is at its end: {said}");
}

/// "back" takes back what was given last, but never a danger without another answer to it.
#[test]
fn back_at_a_stop_asks_for_the_danger_again() {
    let desk = Desk::with_rules(WIRE);
    let mut person = desk.sit("--plain --only-rules rules diagnose start");
    for line in ["other", "Does it drip on a live wire?", "yes"] {
        person.answers(line);
    }
    person.answers("back");
    let said = person.answers("stop");
    assert!(said.contains("How is it now? Does it drip on a live wire?"), "{said}");
    person.ends(4);
}

#[test]
fn a_danger_told_out_of_turn_is_asked_for_again_before_the_case_goes_on() {
    let desk = Desk::with_rules(WIRE);
    let mut person = desk.sit("--plain --only-rules rules diagnose start");
    for line in ["other", "Does it drip on a live wire?", "yes"] {
        person.answers(line);
    }
    let said = person.answers("2");
    assert!(said.contains("Stop. Keep away from it."), "{said}");
    let said = person.answers("not sure");
    assert!(
        said.contains("This was answered: yes. How is it now? Does it drip on a live"),
        "{said}"
    );
    let said = person.answers("2");
    let stays = "Not sure counts as the dangerous answer, so it stays stopped.";
    assert!(said.contains(stays) && said.contains("1. Stop here; the case is kept"), "{said}");
    person.answers("no");
    assert!(person.answers("A. B.").contains("a danger was told first and is taken back now"));
    assert!(person.answers("stop").contains("Does it drip? 1. Yes"), "now it goes on");
    person.ends(3);
}

#[test]
fn the_audience_alone_begins_a_case() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain --for phone");
    let said = person.answers("stop");
    assert!(said.contains("Say: Shall we follow what you see"), "{said}");
    person.ends(3);
    let wrong = desk.program(&["--for", "phone", "cases"]).output().unwrap();
    assert_eq!(wrong.status.code(), Some(2), "{wrong:?}");
}

/// A terminal would break one row within its words; what is sent on stays one row.
#[test]
fn a_message_on_a_terminal_is_broken_between_words() {
    let desk = Desk::with_rules(WIRE);
    at_the_tap(&desk, "mill", "stop", 3);
    let mut person = desk.sit("--only-rules rules report 1 --format message");
    person.matches("Case [^\r\n]{30,80}\r\n[^\r\n]{30,80}\r\n");
    person.ends(0);
    let asked = ["--only-rules", "rules", "report", "1", "--format", "message"];
    let sent = desk.program(&asked).output().unwrap().stdout;
    assert_eq!(String::from_utf8(sent).unwrap().matches('\n').count(), 1);
}
