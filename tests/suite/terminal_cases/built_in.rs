//! A scenario of the built-in handbook, answered by a person who reads each prompt: the verdict at
//! the terminal is the one that the same answers give without it.

use std::collections::HashMap;
use std::path::Path;

use dryhold::built_in::built_in_handbook;
use dryhold::formula::Kind;
use dryhold::handbook::{Handbook, Question};
use serde_yaml::Value;

use super::desk::{Desk, Sitting, escaped, one_line};

/// More prompts than any scenario takes.
const MOST_PROMPTS: usize = 200;

/// What a wait that is over leaves behind.
const PASSED: &str = " have passed.";

/// A scenario as a person has it in mind.
pub struct Mind {
    handbook: Handbook,
    pub tree: String,
    answers: HashMap<String, Vec<String>>,
    /// Whether questions come as they are said to a caller.
    is_called: bool,
}

impl Mind {
    /// Reads `scenarios/NAME.yaml`.
    pub fn of(name: &str) -> Self {
        let handbook = built_in_handbook().unwrap();
        let scenario = scenario(name);
        let answers = scenario["answers"].as_mapping().unwrap();
        let answers = answers.iter().map(|(id, typed)| {
            let typed = typed.as_sequence().cloned().unwrap_or_else(|| vec![typed.clone()]);
            (as_typed(id), typed.iter().rev().map(as_typed).collect())
        });
        let tree = as_typed(&scenario["tree"]);
        Self { handbook, tree, answers: answers.collect(), is_called: false }
    }

    /// The same on the phone, with answers to questions that the scenario does not come to.
    pub fn on_the_phone(self, more: &[(&str, &str)]) -> Self {
        Self { is_called: true, ..self.knowing(more) }
    }

    /// The same with answers to questions that the scenario does not come to.
    pub fn knowing(mut self, more: &[(&str, &str)]) -> Self {
        let more = more.iter().map(|(id, typed)| ((*id).to_owned(), vec![(*typed).to_owned()]));
        self.answers.extend(more);
        self
    }

    /// The question that was put last.
    fn asked(&self, said: &str) -> &Question {
        let heard = said;
        let place = |question: &&Question| {
            let said = question.say.as_ref().filter(|_| self.is_called).unwrap_or(&question.ask);
            let ask = said.fill(&dryhold::formula::NoNames).to_text();
            heard.rfind(&one_line(&ask)).map(|at| at + ask.len())
        };
        let asked = self.handbook.questions().iter().filter(|q| place(q).is_some());
        asked.max_by_key(place).unwrap_or_else(|| panic!("no question is known in: {said}"))
    }

    /// The answer to the question put last, as it is typed and as it is shown when taken.
    pub fn answer(&mut self, said: &str) -> (String, String) {
        let question = self.asked(said).clone();
        let Some(typed) = self.answers.get_mut(&question.id).and_then(Vec::pop) else {
            return ("skip".to_owned(), "skip".to_owned());
        };
        let choice = question.choices.iter().find(|choice| choice.id == typed);
        let shown = match (choice, &question.kind) {
            (Some(choice), _) => choice.label.clone(),
            (None, Kind::YesNo) if typed == "yes" => "Yes".to_owned(),
            (None, Kind::YesNo) if typed == "no" => "No".to_owned(),
            _ => typed.clone(),
        };
        (shown.clone(), shown)
    }
}

fn scenario(name: &str) -> Value {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios").join(name);
    serde_yaml::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

/// A YAML value as it stands in the file.
fn as_typed(value: &Value) -> String {
    match value {
        Value::Bool(true) => "yes".to_owned(),
        Value::Bool(false) => "no".to_owned(),
        Value::String(text) => text.clone(),
        other => serde_yaml::to_string(other).unwrap().trim().to_owned(),
    }
}

/// The verdict that the scenario's answers give without a terminal.
fn verdict_of_the_script(desk: &Desk, name: &str) -> String {
    let mut answers = scenario(name);
    let map = answers.as_mapping_mut().unwrap();
    map.remove("scenario");
    map.remove("expect");
    let file = desk.path("answers.yaml");
    std::fs::write(&file, serde_yaml::to_string(&answers).unwrap()).unwrap();
    let output = desk.program(&["diagnose", "--answers", file.to_str().unwrap()]).output().unwrap();
    assert!(output.status.success() || output.status.code() == Some(3), "{output:?}");
    one_line(&String::from_utf8(output.stdout).unwrap())
}

/// The line to type at a plain prompt that is no question; none at a question.
pub fn beside_questions(said: &str) -> Option<&'static str> {
    let lines = [
        ("Type your name or initials", "A. B."),
        ("Type the name or initials of the caller", "C. D."),
        ("then press Enter; sooner", ""),
        ("Type done when it is done.", "done"),
        ("Type start to begin the wait", "start"),
        ("1. keep ", "1"),
        ("1. Finish and see", "1"),
    ];
    lines.into_iter().find(|(mark, _)| said.contains(mark)).map(|(_, line)| line)
}

/// Answers prompt after prompt in lines, up to the verdict.
fn in_lines(person: &mut Sitting, mind: &mut Mind) {
    for _ in 0..MOST_PROMPTS {
        let said = person.wants();
        let line = beside_questions(&said).map_or_else(|| mind.answer(&said).0, str::to_owned);
        person.presses(&format!("{line}\n"));
        if said.contains("1. Finish and see") {
            return;
        }
    }
    panic!("the case did not end");
}

/// Answers prompt after prompt on screens, up to the verdict.
fn on_screens(person: &mut Sitting, mind: &mut Mind) {
    for _ in 0..MOST_PROMPTS {
        let said = person.sees("Esc for more");
        let (keys, shown) = if said.contains("Who acknowledges this?") {
            ("A. B.".to_owned(), "A. B.".to_owned())
        } else if said.contains("Enter goes on sooner") {
            (String::new(), PASSED.to_owned())
        } else if said.contains("1. done") {
            (String::new(), "done".to_owned())
        } else if said.contains("1. start the wait") {
            (String::new(), " min".to_owned())
        } else if said.contains("1. keep ") {
            ("1".to_owned(), "micron".to_owned())
        } else if said.contains("1. Finish and see") {
            person.presses("\r");
            return;
        } else {
            mind.answer(&said)
        };
        person.presses(&format!("{keys}\r"));
        // While it is typed, the cursor stands behind the text; once it is taken, nothing does.
        let lead = if shown == PASSED { "" } else { r"\? [^\r\n]*" };
        person.matches(&format!(r"{lead}{}\r\n", escaped(&shown)));
    }
    panic!("the case did not end");
}

#[test]
fn a_scenario_comes_to_the_same_verdict_in_lines() {
    let name = "part_in_line/sound_pair.yaml";
    let (desk, mut mind) = (Desk::new(), Mind::of(name));
    let mut person = desk.sit(&format!("--plain diagnose {} --full", mind.tree));
    in_lines(&mut person, &mut mind);
    let expected = verdict_of_the_script(&desk, name);
    let said = person.ends(if expected.contains("Not settled") { 3 } else { 0 });
    assert!(said.contains(&expected), "{said}\n\nis not\n\n{expected}");
}

#[test]
fn a_long_verdict_is_told_in_brief_with_where_the_rest_is() {
    let name = "pump_alone/three_changes.yaml";
    let (desk, mut mind) = (Desk::new(), Mind::of(name));
    let mut person = desk.sit(&format!("--plain diagnose {}", mind.tree)).sized(50, 70);
    in_lines(&mut person, &mut mind);
    let said = person.ends(3);
    let verdict = said.split_once("Verdict ").unwrap().1;
    for told in ["Not settled: bad pump oil", "What weighs most for it", "What to check next"] {
        assert!(verdict.contains(told), "{told} is missing: {verdict}");
    }
    assert!(verdict.contains("your local codes and the licence"), "{verdict}");
    assert!(!verdict.contains("Ranking"), "{verdict}");
    let (_, rest) = verdict.split_once("each repair with its cautions: ").unwrap();
    let why: Vec<&str> = rest.split_whitespace().take(4).collect();
    assert_eq!(why[..3], ["dryhold", "--plain", "why"], "{rest}");
    let whole = desk.program(&why[1..]).output().unwrap();
    let whole = one_line(&String::from_utf8(whole.stdout).unwrap());
    assert!(whole.contains("Ranking ") && whole.contains("What speaks for it"), "{whole}");
}

#[test]
fn a_scenario_comes_to_the_same_verdict_on_screens() {
    let name = "pump_alone/wet_van.yaml";
    let (desk, mut mind) = (Desk::new(), Mind::of(name));
    let mut person = desk.sit(&format!("diagnose {} --full", mind.tree)).widened();
    on_screens(&mut person, &mut mind);
    let expected = verdict_of_the_script(&desk, name);
    let said = person.ends(if expected.contains("Not settled") { 3 } else { 0 });
    assert!(said.contains(&expected), "{said}\n\nis not\n\n{expected}");
}

#[test]
fn a_word_that_many_questions_hold_is_narrowed_and_a_board_speaks_in_choices() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose");
    person.answers("follow");
    person.answers("wont_pull_below");
    person.answers("other");
    person.answers("pump");
    let said = person.answers("13");
    assert!(said.contains(" questions hold it, the likeliest first. Which of them? 1. "), "{said}");
    assert!(said.contains("13. None of these: "), "page by page: {said}");
    let more = person.answers("back");
    assert!(more.contains("Which of them? 1. ") && !said.contains(&more[..60]), "{more}");
    person.answers("board");
    let said = person.answers("stop");
    assert!(!said.contains("symptom: wont pull below"), "{said}");
    let symptom = "symptom: ";
    let told = said.split(symptom).nth(1).unwrap_or_else(|| panic!("{said}"));
    assert!(told.starts_with(char::is_uppercase), "a choice as it was offered: {told}");
    person.ends(3);
}
