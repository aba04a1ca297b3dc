//! `dryhold rise --plot` and `--svg`: the chart below what is told, and as a file.

use std::fs;

use super::stand::Stand;
use super::transcript::replays;

#[test]
fn a_session_prints_what_it_should() {
    replays("plot");
}

#[test]
fn a_chart_in_a_file_replaces_another_only_if_asked_for() {
    let stand = Stand::new();
    stand.write("hold.svg", "mine");
    let asked = ["rise", "damp-call.txt", "--svg", "hold.svg"];
    let refused = stand.run(&asked);
    assert_eq!(refused.status, Some(2));
    assert!(refused.stderr.contains("--force replaces it"), "{}", refused.stderr);
    assert!(refused.stdout.contains("Levelling off"), "what is told is told all the same");
    assert_eq!(fs::read_to_string(stand.path("hold.svg")).unwrap(), "mine");
    let forced = stand.run(&[&asked[..], &["--force"]].concat());
    assert_eq!(forced.status, Some(0), "{}", forced.stderr);
    let svg = fs::read_to_string(stand.path("hold.svg")).unwrap();
    assert!(svg.starts_with("<svg") && svg.contains("Read as: levelling."), "{svg}");
}

#[test]
fn a_chart_that_cannot_be_written_is_told() {
    let ran = Stand::new().run(&["rise", "damp-call.txt", "--svg", "nowhere/hold.svg"]);
    assert_eq!(ran.status, Some(2));
    let told = "dryhold: the chart `nowhere/hold.svg` can't be written: ";
    assert!(ran.stderr.starts_with(told), "{}", ran.stderr);
}

/// The locale of UTF-8 draws lines of boxes; plain prompts and other locales don't.
#[test]
fn a_chart_is_drawn_in_what_the_terminal_has() {
    let stand = Stand::new();
    let drawn = |locale: &str, more: &[&str]| {
        let mut command = stand.command(&["rise", "damp-call.txt", "--plot"]);
        let output = command.args(more).env("LANG", locale).output().unwrap();
        String::from_utf8(output.stdout).unwrap()
    };
    assert!(drawn("C.UTF-8", &[]).contains('┤'));
    assert!(drawn("C", &[]).is_ascii() && drawn("C.UTF-8", &["--plain"]).is_ascii());
}
