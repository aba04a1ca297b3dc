//! What is refused at a rig: for a hazard, with the caution and the precaution that was lacking.

use crate::bench::operation::Refusal;

/// Why a hazardous act was not done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Precaution {
    /// What could happen.
    pub caution: &'static str,
    /// What comes first.
    pub first: &'static str,
}

/// What a compressor that may start calls for.
pub(super) const UNLOCKED: Precaution = Precaution {
    caution: "A compressor that starts in vacuum or under test pressure burns out, and can hurt whoever stands there.",
    first: "Lock it out first: lock.",
};

/// The caution of a refusal; none where something merely can't be done.
#[must_use]
pub fn precaution(refusal: Refusal) -> Option<Precaution> {
    let (caution, first) = match refusal {
        Refusal::PumpUnderPressure => (
            "Opened to pressure, the pump blows hot oil out of its exhaust.",
            "Let the pressure off first.",
        ),
        Refusal::VacuumPartsOn => (
            "Pressure above the barometer bursts vacuum hoses and ruins gauge and pump.",
            "Take rig and gauge off the system first: vent, off.",
        ),
        Refusal::NotLockedOut => (UNLOCKED.caution, UNLOCKED.first),
        Refusal::UnderVacuum => (
            "What is unscrewed under vacuum draws in air, dirt and damp, and may snatch at a hand.",
            "Shut the valve at the system and vent the rig first: shut system, vent.",
        ),
        Refusal::SystemOpen => (
            "With the valve at the system open, air and damp get into the system.",
            "Shut it first: shut system.",
        ),
        Refusal::UnderPressure => (
            "A joint loosened or tightened under nitrogen can fly off.",
            "Let the nitrogen out first: release.",
        ),
        Refusal::NotOpenToPump => (
            "Warmed while it is shut in, vapour and liquid gain pressure.",
            "Open it to the running pump first: open system, pull.",
        ),
        Refusal::TooWarm => (
            "A surface above 50 °C harms seals and insulation, and burns a hand.",
            "Warm it by 30 degrees at the most.",
        ),
        Refusal::AboveNameplate => (
            "Above the pressure on the nameplate the system may burst.",
            "Read the nameplate and stay below it.",
        ),
        Refusal::NoSystem
        | Refusal::NoNitrogen
        | Refusal::NotThere
        | Refusal::Misbuilt(_)
        | Refusal::Stuck(_) => return None,
    };
    Some(Precaution { caution, first })
}
