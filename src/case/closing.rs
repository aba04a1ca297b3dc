//! How a case was closed, and whether it still is.

use serde::{Deserialize, Serialize};

use super::event::Event;

/// What came out to have mended it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FixedBy {
    /// Mending this cause, by its id in the handbook of the case.
    Cause(String),
    /// Nothing was wrong.
    Nothing,
    /// Nobody knows what mended it, or whether.
    Unknown,
}

/// A case as it was closed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Closing {
    /// What mended it.
    pub fixed_by: FixedBy,
    /// What was said about it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

impl Closing {
    /// How a case was closed last; none while it is open.
    pub fn of<'e>(events: impl IntoIterator<Item = &'e Event>) -> Option<Self> {
        let mut closing = None;
        for event in events {
            match event {
                Event::Closed { closing: latest } => closing = Some(latest.clone()),
                Event::Reopened => closing = None,
                _ => {}
            }
        }
        closing
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_word_on_a_case_counts() {
        let closed = |fixed_by| Event::Closed { closing: Closing { fixed_by, note: None } };
        let mut events = vec![Event::Unknown];
        assert_eq!(Closing::of(&events), None);
        events.push(closed(FixedBy::Nothing));
        events.push(closed(FixedBy::Cause("oil".to_owned())));
        let fixed_by = FixedBy::Cause("oil".to_owned());
        assert_eq!(Closing::of(&events), Some(Closing { fixed_by, note: None }));
        events.push(Event::Reopened);
        assert_eq!(Closing::of(&events), None);
    }

    #[test]
    fn a_closing_is_written_as_its_page_says() {
        let fixed_by = FixedBy::Cause("oil".to_owned());
        let event = Event::Closed { closing: Closing { fixed_by, note: Some("rag".to_owned()) } };
        let text = r#"{"what":"closed","fixed_by":{"cause":"oil"},"note":"rag"}"#;
        assert_eq!(serde_json::to_string(&event).unwrap(), text);
        assert_eq!(serde_json::from_str::<Event>(text).unwrap(), event);
        let bare = r#"{"what":"closed","fixed_by":"unknown"}"#;
        let event: Event = serde_json::from_str(bare).unwrap();
        assert_eq!(serde_json::to_string(&event).unwrap(), bare);
    }
}
