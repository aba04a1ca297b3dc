//! A case without what people wrote freely into it, so that it can be shown to others.

use super::details::{Detail, Details};
use super::event::Event;
use crate::evidence::Reply;

/// What stands in the place of a text that was left out.
const LEFT_OUT: &str = "left out";

/// The details that say nothing of who or where.
const NAMELESS: [Detail; 3] = [Detail::Weather, Detail::OilChanged, Detail::GaugeChecked];

/// The events without names, places and free texts, each in its place; an event of a later version,
/// which may say anything, is left out as a whole, and a note stands in its place.
///
/// Parts and sections are told apart by their names, so the same words stay the same: `left out 1`.
#[must_use]
pub fn without_names(events: &[Event]) -> Vec<Event> {
    let mut texts = Texts::default();
    events.iter().map(|event| nameless(event, &mut texts)).collect()
}

/// Whether a text stands in the place of one that was left out.
#[must_use]
pub fn is_left_out(text: &str) -> bool {
    text == LEFT_OUT
}

/// Whether names, places or free texts were left out of these events.
#[must_use]
pub fn lacks_names(events: &[Event]) -> bool {
    events.iter().any(|event| match event {
        Event::Acknowledged { by: text, .. }
        | Event::Minded { by: text, .. }
        | Event::Noted { text } => is_left_out(text),
        Event::Attached { file } => is_left_out(&file.name),
        Event::Described { details } => {
            Detail::all().into_iter().any(|detail| details.get(detail).is_some_and(is_left_out))
        }
        Event::Closed { closing } => closing.note.as_deref().is_some_and(is_left_out),
        _ => false,
    })
}

fn nameless(event: &Event, texts: &mut Texts) -> Event {
    let mut event = event.clone();
    match &mut event {
        Event::Unknown => return Event::Noted { text: LEFT_OUT.to_owned() },
        Event::Acknowledged { by: text, .. }
        | Event::Minded { by: text, .. }
        | Event::Noted { text } => LEFT_OUT.clone_into(text),
        Event::Attached { file } => LEFT_OUT.clone_into(&mut file.name),
        Event::Described { details } => *details = nameless_details(details),
        Event::Closed { closing } => {
            closing.note = closing.note.as_ref().map(|_| LEFT_OUT.to_owned());
        }
        Event::Answered { typed, reply: Reply::Text(text), .. }
        | Event::Corrected { typed, reply: Reply::Text(text), .. } => {
            *text = texts.instead_of(text);
            typed.clone_from(text);
        }
        _ => {}
    }
    event
}

fn nameless_details(details: &Details) -> Details {
    let told = Detail::all().into_iter().filter_map(|detail| Some((detail, details.get(detail)?)));
    // That something was recorded is no name.
    let shown = |detail: Detail, text| if NAMELESS.contains(&detail) { text } else { LEFT_OUT };
    told.fold(Details::default(), |all, (detail, text)| all.with(detail, shown(detail, text)))
}

/// The texts that were left out, each once.
#[derive(Default)]
struct Texts(Vec<String>);

impl Texts {
    fn instead_of(&mut self, text: &str) -> String {
        let known = self.0.iter().position(|known| known == text);
        let place = known.unwrap_or_else(|| {
            self.0.push(text.to_owned());
            self.0.len() - 1
        });
        format!("{LEFT_OUT} {}", place + 1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::case::{Closing, FixedBy, NamedFile};

    fn text(typed: &str) -> Event {
        Event::Answered {
            question: "part".to_owned(),
            typed: typed.to_owned(),
            reply: Reply::Text(typed.to_owned()),
            bare_in: None,
        }
    }

    #[test]
    fn no_name_place_or_free_text_is_left() {
        let file = NamedFile::elsewhere("secret.jpg");
        let details = Details::default()
            .with(Detail::Place, "secret")
            .with(Detail::Technician, "secret")
            .with(Detail::Weather, "frost");
        let note = Some("secret".to_owned());
        let events = [
            Event::Acknowledged { caution: "spark".to_owned(), by: "secret".to_owned() },
            Event::Noted { text: "secret".to_owned() },
            Event::Described { details },
            Event::Closed { closing: Closing { note, ..Closing::by(FixedBy::Nothing) } },
            Event::Unknown,
            Event::Attached { file },
            text("secret"),
        ];
        let left = without_names(&events);
        assert_eq!(left.len(), events.len());
        assert!(!left.contains(&Event::Unknown));
        let told = serde_json::to_string(&left).unwrap();
        assert!(!told.contains("secret"), "{told}");
        assert!(told.contains("frost") && told.contains("spark"), "{told}");
        assert!(lacks_names(&left) && !lacks_names(&events));
        assert!(left[..4].iter().all(|event| lacks_names(std::slice::from_ref(event))));
    }

    #[test]
    fn parts_stay_apart_and_the_same_part_stays_the_same() {
        let left = without_names(&[text("Eve's hose"), text("tee"), text("Eve's hose")]);
        let typed: Vec<_> = left
            .iter()
            .map(|event| match event {
                Event::Answered { typed, reply: Reply::Text(text), .. } if typed == text => {
                    text.as_str()
                }
                other => panic!("{other:?}"),
            })
            .collect();
        assert_eq!(typed, ["left out 1", "left out 2", "left out 1"]);
    }
}
