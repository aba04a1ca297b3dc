//! The formula language: text to tokens to tree to checked tree to values over draws.
//!
//! Only a [checked](Checked) formula can be evaluated. There are no loops, no recursion and no
//! input or output, and size and depth are bounded. Imports `quantity`, `physics`, `rise`, `source`,
//! `diagnostic` and `text`; what a name stands for is asked of [`Names`] while checking and of [`Facts`]
//! while evaluating.
//!
//! ```
//! use dryhold::formula::parse;
//! use dryhold::source::Sources;
//! let mut sources = Sources::default();
//! let text = "blank_off == target / 3";
//! let id = sources.add("<formula>", text);
//! let faults = parse(text, &|range| sources.span(id, range.start, range.end)).unwrap_err();
//! assert_eq!(faults[0].help.as_deref(), Some("write `is`"));
//! ```

mod applied;
mod bare;
mod bracketed;
mod check;
mod draws;
mod evaluate;
mod facts;
mod filling;
mod functions;
mod hold;
mod in_words;
mod kind;
mod lex;
mod limit;
mod limits;
mod margin;
mod names_used;
mod no_names;
mod parse;
mod resolved;
mod show;
mod stops;
mod summary;
mod syntax;
mod template;
mod token;
mod unmet;
mod value;
mod working;

pub use crate::rise::is_even_row;
pub use applied::Applied;
pub use bare::Bare;
pub use check::{check, check_as};
pub use draws::{DRAWS, Draws, stream};
pub use evaluate::evaluate;
pub use facts::{Facts, NameInfo, Names, Referent, Symbol};
pub use functions::{
    Body, Example, FAMILIES, Family, Function, Given, Gives, LookBack, Need, Never, OutOfRange,
    Parameter, Refusal, Takes, find_function, functions,
};
pub use hold::{HoldDraw, HoldGap, HoldGauge, HoldReadings};
pub use kind::{ChoiceSet, Kind};
pub use limits::{Compared, Limit};
pub use no_names::NoNames;
pub use parse::{DEEPEST_FORMULA, LARGEST_FORMULA, LONGEST_FORMULA, parse};
pub use resolved::{Checked, Expression, How, Resolved, Shape, Use};
pub use show::{default_unit, show_summary, show_value};
pub use stops::StopsAt;
pub use summary::Summary;
pub use syntax::{Order, Syntax};
pub use template::{CheckedTemplate, Template};
pub use token::{LANGUAGE_WORDS, is_language_word};
pub use value::{Truth, Unknown, Value, Verdict, verdict};
pub use working::{Origin, Step};
