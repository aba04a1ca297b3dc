use super::*;
use crate::case::{Closing, FixedBy};

fn handed(events: &[Event]) -> HandedCase {
    let at: Timestamp = "2026-03-31T10:00:00Z".parse().unwrap();
    let events = events.iter().map(|event| HandedEvent::new(at, event.clone()).unwrap()).collect();
    HandedCase { id: "2026-03-31-1".to_owned(), is_without_names: false, events, handbook: None }
}

fn opened() -> Event {
    Event::Opened { tree: "pump_alone".to_owned(), handbook: "00".to_owned() }
}

#[test]
fn what_was_written_is_read_again() {
    let closing = Closing { note: Some("rag".to_owned()), ..Closing::by(FixedBy::Nothing) };
    let case = handed(&[opened(), Event::Closed { closing }]);
    let text = case.write().unwrap();
    assert_eq!(HandedCase::read("other", &text).unwrap(), case);
    let nameless = case.without_names().unwrap();
    assert!(!nameless.write().unwrap().contains("rag"));
    assert!(nameless.is_without_names);
}

#[test]
fn an_event_of_a_later_version_is_handed_on_as_it_is() {
    let at: Timestamp = "2026-03-31T10:00:00Z".parse().unwrap();
    let later = serde_json::json!({"what": "photographed", "file": "a.png"});
    let mut text = lines(&handed(&[opened()]).events, 0).unwrap();
    text += &(line_of(1, at, later).unwrap() + "\n");
    let case = HandedCase::of_file("x", text.as_bytes(), None);
    assert_eq!(case.events[1].event, Event::Unknown);
    let read = HandedCase::read("x", &case.write().unwrap()).unwrap();
    assert_eq!(lines(&read.events, 0).unwrap(), text);
}

#[test]
fn a_bare_case_file_is_named_by_its_file() {
    let case = handed(&[opened()]);
    let text = lines(&case.events, 0).unwrap();
    let read = HandedCase::read("2026-04-01-2", &text).unwrap();
    assert_eq!((read.id.as_str(), read.events), ("2026-04-01-2", case.events));
}

#[test]
fn what_is_cut_off_or_damaged_at_any_byte_is_refused_or_whole() {
    let case = handed(&[opened(), Event::Reopened, Event::Noted { text: "x".to_owned() }]);
    let text = case.write().unwrap();
    for length in 0..text.len() - 1 {
        assert!(HandedCase::read("x", &text[..length]).is_err(), "{length}");
    }
    let damaged = text.replacen("reopened", "reopenex", 1);
    let fault = HandedCase::read("x", &damaged).unwrap_err().to_string();
    assert!(fault.starts_with("its line 3 is damaged"), "{fault}");
}

#[test]
fn other_things_and_later_formats_are_named() {
    let fault = HandedCase::read("x", "a: 1\n").unwrap_err();
    assert!(matches!(fault, NotHanded::SomethingElse(_)), "{fault}");
    assert!(matches!(HandedCase::read("x", "").unwrap_err(), NotHanded::SomethingElse(_)));
    let later = handed(&[opened()]).write().unwrap().replacen("\"v\":1", "\"v\":9", 1);
    assert_eq!(HandedCase::read("x", &later).unwrap_err(), NotHanded::OtherFormat(9));
}
