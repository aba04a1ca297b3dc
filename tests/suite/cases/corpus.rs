//! Case files that earlier versions wrote stay readable, line by line and byte by byte.

use std::fs;
use std::path::PathBuf;

use dryhold::book::{Reading, read_journal, write_line};
use dryhold::case::{Case, Closing, Detail, Details, Event, FixedBy};
use dryhold::evidence::Engine;

use super::handbooks::handbook_at;

fn read(name: &str) -> (String, Reading) {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/cases");
    let path = folder.join(format!("{name}.jsonl"));
    (fs::read_to_string(&path).unwrap(), read_journal(&path).unwrap())
}

fn events(reading: &Reading) -> Vec<Event> {
    reading.entries.iter().map(|entry| entry.event.clone()).collect()
}

/// One from before cases could be closed, and one with all that can happen since.
#[test]
fn every_line_is_read_and_would_be_written_the_same() {
    for name in ["before_closing", "closed_twice"] {
        let (text, reading) = read(name);
        assert_eq!(reading.notices, [""; 0], "{name}");
        assert!(reading.is_writable);
        let lines: Vec<String> =
            reading.entries.iter().map(|entry| write_line(entry).unwrap() + "\n").collect();
        assert_eq!(lines.concat(), text, "{name}");
    }
}

#[test]
fn what_was_kept_means_what_it_meant() {
    let handbook = handbook_at("tests/fixtures/miniature/rules");
    let engine = Engine::new(&handbook).unwrap();
    let (_, before) = read("before_closing");
    let (_, after) = read("closed_twice");
    assert_eq!(after.entries[..before.entries.len()], before.entries[..]);
    let (before, after) = (events(&before), events(&after));
    assert_eq!((Closing::of(&before), Details::of(&before)), (None, Details::default()));
    let fixed_by = FixedBy::Cause("tap".to_owned());
    let closed = after.iter().position(|event| matches!(event, Event::Closed { .. })).unwrap();
    let first = Closing { note: Some("new washer".to_owned()), ..Closing::by(fixed_by) };
    assert_eq!(Closing::of(&after[..=closed]), Some(first));
    assert_eq!(Closing::of(&after[..=closed + 1]), None, "it was opened again");
    let last = Closing::by(FixedBy::Unknown);
    assert_eq!(Closing::of(&after), Some(last));
    assert_eq!(Details::of(&after).get(Detail::Told), Some("the gardener"));
    // What is told of the job and how it was closed moves no verdict.
    let case = Case::replay(&handbook, &engine, &after).unwrap();
    let bare: Vec<Event> = after
        .iter()
        .filter(|event| {
            !matches!(event, Event::Described { .. } | Event::Closed { .. } | Event::Reopened)
        })
        .cloned()
        .collect();
    let bare = Case::replay(&handbook, &engine, &bare).unwrap();
    assert_eq!(case.assessment().ranking, bare.assessment().ranking);
    assert_eq!(case.assessment().leader().unwrap().cause, handbook.find_cause("tap").unwrap());
}
