//! The chart of the hold test that was read last.

use super::CaseReport;
use crate::case::Reply;
use crate::report::{ShownIn, rise_svg};
use crate::rise::criterion::Criterion;
use crate::rise::{Gauge, Hold, read_without_forecast};

/// The rate that matters where nobody asks about one: 5 micron/min in Pa/s (`estimate`); it decides
/// which parts are drawn.
const MATTERS: f64 = 5.0 * 0.133_322_387_415 / 60.0;

/// The chart as SVG to stand within a page; none where no hold was read.
pub(super) fn svg(report: &CaseReport<'_>) -> Option<String> {
    if report.is_in_danger() {
        return None;
    }
    let given = &report.case.record().given;
    let (question, hold) = given.iter().rev().find_map(|given| match &given.reply {
        Reply::Readings { times, pressures, resolution } => {
            let gauge = Gauge { resolution: *resolution, ..Gauge::default() };
            Some((given.question, Hold::new(times.clone(), pressures.clone(), gauge, MATTERS)))
        }
        _ => None,
    })?;
    let reading = read_without_forecast(&hold).ok();
    let unit = report.case.handbook().question(question).unit.clone();
    let shown: Vec<_> = unit.map(|unit| ("micron".to_owned(), unit)).into_iter().collect();
    rise_svg(&hold, reading.as_ref(), criterion(report), &ShownIn::new(&shown))
}

/// The written limit, by the names that the built-in handbook asks for it.
fn criterion(report: &CaseReport<'_>) -> Option<Criterion> {
    let latest = |question: &str| {
        let id = report.case.handbook().find_question(question)?;
        match report.case.latest_answer(id)?.reply {
            Reply::Quantity { si, .. } => Some(si),
            _ => None,
        }
    };
    Some(Criterion { limit: latest("hold_limit")?, within: latest("hold_time")? })
}
