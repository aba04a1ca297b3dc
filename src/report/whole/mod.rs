//! The report of a case: what was asked, computed, found and done, what it comes to, and what is
//! still open.
//!
//! A [`CaseReport`] holds the facts in one order; each writer writes the same ones down. Imports
//! `case`, `evidence`, `handbook`, `formula`, `rise`, `quantity` and `text`.

mod answered;
mod caller;
mod cautions;
mod chart;
mod computed;
mod done;
mod evacuation;
mod found;
mod heading;
mod html;
mod json;
mod markdown;
mod message;
mod pages;
mod proved;
mod room;
mod sections;
mod sentences;

use jiff::Timestamp;

use super::verdict::verdict;
use crate::case::{Case, Closing, Details, Ending, Now};
use crate::text::{Line, Role};

pub use room::LONGEST_MESSAGE;
pub(super) use sentences::sentences;

/// What the book knows of a case beside its events.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct About {
    /// The case's id.
    pub id: String,
    /// The day of the job as people write it, where it is known.
    pub day: Option<String>,
    /// When each event happened, in their order; fewer where that isn't known.
    pub times: Vec<Timestamp>,
    /// What of the case file can't be read and why, for people.
    pub notices: Vec<String>,
}

/// A fact of a report. Texts are not yet inert.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fact {
    /// A paragraph.
    Text(Line),
    /// An item of a list.
    Item(Line),
    /// What is known of something, such as `Place:`, `12 Mill Lane`.
    Row {
        /// What it is about, with its stop.
        label: String,
        /// What is known.
        value: Line,
    },
}

impl Fact {
    fn row(label: impl Into<String>, value: impl Into<String>) -> Self {
        Self::Row { label: label.into(), value: Line::new().push(Role::Value, value) }
    }

    /// The fact as one line of text.
    #[must_use]
    pub fn line(&self) -> Line {
        match self {
            Self::Text(line) => line.clone(),
            Self::Item(line) => Line::plain("- ").join(line.clone()),
            Self::Row { label, value } => {
                Line::plain("- ").push(Role::Plain, format!("{label} ")).join(value.clone())
            }
        }
    }
}

/// Facts under a heading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    /// The heading.
    pub heading: String,
    /// The facts, in the order in which they are read.
    pub facts: Vec<Fact>,
}

/// The report of a case.
#[derive(Debug)]
pub struct CaseReport<'a> {
    case: &'a Case<'a>,
    about: &'a About,
    ending: Ending,
    details: Details,
    closing: Option<Closing>,
    /// The verdict, which is worked out once for all forms.
    verdict: Vec<Line>,
    sections: Vec<Section>,
}

impl<'a> CaseReport<'a> {
    /// The report of a case as it stands.
    #[must_use]
    pub fn of(case: &'a Case<'a>, about: &'a About) -> Self {
        let ending = Ending::of_left(case);
        let mut report = Self {
            case,
            about,
            verdict: verdict(case, &ending),
            ending,
            details: Details::of(case.events()),
            closing: Closing::of(case.events()),
            sections: Vec::new(),
        };
        report.sections = sections::sections(&report);
        report
    }

    /// The facts, in the order in which they are read.
    #[must_use]
    pub fn sections(&self) -> &[Section] {
        &self.sections
    }

    /// What the report is called.
    #[must_use]
    pub fn title(&self) -> String {
        format!("Report of case {}", self.about.id)
    }

    /// The report as text, line by line; headings are strong.
    #[must_use]
    pub fn lines(&self) -> Vec<Line> {
        let mut lines = vec![Line::strong(self.title())];
        for section in &self.sections {
            lines.push(Line::strong(section.heading.clone()));
            lines.extend(section.facts.iter().map(Fact::line));
        }
        lines
    }

    /// The report in Markdown; nothing that a person typed becomes markup.
    #[must_use]
    pub fn markdown(&self) -> String {
        markdown::markdown(self)
    }

    /// The report as one page of HTML, whole in itself, with the chart of its latest hold test.
    #[must_use]
    pub fn html(&self) -> String {
        html::html(self)
    }

    /// The report for programs; `docs/schema/report.json` describes it.
    #[must_use]
    pub fn json(&self) -> serde_json::Value {
        json::json(self)
    }

    /// A message of at most [`LONGEST_MESSAGE`] characters for whoever called.
    #[must_use]
    pub fn message(&self) -> String {
        message::message(self)
    }

    /// The pages that it takes on A4 as HTML, in parts of a page.
    #[must_use]
    pub fn pages(&self) -> f64 {
        pages::pages(self)
    }

    /// Whether a danger was told. What the readings say of the vacuum would only draw away from it.
    fn is_in_danger(&self) -> bool {
        matches!(self.case.now(), Now::Stopped { .. })
    }
}
