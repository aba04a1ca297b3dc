//! Transcripts: commands with everything they print and their exit statuses.
//!
//! A file of `tests/fixtures/commands` holds one session: `$ ` before a command, `! ` before a row
//! of standard error, `= ` before the exit status, and rows of standard output as they are. With
//! `DRYHOLD_BLESS=1` in the environment the present output is written there instead.

use std::fs;

use super::stand::{Ran, Stand, fixtures};

/// Runs every command of a transcript and compares the whole.
pub fn replays(name: &str) {
    let path = fixtures().join(format!("commands/{name}.txt"));
    let written = fs::read_to_string(&path).unwrap();
    let stand = Stand::new();
    let mut present = String::new();
    for command in written.lines().filter_map(|row| row.strip_prefix("$ ")) {
        let words = words(command);
        assert_eq!(words[0], "dryhold", "{command}");
        show(command, &stand.run(&words[1..]), &mut present);
    }
    let present = present.replace(&stand.path("").display().to_string(), "FOLDER/");
    assert!(!present.is_empty(), "{name} holds no command");
    if std::env::var_os("DRYHOLD_BLESS").is_some() {
        fs::write(&path, &present).unwrap();
        return;
    }
    let different = written.lines().zip(present.lines()).find(|(old, new)| old != new);
    assert!(written == present, "{name} differs first at {different:#?}; in all:\n{present}");
}

fn show(command: &str, ran: &Ran, transcript: &mut String) {
    if !transcript.is_empty() {
        transcript.push('\n');
    }
    transcript.push_str(&format!("$ {command}\n{}", ran.stdout));
    for row in ran.stderr.lines() {
        transcript.push_str(format!("! {row}").trim_end());
        transcript.push('\n');
    }
    let status = ran.status.map_or("a signal".to_owned(), |status| status.to_string());
    transcript.push_str(&format!("= {status}\n"));
}

/// The words of a command, of which parts may stand in single quotation marks.
fn words(command: &str) -> Vec<String> {
    let (mut words, mut is_quoted, mut is_open) = (Vec::new(), false, false);
    for letter in command.chars() {
        match letter {
            '\'' => {
                is_quoted = !is_quoted;
                if !is_open {
                    words.push(String::new());
                    is_open = true;
                }
            }
            ' ' if !is_quoted => is_open = false,
            letter => {
                if !is_open {
                    words.push(String::new());
                    is_open = true;
                }
                words.last_mut().unwrap().push(letter);
            }
        }
    }
    words
}
