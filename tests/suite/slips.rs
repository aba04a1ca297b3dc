//! Slips of an author who does not program, in copies of two built-in trees: the whole message
//! that answers each.
//!
//! `tests/fixtures/slips/rules` is the sound copy. A slip is `tests/fixtures/slips/<name>.txt`: the
//! file it is made in, the lines before it behind `-`, those after it behind `+`, a line `---`, and
//! the message. With `DRYHOLD_BLESS=1` in the environment the messages are rewritten.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use dryhold::built_in::add_built_in;
use dryhold::diagnostic::{Look, render};
use dryhold::handbook::{Compiled, compile};
use dryhold::source::Sources;

/// How many lines a message may have, its source lines included, so that it is read to its end.
const LONGEST_MESSAGE: usize = 20;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/slips")
}

/// The texts of the sound copy by the names of the files.
fn sound() -> BTreeMap<String, String> {
    let files = std::fs::read_dir(folder().join("rules")).unwrap();
    let read = |file: std::fs::DirEntry| {
        let name = file.file_name().to_string_lossy().into_owned();
        (name, std::fs::read_to_string(file.path()).unwrap())
    };
    files.map(|file| read(file.unwrap())).collect()
}

/// What is said about the copy, added to the built-in handbook; whether it can run.
fn check(files: &BTreeMap<String, String>) -> (String, bool) {
    let mut sources = Sources::default();
    let built_in = add_built_in(&mut sources);
    let added: Vec<_> = files
        .iter()
        .map(|(name, text)| sources.add(format!("ours/{name}"), text.as_str()))
        .collect();
    let Compiled { handbook, faults, .. } = compile(&sources, &built_in, &added);
    (render(&faults, &sources, Look::default()), handbook.is_some())
}

/// One slip.
struct Slip {
    path: PathBuf,
    /// Everything before the message.
    head: String,
    expected: String,
}

impl Slip {
    fn read(path: PathBuf) -> Self {
        let text = std::fs::read_to_string(&path).unwrap();
        let parts = text.split_once("---\n");
        let (head, expected) = parts.unwrap_or_else(|| panic!("no line --- in {path:?}"));
        Self { head: head.to_owned(), expected: expected.to_owned(), path }
    }

    /// The lines of the head behind a mark.
    fn marked(&self, mark: char) -> String {
        let lines = self.head.lines().filter_map(|line| line.strip_prefix(mark));
        lines.map(|line| format!("{line}\n")).collect()
    }

    /// What is said when the slip is made.
    fn actual(&self) -> String {
        let mut files = sound();
        let name = self.head.lines().next().unwrap();
        let file = files.get_mut(name).unwrap_or_else(|| panic!("no file {name}: {:?}", self.path));
        let (before, after) = (self.marked('-'), self.marked('+'));
        assert_eq!(file.matches(&before).count(), 1, "{:?} must find its lines once", self.path);
        *file = file.replace(&before, &after);
        let (actual, can_run) = check(&files);
        assert!(!can_run, "{:?} keeps nothing from running", self.path);
        actual
    }
}

fn slips() -> Vec<Slip> {
    let paths = std::fs::read_dir(folder()).unwrap().map(|file| file.unwrap().path());
    let mut paths: Vec<PathBuf> = paths.filter(|path| path.extension().is_some()).collect();
    paths.sort();
    paths.into_iter().map(Slip::read).collect()
}

/// What is said about each, worked out side by side.
fn actual(slips: &[Slip]) -> Vec<String> {
    let at_once = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let part = slips.len().div_ceil(at_once).max(1);
    std::thread::scope(|scope| {
        let parts = slips.chunks(part);
        let running: Vec<_> = parts
            .map(|part| scope.spawn(|| part.iter().map(Slip::actual).collect::<Vec<_>>()))
            .collect();
        running.into_iter().flat_map(|part| part.join().unwrap()).collect()
    })
}

#[test]
fn the_copy_without_a_slip_is_sound() {
    assert_eq!(check(&sound()), (String::new(), true));
}

#[test]
fn every_slip_is_answered_by_its_whole_message() {
    let slips = slips();
    assert!(slips.len() >= 20, "{} slips", slips.len());
    let actual = actual(&slips);
    let pairs = slips.iter().zip(&actual);
    let wrong: Vec<_> = pairs.filter(|(slip, actual)| slip.expected != **actual).collect();
    if std::env::var_os("DRYHOLD_BLESS").is_some() {
        for (slip, actual) in wrong {
            std::fs::write(&slip.path, format!("{}---\n{actual}", slip.head)).unwrap();
        }
        return;
    }
    let report = wrong.iter().map(|(slip, actual)| {
        format!("{:?}\nexpected:\n{}actual:\n{actual}\n", slip.path, slip.expected)
    });
    let report: String = report.collect();
    assert!(wrong.is_empty(), "{} of {} differ\n{report}", wrong.len(), slips.len());
}

#[test]
fn a_slip_is_told_once_and_briefly() {
    for slip in slips() {
        let name = slip.path.file_stem().unwrap().to_string_lossy().into_owned();
        let told = slip.expected.lines().filter(|line| line.starts_with("error[")).count();
        // Two wrong answers are two places to mend.
        let most = if name == "yes-where-a-choice-is-asked" { 2 } else { 1 };
        assert!((1..=most).contains(&told), "{name} is told {told} times");
        assert!(slip.expected.lines().count() <= LONGEST_MESSAGE * told, "{name}");
        assert!(slip.expected.contains(" --> ours/") && slip.expected.contains('^'), "{name}");
    }
}
