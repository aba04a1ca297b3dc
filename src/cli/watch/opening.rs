//! What is said before the first reading: what to do, how long it may take, where it is kept.

use std::path::Path;

use super::every::Every;
use super::state::Watch;
use super::when::Moment;
use crate::cli::rise::Wanted;
use crate::report::plan_told;
use crate::rise::planning::{Planned, plan as lay_out};
use crate::terminal::spoken;
use crate::text::{Line, Role, count};

/// The step of a display of which nothing is known yet, in Pa: 1 micron (`estimate`: usual for a
/// service gauge).
const STEP: f64 = 0.133_322_387_415;

/// How long it is likely to take.
pub(super) fn plan(wanted: &Wanted, every: &Every) -> Vec<Line> {
    let mut gauge = wanted.gauge;
    gauge.resolution = gauge.resolution.or(Some(STEP));
    let planned = Planned {
        surroundings: wanted.surroundings,
        interval: every.usual(),
        ..Planned::new(gauge, wanted.matters)
    };
    lay_out(&planned).map(|plan| plan_told(&planned, &plan, &wanted.shown)).unwrap_or_default()
}

/// What to do before and how long it may take; or, of a watch that is taken up again, how far it
/// has come.
pub(super) fn told(watch: &Watch<'_>, plan: &[Line], now: Moment) -> Vec<Line> {
    let first = watch.entries().iter().map(|entry| entry.at).min();
    if let Some(first) = first {
        let ago = now.at.duration_since(first).unsigned_abs();
        return vec![Line::plain(format!(
            "Goes on with {}, the first one {} ago; the clock has run on.",
            count(watch.entries().len(), "reading"),
            spoken(ago)
        ))];
    }
    let mut lines = vec![
        Line::strong("Before the first reading"),
        Line::plain(
            "- The pump still running, shut the valve at the system. The gauge stays on the \
             system's side of it. Then stop the pump.",
        ),
        Line::plain(
            "- Leave valves, hoses and temperatures alone until the end. The first two minutes \
             belong to equalising.",
        ),
        Line::new().push(
            Role::Warning,
            "Never start the compressor, nor test its insulation, while the system is under \
             vacuum: lock it out. If there may be refrigerant under pressure or oxygen in it, \
             stop, and ask a person licensed for refrigerant work.",
        ),
    ];
    lines.extend_from_slice(plan);
    lines
}

pub(super) fn kept_in(path: &Path) -> Line {
    Line::plain(format!("Each reading is kept in {} before it counts.", path.display()))
}
