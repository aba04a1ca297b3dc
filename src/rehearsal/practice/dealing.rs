//! Which rig a trainee gets: drawn by a level and a seed.

use crate::bench::chance::Chance;
use crate::bench::gauge::Reading;
use crate::bench::operation::Operation;
use crate::bench::rig::Valve;
use crate::handbook::{CauseId, Handbook};
use crate::rehearsal::rigged::population::{Drawn, Ranges, draw};
use crate::rehearsal::rigged::{Fault, Hand, Look, Said, Slips};

/// How hard an exercise is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Level {
    /// One clear fault of the common ones.
    Easy,
    /// Any rig, with all that nobody there sees; now and then a sound one.
    Mixed,
    /// Two faults, a sound rig, a fault that looks like another, or a gauge that is off.
    Hard,
}

impl Level {
    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Easy => "easy",
            Self::Mixed => "mixed",
            Self::Hard => "hard",
        }
    }
}

/// The faults of easy rigs (ids of the built-in handbook): the common ones whose sign is plain.
const COMMON: [&str; 6] =
    ["pump_oil", "ballast_open", "rig_leak", "restriction", "moisture", "system_leak"];
/// Faults that look like others at first (ids of the built-in handbook).
const ALIKE: [&str; 6] = [
    "refrigerant_in_oil",
    "wet_drier",
    "rig_desorption",
    "temperature_change",
    "pump_cold",
    "pump_worn",
];
/// The fault of a gauge that is off (an id of the built-in handbook).
const GAUGE: &str = "gauge_off";
/// One in so many mixed rigs is sound (choice of ours: at their base rates more than half would
/// be).
const ONE_IN: u64 = 8;
/// How many rigs are drawn until one fits (limit of ours).
const MOST_DRAWN: u64 = 4000;

/// A rig that was dealt, as it stands when the trainee comes.
#[derive(Clone, Debug)]
pub struct Dealt {
    /// The level.
    pub level: Level,
    /// The seed that it was drawn with.
    pub seed: u64,
    /// What is wrong with it; nothing for a sound one.
    pub causes: Vec<CauseId>,
    /// How that shows, each with its size in SI units.
    pub faults: Vec<(Fault, f64)>,
    /// Whoever stands at the rig: what was seen first has been seen, the rig is still on the
    /// system, its valves shut, the pump off and the compressor not locked out.
    pub hand: Hand,
    /// What was seen first: a choice of the question about it.
    pub symptom: String,
    /// What the gauge showed at the end of that.
    pub reading: Reading,
    /// The same as its face shows it.
    pub shown: String,
}

/// No rig of a level could be drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("no rig of this level was found among {MOST_DRAWN} that were drawn; take another seed")]
pub struct NothingDealt;

/// What a hard rig is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Hard {
    TwoFaults,
    Sound,
    Alike,
    GaugeOff,
}

/// Draws a rig; the same level and seed give the same one.
///
/// # Errors
/// If none of the level comes up.
pub fn deal(
    ranges: &Ranges,
    handbook: &Handbook,
    level: Level,
    seed: u64,
) -> Result<Dealt, NothingDealt> {
    let kinds = [Hard::TwoFaults, Hard::Sound, Hard::Alike, Hard::GaugeOff];
    // Mixed, so that neighbouring seeds have nothing in common.
    let mut chance = Chance::new(Chance::new(seed ^ 0x7_1a1_4ee).even().to_bits());
    let kind = kinds[((chance.even() * 4.0) as usize).min(3)];
    let fits = |number: u64, drawn: &Drawn| match level {
        Level::Easy => is_easy(handbook, drawn),
        Level::Mixed => !drawn.causes.is_empty() || number.is_multiple_of(ONE_IN),
        Level::Hard => is_hard(handbook, kind, drawn),
    };
    for number in 0..MOST_DRAWN {
        let drawn = draw(ranges, handbook, seed, number);
        if fits(number, &drawn)
            && let Some(dealt) = Dealt::of(drawn, level, seed)
            && (level != Level::Easy || dealt.symptom != "none")
        {
            return Ok(dealt);
        }
    }
    Err(NothingDealt)
}

fn is_one_of(handbook: &Handbook, drawn: &Drawn, ids: &[&str]) -> bool {
    drawn.causes.iter().all(|cause| ids.contains(&handbook.cause(*cause).id.as_str()))
}

fn is_easy(handbook: &Handbook, drawn: &Drawn) -> bool {
    // Readings in the unit of the job, so that no figure has to be turned into another.
    let is_in_micron = drawn.making.kit.face == 0;
    is_in_micron && drawn.causes.len() == 1 && is_one_of(handbook, drawn, &COMMON)
}

fn is_hard(handbook: &Handbook, kind: Hard, drawn: &Drawn) -> bool {
    match kind {
        Hard::TwoFaults => drawn.causes.len() == 2,
        Hard::Sound => drawn.causes.is_empty(),
        Hard::Alike => drawn.causes.len() == 1 && is_one_of(handbook, drawn, &ALIKE),
        Hard::GaugeOff => drawn.causes.len() == 1 && is_one_of(handbook, drawn, &[GAUGE]),
    }
}

impl Dealt {
    /// The rig once somebody has pulled on it, seen what there is to see, and gone. Nothing where
    /// such a rig can't be.
    #[must_use]
    pub fn of(drawn: Drawn, level: Level, seed: u64) -> Option<Self> {
        let mut making = drawn.making;
        // Whoever practises makes their own slips.
        making.kit.slips = Slips::default();
        let mut hand = Hand::of(making, drawn.seed).ok()?;
        let Said::Typed(symptom) = hand.look(Look::Symptom) else { return None };
        let reading = hand.gauge().ok()?;
        let shown = hand.shown_as(reading);
        for operation in [
            Operation::Shut(Valve::System),
            Operation::Shut(Valve::Pump),
            Operation::StopPump,
            Operation::TakeLockOff,
        ] {
            hand.perform(operation).ok()?;
        }
        let (causes, faults) = (drawn.causes, drawn.faults);
        Some(Self { level, seed, causes, faults, hand, symptom, reading, shown })
    }
}
