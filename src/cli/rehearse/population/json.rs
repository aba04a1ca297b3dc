//! A population for programs: our own JSON.

use serde_json::{Value, json};

use super::Population;
use super::text::{base_rates, names};
use crate::evidence::Alike;
use crate::rehearsal::rigged::population::{Calibrated, Interval, Score, Shown};

/// The version of the format; it rises when a key changes its meaning or goes.
const FORMAT: u32 = 1;

pub(super) fn json(population: &Population<'_>) -> Value {
    let tally = population.tally();
    let settled = tally.only(|score| score.is_settled);
    let apart = tally.only(|score| !population.is_hard_to_tell(score));
    let hard = |pair: &Alike| {
        let ids = pair.causes.map(|id| population.handbook.cause(id).id.as_str());
        json!({ "causes": ids, "nats": pair.nats })
    };
    let wet = tally.only(|score| population.is_wet_and_tight(score));
    let (brier, loss) = tally.of_base_rates(&base_rates(population));
    let causes: Vec<&str> =
        population.handbook.causes().iter().map(|cause| cause.id.as_str()).collect();
    json!({
        "format": FORMAT,
        "population": population.name,
        "seed": population.seed,
        "handbook": {
            "name": population.handbook.name(),
            "version": population.handbook.version(),
            "hash": population.handbook.hash(),
        },
        "rigs": population.scores.len(),
        "unmade": population.unmade,
        "causes": causes,
        "groups": names(population),
        "leading_group_right": interval(tally.bounded(|score| score.is_right_within(1))),
        "first_two_right": interval(tally.bounded(|score| score.is_right_within(2))),
        "settled": interval(tally.bounded(|score| score.is_settled)),
        "wrong_when_settled": interval(settled.bounded(|score| !score.is_right_within(1))),
        "for_the_job": {
            "leading_group_right": interval(tally.bounded(|score| score.is_right_for_the_job_within(1))),
            "first_two_right": interval(tally.bounded(|score| score.is_right_for_the_job_within(2))),
            "wrong_when_settled": interval(settled.bounded(|score| !score.is_right_for_the_job_within(1))),
        },
        "hard_to_tell_apart": population.alike.iter().map(hard).collect::<Vec<_>>(),
        "leading_group_right_without_these": interval(apart.bounded(|score| score.is_right_within(1))),
        "wet_tight_called_a_leak": interval(wet.bounded(|score| population.is_called_a_leak(score))),
        "brier": interval(tally.brier()),
        "brier_of_base_rates": brier,
        "log_loss": interval(tally.log_loss()),
        "log_loss_of_base_rates": loss,
        "calibration_of_leader": bins(&tally.calibration_of_leader()),
        "calibration_of_causes": bins(&tally.calibration_of_causes()),
        "plays": population.scores.iter().enumerate().map(|one| play(population, one)).collect::<Vec<_>>(),
    })
}

fn interval(interval: Interval) -> Value {
    json!({ "value": interval.value, "low": interval.low, "high": interval.high })
}

fn bins(bins: &[Calibrated]) -> Vec<Value> {
    let bin = |bin: &Calibrated| {
        json!({
            "from": bin.bounds.0,
            "to": bin.bounds.1,
            "number": bin.number,
            "held": bin.held,
            "so": bin.so,
        })
    };
    bins.iter().map(bin).collect()
}

fn play(population: &Population<'_>, (number, score): (usize, &Score)) -> Value {
    let shown = |shown: &Shown| {
        let finding = &population.handbook.finding(shown.finding).id;
        (finding.clone(), json!(shown.outcomes))
    };
    json!({
        "number": number,
        "is_there": score.is_there,
        "held": score.held,
        "groups": score.groups,
        "are_so": score.are_so,
        "shows": score.shows,
        "symptom": score.symptom,
        "settled": score.is_settled,
        "stopped": score.is_stopped,
        "trees": score.trees,
        "end": score.end,
        "minutes": score.minutes,
        "questions": score.questions,
        "refused": score.refused,
        "unsure": score.unsure,
        "shown": score.shown.iter().map(shown).collect::<serde_json::Map<_, _>>(),
    })
}
