//! What names a round, such as a part or a section: a name, and no reading.

use super::case::Case;
use crate::evidence::Given;
use crate::handbook::{QuestionId, TreeId};
use crate::quantity::{Expected, QuantityKind, parse_unit, read_typed};

impl Case<'_> {
    /// Whether a question names what a round of some tree is about.
    #[must_use]
    pub fn names_rounds(&self, id: QuestionId) -> bool {
        self.handbook().trees().iter().any(|tree| tree.rounds == Some(id))
    }

    /// The questions that name the parts of rounds, each with the first reading that no other tree
    /// asks for: what was read of the part.
    pub fn parts_and_readings(&self) -> impl Iterator<Item = (QuestionId, QuestionId)> {
        self.handbook().trees().iter().filter_map(|tree| {
            let of_the_part = |id: &QuestionId| {
                let is_read = self.handbook().question(*id).instrument.is_some();
                is_read && self.trees_asking(*id).len() == 1
            };
            Some((tree.rounds?, tree.questions().find(of_the_part)?))
        })
    }

    /// The name of the part that a reading was told of: the one named last before it.
    #[must_use]
    pub fn part_of(&self, reading: &Given) -> Option<&str> {
        let (naming, _) = self.parts_and_readings().find(|(_, of)| *of == reading.question)?;
        let named = self.answers(naming).filter(|named| named.order < reading.order).last()?;
        named.reply.is_known().then_some(named.typed.as_str())
    }

    /// What was told of parts beside any round of theirs, in order: the tree whose rounds judge them, the
    /// part's name and what it was read at.
    #[must_use]
    pub fn told_of_parts(&self) -> Vec<(TreeId, &str, &str)> {
        let rounds = &self.record().rounds;
        let is_in_a_round = |order: usize| {
            rounds
                .iter()
                .any(|round| round.from < order && round.until.is_none_or(|until| order <= until))
        };
        let readings: Vec<QuestionId> = self.parts_and_readings().map(|(_, of)| of).collect();
        let is_reading = |given: &&Given| {
            let is_of_a_part = readings.contains(&given.question);
            is_of_a_part && given.reply.is_known() && !is_in_a_round(given.order)
        };
        let told = |given| {
            let name = self.part_of(given)?;
            let tree = self.trees_asking(given.question).first().copied()?;
            Some((tree, name, given.typed.as_str()))
        };
        self.record().given.iter().filter(is_reading).filter_map(told).collect()
    }
}

/// Whether what was typed is a number, alone or with a unit of pressure, or ends with a pressure,
/// and so a reading and no name.
#[must_use]
pub fn is_reading(typed: &str) -> bool {
    let is_number = |text: &str| {
        let text = text.trim().replace([',', ' '], "");
        !text.is_empty() && text.parse::<f64>().is_ok_and(f64::is_finite)
    };
    let Ok(micron) = parse_unit("micron") else { return is_number(typed) };
    let kinds = [QuantityKind::PRESSURE, QuantityKind::GAUGE_PRESSURE];
    let words: Vec<&str> = typed.split_whitespace().collect();
    let end = words[words.len().saturating_sub(2)..].join(" ");
    let has_pressure = |text: &str| {
        let is_pressure = |kind| read_typed(text, &Expected::new(kind, micron.clone())).is_ok();
        text.contains(|c: char| c.is_ascii_digit()) && kinds.into_iter().any(is_pressure)
    };
    is_number(typed) || has_pressure(typed) || words.len() > 2 && has_pressure(&end)
}

/// What is said to a reading where a name is wanted.
pub(super) fn no_reading(typed: &str) -> String {
    format!(
        "`{}` is a reading and no name; type what you call it, in letters. Its readings are asked \
         for next",
        typed.trim()
    )
}

#[cfg(test)]
mod tests {
    use super::is_reading;

    #[test]
    fn a_number_with_or_without_a_pressure_is_a_reading_and_a_size_is_a_name() {
        for typed in ["1800", " 1,800 ", "1800 micron", "0.5 mbar", "1.2 Torr", "over 20000 micron"]
        {
            assert!(is_reading(typed), "{typed}");
        }
        for typed in ["the pump alone is 25 micron", "yellow hose 1800 micron"] {
            assert!(is_reading(typed), "{typed}");
        }
        for typed in [
            "blue hose",
            "3/8 hose",
            "hose 2",
            "core tool",
            "2nd hose",
            "1.5 m hose",
            "the 40 bar hose",
            "",
        ] {
            assert!(!is_reading(typed), "{typed}");
        }
    }
}
