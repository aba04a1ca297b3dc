//! What may be written behind the commands of the case book.

use std::path::PathBuf;

use anyhow::{Result, bail};
use clap::{Args, ValueEnum};
use jiff::civil::Date;

use super::today::day_told;
use crate::case::{Detail, Details};

/// Examples and exit statuses of `cases`.
pub(super) const CASES_HELP: &str = "\
Examples:
  dryhold cases                             every case, the latest day first
  dryhold cases --open --place 'mill lane'
  dryhold cases --cause pump_oil --since 2026-03-01
  dryhold cases --since yesterday
  dryhold cases --json

A case is open until `dryhold close` closes it. What comes first is judged in the handbook that the
case was begun with; an index beside the cases keeps it, and is made anew where it doesn't fit.

Exit status:
  0    listed; what can't be read is named
  2    the folder or an option can't be used
  5    the handbook has errors";

/// Arguments of `cases`.
#[derive(Args, Clone, Debug)]
pub struct CasesArguments {
    /// Only cases that are not closed
    #[arg(long, conflicts_with = "closed")]
    pub open: bool,

    /// Only cases that are closed
    #[arg(long)]
    pub closed: bool,

    /// Only cases whose place has this in it, in capitals or not
    #[arg(long, value_name = "TEXT")]
    pub place: Option<String>,

    /// Only cases in which this comes first, was mended, or that were closed with it; nothing_wrong
    /// is one too
    #[arg(long, value_name = "CAUSE")]
    pub cause: Option<String>,

    /// Only cases of this day and later, such as 2026-03-31, yesterday, or 7 days ago
    #[arg(long, value_name = "DAY", value_parser = day_told)]
    pub since: Option<Date>,

    /// Prints the list as JSON
    #[arg(long)]
    pub json: bool,
}

/// Examples and exit statuses of `close`.
pub(super) const CLOSE_HELP: &str = "\
Examples:
  dryhold close 2026-03-31-1 --fixed-by pump_oil
  dryhold close 2026-03-31-1 --fixed-by nothing --note 'read on the wrong face'
  dryhold close 2026-03-31-1 --fixed-by unknown --told 'the owner'

nothing says that nothing was wrong, unknown that nobody knows what fixed it. A case that was closed
before is closed anew; `dryhold resume` opens it again.

Exit status:
  0    closed
  2    there is no such case or cause, or the case can't be written
  5    the handbook has errors";

/// Arguments of `close`.
#[derive(Args, Clone, Debug)]
pub struct CloseArguments {
    /// The case, by its id or its number
    #[arg(allow_negative_numbers = true)]
    pub case: String,

    /// What fixed it: a cause by its id or name, nothing, or unknown; a case that ended with a
    /// proof needs none
    #[arg(long, value_name = "CAUSE")]
    pub fixed_by: Option<String>,

    /// What the job asked for was proved in the end; a case that ended so says it by itself
    #[arg(long)]
    pub proved: bool,

    /// What else is to be said about it
    #[arg(long, value_name = "TEXT")]
    pub note: Option<String>,

    /// What is told of the job.
    #[command(flatten)]
    pub details: DetailArguments,
}

/// Examples and exit statuses of `report`.
pub(super) const REPORT_HELP: &str = "\
Examples:
  dryhold report 2026-03-31-1
  dryhold report 2026-03-31-1 --format html --output report.html
  dryhold report 2026-03-31-1 --format message      up to 1,000 characters, to be sent

Every form says the same of what was asked, computed, found and done; message says the most
important of it. The case is not changed.

Exit status:
  0    written
  2    there is no such case, or it or the file can't be used
  5    the handbook has errors";

/// Arguments of `report`.
#[derive(Args, Clone, Debug)]
pub struct ReportArguments {
    /// The case, by its id or its number
    #[arg(allow_negative_numbers = true)]
    pub case: String,

    /// How the report is written
    #[arg(long, value_enum, default_value_t = ReportFormat::Text)]
    pub format: ReportFormat,

    /// Leaves out names, places and what was typed as free text
    #[arg(long)]
    pub redact: bool,

    /// Writes it to a file
    #[arg(long, value_name = "FILE")]
    pub output: Option<PathBuf>,

    /// Replaces the file if it is there
    #[arg(long, requires = "output")]
    pub force: bool,
}

/// How `report` writes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum ReportFormat {
    /// For people, as text
    Text,
    /// For people, in Markdown
    Markdown,
    /// For people, as one page to print, with the chart of a hold test
    Html,
    /// For programs: one object
    Json,
    /// For whoever called: a few sentences
    Message,
}

/// What may be told of a job beside its questions; what is told once need not be told again.
#[derive(Args, Clone, Debug, Default)]
#[command(next_help_heading = "About the job, for the record")]
pub struct DetailArguments {
    /// Where it is
    #[arg(long, value_name = "TEXT")]
    pub place: Option<String>,

    /// The day of the job, if it isn't the one on which the case is begun
    #[arg(long, value_name = "DATE")]
    pub date: Option<Date>,

    /// Which equipment it is about
    #[arg(long, value_name = "TEXT")]
    pub equipment: Option<String>,

    /// Who does the work
    #[arg(long, value_name = "TEXT")]
    pub technician: Option<String>,

    /// The licence or certificate of whoever does the work
    #[arg(long, value_name = "TEXT")]
    pub licence: Option<String>,

    /// The weather, or the temperature around
    #[arg(long, value_name = "TEXT")]
    pub weather: Option<String>,

    /// Which pump
    #[arg(long, value_name = "TEXT")]
    pub pump: Option<String>,

    /// When the pump's oil was changed
    #[arg(long, value_name = "TEXT")]
    pub oil_changed: Option<String>,

    /// Which gauge
    #[arg(long, value_name = "TEXT")]
    pub gauge: Option<String>,

    /// When the gauge was checked last
    #[arg(long, value_name = "TEXT")]
    pub gauge_checked: Option<String>,

    /// What hoses, valves and tools stand between
    #[arg(long, value_name = "TEXT")]
    pub rig: Option<String>,

    /// Who was told of the outcome
    #[arg(long, value_name = "TEXT")]
    pub told: Option<String>,
}

/// The most characters of a detail or a note (limit of ours: a line or two of a record).
const LONGEST: usize = 300;

/// A text of a person that is to be kept, without blanks around it.
///
/// # Errors
/// A text that is too long for a record.
pub(super) fn short_enough(option: &str, text: &str) -> Result<String> {
    let length = text.trim().chars().count();
    if length > LONGEST {
        bail!("--{option} takes up to {LONGEST} characters, and this has {length}");
    }
    Ok(text.trim().to_owned())
}

impl DetailArguments {
    /// What was given.
    ///
    /// # Errors
    /// A text that is too long for a record.
    pub(super) fn details(&self) -> Result<Details> {
        let date = self.date.map(|date| date.to_string());
        let given = [
            (Detail::Place, &self.place),
            (Detail::Date, &date),
            (Detail::Equipment, &self.equipment),
            (Detail::Technician, &self.technician),
            (Detail::Licence, &self.licence),
            (Detail::Weather, &self.weather),
            (Detail::Pump, &self.pump),
            (Detail::OilChanged, &self.oil_changed),
            (Detail::Gauge, &self.gauge),
            (Detail::GaugeChecked, &self.gauge_checked),
            (Detail::Rig, &self.rig),
            (Detail::Told, &self.told),
        ];
        let mut details = Details::default();
        for (detail, text) in given {
            if let Some(text) = text {
                let option = detail.id().replace('_', "-");
                details = details.with(detail, &short_enough(&option, text)?);
            }
        }
        Ok(details)
    }
}
