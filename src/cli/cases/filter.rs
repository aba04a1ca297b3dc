//! Which cases are listed.

use anyhow::{Result, bail};
use jiff::civil::Date;

use super::Dated;
use crate::book::{Outcome, Row};
use crate::case::{Detail, FixedBy};
use crate::cli::book_arguments::CasesArguments;
use crate::diagnostic::near_name;
use crate::handbook::Handbook;
use crate::text::inert;

/// The name by which nothing wrong is asked for.
const NOTHING_WRONG: &str = "nothing_wrong";

/// What is wanted of a case.
pub(super) struct Filter {
    is_closed: Option<bool>,
    /// In small letters.
    place: Option<String>,
    cause: Option<String>,
    since: Option<Date>,
}

impl Filter {
    /// What the arguments ask for.
    ///
    /// # Errors
    /// A cause that neither the handbook nor any case has.
    pub fn of(arguments: &CasesArguments, handbook: &Handbook, rows: &[Row]) -> Result<Self> {
        if let Some(cause) = &arguments.cause {
            check_cause(cause, handbook, rows)?;
        }
        let is_closed = match (arguments.open, arguments.closed) {
            (true, _) => Some(false),
            (_, true) => Some(true),
            _ => None,
        };
        Ok(Self {
            is_closed,
            place: arguments.place.as_ref().map(|place| place.to_lowercase()),
            cause: arguments.cause.clone(),
            since: arguments.since,
        })
    }

    /// Whether a case is listed. Of one whose first line can't be read nobody knows what it is: it
    /// is always listed.
    pub fn keeps(&self, Dated { row, day }: &Dated) -> bool {
        let told = &row.told;
        if told.handbook.is_none() {
            return true;
        }
        let place = || told.details.get(Detail::Place).unwrap_or_default().to_lowercase();
        self.is_closed.is_none_or(|closed| closed == told.closing.is_some())
            && self.place.as_ref().is_none_or(|wanted| place().contains(wanted))
            && self.cause.as_ref().is_none_or(|wanted| causes(row).contains(&wanted.as_str()))
            && self.since.is_none_or(|since| day.is_some_and(|day| day >= since))
    }
}

/// What leads a case, what was mended in it, and what it was closed with.
fn causes(row: &Row) -> Vec<&str> {
    let mut causes = Vec::new();
    if let Outcome::Led { cause, mended, .. } = &row.judged.outcome {
        causes.push(cause.as_deref().unwrap_or(NOTHING_WRONG));
        causes.extend(mended.iter().map(|named| named.cause.as_str()));
    }
    let fixed = row.told.closing.as_ref().and_then(|closing| match &closing.fixed_by {
        FixedBy::Cause(id) => Some(id.as_str()),
        FixedBy::Nothing => Some(NOTHING_WRONG),
        FixedBy::Unknown => None,
    });
    causes.extend(fixed);
    causes
}

fn check_cause(wanted: &str, handbook: &Handbook, rows: &[Row]) -> Result<()> {
    let of_handbook = handbook.causes().iter().map(|cause| cause.id.as_str());
    let mut known: Vec<&str> = of_handbook.chain([NOTHING_WRONG]).collect();
    known.extend(rows.iter().flat_map(causes));
    if known.contains(&wanted) {
        return Ok(());
    }
    let shown = inert(wanted);
    match near_name(wanted, known.iter().copied()) {
        Some(near) => bail!("there is no cause `{shown}`; did you mean `{near}`?"),
        None => {
            known.sort_unstable();
            known.dedup();
            bail!("there is no cause `{shown}`; the causes are {}", known.join(", "))
        }
    }
}
