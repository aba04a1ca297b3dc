//! What a person can do at a rig, how long it takes, and what must not be done.

use super::gauge::Reading;
use super::hookup::GaugePlace;
use super::integrate::Stuck;
use super::misbuilt::Misbuilt;
use super::oil::Look;
use super::rig::{Place, Valve};

/// Something to do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Operation {
    /// Lock the compressor out of its supply.
    LockOut,
    /// Take the lock off again.
    TakeLockOff,
    /// Cap the pump with the gauge on its inlet.
    CapPump,
    /// Put one part in line, counted from the pump, capped with the gauge at its far end.
    PutInLine(usize),
    /// Connect all parts, capped with the gauge at the far end.
    ConnectRig,
    /// Connect parts and system, with the valve at the system shut and the gauge at a place.
    ConnectSystem(GaugePlace),
    /// Take the rig off the system.
    Disconnect,
    /// Stop the pump and let air into the rig.
    VentRig,
    /// Open a valve.
    Open(Valve),
    /// Shut a valve.
    Shut(Valve),
    /// Run the pump for a time in s.
    Pull(f64),
    /// Stop the pump.
    StopPump,
    /// Wait for a time in s, with everything as it is.
    Wait(f64),
    /// Read the gauge.
    Read,
    /// Move the fittings at a place and watch the gauge.
    Touch(Place),
    /// Look at the oil of the pump.
    LookAtOil,
    /// Change the oil of the pump.
    ChangeOil,
    /// Open the gas ballast.
    OpenBallast,
    /// Shut the gas ballast.
    ShutBallast,
    /// Stop the pump, bring it into the warm and feed it by a short heavy lead.
    WarmPump,
    /// Clean the gauge.
    CleanGauge,
    /// Put another gauge in its place.
    SwapGauge,
    /// Warm a section of the system by so many K, 0 to stop.
    Warm(usize, f64),
    /// Warm the whole system by so many K, 0 to stop.
    WarmSystem(f64),
    /// Let dry nitrogen into the evacuated system up to an absolute pressure in Pa, and wait for
    /// a time in s.
    Sweep {
        /// The absolute pressure in Pa.
        to: f64,
        /// How long it stays, in s.
        dwell: f64,
    },
    /// Put nitrogen of a pressure above the barometer in Pa on the system, which stands alone.
    Pressurise(f64),
    /// Read the pressure of the standing nitrogen and the temperature.
    ReadStanding,
    /// Brush a place with bubble solution while nitrogen stands.
    BubbleTest(Place),
    /// Let the nitrogen out, down to the barometer.
    ReleaseNitrogen,
    /// Put other parts of the same size, sound ones, in the place of all parts.
    SwapRig,
    /// Put a sound part of the same size in the place of one.
    ReplacePart(usize),
    /// Make the joints at a place anew.
    RemakeJoints(Place),
    /// Mend every leak at a place.
    MendLeaks(Place),
    /// Take the valve core out.
    TakeCoreOut,
    /// Put hoses of a bore in m in the place of narrower ones.
    UseWideHoses(f64),
}

/// What came of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Outcome {
    /// It is done.
    Done,
    /// What the gauge shows.
    Shown(Reading),
    /// What the gauge showed before and while fittings were moved.
    Touched {
        /// Before.
        before: Reading,
        /// While they were moved.
        during: Reading,
    },
    /// What the oil looks like.
    Oil(Look),
    /// The pressure above the barometer in Pa and the temperature in K of standing nitrogen.
    Standing {
        /// The pressure above the barometer in Pa.
        pressure: f64,
        /// The temperature in K.
        temperature: f64,
    },
    /// Whether bubbles grew.
    Bubbles(bool),
}

/// Why something is not done.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Refusal {
    /// The pump would be opened to a pressure above the barometer: oil is blown out.
    PumpUnderPressure,
    /// Gauge, pump or vacuum hoses are still on: nitrogen above the barometer ruins or bursts
    /// them.
    VacuumPartsOn,
    /// The compressor is not locked out: it might start in vacuum or under test pressure.
    NotLockedOut,
    /// What would be unscrewed is under vacuum: it must be vented first.
    UnderVacuum,
    /// The valve at the system is open: air would get into the system.
    SystemOpen,
    /// Nitrogen stands in what would be loosened or tightened.
    UnderPressure,
    /// What would be warmed is not open to a running pump: shut in, vapour and liquid gain
    /// pressure.
    NotOpenToPump,
    /// More than a surface may be warmed.
    TooWarm,
    /// More pressure than the nameplate says.
    AboveNameplate,
    /// It needs the system to be connected.
    NoSystem,
    /// It needs nitrogen that stands.
    NoNitrogen,
    /// There is no such place, part or section, or a figure is out of its range.
    NotThere,
    /// The rig can't be as it is now.
    Misbuilt(Misbuilt),
    /// The simulation could not follow.
    Stuck(Stuck),
}

/// The longest time in s that passes at once: two days.
pub const LONGEST: f64 = 172_800.0;

/// The most that a section is warmed by in K: a surface keeps below 50 °C (common practice).
pub const MOST_WARMING: f64 = 30.0;

impl Operation {
    /// How long it takes by itself in s, without the time that it names. Mark: estimate, after
    /// common practice.
    #[must_use]
    pub fn seconds(self) -> f64 {
        let minutes = match self {
            Self::Open(_) | Self::Shut(_) | Self::Read | Self::ReadStanding => 0.1,
            Self::OpenBallast | Self::ShutBallast | Self::LookAtOil | Self::Touch(_) => 0.25,
            Self::Pull(_) | Self::Wait(_) => 0.0,
            Self::StopPump | Self::Warm(..) | Self::TakeLockOff => 0.5,
            Self::VentRig | Self::ReleaseNitrogen | Self::Sweep { .. } => 1.0,
            Self::LockOut | Self::CapPump | Self::Disconnect | Self::WarmSystem(_) => 2.0,
            Self::PutInLine(_) | Self::SwapGauge | Self::BubbleTest(_) => 3.0,
            Self::ConnectRig | Self::ConnectSystem(_) | Self::RemakeJoints(_) => 5.0,
            Self::WarmPump => 5.0,
            Self::SwapRig | Self::ReplacePart(_) | Self::TakeCoreOut | Self::UseWideHoses(_) => 8.0,
            Self::Pressurise(_) | Self::CleanGauge | Self::ChangeOil => 10.0,
            Self::MendLeaks(_) => 40.0,
        };
        60.0 * minutes
    }

    /// The time in s that it names, 0 if none.
    #[must_use]
    pub fn named_time(self) -> f64 {
        match self {
            Self::Pull(time) | Self::Wait(time) | Self::Sweep { dwell: time, .. } => time,
            _ => 0.0,
        }
    }

    /// Whether the pump, its inlet or the parts are taken apart for it.
    pub(super) fn takes_rig_apart(self) -> bool {
        matches!(
            self,
            Self::CapPump
                | Self::PutInLine(_)
                | Self::ConnectRig
                | Self::ConnectSystem(_)
                | Self::Disconnect
                | Self::SwapRig
                | Self::ReplacePart(_)
                | Self::UseWideHoses(_)
                | Self::RemakeJoints(Place::PumpInlet | Place::Part(_))
                | Self::MendLeaks(Place::PumpInlet | Place::Part(_))
        )
    }

    /// The place that it names.
    pub(super) fn place(self) -> Option<Place> {
        match self {
            Self::Touch(place)
            | Self::BubbleTest(place)
            | Self::RemakeJoints(place)
            | Self::MendLeaks(place) => Some(place),
            Self::PutInLine(part) | Self::ReplacePart(part) => Some(Place::Part(part)),
            Self::Warm(section, _) => Some(Place::Section(section)),
            _ => None,
        }
    }
}

impl std::fmt::Display for Refusal {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let text = match self {
            Self::PumpUnderPressure => "the pump would be opened to pressure",
            Self::VacuumPartsOn => "gauge, pump or vacuum hoses are still on",
            Self::NotLockedOut => "the compressor is not locked out",
            Self::UnderVacuum => "it is under vacuum and was not vented",
            Self::SystemOpen => "the valve at the system is open",
            Self::UnderPressure => "nitrogen stands in it",
            Self::NotOpenToPump => "it is not open to a running pump",
            Self::TooWarm => "that is more than a surface may be warmed",
            Self::AboveNameplate => "that is above the nameplate",
            Self::NoSystem => "the system is not connected",
            Self::NoNitrogen => "no nitrogen stands in the system",
            Self::NotThere => "there is no such place or figure",
            Self::Misbuilt(fault) => return fault.fmt(f),
            Self::Stuck(stuck) => return stuck.fmt(f),
        };
        f.write_str(text)
    }
}

impl std::error::Error for Refusal {}

impl From<Stuck> for Refusal {
    fn from(stuck: Stuck) -> Self {
        Self::Stuck(stuck)
    }
}

impl From<Misbuilt> for Refusal {
    fn from(fault: Misbuilt) -> Self {
        Self::Misbuilt(fault)
    }
}
