//! Files: handbooks, answers, logs, dictated readings, case files.

use std::cell::Cell;

use dryhold::book::HandedCase;
use dryhold::case::{Case, Ending, Event, KeepNothing, Script, interview};
use dryhold::diagnostic::{Look, render};
use dryhold::document::raw::read_answers_or_scenario;
use dryhold::evidence::Engine;
use dryhold::handbook::{Handbook, TreeId, compile};
use dryhold::quantity::parse_unit;
use dryhold::rehearsal::{no_logs, resolve_answers};
use dryhold::report::verdict;
use dryhold::series::{Given, read_log, read_pasted, write_csv};
use dryhold::source::Sources;

use super::{corpus, fuzz, steers};
use crate::commands::{built_in, scenario_events};

const YAML: &[&str] = &[
    ":",
    "- ",
    "\n  ",
    "[",
    "]",
    "{",
    "}",
    "\"",
    "'",
    "&a ",
    "*a",
    "!!x ",
    "|\n",
    ">\n",
    "#",
    "---\n",
    "questions:",
    "findings:",
    "trees:",
    "steps:",
    "ask: ",
    "next: ",
    "when: ",
    "kind: ",
    "unit: ",
    "0x1F",
    "1e999",
    "null",
    "~",
    "yes",
    "\t",
    "\u{1b}",
    "\u{202e}",
    "\0",
    "\r\n",
    "again: true",
    "at_most: 0",
];

/// The verdict on a case as text, which must steer nothing.
fn told(case: &Case<'_>) -> Option<String> {
    verdict(case, &Ending::of_left(case)).iter().find_map(|line| steers(&line.to_text()))
}

/// Every tree of a handbook, run by somebody who answers nothing.
fn run_through(handbook: &Handbook) -> Option<String> {
    let engine = Engine::new(handbook).ok()?;
    (0..handbook.trees().len()).find_map(|tree| {
        let mut case = Case::open(handbook, &engine, TreeId::at(tree));
        let mut script = Script::new([], []);
        interview(&mut case, &mut script, &mut KeepNothing);
        told(&case)
    })
}

#[test]
fn any_handbook_compiles_and_runs_or_has_faults() {
    let files = corpus::files("tests/fixtures/miniature/rules", &["yaml"]);
    let turn = Cell::new(0);
    fuzz("handbooks", &files, YAML, |bytes| {
        let mut sources = Sources::default();
        let changed = turn.replace((turn.get() + 1) % files.len());
        let ids: Vec<_> = files
            .iter()
            .enumerate()
            .map(|(place, file)| {
                let bytes = if place == changed { bytes } else { file };
                sources.add(format!("{place}.yaml"), String::from_utf8_lossy(bytes).into_owned())
            })
            .collect();
        let compiled = compile(&sources, &ids, &[]);
        let shown = steers(&render(&compiled.faults, &sources, Look::default()));
        match compiled.handbook {
            None if compiled.faults.is_empty() => Some("it is refused without a fault".to_owned()),
            None => shown,
            Some(handbook) => shown.or_else(|| run_through(&handbook)),
        }
    });
}

#[test]
fn any_answers_are_run_or_have_faults() {
    let files = corpus::files("scenarios/pump_alone", &["yaml"]);
    let words: Vec<&str> =
        YAML.iter().chain(&["blank_off: ", "not sure", "45 micron"]).copied().collect();
    let (handbook, engine) = built_in();
    fuzz("answers", &files, &words, |bytes| {
        let mut sources = Sources::default();
        let id = sources.add("answers.yaml", String::from_utf8_lossy(bytes).into_owned());
        let (raw, mut faults) = read_answers_or_scenario(&sources, id);
        let resolved = match (raw, faults.is_empty()) {
            (Some(raw), true) => Some(resolve_answers(&raw, handbook, &no_logs, &mut faults)),
            _ => None,
        };
        if !faults.is_empty() {
            return steers(&render(&faults, &sources, Look::default()));
        }
        let Some(given) = resolved else { return Some("it is refused without a fault".to_owned()) };
        let tree = given.tree.or_else(|| handbook.find_tree("start"))?;
        let mut case = Case::open(handbook, engine, tree);
        let mut script = Script::new(given.answers, given.acknowledge);
        interview(&mut case, &mut script, &mut KeepNothing);
        case.events().iter().find_map(|event| match event {
            Event::Answered { typed, .. } => steers(typed),
            _ => None,
        })
    });
}

#[test]
fn any_log_is_readings_or_a_fault() {
    let logs = corpus::files("tests/fixtures", &["csv", "txt"]);
    let words = [
        ",",
        ";",
        "\t",
        "\n",
        "\r",
        "\r\n",
        "time_s",
        "pressure_micron",
        "mm:ss",
        "10:05",
        "OL",
        "NaN",
        "1e400",
        "-",
        "\"",
        "#",
        "//",
        "\u{feff}",
        "\0",
        "\u{1b}[31m",
        "0,5",
        "1.000,5",
        "micron",
        "Pa",
        "every 5 min",
        " at ",
        "2026-03-31T12:00:00Z",
        "31/03/2026",
    ];
    let pascal = parse_unit("Pa").unwrap();
    fuzz("logs", &logs, &words, |bytes| {
        let given = Given::default();
        let pasted = read_pasted(&String::from_utf8_lossy(bytes), &given);
        let said = match &pasted {
            Ok(readings) => readings.notes().lines().join("\n"),
            Err(fault) => fault.to_string(),
        };
        let Ok(readings) = read_log(bytes, &given) else { return steers(&said) };
        if !readings.times().is_sorted() {
            return Some("its times go back".to_owned());
        }
        let written = write_csv(&readings, &pascal);
        let again = read_log(written.as_bytes(), &given).map(|again| again.len());
        let is_same = again.is_ok_and(|again| again == readings.len());
        (!is_same).then(|| "written and read again it has other readings".to_owned())
    });
}

#[test]
fn any_case_file_is_events_as_far_as_it_is_good() {
    let (handbook, engine) = built_in();
    let names = ["pump_alone/worn", "pump_alone/sound", "hold_test/above_water"];
    let cases: Vec<Vec<u8>> = names
        .iter()
        .filter(|name| std::path::Path::new(&format!("scenarios/{name}.yaml")).exists())
        .map(|name| {
            let at = "2026-03-31T12:00:00Z".parse().unwrap();
            let events = scenario_events(name).into_iter().enumerate();
            let lines = events.map(|(number, event)| {
                dryhold::book::write_line(&dryhold::book::Entry { number, at, event }).unwrap()
                    + "\n"
            });
            lines.collect::<String>().into_bytes()
        })
        .collect();
    let words = [
        "{",
        "}",
        "\"",
        "\"v\":2",
        "\"seq\":",
        "\"sum\":\"\"",
        "\"what\":\"closed\"",
        "\\u001b",
        "\n",
        "null",
        "[",
        "1e999",
        "\0",
        "\"reply\":\"not_sure\"",
        "\"order\":99999999999999999999",
    ];
    fuzz("case files", &cases, &words, |bytes| {
        let handed = HandedCase::of_file("2026-03-31-1", bytes, None);
        let events: Vec<Event> = handed.events.iter().map(|event| event.event.clone()).collect();
        let _ = Case::replay(handbook, engine, &events).ok()?;
        None
    });
}
