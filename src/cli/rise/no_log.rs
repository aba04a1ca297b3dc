//! How readings are given to `rise`: for whoever named no log, or is about to type one.

use super::wanted::Wanted;
use crate::cli::arguments::RiseArguments;
use crate::quantity::UnitExpression;
use crate::report::ShownIn;
use crate::series::{example_line, example_rows};

/// What a line that is typed ends with.
const END: &str = if cfg!(windows) { "Ctrl-Z and Enter" } else { "Ctrl-D" };

/// What is missing where no log is named; and what else would be refused behind it.
pub(in crate::cli) fn no_log(
    arguments: &RiseArguments,
    units: &[(String, UnitExpression)],
) -> String {
    let mut told = format!(
        "rise reads the log of a hold, and none is named: give its FILE, or `-` for readings that \
         are typed or piped, such as\n{}",
        rows(&ShownIn::new(units))
    );
    let options = Wanted::of(&arguments.hold);
    if let Err(why) = options.and_then(|wanted| wanted.shown_in(&arguments.hold, units)) {
        told.push_str(&format!("\n{why:#}"));
    }
    told
}

/// What to type at a terminal, and how to end.
pub(super) fn how_to_type(shown: &ShownIn) -> String {
    format!(
        "Type the readings, each behind its time, or in one line:\n{}\n{END} on an empty line ends.",
        rows(shown)
    )
}

/// Readings as they are written, in rows and in one line.
fn rows(shown: &ShownIn) -> String {
    let unit = shown.pressure_unit();
    let [first, second] = example_rows(unit.as_ref());
    format!("  {first}\n  {second}\nor\n  {}", example_line(unit.as_ref()))
}
