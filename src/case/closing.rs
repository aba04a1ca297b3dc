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
    /// Whether what the work was for was proved in the end.
    #[serde(default, skip_serializing_if = "is_false")]
    pub proved: bool,
    /// What was said about it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// For what is written only where it is so.
#[expect(clippy::trivially_copy_pass_by_ref, reason = "the reader of its attribute asks for it so")]
fn is_false(flag: &bool) -> bool {
    !flag
}

impl Closing {
    /// A case that nobody says anything more of.
    #[must_use]
    pub fn by(fixed_by: FixedBy) -> Self {
        Self { fixed_by, proved: false, note: None }
    }

    /// How it was closed, within a sentence: `fixed by mending this: bad pump oil`; the cause is
    /// told in the words of the handbook.
    #[must_use]
    pub fn told(&self, cause: &str) -> String {
        match (&self.fixed_by, self.proved) {
            (FixedBy::Cause(_), false) => format!("fixed by mending this: {cause}"),
            (FixedBy::Cause(_), true) => format!("fixed by mending this, and proved: {cause}"),
            (FixedBy::Nothing, false) => "nothing was wrong".to_owned(),
            (FixedBy::Nothing, true) => "nothing was wrong, and that was proved".to_owned(),
            (FixedBy::Unknown, false) => "not known what fixed it".to_owned(),
            (FixedBy::Unknown, true) => "proved, as the job asked for".to_owned(),
        }
    }

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
        let closed = |fixed_by| Event::Closed { closing: Closing::by(fixed_by) };
        let mut events = vec![Event::Unknown];
        assert_eq!(Closing::of(&events), None);
        events.push(closed(FixedBy::Nothing));
        events.push(closed(FixedBy::Cause("oil".to_owned())));
        let fixed_by = FixedBy::Cause("oil".to_owned());
        assert_eq!(Closing::of(&events), Some(Closing::by(fixed_by)));
        events.push(Event::Reopened);
        assert_eq!(Closing::of(&events), None);
    }

    #[test]
    fn a_closing_is_written_as_its_page_says() {
        let fixed_by = FixedBy::Cause("oil".to_owned());
        let note = Some("rag".to_owned());
        let event = Event::Closed { closing: Closing { note, ..Closing::by(fixed_by) } };
        let text = r#"{"what":"closed","fixed_by":{"cause":"oil"},"note":"rag"}"#;
        assert_eq!(serde_json::to_string(&event).unwrap(), text);
        assert_eq!(serde_json::from_str::<Event>(text).unwrap(), event);
        let bare = r#"{"what":"closed","fixed_by":"unknown"}"#;
        let event: Event = serde_json::from_str(bare).unwrap();
        assert_eq!(serde_json::to_string(&event).unwrap(), bare);
        let proved = r#"{"what":"closed","fixed_by":"unknown","proved":true}"#;
        let event: Event = serde_json::from_str(proved).unwrap();
        assert_eq!(serde_json::to_string(&event).unwrap(), proved);
    }
}
