//! How long a hold is likely to take, in words.

use super::sizes::{ShownIn, lasting, minutes};
use crate::rise::planning::{LONGEST, Plan, Planned, Wait};
use crate::text::Line;

/// What a plan says, as lines of a result.
#[must_use]
pub fn plan_told(planned: &Planned, plan: &Plan, shown: &ShownIn) -> Vec<Line> {
    let step = match planned.gauge.resolution {
        Some(resolution) => format!(", shown in steps of {}", shown.pressure(resolution)),
        None => String::new(),
    };
    let interval = if planned.interval < 60.0 { lasting } else { minutes };
    // The rate that matters itself lies on the border, where nothing can be told.
    let leaks: Vec<String> = plan.leaks.iter().skip(1).map(|wait| leak(wait, shown)).collect();
    let moisture: Vec<String> = plan.moisture.iter().map(damp).collect();
    vec![
        Line::strong("How long it is likely to take"),
        Line::plain(format!("- A leak is told, {}.", leaks.join("; "))),
        Line::plain(format!(
            "- Moisture without a leak is told, settling {}.",
            moisture.join("; ")
        )),
        Line::plain(format!(
            "Computed for a reading every {}{step}, a start at {}, and moisture that at first \
             rises {}.",
            interval(planned.interval),
            shown.pressure(planned.start),
            shown.rise(planned.first_rate),
        )),
    ]
}

fn leak(wait: &Wait, shown: &ShownIn) -> String {
    format!("of {}: {}", shown.rise(wait.of), told(wait))
}

fn damp(wait: &Wait) -> String {
    format!("within {}: {}", minutes(wait.of), told(wait))
}

/// Until the answer has stood for long enough, in whole minutes.
fn told(wait: &Wait) -> String {
    match wait.settled() {
        Some(seconds) => format!("after {}", minutes((seconds / 60.0).ceil() * 60.0)),
        None => format!("not within {}", minutes(LONGEST)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rise::Gauge;
    use crate::rise::planning::plan;

    const MICRON: f64 = 0.133_322_387_415;

    #[test]
    fn a_plan_says_what_it_was_computed_for() {
        let gauge = Gauge { resolution: Some(MICRON), ..Gauge::default() };
        let planned = Planned::new(gauge, 5.0 * MICRON / 60.0);
        let told = plan_told(&planned, &plan(&planned).unwrap(), &ShownIn::default());
        let text: Vec<String> = told.iter().map(Line::to_text).collect();
        assert!(text[1].starts_with("- A leak is told, of 10 micron/min: after "), "{text:?}");
        assert!(text[1].contains("; of 25 micron/min: after "), "{text:?}");
        assert!(text[2].contains("is told, settling within 3 min: after "), "{text:?}");
        assert_eq!(
            text[3],
            "Computed for a reading every 1 min, shown in steps of 1 micron, a start at 500 \
             micron, and moisture that at first rises 20 micron/min."
        );
    }
}
