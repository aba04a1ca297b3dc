//! What three or four readings say, which are too few for the parts of a rise.

use serde_json::{Value as Json, json};

use super::sizes::{ShownIn, minutes};
use crate::rise::three_readings::{Shape, noise_of_steps, picked, shape};
use crate::rise::{Hold, Missing, found_resolution};
use crate::text::Line;

/// Three of the readings with what they say.
struct Few {
    shape: Shape,
    /// Seconds from the first to the last of the three.
    duration: f64,
    /// Step of the display in Pa.
    resolution: f64,
}

/// None where there are more or fewer readings, none stand at even distances, or no step is seen.
fn few(hold: &Hold, why: &Missing) -> Option<Few> {
    let Missing::Readings { found: 3.. } = why else { return None };
    let places = picked(&hold.times)?;
    let resolution = hold.gauge.resolution.or_else(|| found_resolution(&hold.pressures))?;
    let duration = hold.times[places[2]] - hold.times[places[0]];
    let readings = places.map(|place| hold.pressures[place]);
    Some(Few { shape: shape(readings, duration, noise_of_steps(resolution)), duration, resolution })
}

pub(super) fn few_told(hold: &Hold, why: &Missing, shown: &ShownIn) -> Option<Line> {
    let few = few(hold, why)?;
    let (over, steps) = (minutes(few.duration), shown.pressure(few.resolution));
    Some(Line::plain(match few.shape {
        Shape::Never => format!(
            "Three of them over {over}: they can never tell, as the rise hides in steps of {steps}. Take a finer \
             gauge, or wait for a larger rise."
        ),
        Shape::NotCurved => format!(
            "Three of them over {over}: no bend beyond steps of {steps}. It may be straight, or too \
             short to show a bend; that proves no leak."
        ),
        Shape::Curved { time_constant, level } => format!(
            "Three of them over {over}: it bends beyond steps of {steps}, and may level off near {} \
             (time constant about {}). Moisture does so; a leak may still be under it.",
            shown.pressure(level),
            minutes(time_constant)
        ),
        Shape::Neither => format!(
            "Three of them over {over}: it falls, or rises faster and faster. Neither a leak nor \
             moisture does so alone."
        ),
    }))
}

pub(super) fn few_json(hold: &Hold, why: &Missing) -> Option<Json> {
    let few = few(hold, why)?;
    let (word, curve) = match few.shape {
        Shape::Never => ("never", None),
        Shape::NotCurved => ("not_curved", None),
        Shape::Curved { time_constant, level } => ("levels_off", Some((time_constant, level))),
        Shape::Neither => ("neither", None),
    };
    Some(json!({
        "shape": word,
        "duration_s": few.duration,
        "resolution_pa": few.resolution,
        "time_constant_s": curve.map(|(time_constant, _)| time_constant),
        "level_pa": curve.map(|(_, level)| level),
    }))
}
