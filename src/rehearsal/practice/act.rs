//! What a trainee can do at the rig.

use crate::bench::rig::{Place, Valve};

/// A section of the system, counted from the port.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Section {
    /// The gas line with the port.
    GasLine,
    /// The indoor coil with the flares at it.
    IndoorCoil,
    /// The compressor.
    Compressor,
    /// The outdoor coil.
    OutdoorCoil,
    /// The liquid line with the drier.
    LiquidLine,
}

impl Section {
    /// Every section, from the port.
    pub const ALL: [Self; 5] =
        [Self::GasLine, Self::IndoorCoil, Self::Compressor, Self::OutdoorCoil, Self::LiquidLine];

    /// What it is called in a sentence.
    #[must_use]
    pub fn called(self) -> &'static str {
        match self {
            Self::GasLine => "the gas line",
            Self::IndoorCoil => "the indoor coil",
            Self::Compressor => "the compressor",
            Self::OutdoorCoil => "the outdoor coil",
            Self::LiquidLine => "the liquid line",
        }
    }

    /// Its place at the rig.
    #[must_use]
    pub fn place(self) -> Place {
        Place::Section(self as usize)
    }
}

/// Joints that can be touched or made anew.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AtJoints {
    /// At the pump's inlet.
    Pump,
    /// Those of the hose.
    Hose,
    /// Those of the core tool.
    Tool,
}

impl AtJoints {
    /// What it is called in a sentence.
    #[must_use]
    pub fn called(self) -> &'static str {
        match self {
            Self::Pump => "the pump's inlet",
            Self::Hose => "the hose",
            Self::Tool => "the core tool",
        }
    }

    /// Its place at the rig.
    #[must_use]
    pub fn place(self) -> Place {
        match self {
            Self::Pump => Place::PumpInlet,
            Self::Hose => Place::Part(0),
            Self::Tool => Place::Part(1),
        }
    }
}

/// What can be warmed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spot {
    /// One section.
    One(Section),
    /// The whole system.
    All,
}

/// What can be changed for another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Changed {
    /// The pump's oil.
    Oil,
    /// The gauge.
    Gauge,
    /// The hose.
    Hose,
    /// The core tool.
    Tool,
    /// All parts between pump and system.
    Rig,
}

/// Something that a trainee does. Times are in s, pressures above the barometer in Pa.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Act {
    /// Locks the compressor out.
    Lock,
    /// Caps the pump with the gauge on its inlet.
    Cap,
    /// Puts one part in line.
    Line(AtJoints),
    /// Builds the rig without the system.
    Rig,
    /// Puts the rig on the system.
    System,
    /// Takes the rig off the system.
    TakeOff,
    /// Stops the pump and lets air into the rig.
    Vent,
    /// Opens a valve.
    Open(Valve),
    /// Shuts a valve.
    Shut(Valve),
    /// Looks how the gas ballast stands.
    LookAtBallast,
    /// Opens the gas ballast.
    OpenBallast,
    /// Shuts the gas ballast.
    ShutBallast,
    /// Runs the pump for a time.
    Pull(f64),
    /// Stops the pump.
    Halt,
    /// Waits with everything as it is.
    Wait(f64),
    /// Reads the gauge.
    Read,
    /// Looks at the oil.
    LookAtOil,
    /// Moves the fittings somewhere and watches the gauge.
    Touch(AtJoints),
    /// Feels for the coldest spot with a thermometer.
    Feel,
    /// Reads the second gauge at the pump.
    Second,
    /// Lets the gauge stand in open air.
    InAir,
    /// Holds a detector to the exhaust.
    Sniff,
    /// Warms a spot by so many K, 0 to stop.
    Warm(Spot, f64),
    /// Breaks the vacuum with dry nitrogen up to the barometer, and lets it stand for a time.
    Sweep(f64),
    /// Puts nitrogen of a pressure on the system.
    Press(f64),
    /// Reads the nitrogen that stands.
    ReadNitrogen,
    /// Brushes a section with bubble solution.
    Bubbles(Section),
    /// Lets the nitrogen out.
    Release,
    /// Changes something for another.
    Change(Changed),
    /// Brings the pump into the warm, on a short heavy lead.
    WarmPump,
    /// Cleans the gauge.
    CleanGauge,
    /// Makes the joints somewhere at the rig anew.
    Remake(AtJoints),
    /// Makes the joints of a section anew.
    Mend(Section),
    /// Takes the valve core out.
    TakeCoreOut,
    /// Puts wide hoses on.
    WideHoses,
}

impl Act {
    /// The act in words, as what was done.
    #[must_use]
    pub fn told(self) -> String {
        let minutes = |seconds: f64| format!("{} min", libm::round(seconds / 6.0) / 10.0);
        match self {
            Self::Lock => "locked the compressor out".to_owned(),
            Self::Cap => "capped the pump".to_owned(),
            Self::Line(part) => format!("put {} in line", part.called()),
            Self::Rig => "built the rig without the system".to_owned(),
            Self::System => "put the rig on the system".to_owned(),
            Self::TakeOff => "took the rig off the system".to_owned(),
            Self::Vent => "vented the rig".to_owned(),
            Self::Open(valve) => format!("opened the valve at the {}", called(valve)),
            Self::Shut(valve) => format!("shut the valve at the {}", called(valve)),
            Self::LookAtBallast => "looked at the gas ballast".to_owned(),
            Self::OpenBallast => "opened the gas ballast".to_owned(),
            Self::ShutBallast => "shut the gas ballast".to_owned(),
            Self::Pull(time) => format!("pulled for {}", minutes(time)),
            Self::Halt => "stopped the pump".to_owned(),
            Self::Wait(time) => format!("waited for {}", minutes(time)),
            Self::Read => "read the gauge".to_owned(),
            Self::LookAtOil => "looked at the oil".to_owned(),
            Self::Touch(place) => format!("touched the fittings at {}", place.called()),
            Self::Feel => "felt for the coldest spot".to_owned(),
            Self::Second => "read the second gauge".to_owned(),
            Self::InAir => "let the gauge stand in open air".to_owned(),
            Self::Sniff => "held a detector to the exhaust".to_owned(),
            Self::Warm(spot, by) => warming(spot, by),
            Self::Sweep(time) => format!("swept with nitrogen for {}", minutes(time)),
            Self::Press(above) => format!("pressed with nitrogen to {:.1} barg", above / 1e5),
            Self::ReadNitrogen => "read the nitrogen".to_owned(),
            Self::Bubbles(section) => format!("brushed {}", section.called()),
            Self::Release => "let the nitrogen out".to_owned(),
            Self::Change(Changed::Oil) => "changed the oil".to_owned(),
            Self::Change(Changed::Gauge) => "took another gauge".to_owned(),
            Self::Change(Changed::Hose) => "changed the hose".to_owned(),
            Self::Change(Changed::Tool) => "changed the core tool".to_owned(),
            Self::Change(Changed::Rig) => "changed all parts of the rig".to_owned(),
            Self::WarmPump => "brought the pump into the warm".to_owned(),
            Self::CleanGauge => "cleaned the gauge".to_owned(),
            Self::Remake(place) => format!("made the joints anew at {}", place.called()),
            Self::Mend(section) => format!("mended the joints of {}", section.called()),
            Self::TakeCoreOut => "took the valve core out".to_owned(),
            Self::WideHoses => "put a wide hose on".to_owned(),
        }
    }
}

fn warming(spot: Spot, by: f64) -> String {
    let what = match spot {
        Spot::One(section) => section.called(),
        Spot::All => "the whole system",
    };
    if by > 0.0 { format!("warmed {what} by {by:.0} K") } else { format!("let {what} cool") }
}

/// What a valve is at.
pub(super) fn called(valve: Valve) -> &'static str {
    match valve {
        Valve::Pump => "pump",
        Valve::System => "system",
    }
}
