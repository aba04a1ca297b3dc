//! `dryhold check`, and handbooks that are added to the built-in one.

use super::stand::Stand;
use super::transcript::replays;

#[test]
fn a_session_prints_what_it_should() {
    replays("check");
}

/// `53 questions` in the last row.
fn questions(stdout: &str) -> usize {
    let row = stdout.lines().last().unwrap();
    let words: Vec<&str> = row.split_whitespace().collect();
    let place = words.iter().position(|word| word.starts_with("question")).unwrap();
    words[place - 1].parse().unwrap()
}

#[test]
fn the_built_in_handbook_is_sound() {
    let ran = Stand::new().run(&["check"]);
    assert_eq!((ran.status, ran.stderr.as_str()), (Some(0), ""), "{ran:?}");
    assert!(questions(&ran.stdout) > 10, "{ran:?}");
}

#[test]
fn a_folder_adds_entries_and_replaces_them() {
    let stand = Stand::new();
    let alone = stand.run(&["check"]);
    let more = stand.run(&["--rules", "more", "check"]);
    assert_eq!((more.status, more.stderr.as_str()), (Some(0), ""), "{more:?}");
    assert_eq!(questions(&more.stdout), questions(&alone.stdout) + 1);
}

#[test]
fn what_replaces_nothing_is_a_fault() {
    let ran = Stand::new().run(&["--rules", "orphan", "check"]);
    assert_eq!((ran.status, ran.stderr.as_str()), (Some(5), ""), "{ran:?}");
    let message = "error[H208]: question `oil_song` replaces a built-in one, and there is none\n \
                   --> orphan/rules.yaml:2:3\n";
    assert!(ran.stdout.contains(message), "{}", ran.stdout);
}

#[test]
fn warnings_do_not_hold_up_a_case() {
    let stand = Stand::new();
    let ran = stand.run(&["--rules", "orphan", "diagnose", "--set", "oil_look=cloudy"]);
    assert_eq!((ran.status, ran.stdout.as_str()), (Some(5), ""), "{ran:?}");
    assert!(!ran.stderr.contains("warning["), "{}", ran.stderr);
}
