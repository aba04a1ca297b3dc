//! A whole case with numbered lists and typed answers.

use super::desk::Desk;
use super::handbook::BENCH;

#[test]
fn a_whole_case_is_answered_in_lines() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench");
    let said = person.answers("A. B.");
    assert!(
        said.contains("Caution, read first: Never open a charged circuit. Recover it first."),
        "{said}"
    );
    assert!(said.contains("type stop and ask a person licensed for it."), "{said}");
    let said = person.answers("done");
    assert!(said.ends_with("Cap the inlet of the pump. Type done when it is done. Or: more."));
    assert!(!said.contains("charged circuit"), "it was acknowledged just now: {said}");
    person.answers("0.5 mmHg");
    let said = person.answers("start");
    assert!(said.contains("Read as 0.5 mmHg"), "{said}");
    let step = "Type start to begin the wait of 5 min, or done if it has passed. Or: more.";
    assert!(said.ends_with(step), "what takes its time is not done yet: {said}");
    let said = person.answers("");
    assert!(said.contains("Wait 5 min, then press Enter; sooner if you must."), "{said}");
    let said = person.answers("900");
    assert!(said.contains("of 5 min have passed."), "{said}");
    assert!(said.contains("CAUTION: The pump is hot. Wear gloves."), "{said}");
    assert!(said.contains("Where does the capped pump stop? (about 5 min)"), "{said}");
    let said = person.answers("cloudy");
    assert!(said.contains("Read as 900 micron. The pump stops at 900 micron, above"), "{said}");
    assert!(said.contains("So far: Wet oil: likely"), "{said}");
    let said = person.answers("done");
    assert!(said.contains("Chosen: Cloudy or milky The oil has been looked at. So far:"), "{said}");
    assert!(said.contains("CAUTION: The pump is hot. You need: pump oil."), "{said}");
    person.answers("done");
    person.answers("");
    person.answers("30");
    let said = person.answers("hoses");
    assert!(said.contains("The pump reaches 30 micron, below"), "{said}");
    assert!(said.contains("What next? 1. Finish and see the verdict 2. Each hose"), "{said}");
    // Going on with a tree is what is taken back first.
    let said = person.answers("back");
    assert!(said.contains("Chosen: Each hose"), "{said}");
    let said = person.answers("1");
    assert!(said.contains("The last step is taken back."), "{said}");
    assert!(said.contains("What next? 1. Finish and see the verdict 2. Each hose"), "{said}");
    let verdict = person.ends(0);
    assert!(verdict.contains("Settled: "), "{verdict}");
    assert!(verdict.contains("there at first: almost certain (about 97 in 100)"), "{verdict}");
    assert!(verdict.contains("The case is kept in"), "{verdict}");
}

#[test]
fn a_doubtful_value_is_asked_back_and_an_impossible_one_refused() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench");
    person.answers("A. B.");
    person.answers("done");
    person.answers("5000");
    let said = person.answers("0.5");
    assert!(said.contains("2000 micron") && said.contains("20 micron"), "the range: {said}");
    let said = person.answers("500 mikron");
    assert!(said.contains("did you mean `micron`?") || said.contains("20 micron"), "{said}");
    person.answers("500");
    person.answers("start");
    person.answers("");
    person.answers("0.5");
    let said = person.answers("2");
    assert!(said.contains("1. keep 0.5 micron 2. use 500 micron 3. type it again"), "{said}");
    assert!(person.answers("stop").contains("The pump stops at 500 micron, above"));
    person.ends(3);
}

#[test]
fn not_sure_of_a_setting_stands_for_its_usual_range() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench --for phone");
    person.answers("A. B.");
    person.answers("done");
    assert!(person.answers("not sure").contains("Say: Which vacuum are you asked for?"));
    person.answers("done");
    person.answers("");
    assert!(person.answers("900").contains("Say: What does the gauge show now?"));
    assert!(person.answers("stop").contains("The pump stops at 900 micron, above"));
    let verdict = person.ends(3);
    assert!(verdict.contains("Verdict"), "{verdict}");
}

#[test]
fn not_sure_is_said_in_many_ways_and_said_back() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench");
    person.answers("A. B.");
    person.answers("done");
    person.answers("no idea");
    assert!(person.answers("done").contains("Read as not sure."));
    person.answers("");
    person.answers("900");
    person.answers("dunno");
    let said = person.answers("stop");
    assert!(said.contains("Read as not sure."), "{said}");
}

#[test]
fn an_endless_pipe_ends_the_case() {
    let desk = Desk::with_rules(BENCH);
    for (word, most) in [("why", 1_000), ("back", 5_000)] {
        let file = desk.path("typed");
        std::fs::write(&file, format!("{word}\n").repeat(6_000)).unwrap();
        let arguments = ["--plain", "--only-rules", "rules", "diagnose", "charge"];
        let mut program = desk.program(&arguments);
        let output = program.stdin(std::fs::File::open(&file).unwrap()).output().unwrap();
        assert_eq!(output.status.code(), Some(3), "{word}");
        let talk = String::from_utf8(output.stderr).unwrap();
        assert_eq!(talk.matches("Answer: ").count(), most, "{word}");
    }
}

#[test]
fn a_caution_and_what_to_do_are_read_out_and_the_caller_acknowledges() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench --for phone");
    let said = person.answers("40 bar");
    assert!(said.contains("Caution, read this out first: "), "{said}");
    assert!(said.contains("If the caller can't acknowledge it, type stop"), "{said}");
    assert!(said.contains("Type the name or initials of the caller"), "{said}");
    let said = person.answers("A. B.");
    assert!(said.contains("without figures; the record keeps them."), "{said}");
    let said = person.answers("done");
    assert!(said.contains("Say: "), "{said}");
    person.answers("500 micron");
    person.answers("start");
    person.answers("");
    let said = person.answers("900");
    assert!(said.contains("Caution, read this out: The pump is hot."), "{said}");
    assert!(!said.contains("CAUTION"), "{said}");
    person.answers("stop");
    person.ends(3);
    let case = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    assert!(case.contains("A. B.") && !case.contains("40 bar"), "{case}");
}

#[test]
fn a_stop_is_read_out() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose charge --for phone");
    // As people say it.
    person.answers("yeah");
    let said = person.answers("1");
    assert!(said.contains("Say: Stop. Leave it shut. "), "{said}");
    assert!(said.contains("Say: Ask a person licensed for it."), "{said}");
    person.ends(4);
}

#[test]
fn words_of_the_handbook_are_answers_at_a_list_and_at_a_prompt() {
    let rules = "format: 1\nname: Words\nversion: 1\nquestions:\n  gas:\n    ask: Which class?\n    \
                 choices: {a1: A1, a3: A3}\n    in_words: {Propane: a3}\n  stood:\n    ask: How long?\n    \
                 kind: time\n    unit: min\n    in_words: {still falling: 0 min}\n    basis: estimate\n\
                 trees:\n  look:\n    title: Look\n    start: gas\n    steps:\n      gas: {ask: gas, next: stood}\n      \
                 stood: {ask: stood, next: told}\n      told: {end: \"{gas} for {stood}.\"}\n";
    let desk = Desk::with_rules(rules);
    let mut person = desk.sit("--plain --only-rules rules diagnose look");
    person.answers("propane");
    let said = person.answers("Still-falling");
    assert!(said.contains("Chosen: A3"), "{said}");
    assert!(said.contains("a bare number is read in min; or still falling"), "{said}");
    let said = person.answers("1");
    assert!(said.contains("\"Still-falling\" counts as 0 min."), "{said}");
}

/// Two looks at a sink, one of them passed over, and its proof; every number is invented.
const SINK: &str = r"
format: 1
name: A sink
version: 1
questions:
  drips: {ask: 'Does it drip?', kind: yes/no}
  wet: {ask: 'Is the floor wet?', kind: yes/no}
  held: {ask: 'Did it hold?', kind: yes/no}
findings:
  dripped: {when: drips, so: 'It drips.', so_not: 'No drop.', shown_by: {washer: 0.9}, anyway: 0.1, basis: estimate}
  wetted: {when: wet, so: 'It is wet.', so_not: 'It is dry.', shown_by: {washer: 0.9}, anyway: 0.1, basis: estimate}
causes:
  washer: {name: A worn washer, how_common: 0.2, because: Rubber hardens., basis: estimate}
trees:
  look:
    title: Look at the sink
    start: first
    steps:
      first: {ask: drips, next: second}
      second: {ask: wet, next: over}
      over: {end: It was looked at.}
  proof:
    title: Prove the sink
    start: hold
    steps:
      hold: {ask: held, next: proved}
      proved: {end: It held., closes: proved}
";

#[test]
fn the_proof_is_offered_and_no_way_that_is_done() {
    let desk = Desk::with_rules(SINK);
    let mut person = desk.sit("--plain --only-rules rules diagnose look");
    person.answers("no");
    person.answers("skip");
    let said = person.answers("1");
    assert!(said.contains("What next? 1. Finish and see the verdict 2. Prove the sink"), "{said}");
    assert!(!said.contains("3. Look at the sink"), "that was gone through: {said}");
    person.ends(0);
}

#[test]
fn whoever_starts_it_first_is_told_where_things_are_kept_and_may_try_it() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain");
    let said = person.answers("2");
    assert!(said.contains("No case was kept yet. Each answer is kept in"), "{said}");
    assert!(said.contains("data/dryhold/cases"), "{said}");
    assert!(said.contains("2. Try it first, at a simulated rig with a hidden fault"), "{said}");
    person.sees("Practice, easy, seed 7");
    person.control('d');
    person.sees("A case of your own begins with: dryhold --plain. Another rig");
    person.ends(3);
    assert!(desk.cases().is_empty(), "an exercise is no case");
    let mut person = desk.sit("--plain");
    person.answers("");
    person.answers("1");
    person.wants();
    person.control('d');
    person.ends(3);
    assert_eq!(desk.cases().len(), 1);
    let mut person = desk.sit("--plain");
    let said = person.wants();
    assert!(said.contains("You have a case that is not finished."), "{said}");
    person.control('d');
    person.ends(3);
}
