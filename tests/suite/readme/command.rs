//! A command of a console block, run with the built program.

use std::fs::File;
use std::path::Path;
use std::process::{Command, Stdio};

/// A command with what the page shows below it.
pub struct Shown {
    /// The line behind `$ `, continued lines joined.
    pub command: String,
    /// The lines of the page that are the command.
    pub written: String,
    /// The lines below it.
    pub output: String,
}

/// Takes a console block apart.
pub fn commands(block: &str) -> Vec<Shown> {
    let mut all: Vec<Shown> = Vec::new();
    let mut goes_on = false;
    for line in block.lines() {
        if let Some(command) = line.strip_prefix("$ ") {
            all.push(Shown {
                command: String::new(),
                written: String::new(),
                output: String::new(),
            });
            goes_on = take_command(all.last_mut().unwrap(), line, command);
        } else if goes_on {
            goes_on = take_command(all.last_mut().unwrap(), line, line);
        } else {
            let shown = all.last_mut().expect("a console block starts with `$ `");
            shown.output.push_str(line);
            shown.output.push('\n');
        }
    }
    all
}

/// Takes a line of a command; whether another follows.
fn take_command(shown: &mut Shown, line: &str, command: &str) -> bool {
    shown.written.push_str(line);
    shown.written.push('\n');
    shown.command.push_str(command.trim_end_matches('\\'));
    command.ends_with('\\')
}

/// What a command prints, on both streams as they come, each line without blanks at its end.
/// `echo $?` gives the exit status of the command before; `< FILE`, `| head -N` and `| tail -N` are
/// known.
pub fn printed(command: &str, folder: &Path, status: &mut i32) -> String {
    if command == "echo $?" {
        return format!("{status}\n");
    }
    let (command, filter) = command.split_once(" | ").unwrap_or((command, ""));
    let (command, input) = command.split_once(" < ").unwrap_or((command, ""));
    let input = match input {
        "" => Stdio::null(),
        file => File::open(folder.join(file)).unwrap().into(),
    };
    let words = words(command);
    assert_eq!(words.first().map(String::as_str), Some("dryhold"), "`{command}` is not known");
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("printed");
    let file = File::create(&path).unwrap();
    let finished = Command::new(env!("CARGO_BIN_EXE_dryhold"))
        .args(&words[1..])
        .current_dir(folder)
        .env_clear()
        .env("HOME", home.path())
        .stdin(input)
        .stdout(file.try_clone().unwrap())
        .stderr(file)
        .status()
        .unwrap();
    *status = finished.code().unwrap();
    let text = std::fs::read_to_string(path).unwrap();
    let lines: Vec<&str> = text.lines().map(str::trim_end).collect();
    filtered(&lines, filter).iter().map(|line| format!("{line}\n")).collect()
}

fn filtered<'a>(lines: &'a [&'a str], filter: &str) -> &'a [&'a str] {
    let count = |text: &str| text.parse().unwrap_or(usize::MAX).min(lines.len());
    match filter.split_once(" -") {
        None if filter.is_empty() => lines,
        Some(("head", number)) => &lines[..count(number)],
        Some(("tail", number)) => &lines[lines.len() - count(number)..],
        _ => panic!("`| {filter}` is not known"),
    }
}

/// The words of a command, with single and double quotes as a shell takes them.
pub fn words(command: &str) -> Vec<String> {
    let mut words = Vec::new();
    let mut word: Option<String> = None;
    let mut quote = None;
    for c in command.chars() {
        match (quote, c) {
            (Some(open), _) if c == open => quote = None,
            (None, '\'' | '"') => {
                quote = Some(c);
                word.get_or_insert_default();
            }
            (None, ' ' | '\n') => words.extend(word.take()),
            _ => word.get_or_insert_default().push(c),
        }
    }
    assert!(quote.is_none(), "a quote of `{command}` is not closed");
    words.extend(word);
    words
}

/// Whether what was printed is what is shown, in which a line `...` stands for any lines.
pub fn fits(shown: &[&str], printed: &[&str]) -> bool {
    match shown.split_first() {
        None => printed.is_empty(),
        Some((&"...", rest)) => (0..=printed.len()).any(|skipped| fits(rest, &printed[skipped..])),
        Some((line, rest)) => {
            printed.split_first().is_some_and(|(first, others)| first == line && fits(rest, others))
        }
    }
}

#[test]
fn commands_are_taken_apart_as_a_shell_does() {
    assert_eq!(
        words("dryhold eval '5 L/s' \"\" a'b c'd"),
        ["dryhold", "eval", "5 L/s", "", "ab cd"]
    );
    let block = "$ dryhold a \\\n  b\none\n$ dryhold c\n";
    let all = commands(block);
    assert_eq!((all[0].command.as_str(), all[0].output.as_str()), ("dryhold a   b", "one\n"));
    assert_eq!((all.len(), all[1].output.as_str()), (2, ""));
}

#[test]
fn dots_stand_for_lines_left_out_and_for_nothing_else() {
    assert!(fits(&["a", "...", "d"], &["a", "b", "c", "d"]));
    assert!(fits(&["...", "d"], &["d"]));
    assert!(!fits(&["a", "..."], &["b", "a"]));
    assert!(!fits(&["a"], &["a", "b"]));
}
