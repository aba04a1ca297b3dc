//! The reading of a rise as one JSON object, format 1, with full precision.

use serde_json::{Value as Json, json};

use super::few::few_json;
use super::{Asked, id};
use crate::physics::leak::hole_diameter;
use crate::rise::criterion::Judgement;
use crate::rise::{Hold, Missing, Range, Reading, Verdict};
use crate::text::inert;

/// What a hold says, in SI units: pressures in Pa, times in s, rates in Pa/s.
///
/// Where the readings can't be read, `verdict` is `cannot_tell` and `missing` says why.
#[must_use]
pub fn rise_json(hold: &Hold, asked: &Asked, read: Result<&Reading, &Missing>) -> Json {
    let criterion = asked.criterion.as_ref().map(|asked| {
        json!({
            "result": result_id(asked.judgement),
            "limit_pa": asked.criterion.limit,
            "within_s": asked.criterion.within,
            "source": asked.source.as_deref().map(inert),
        })
    });
    match read {
        Ok(reading) => told(hold, asked, reading, &criterion),
        Err(why) => json!({
            "format": 1,
            "readings": hold.times.len(),
            "verdict": id(Verdict::CannotTell),
            "missing": why.to_string(),
            "three_readings": few_json(hold, why),
            "criterion": criterion,
        }),
    }
}

fn told(hold: &Hold, asked: &Asked, reading: &Reading, criterion: &Option<Json>) -> Json {
    let levelling = &reading.levelling;
    json!({
        "format": 1,
        "readings": reading.readings,
        "duration_s": reading.duration,
        "resolution_pa": reading.resolution,
        "temperature_change": {
            "value": hold.surroundings.warmed_by,
            "standard_deviation": hold.surroundings.drift,
            "unit": "K",
        },
        "straight": {
            "probability": reading.straight,
            "above": { "value": hold.rate_that_matters, "unit": "Pa/s" },
            "rate": range(reading.rate, "Pa/s"),
            "upper_limit": { "value": reading.rate_limit, "unit": "Pa/s" },
        },
        "levelling": {
            "probability": levelling.probability,
            "height": range(levelling.height, "Pa"),
            "level": range(levelling.level, "Pa"),
            "spread": levelling.spread.iter().map(|(time_constant, height)| json!({
                "time_constant_s": time_constant,
                "height_pa": height,
            })).collect::<Vec<_>>(),
            "over_saturation": levelling.over_saturation.map(|over| range(over, "1")),
        },
        "step": { "value": reading.step, "unit": "Pa" },
        "slowest_told_s": reading.slowest_told,
        "throughput": reading.throughput.map(|through| range(through.load, "Pa m3/s")),
        "no_leak_larger_than": reading.throughput.map(|through| json!({
            "value": through.limit,
            "unit": "Pa m3/s",
            "hole_m": hole_diameter(through.limit),
        })),
        "at_work": asked.at_work.zip(reading.throughput).map(|(at_work, through)| at_work.json(through)),
        "misfit_pa": reading.misfit,
        "verdict": id(reading.verdict),
        "wait_more_s": reading.wait_more.map(|more| more.latest.unwrap_or(more.soonest)),
        "wait_more": reading.wait_more.map(|more| json!({
            "soonest": more.soonest,
            "latest": more.latest,
            "unit": "s",
        })),
        "criterion": criterion,
    })
}

fn range(range: Range, unit: &str) -> Json {
    json!({ "value": range.value, "low": range.low, "high": range.high, "unit": unit })
}

fn result_id(judgement: Judgement) -> &'static str {
    match judgement {
        Judgement::Pass => "pass",
        Judgement::Fail => "fail",
        Judgement::TooClose => "too_close",
        Judgement::TooShort => "too_short",
    }
}
