//! Every scenario, driven as lines of JSON.

use std::path::Path;

use dryhold::case::{Case, Ending, KeepNothing, Response, interview};
use dryhold::evidence::Engine;
use dryhold::handbook::Handbook;
use dryhold::terminal::{PipedLines, Program};
use serde_json::{Value, json};

use super::given::{Came, Turn, faults_of_all, run};
use crate::commands::built_in;
use crate::handbook::scenario;

/// The lines that say what was responded at each turn. What a caution bars is sent before it is
/// acknowledged out of turn, since it is told only then.
fn lines_of(turns: &[Turn], handbook: &Handbook) -> Vec<Value> {
    let mut lines = Vec::new();
    for (place, turn) in turns.iter().enumerate() {
        let line = line_of(&turn.response, handbook);
        if let Response::Acknowledge(caution, _) = turn.response
            && turn.wanted != Some(caution)
        {
            let is_barred = |turn: &&Turn| !matches!(turn.response, Response::Acknowledge(..));
            let barred = turns[place..].iter().find(is_barred);
            lines.extend(barred.map(|barred| line_of(&barred.response, handbook)));
        }
        lines.push(line);
    }
    lines
}

fn line_of(response: &Response, handbook: &Handbook) -> Value {
    match response {
        Response::Answer(typed) => json!({ "do": "answer", "typed": typed, "meant": true }),
        Response::Volunteer(question, typed) => {
            let question = &handbook.question(*question).id;
            json!({ "do": "answer", "question": question, "typed": typed, "meant": true })
        }
        Response::Done => json!({ "do": "done" }),
        Response::NoMore => json!({ "do": "no_more" }),
        Response::Acknowledge(caution, by) => {
            json!({ "do": "acknowledge", "caution": handbook.caution(*caution).id, "by": by })
        }
        Response::Leave => json!({ "do": "leave" }),
        other => panic!("no script responds so: {other:?}"),
    }
}

/// The case as a program drives it by these lines, and what it was told.
fn driven(
    scenario: &dryhold::rehearsal::Scenario,
    lines: &[Value],
    handbook: &Handbook,
    engine: &Engine,
    is_whole: bool,
) -> (Came, Vec<Value>) {
    let text: String = lines.iter().map(|line| format!("{line}\n")).collect();
    let mut piped = PipedLines::new(text.as_bytes());
    let mut out = Vec::new();
    let mut case = Case::open(handbook, engine, scenario.tree);
    let ending = interview(&mut case, &mut Program::new(&mut piped, &mut out), &mut KeepNothing);
    let told = String::from_utf8(out).unwrap();
    let told = told.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    (Came::of(&case, ending, is_whole), told)
}

fn faults_of(path: &Path, is_whole: bool, handbook: &Handbook, engine: &Engine) -> Vec<String> {
    let scenario = scenario(path, handbook);
    if scenario.rig.is_some() {
        return Vec::new();
    }
    let (given, turns) = run(&scenario, handbook, engine, is_whole);
    if matches!(given.ending, Ending::Unusable(_)) {
        return Vec::new();
    }
    let (came, told) = driven(&scenario, &lines_of(&turns, handbook), handbook, engine, is_whole);
    let mut faults = Vec::new();
    if came != given {
        let parted = came.events.iter().zip(&given.events).position(|(one, other)| one != other);
        faults.push(format!("another case from event {parted:?} on: {:?}", came.ending));
    }
    let count = |is: &str| told.iter().filter(|line| line["is"] == is).count();
    if count("taken") != given.events.len() - 1 {
        faults.push(format!("{} events told of {}", count("taken"), given.events.len() - 1));
    }
    faults.into_iter().map(|fault| format!("{}: {fault}", path.display())).collect()
}

#[test]
fn every_scenario_comes_to_the_same_case_by_lines_of_json() {
    let (handbook, engine) = built_in();
    let faults = faults_of_all(|path, is_whole| faults_of(path, is_whole, handbook, engine));
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}
