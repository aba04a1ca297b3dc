//! The laws of physics against values from outside, and their properties.

mod cross_check;
mod doubt;
mod library_flow;
mod library_leaks;
mod page;
mod properties_flow;
mod properties_leaks;
mod refrigerants;
mod refusals_flow;
mod refusals_leaks;
mod rows;
mod table;

/// A row about a part that no function shows by itself: the topic, the case, and the value in the
/// unit of the row.
type LibraryRow = (&'static str, &'static str, fn() -> f64);

/// The rows marked `library`, by who computes them.
const LIBRARIES: &[&[LibraryRow]] = &[library_flow::ROWS, library_leaks::ROWS];
