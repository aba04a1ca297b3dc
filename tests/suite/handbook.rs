//! The handbook that comes with the program: its own checks, its scenarios, and whether its
//! numbers say what the trade says.

mod carried;
mod checks;
mod conditions;
mod holds;
mod limits;
mod passed_over;
mod proposed;
mod safety;
mod streams;
mod trade;
mod trade_table;
mod verdict_brief;
mod verdict_lines;
mod verdicts;
mod waits;
mod words;

pub use checks::scenario;

use std::path::{Path, PathBuf};

use dryhold::built_in::add_built_in;
use dryhold::case::{Case, Event, read_answer};
use dryhold::diagnostic::{Look, render};
use dryhold::evidence::{Engine, FindingState};
use dryhold::handbook::{Handbook, compile};
use dryhold::source::{SourceId, Sources};

/// The files of the built-in handbook.
fn files() -> (Sources, Vec<SourceId>) {
    let mut sources = Sources::default();
    let ids = add_built_in(&mut sources);
    (sources, ids)
}

/// The built-in handbook, which must compile.
fn handbook() -> Handbook {
    let (sources, ids) = files();
    let compiled = compile(&sources, &ids, &[]);
    let Some(handbook) = compiled.handbook else {
        panic!("{}", render(&compiled.faults, &sources, Look::default()));
    };
    handbook
}

/// Every YAML file below a folder of the repository, in the order of their names.
pub fn yaml_below(folder: &str) -> Vec<PathBuf> {
    let mut files = Vec::new();
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join(folder)];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "yaml") {
                files.push(path);
            }
        }
    }
    files.sort();
    files
}

/// A case in which these answers were given, in this order, whatever was asked.
fn told<'h>(handbook: &'h Handbook, engine: &'h Engine, answers: &[(&str, &str)]) -> Case<'h> {
    let mut case = Case::open(handbook, engine, handbook.find_tree("history").unwrap());
    for (id, typed) in answers {
        let question = handbook.question(handbook.find_question(id).unwrap());
        let reply = read_answer(question, None, typed).unwrap().reply;
        let typed = (*typed).to_owned();
        case.apply(Event::Answered { question: (*id).to_owned(), typed, reply, bare_in: None })
            .unwrap();
    }
    case
}

/// How a finding stands in a case.
fn state(case: &Case<'_>, finding: &str) -> FindingState {
    case.assessment().finding(case.handbook().find_finding(finding).unwrap()).state.clone()
}

fn probability(case: &Case<'_>, cause: &str) -> f64 {
    case.assessment().probability(case.handbook().find_cause(cause).unwrap())
}
