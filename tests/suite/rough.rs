//! Rough situations: hostile files, odd arguments, books, streams, variables and terminals. Each is a row of
//! a table: what is done, with which status the program ends, and what it says. Whatever the row, it ends by
//! itself, tells of no panic, and sends nothing to a terminal that came from a file or a person.

mod arguments;
mod books;
mod handbooks;
mod logs;
mod streams;
mod terminals;

use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use crate::commands::Stand;

/// A situation that a shell brings about.
pub struct Rough {
    /// What is rough about it.
    pub what: &'static str,
    /// The line of a shell; the program is called `dryhold`.
    pub does: &'static str,
    /// The status of its last command.
    pub status: i32,
    /// What stands in its output, on both streams.
    pub says: &'static str,
}

/// How long a situation may take on a busy machine.
const PATIENCE: Duration = Duration::from_secs(90);

/// The fewest situations that all tables hold together.
const FEWEST: usize = 80;

/// Runs a line of a shell in a folder of its own; both streams as they came, and the status.
fn done(rough: &Rough) -> (String, Option<i32>) {
    let stand = Stand::new();
    std::fs::create_dir(stand.path("home")).unwrap();
    let program = Path::new(env!("CARGO_BIN_EXE_dryhold"));
    let mut shell = Command::new("/bin/sh");
    shell.args(["-c", &format!("exec 2>&1\n{}", rough.does)]);
    let folder = program.parent().unwrap().display();
    shell.env_clear().env("PATH", format!("{folder}:/usr/bin:/bin")).env("RUST_BACKTRACE", "1");
    shell.env("HOME", stand.path("home")).env("XDG_DATA_HOME", stand.path("data"));
    shell.current_dir(stand.path("")).stdin(Stdio::null()).stdout(Stdio::piped());
    let mut child = shell.spawn().unwrap();
    let out = child.stdout.take().unwrap();
    let reading = std::thread::spawn(move || {
        let mut bytes = Vec::new();
        let mut out = out;
        std::io::Read::read_to_end(&mut out, &mut bytes).map(|_| bytes)
    });
    let status = ended(&mut child);
    let bytes = if status.is_some() { reading.join().unwrap().unwrap() } else { Vec::new() };
    (String::from_utf8_lossy(&bytes).into_owned(), status)
}

/// The status with which a process ends; none if it doesn't in time, and is ended.
fn ended(child: &mut Child) -> Option<i32> {
    let begun = Instant::now();
    while begun.elapsed() < PATIENCE {
        if let Some(status) = child.try_wait().unwrap() {
            return Some(status.code().unwrap_or(-1));
        }
        std::thread::sleep(Duration::from_millis(10));
    }
    child.kill().unwrap();
    child.wait().unwrap();
    None
}

/// What is not as it should be in a situation.
fn faults(rough: &Rough) -> Vec<String> {
    let (said, status) = done(rough);
    let mut faults = Vec::new();
    match status {
        None => faults.push("it does not end by itself".to_owned()),
        Some(status) if status != rough.status => {
            faults.push(format!("status {status}, not {}", rough.status));
        }
        Some(_) if !one_line(&said).contains(rough.says) => {
            faults.push(format!("it does not say `{}`", rough.says));
        }
        Some(_) => {}
    }
    let is_steered = said.chars().any(|c| c.is_control() && !matches!(c, '\n' | '\t'));
    faults.extend(is_steered.then(|| "it steers the terminal".to_owned()));
    let panics = ["panicked", "RUST_BACKTRACE", "stack overflow", "memory allocation"];
    faults
        .extend(panics.iter().filter(|word| said.contains(**word)).map(|word| (*word).to_owned()));
    let begin: String = said.chars().take(600).collect();
    faults.into_iter().map(|fault| format!("{}: {fault}:\n{begin}", rough.what)).collect()
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// All rows of a table hold.
#[track_caller]
pub fn hold(table: &[Rough]) {
    let faults: Vec<String> = std::thread::scope(|scope| {
        let halves: Vec<_> = table
            .chunks(table.len().div_ceil(2))
            .map(|half| scope.spawn(move || half.iter().flat_map(faults).collect::<Vec<_>>()))
            .collect();
        halves.into_iter().flat_map(|half| half.join().unwrap()).collect()
    });
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn there_are_enough_situations_and_none_twice() {
    let tables = [arguments::TABLE, books::TABLE, handbooks::TABLE, logs::TABLE, streams::TABLE];
    let rows: Vec<&Rough> = tables.into_iter().flatten().collect();
    let mut all: Vec<&str> = rows.iter().map(|rough| rough.what).collect();
    all.extend(terminals::WHAT);
    let many = all.len();
    all.sort_unstable();
    all.dedup();
    assert_eq!(all.len(), many);
    assert!(many >= FEWEST, "{many}");
    let documented = [0, 1, 2, 3, 4, 5, 130];
    assert!(rows.iter().all(|rough| documented.contains(&rough.status)));
}

#[test]
fn a_situation_that_does_not_hold_would_be_seen() {
    let row = |does, status, says| Rough { what: "a row", does, status, says };
    assert!(faults(&row("dryhold units ratio", 0, "exact")).is_empty());
    assert_eq!(faults(&row("dryhold units ratio", 2, "exact")).len(), 1);
    assert_eq!(faults(&row("dryhold units ratio", 0, "nothing of it")).len(), 1);
    assert_eq!(faults(&row("printf '\\033[2J'", 0, "")).len(), 1);
    assert_eq!(faults(&row("echo panicked", 0, "")).len(), 1);
}
