//! `dryhold rise`: logs of hold tests, told and as JSON.

use std::io::Write;
use std::process::Stdio;

use super::stand::{Ran, Stand};
use super::transcript::replays;

#[test]
fn a_session_prints_what_it_should() {
    replays("rise");
}

/// A block that was dictated says the same from a file and from standard input.
#[test]
fn a_log_may_come_from_standard_input() {
    let stand = Stand::new();
    let block = std::fs::read(stand.path("damp-call.txt")).unwrap();
    let mut command = stand.command(&["rise", "-"]);
    let piped = command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = piped.spawn().unwrap();
    child.stdin.take().unwrap().write_all(&block).unwrap();
    let ran = Ran::of(child.wait_with_output().unwrap());
    assert_eq!(ran, stand.run(&["rise", "damp-call.txt"]));
    assert!(ran.stdout.contains("Levelling off"), "{}", ran.stdout);
}
