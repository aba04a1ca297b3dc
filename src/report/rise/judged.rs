//! How the readings stand to a written limit, in sentences.

use super::Judged;
use super::sizes::{ShownIn, minutes};
use crate::rise::criterion::Judgement;
use crate::rise::{Gauge, Hold};
use crate::text::{Line, inert};

/// The limit and whether it was passed, which whoever named one asks first.
pub(super) fn judged(hold: &Hold, asked: &Judged, shown: &ShownIn) -> Vec<Line> {
    let (limit, within) = (shown.pressure(asked.criterion.limit), minutes(asked.criterion.within));
    let said = match asked.judgement {
        Judgement::Pass => "passed",
        Judgement::Fail => "failed",
        Judgement::TooClose => &too_close(&hold.gauge, shown),
        Judgement::TooShort => "below it so far, and the time is not over",
    };
    let from = match &asked.source {
        Some(source) => format!("Its figures are from: {}.", inert(source)),
        None => {
            "Nobody has said where its figures come from; the maker's or the local code's come \
                 first."
                .to_owned()
        }
    };
    vec![
        Line::strong("The criterion"),
        Line::plain(format!(
            "Not above {limit} within {within}: {said}. It judges the readings alone, whatever made \
             them rise."
        )),
        Line::plain(from),
    ]
}

/// With what the judgement took the gauge for.
fn too_close(gauge: &Gauge, shown: &ShownIn) -> String {
    let scale = format!("{:.1}", 200.0 * gauge.scale_doubt.abs());
    let scale = scale.trim_end_matches(".0");
    let offset = match 2.0 * gauge.offset_doubt.abs() {
        none if none <= 0.0 => String::new(),
        offset => format!(" and {}", shown.pressure(offset)),
    };
    format!(
        "too close to the limit for a gauge true to {scale} %{offset} (19 in 20), as taken here"
    )
}
