//! Every scenario, driven as lines of JSON.

use dryhold::case::{Case, KeepNothing, Response, interview};
use dryhold::handbook::Handbook;
use dryhold::terminal::{PipedLines, Program};
use serde_json::{Value, json};

use super::given::{Came, Given, Turn, of_all};

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

/// The case as a program drives it by the lines that say what was responded, and what it was told.
fn driven(given: &Given<'_>) -> (Came, Vec<Value>) {
    let lines = lines_of(&given.turns, given.handbook);
    let text: String = lines.iter().map(|line| format!("{line}\n")).collect();
    let mut piped = PipedLines::new(text.as_bytes());
    let mut out = Vec::new();
    let mut case = Case::open(given.handbook, given.engine, given.scenario.tree);
    let ending = interview(&mut case, &mut Program::new(&mut piped, &mut out), &mut KeepNothing);
    let told = String::from_utf8(out).unwrap();
    let told = told.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    (Came::of(&case, ending, given.is_whole), told)
}

fn faults_of(given: Given<'_>) -> Vec<String> {
    let (came, told) = driven(&given);
    let (events, mut faults) = (&given.came.events, Vec::new());
    if came != given.came {
        let parted = came.events.iter().zip(events).position(|(one, other)| one != other);
        faults.push(format!("another case from event {parted:?} on: {:?}", came.ending));
    }
    let taken = told.iter().filter(|line| line["is"] == "taken").count();
    if taken != events.len() - 1 {
        faults.push(format!("{taken} events told of {}", events.len() - 1));
    }
    faults
}

#[test]
fn every_scenario_comes_to_the_same_case_by_lines_of_json() {
    let faults = of_all(faults_of);
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}
