//! Which cautions have been shown: in full the first time, as a reminder later, and not twice in
//! a row.

use crate::case::{CautionSeverity, CautionView};
use crate::text::Line;

/// The cautions shown so far, by their ids.
#[derive(Debug, Default)]
pub(super) struct Reminders {
    met: Vec<String>,
    /// Those that stood at the prompt before.
    standing: Vec<String>,
}

impl Reminders {
    /// The lines to put above a prompt with these cautions.
    pub(super) fn of(&mut self, cautions: &[CautionView]) -> Vec<Line> {
        let mut lines = Vec::new();
        for view in cautions {
            if !self.met.contains(&view.id) {
                lines.push(in_full(view));
            } else if !self.standing.contains(&view.id) {
                lines.push(in_short(view));
            }
        }
        self.stand(cautions.iter().map(|view| view.id.clone()).collect());
        lines
    }

    /// Takes these cautions for shown at the present prompt.
    pub(super) fn stand(&mut self, ids: Vec<String>) {
        let fresh: Vec<String> = ids.iter().filter(|id| !self.met.contains(id)).cloned().collect();
        self.met.extend(fresh);
        self.standing = ids;
    }
}

fn in_full(view: &CautionView) -> Line {
    let refer = view.refer.as_ref().map(|refer| format!(" Ask {}.", refer.to_text()));
    by_severity(view, format!("{}{}", view.text.to_text(), refer.unwrap_or_default()))
}

/// The first sentence.
fn in_short(view: &CautionView) -> Line {
    let text = view.text.to_text();
    let first = text.split_once(". ").map(|(first, _)| format!("{first}."));
    by_severity(view, first.unwrap_or(text))
}

/// Stops and cautions as warnings, notes as text.
fn by_severity(view: &CautionView, text: String) -> Line {
    match view.severity {
        CautionSeverity::Note => Line::plain(format!("Note: {text}")),
        CautionSeverity::Caution | CautionSeverity::Stop => Line::warning(text),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn caution(id: &str, text: &str, severity: CautionSeverity) -> CautionView {
        let refer = Some(Line::plain("the foreman"));
        CautionView { id: id.to_owned(), severity, text: Line::plain(text), refer }
    }

    fn shown(reminders: &mut Reminders, cautions: &[CautionView]) -> Vec<String> {
        reminders.of(cautions).iter().map(Line::to_text).collect()
    }

    #[test]
    fn a_caution_is_shown_in_full_once_and_then_as_a_reminder() {
        let hot = [caution("hot", "The oil is hot. Wear gloves.", CautionSeverity::Caution)];
        let mut reminders = Reminders::default();
        assert_eq!(shown(&mut reminders, &hot), ["The oil is hot. Wear gloves. Ask the foreman."]);
        assert!(shown(&mut reminders, &hot).is_empty(), "it stands right above");
        assert!(shown(&mut reminders, &[]).is_empty());
        assert_eq!(shown(&mut reminders, &hot), ["The oil is hot."]);
    }

    #[test]
    fn what_was_just_acknowledged_is_not_said_again() {
        let mut reminders = Reminders::default();
        reminders.stand(vec!["open".to_owned()]);
        let both = [
            caution("open", "Leave it shut", CautionSeverity::Stop),
            caution("mask", "Oil mist smells.", CautionSeverity::Note),
        ];
        assert_eq!(shown(&mut reminders, &both), ["Note: Oil mist smells. Ask the foreman."]);
    }
}
