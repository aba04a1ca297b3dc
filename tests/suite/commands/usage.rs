//! Help, streams and statuses.

use std::io::{BufRead, BufReader};
use std::process::Stdio;

use super::stand::{Ran, Stand};
use super::transcript::replays;

#[test]
fn a_session_prints_what_it_should() {
    replays("usage");
}

/// Every `dryhold eval` in a help text does what it says.
#[test]
fn the_examples_of_eval_run() {
    let stand = Stand::new();
    let help = stand.run(&["eval", "--help"]).stdout;
    let examples: Vec<&str> =
        help.lines().filter_map(|row| row.trim().strip_prefix("dryhold eval '")).collect();
    assert!(examples.len() >= 3, "{help}");
    for example in examples {
        let formula = example.split('\'').next().unwrap();
        let ran = stand.run(&["eval", formula]);
        assert_eq!((ran.status, ran.stderr.as_str()), (Some(0), ""), "{formula}");
    }
}

/// The help names every tree that ships, and no other.
#[test]
fn the_help_of_diagnose_lists_the_trees() {
    let help = Stand::new().run(&["diagnose", "--help"]).stdout;
    let (_, list) = help.split_once("Trees of the built-in handbook:\n").unwrap();
    let is_name = |row: &&str| !row.starts_with("   ");
    let rows = list.lines().take_while(|row| !row.is_empty()).filter(is_name);
    let mut listed: Vec<&str> = rows.map(|row| row.split_whitespace().next().unwrap()).collect();
    listed.sort_unstable();
    let handbook = dryhold::built_in::built_in_handbook().unwrap();
    let mut trees: Vec<&str> = handbook.trees().iter().map(|tree| tree.id.as_str()).collect();
    trees.sort_unstable();
    assert_eq!(listed, trees);
}

/// A reader that has seen enough is told nothing, and the status stays that of the work.
#[test]
fn a_closed_pipe_is_no_fault() {
    let stand = Stand::new();
    for (arguments, status) in [(&["functions"][..], 0), (&["check", "broken"][..], 5)] {
        let mut command = stand.command(arguments);
        let mut child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        let mut row = String::new();
        BufReader::with_capacity(1, child.stdout.take().unwrap()).read_line(&mut row).unwrap();
        let ran = Ran::of(child.wait_with_output().unwrap());
        assert!(!row.is_empty());
        assert_eq!((ran.stderr.as_str(), ran.status), ("", Some(status)), "{arguments:?}");
    }
}

#[test]
fn colour_is_for_terminals_unless_forced() {
    let stand = Stand::new();
    let plain = stand.run(&["check", "broken"]);
    assert!(!plain.stdout.contains('\u{1b}'), "{plain:?}");
    let mut forced = stand.command(&["check", "broken"]);
    let forced = Ran::of(forced.env("CLICOLOR_FORCE", "1").output().unwrap());
    assert!(forced.stdout.contains('\u{1b}'), "{forced:?}");
    let mut refused = stand.command(&["check", "broken"]);
    refused.env("CLICOLOR_FORCE", "1").env("NO_COLOR", "1");
    assert_eq!(Ran::of(refused.output().unwrap()), plain);
}

/// Typed answers that end before the case does: the case is kept, and the status says so.
#[test]
fn the_end_of_input_leaves_the_case_unsettled_and_kept() {
    let stand = Stand::new();
    let ran = stand.run(&["--plain", "--only-rules", "barrel", "diagnose", "barrel"]);
    assert_eq!(ran.status, Some(3), "{ran:?}");
    assert!(ran.stderr.contains("The case is kept in "), "{}", ran.stderr);
    let cases = std::fs::read_dir(stand.path("data/dryhold/cases")).unwrap().count();
    assert!(cases >= 1);
}

#[test]
fn help_is_asked_for_one_way_or_the_other() {
    let stand = Stand::new();
    for (asked, usual) in [
        (&["help"][..], &["--help"][..]),
        (&["help", "rise"], &["rise", "--help"]),
        (&["help", "diagnose"], &["diagnose", "--help"]),
    ] {
        assert_eq!(stand.run(asked), stand.run(usual), "{asked:?}");
    }
}

/// A word that only part of an id holds names those that hold it.
#[test]
fn a_question_that_is_half_named_names_those_meant() {
    let ran = Stand::new().run(&["diagnose", "pump_alone", "--set", "ballast=open"]);
    assert_eq!(ran.status, Some(2), "{ran:?}");
    assert!(ran.stderr.contains("asks no question `ballast`; there are `"), "{ran:?}");
    assert!(ran.stderr.contains("`ballast_state`"), "{ran:?}");
}
