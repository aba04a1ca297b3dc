//! A danger that is told in a sentence, wherever the case stands.

use dryhold::built_in::built_in_handbook;

use super::desk::Desk;
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
