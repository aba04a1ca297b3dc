//! What is told of a job beside its questions: where, when, who, which equipment.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::event::Event;

/// Something about a job that no question asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Detail {
    /// Where the job is.
    Place,
    /// The day of the job, as in ISO 8601.
    Date,
    /// Which equipment it is about.
    Equipment,
    /// Who does the work.
    Technician,
    /// The licence or certificate of whoever does the work.
    Licence,
    /// The weather, or the temperature around.
    Weather,
    /// Which pump.
    Pump,
    /// When its oil was changed.
    OilChanged,
    /// Which gauge.
    Gauge,
    /// When the gauge was checked last.
    GaugeChecked,
    /// What hoses, valves and tools stand between.
    Rig,
    /// Who was told of the outcome.
    Told,
}

/// A detail's name in files and its words.
struct Row {
    detail: Detail,
    id: &'static str,
    label: &'static str,
}

const TABLE: [Row; 12] = [
    Row { detail: Detail::Place, id: "place", label: "Place" },
    Row { detail: Detail::Date, id: "date", label: "Date" },
    Row { detail: Detail::Equipment, id: "equipment", label: "Equipment" },
    Row { detail: Detail::Technician, id: "technician", label: "Technician" },
    Row { detail: Detail::Licence, id: "licence", label: "Licence" },
    Row { detail: Detail::Weather, id: "weather", label: "Weather or temperature around" },
    Row { detail: Detail::Pump, id: "pump", label: "Pump" },
    Row { detail: Detail::OilChanged, id: "oil_changed", label: "Pump oil changed" },
    Row { detail: Detail::Gauge, id: "gauge", label: "Gauge" },
    Row { detail: Detail::GaugeChecked, id: "gauge_checked", label: "Gauge last checked" },
    Row { detail: Detail::Rig, id: "rig", label: "Rig" },
    Row { detail: Detail::Told, id: "told", label: "Who was told" },
];

impl Detail {
    /// Every detail, in the order in which a record tells them.
    #[must_use]
    pub fn all() -> [Self; 12] {
        TABLE.map(|row| row.detail)
    }

    /// Its name in case files and in JSON: `oil_changed`.
    #[must_use]
    pub fn id(self) -> &'static str {
        TABLE.iter().find(|row| row.detail == self).map_or("", |row| row.id)
    }

    /// What people call it: `Pump oil changed`.
    #[must_use]
    pub fn label(self) -> &'static str {
        TABLE.iter().find(|row| row.detail == self).map_or("", |row| row.label)
    }
}

/// The details of a job as they were given, each at most once.
///
/// ```
/// use dryhold::case::{Detail, Details};
/// let details = Details::default().with(Detail::Place, "12 Mill Lane");
/// assert_eq!(details.get(Detail::Place), Some("12 Mill Lane"));
/// assert_eq!(details.get(Detail::Rig), None);
/// ```
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Details {
    /// By name; names that a later version wrote are kept and not shown.
    given: BTreeMap<String, String>,
}

impl Details {
    /// The same with one more; blanks around it go, and a blank text says nothing.
    #[must_use]
    pub fn with(mut self, detail: Detail, text: &str) -> Self {
        let text = text.trim();
        if !text.is_empty() {
            self.given.insert(detail.id().to_owned(), text.to_owned());
        }
        self
    }

    /// What was given.
    #[must_use]
    pub fn get(&self, detail: Detail) -> Option<&str> {
        self.given.get(detail.id()).map(String::as_str)
    }

    /// Whether nothing was given.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.given.is_empty()
    }

    /// The details of a case: of each what was given last.
    pub fn of<'e>(events: impl IntoIterator<Item = &'e Event>) -> Self {
        let mut all = Self::default();
        for event in events {
            if let Event::Described { details } = event {
                all.given.extend(details.given.clone());
            }
        }
        all
    }

    /// Those that are not the same in `other`.
    #[must_use]
    pub fn beyond(&self, other: &Self) -> Self {
        let is_new = |(name, text): &(&String, &String)| other.given.get(*name) != Some(text);
        let new = self.given.iter().filter(is_new);
        Self { given: new.map(|(name, text)| (name.clone(), text.clone())).collect() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_given_last_counts_and_the_rest_stays() {
        let told =
            |detail, text| Event::Described { details: Details::default().with(detail, text) };
        let events = [
            told(Detail::Place, "roof"),
            told(Detail::Pump, "P 3"),
            Event::Unknown,
            told(Detail::Place, " cellar "),
            told(Detail::Rig, "  "),
        ];
        let details = Details::of(&events);
        assert_eq!(details.get(Detail::Place), Some("cellar"));
        assert_eq!(details.get(Detail::Pump), Some("P 3"));
        assert_eq!(details.get(Detail::Rig), None);
        let more = details.clone().with(Detail::Told, "the owner");
        assert_eq!(more.beyond(&details), Details::default().with(Detail::Told, "the owner"));
        assert!(details.beyond(&more).is_empty());
    }

    #[test]
    fn a_detail_of_a_later_version_is_kept() {
        let text = r#"{"what":"described","details":{"altitude":"1200 m","place":"roof"}}"#;
        let event: Event = serde_json::from_str(text).unwrap();
        assert_eq!(Details::of([&event]).get(Detail::Place), Some("roof"));
        assert_eq!(serde_json::to_string(&event).unwrap(), text);
    }

    #[test]
    fn every_detail_has_a_name_and_words_of_its_own() {
        let of = |named: fn(Detail) -> &'static str| {
            Detail::all().map(named).into_iter().collect::<std::collections::BTreeSet<_>>()
        };
        assert_eq!((of(Detail::id).len(), of(Detail::label).len()), (12, 12));
    }
}
