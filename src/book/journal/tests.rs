//! What is appended is read back, whatever happens on the way.

use super::*;

fn note(text: &str) -> Event {
    Event::Noted { text: text.to_owned() }
}

/// A new journal, with the folder that holds it for as long as the test lasts.
fn new_journal() -> (tempfile::TempDir, PathBuf, Journal) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("case.jsonl");
    let journal = Journal::create(&path).unwrap();
    (folder, path, journal)
}

fn at() -> Timestamp {
    "2026-03-31T10:15:30Z".parse().unwrap()
}

#[test]
fn what_was_appended_is_read_back() {
    let (_folder, path, mut journal) = new_journal();
    journal.append(&note("one"), at()).unwrap();
    journal.append(&note("two"), at()).unwrap();
    drop(journal);
    let (mut journal, reading) = Journal::open(&path).unwrap();
    assert_eq!(reading.entries.len(), 2);
    journal.append(&note("three"), at()).unwrap();
    assert_eq!(read_journal(&path).unwrap().entries[2].event, note("three"));
}

#[test]
fn a_case_cut_at_any_byte_keeps_every_whole_line() {
    let (_folder, path, mut journal) = new_journal();
    for text in ["one", "two \u{1b}[2J", "three"] {
        journal.append(&note(text), at()).unwrap();
    }
    let bytes = std::fs::read(&path).unwrap();
    for cut in 0..=bytes.len() {
        let whole = bytes[..cut].iter().filter(|&&byte| byte == b'\n').count();
        let reading = read_bytes(&bytes[..cut]);
        assert_eq!(reading.entries.len(), whole, "cut at {cut}");
        assert!(reading.is_writable);
    }
}

#[test]
fn a_damaged_line_keeps_what_came_before_and_is_not_written_over() {
    let (_folder, path, mut journal) = new_journal();
    journal.append(&note("one"), at()).unwrap();
    journal.append(&note("two"), at()).unwrap();
    drop(journal);
    let text = std::fs::read_to_string(&path).unwrap().replace("two", "2wo");
    std::fs::write(&path, &text).unwrap();
    let (_, reading) = Journal::open(&path).unwrap();
    assert_eq!(reading.entries.len(), 1);
    assert!(!reading.is_writable);
    assert!(reading.notices[0].contains("Line 2"), "{:?}", reading.notices);
    assert_eq!(std::fs::read_to_string(&path).unwrap(), text);
}

#[test]
fn a_case_is_open_in_one_place_only() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("case.jsonl");
    let _open = Journal::create(&path).unwrap();
    assert!(matches!(Journal::open(&path), Err(JournalError::Locked { .. })));
}

/// A disk that has room for so many bytes more, and may not be able to cut.
#[derive(Debug)]
struct Narrow {
    file: File,
    room: std::rc::Rc<std::cell::Cell<usize>>,
    cuts: bool,
}

impl Disk for Narrow {
    fn put(&mut self, bytes: &[u8]) -> std::io::Result<()> {
        let fits = bytes.len().min(self.room.get());
        self.room.set(self.room.get() - fits);
        self.file.put(&bytes[..fits])?;
        if fits < bytes.len() { Err(std::io::ErrorKind::StorageFull.into()) } else { Ok(()) }
    }

    fn cut(&mut self, length: u64) -> std::io::Result<()> {
        if self.cuts { self.file.cut(length) } else { Err(std::io::ErrorKind::Other.into()) }
    }
}

/// Three notes on a disk that refuses at every byte in turn, and takes all again afterwards.
#[test]
fn what_a_full_disk_refuses_is_kept_with_the_next_event() {
    let folder = tempfile::tempdir().unwrap();
    let texts = ["one", "two", "three"];
    let lines: Vec<String> = texts
        .iter()
        .enumerate()
        .map(|(number, text)| {
            write_line(&Entry { number, at: at(), event: note(text) }).unwrap() + "\n"
        })
        .collect();
    let whole: usize = lines.iter().map(String::len).sum();
    for room in 0..whole {
        let path = folder.path().join(format!("{room}.jsonl"));
        drop(Journal::create(&path).unwrap());
        let left = std::rc::Rc::new(std::cell::Cell::new(room));
        let file = OpenOptions::new().append(true).open(&path).unwrap();
        let disk = Narrow { file, room: left.clone(), cuts: true };
        let mut journal = Journal::on(&path, Box::new(disk), 0, 0);
        let mut refused = 0;
        for text in texts {
            refused += usize::from(journal.append(&note(text), at()).is_err());
            assert_eq!(journal.trouble().is_some(), refused > 0);
            let kept = read_journal(&path).unwrap();
            assert!(kept.notices.is_empty(), "{room}: {:?}", kept.notices);
        }
        assert!(refused > 0, "{room} of {whole} bytes");
        left.set(usize::MAX);
        journal.append(&note("four"), at()).unwrap();
        assert_eq!(journal.trouble(), None);
        let events: Vec<Event> =
            read_journal(&path).unwrap().entries.into_iter().map(|entry| entry.event).collect();
        assert_eq!(events, ["one", "two", "three", "four"].map(note));
    }
}

#[test]
fn a_disk_that_cannot_even_cut_loses_nothing_that_was_kept() {
    let (_folder, path, mut journal) = new_journal();
    journal.append(&note("one"), at()).unwrap();
    let good = std::fs::metadata(&path).unwrap().len();
    drop(journal);
    let room = std::rc::Rc::new(std::cell::Cell::new(9));
    let file = OpenOptions::new().append(true).open(&path).unwrap();
    let disk = Narrow { file, room, cuts: false };
    let mut journal = Journal::on(&path, Box::new(disk), good, 1);
    assert!(journal.append(&note("two"), at()).is_err());
    let reading = read_journal(&path).unwrap();
    assert_eq!(reading.entries.len(), 1);
    assert!(reading.is_writable && reading.notices[0].contains("Line 2"));
}

#[test]
fn a_file_that_is_taken_away_is_missed() {
    let (_folder, path, mut journal) = new_journal();
    journal.append(&note("one"), at()).unwrap();
    std::fs::remove_file(&path).unwrap();
    assert!(matches!(journal.append(&note("two"), at()), Err(JournalError::Gone { .. })));
    assert!(journal.trouble().unwrap().contains("no longer there"));
}

/// A line as a later version may write it, with a sum that fits.
fn later_line(number: usize) -> String {
    let event = serde_json::json!({"what": "photographed", "file": "flare.jpg"});
    crate::book::entry::line_of(number, at(), event).unwrap()
}

#[test]
fn an_event_of_a_later_version_keeps_its_place_and_is_named() {
    let (_folder, path, mut journal) = new_journal();
    journal.append(&note("one"), at()).unwrap();
    drop(journal);
    let text = std::fs::read_to_string(&path).unwrap() + &later_line(1) + "\n";
    std::fs::write(&path, &text).unwrap();
    let (mut journal, reading) = Journal::open(&path).unwrap();
    assert!(reading.is_writable);
    assert!(reading.notices[0].contains("event `photographed`"), "{:?}", reading.notices);
    journal.append(&note("three"), at()).unwrap();
    let reading = read_journal(&path).unwrap();
    assert_eq!(reading.entries[1].event, Event::Unknown);
    assert_eq!(reading.entries[2].event, note("three"));
    assert!(std::fs::read_to_string(&path).unwrap().starts_with(&text));
}
