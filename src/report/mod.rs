//! A case as text for people and as JSON for programs: the same facts in the same order.
//!
//! Gives [`Line`](crate::text::Line)s and JSON values; whoever prints them decides on colour and
//! width. Imports `case`, `evidence`, `quantity` and `text`.

mod advice;
mod answers;
mod assumed;
mod board;
mod brief;
pub mod card;
mod closing;
mod doubt;
mod going_on;
mod headline;
mod in_part;
mod json;
mod judgement;
mod marks;
mod mended;
mod next;
mod next_step;
mod open_points;
mod percent;
mod ranking;
mod reasons;
mod rise;
mod rounded;
mod still_open;
mod tried;
mod undone;
mod unit;
mod verdict;
mod whole;
mod why;
mod worked;

pub use answers::answers;
pub use assumed::assumed;
pub use board::board;
pub use brief::{Brevity, verdict_in_brief};
pub use json::{caution_json, verdict_json};
pub use ranking::ranking_line;
pub use rise::{
    Asked, AtWork, ChartLook, Judged, ShownIn, missing_told, plan_told, rise_brief, rise_chart,
    rise_json, rise_svg, rise_told,
};
pub use tried::{tried, tried_json};
pub use verdict::verdict;
pub use whole::{About, CaseReport, Fact, LONGEST_MESSAGE, Section};
pub use why::why;
