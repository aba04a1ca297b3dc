//! The formula language from text to value.

mod functions;
mod golden;
mod limits;
mod loader;
mod names;
mod page;
mod properties;
mod uncertainty;

use dryhold::diagnostic::Diagnostic;
use dryhold::formula::{Checked, Kind, check, parse};
use dryhold::source::Sources;

pub use loader::faults_of_formulas;
use names::Case;

/// Reads and checks a formula against the case's names.
fn checked(text: &str, case: &Case) -> Result<Checked, Vec<Diagnostic>> {
    let mut sources = Sources::default();
    let id = sources.add("<formula>", text);
    let syntax = parse(text, &|range| sources.span(id, range.start, range.end))?;
    check(&syntax, case, "test")
}

/// The name of a kind as the golden table writes it.
fn kind_name(kind: &Kind) -> String {
    match kind {
        Kind::Quantity(quantity) => quantity.name(),
        Kind::YesNo => "yes/no".to_owned(),
        Kind::Choice(_) => "choice".to_owned(),
        Kind::Choices(_) => "choices".to_owned(),
        Kind::Text => "text".to_owned(),
        Kind::Date => "date".to_owned(),
        Kind::List(of) => format!("list of {}", kind_name(of)),
        Kind::Readings(of) => format!("readings of {}", of.name()),
    }
}
