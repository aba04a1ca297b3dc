//! The way of a trainee in legs: what each test was worth when it was made, and its minutes.

use super::act::AtJoints;
use crate::handbook::{ActionId, CauseId, QuestionId};

/// What a test is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TestOf {
    /// The pump alone.
    Pump,
    /// A part in line.
    Part(AtJoints),
    /// The rig without the system.
    Rig,
    /// The system with the pump on it.
    System,
    /// The system behind its shut valve.
    Hold,
    /// A rise with another valve shut, or none.
    OtherRise,
    /// A part or the rig shut off from the pump.
    ShutOff,
    /// The oil.
    Oil,
    /// The gas ballast.
    Ballast,
    /// Touched fittings.
    Touch,
    /// The gauge in open air.
    Air,
    /// A second gauge.
    SecondGauge,
    /// The coldest spot.
    Temperature,
    /// A warmed spot.
    Warmth,
    /// The exhaust.
    Exhaust,
    /// The nitrogen that stands.
    Nitrogen,
    /// Bubbles.
    Bubbles,
}

impl TestOf {
    /// The questions that it can answer (ids of the built-in handbook), beside those that it
    /// answers at once.
    pub(super) fn shows(self) -> &'static [&'static str] {
        match self {
            Self::Pump => &["pump_is_capped", "pump_minutes", "blank_off", "still_falling"],
            Self::Part(_) => &["part", "part_reading", "still_falling"],
            Self::Rig => &["rig_reading", "still_falling"],
            Self::System => &["stall_reading", "stall_minutes", "time_taken", "still_falling"],
            _ => &[],
        }
    }

    /// What it is called.
    #[must_use]
    pub fn called(self) -> &'static str {
        match self {
            Self::Pump => "the pump alone",
            Self::Part(AtJoints::Tool) => "the core tool in line",
            Self::Part(_) => "the hose in line",
            Self::Rig => "the rig without the system",
            Self::System => "the system under the pump",
            Self::Hold => "the hold",
            Self::OtherRise => "a rise not behind the system's valve",
            Self::ShutOff => "what was shut off from the pump",
            Self::Oil => "the look at the oil",
            Self::Ballast => "the look at the gas ballast",
            Self::Touch => "the touched fittings",
            Self::Air => "the gauge in open air",
            Self::SecondGauge => "the second gauge",
            Self::Temperature => "the coldest spot",
            Self::Warmth => "the warmed spot",
            Self::Exhaust => "the exhaust",
            Self::Nitrogen => "the standing nitrogen",
            Self::Bubbles => "the bubble test",
        }
    }
}

/// What a leg was.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LegKind {
    /// A test.
    Test(TestOf),
    /// A repair.
    Repair(ActionId),
    /// The compressor was locked out, which no test is to be charged with.
    LockOut,
    /// The pump ran behind its own shut valve.
    OnNothing,
    /// Time of which nothing came.
    Rest,
}

/// A leg of the way: a test or a repair, with everything that was done for it.
#[derive(Clone, Debug, PartialEq)]
pub struct Leg {
    /// What it was.
    pub kind: LegKind,
    /// How many minutes it took.
    pub minutes: f64,
    /// How many of them, at its end, told nothing more.
    pub idle: f64,
    /// What it was worth when it was made, in bits about the causes.
    pub bits: f64,
    /// Whether it told anything.
    pub has_told: bool,
    /// What was lacking for it to tell something.
    pub lacks: Vec<QuestionId>,
    /// What it showed last.
    pub shown: String,
    /// Each cause of the handbook by its place: how probable it was before.
    pub before: Vec<f64>,
    /// The same after it told something last.
    pub told: Vec<f64>,
    /// What led afterwards, none for nothing wrong, and how probable that was.
    pub lead: (Option<CauseId>, f64),
}
