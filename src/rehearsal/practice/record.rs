//! The record of an exercise, as it is kept in a file.

use serde::{Deserialize, Serialize};

use super::debrief::{Debrief, LeadWas};
use super::exercise::Exercise;
use super::step::Step;
use super::stretch::LegKind;
use crate::handbook::{CauseId, Handbook};

/// What a record says that it is.
pub const RECORD_FORMAT: &str = "dryhold practice";
/// The version of the format.
pub const RECORD_VERSION: u32 = 1;

/// A test or a repair.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Tested {
    /// What.
    pub what: String,
    /// How many minutes it took.
    pub minutes: f64,
    /// What it was worth when it was made, in bits about the causes.
    pub bits: f64,
}

/// A hazardous act.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct UnsafeStep {
    /// When, in minutes since the beginning.
    pub minutes: f64,
    /// What was to be done.
    pub did: String,
    /// What could have happened.
    pub caution: String,
    /// Whether it was done all the same; else it was refused.
    #[serde(default)]
    pub done: bool,
}

/// What is kept once an exercise has come to its end.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Outcome {
    /// What was hidden: ids of causes.
    pub hidden: Vec<String>,
    /// What was named: ids of causes.
    pub named: Vec<String>,
    /// Whether nothing was named since they gave up; else nothing named means a sound rig.
    #[serde(default)]
    pub given_up: bool,
    /// The remedies named: ids of actions.
    pub remedies: Vec<String>,
    /// Whether exactly what was hidden was named.
    pub right: bool,
    /// Whether what was named calls for the same next action.
    pub right_to_do: bool,
    /// Whether the remedies mend what was hidden.
    pub mends: bool,
    /// How long the assistant took at the same rig, in minutes.
    pub assistant_minutes: Option<f64>,
    /// Whether its lead was there, or called for the same next action.
    pub assistant_right: bool,
    /// How many minutes the dearest mistake cost; 0 where there was none.
    pub dearest_minutes: f64,
    /// The dearest mistake in a sentence; empty where there was none.
    pub dearest: String,
}

/// The record of an exercise.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Record {
    /// [`RECORD_FORMAT`].
    pub format: String,
    /// [`RECORD_VERSION`].
    pub version: u32,
    /// Who practised.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// The level.
    pub level: String,
    /// The seed.
    pub seed: u64,
    /// The hash of the handbook.
    pub handbook: String,
    /// How long it took, in minutes.
    pub minutes: f64,
    /// What an hour costs, if that was told.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hourly: Option<f64>,
    /// Everything that was done or refused, in order.
    pub steps: Vec<Step>,
    /// The tests and repairs, in order.
    pub tests: Vec<Tested>,
    /// The hazardous acts: those that were refused, and those that were done.
    pub unsafe_steps: Vec<UnsafeStep>,
    /// What it came to; none where it was left before its end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outcome: Option<Outcome>,
}

impl Record {
    /// The record of an exercise, with what it came to if it has come to its end.
    #[must_use]
    pub fn of(exercise: &Exercise<'_>, debrief: Option<&Debrief>) -> Self {
        let handbook = &exercise.ground().handbook;
        let dealt = exercise.dealt();
        let steps = exercise.steps().iter().cloned();
        Self {
            format: RECORD_FORMAT.to_owned(),
            version: RECORD_VERSION,
            name: None,
            level: dealt.level.word().to_owned(),
            seed: dealt.seed,
            handbook: handbook.hash().to_owned(),
            minutes: tenths(exercise.minutes()),
            hourly: None,
            steps: steps.map(|step| Step { minutes: tenths(step.minutes), ..step }).collect(),
            tests: tested(exercise),
            unsafe_steps: exercise
                .unsafe_steps()
                .iter()
                .map(|step| UnsafeStep {
                    minutes: tenths(step.at),
                    did: step.act.told(),
                    caution: step.precaution.caution.to_owned(),
                    done: step.was_done,
                })
                .collect(),
            outcome: debrief.map(|debrief| outcome(handbook, debrief)),
        }
    }

    /// What minutes cost, if it was told what an hour costs.
    #[must_use]
    pub fn cost(&self) -> Option<f64> {
        self.hourly.map(|hourly| hourly * self.minutes / 60.0)
    }
}

fn tested(exercise: &Exercise<'_>) -> Vec<Tested> {
    let handbook = &exercise.ground().handbook;
    let what = |kind: LegKind| match kind {
        LegKind::Test(test) => test.called().to_owned(),
        LegKind::Repair(action) => handbook.action(action).id.clone(),
        LegKind::LockOut => "the lock-out".to_owned(),
        LegKind::OnNothing => "the pump behind its shut valve".to_owned(),
        LegKind::Rest => "the rest".to_owned(),
    };
    let legs = exercise.legs().iter();
    legs.map(|leg| Tested {
        what: what(leg.kind),
        minutes: tenths(leg.minutes),
        bits: libm::round(leg.bits * 1000.0) / 1000.0,
    })
    .collect()
}

fn outcome(handbook: &Handbook, debrief: &Debrief) -> Outcome {
    let ids = |causes: &[CauseId]| {
        causes.iter().map(|cause| handbook.cause(*cause).id.clone()).collect::<Vec<_>>()
    };
    let remedies = debrief.named.actions.iter();
    Outcome {
        hidden: ids(&debrief.causes),
        named: ids(&debrief.named.causes),
        given_up: debrief.named.is_given_up,
        remedies: remedies.map(|action| handbook.action(*action).id.clone()).collect(),
        right: debrief.judged.is_right(),
        right_to_do: debrief.judged.is_right_to_do,
        mends: debrief.judged.mends(),
        assistant_minutes: debrief.assisted.as_ref().map(|assisted| tenths(assisted.minutes)),
        assistant_right: matches!(
            debrief.assistant(handbook),
            Some(LeadWas::Right | LeadWas::RightToDo)
        ),
        dearest_minutes: debrief.dearest.as_ref().map_or(0.0, |dearest| tenths(dearest.minutes)),
        dearest: debrief
            .dearest
            .as_ref()
            .map(|dearest| dearest.sentence.clone())
            .unwrap_or_default(),
    }
}

/// To a tenth of a minute.
fn tenths(minutes: f64) -> f64 {
    libm::round(minutes * 10.0) / 10.0
}
