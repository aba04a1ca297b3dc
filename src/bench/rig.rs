//! A rig as it is made: what is hidden in it, and what anybody can see.

use crate::physics::conductance::CORE_BORE;
use crate::physics::refrigerant::Refrigerant;

use super::ambient::Ambient;
use super::gauge::Gauge;
use super::leak::Hole;
use super::liquid_water::Puddle;
use super::oil::Oil;
use super::passage::Passage;
use super::pump::Pump;
use super::wall_water::{Store, Walls};

/// A hose, a tool or a manifold between pump and system.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// The bore in m.
    pub bore: f64,
    /// The length in m.
    pub length: f64,
    /// The volume in m³ of its body besides the bore.
    pub body: f64,
    /// What water its walls and seals hold.
    pub walls: Walls,
    /// Damp air that passes its rubber into vacuum, in Pa m³/s.
    pub permeation: f64,
    /// Air trapped in it, such as in the cavity of a ball valve.
    pub pocket: Option<Pocket>,
}

/// A trapped volume with its narrow way out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pocket {
    /// The volume in m³; a cavity has .3 to 1 mL (common practice).
    pub volume: f64,
    /// How easily its gas gets out, in m³/s; 1e-9 takes minutes (estimate).
    pub conductance: f64,
}

/// A section of the system.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// The volume in m³.
    pub volume: f64,
    /// What water its walls hold.
    pub walls: Walls,
    /// What else is bound in it: a drier, the oil of a compressor.
    pub stores: Vec<Store>,
}

/// Where something is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// The pump's inlet with its tee.
    PumpInlet,
    /// A part, counted from the pump.
    Part(usize),
    /// A section of the system; the first is at the port.
    Section(usize),
}

/// A valve of the rig.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Valve {
    /// Between the pump and the first part.
    Pump,
    /// At the far end of the rig, on the system.
    System,
}

/// When a hole is open.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Opening {
    /// All the time.
    Always,
    /// Only while a valve is shut, such as past its stem.
    WhileShut(Valve),
    /// Only while a valve is open.
    WhileOpen(Valve),
}

/// A hole to the outside somewhere.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leak {
    /// Where it is.
    pub place: Place,
    /// How large it is.
    pub hole: Hole,
    /// When it is open.
    pub opening: Opening,
    /// Whether it is a joint that can be made anew, and moves when it is touched.
    pub is_joint: bool,
}

/// A rig with everything that is hidden in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Rig {
    /// The pump.
    pub pump: Pump,
    /// Its oil.
    pub oil: Oil,
    /// The volume in m³ of the pump's inlet with the tee for the gauge.
    pub tee: f64,
    /// The parts from the pump to the system.
    pub parts: Vec<Part>,
    /// The bore in m of the valve core at the system's port; none where it is taken out.
    pub core: Option<f64>,
    /// What passes each valve of [`Valve`] while it is shut, in m³/s; 0 for a sound seat.
    pub seats: [f64; 2],
    /// The sections of the system.
    pub sections: Vec<Section>,
    /// What connects two sections.
    pub pipes: Vec<(usize, usize, Passage)>,
    /// Holes to the outside.
    pub leaks: Vec<Leak>,
    /// Liquid water, each with its section.
    pub puddles: Vec<(usize, Puddle)>,
    /// The gauge.
    pub gauge: Gauge,
    /// The air around.
    pub ambient: Ambient,
    /// The refrigerant that the system held.
    pub refrigerant: Refrigerant,
    /// The pressure above the barometer in Pa that the system is made for.
    pub nameplate: f64,
}

/// What anybody can read or measure on a rig.
#[derive(Clone, Debug, PartialEq)]
pub struct Seen {
    /// The rated speed of the pump in m³/s.
    pub rated_speed: f64,
    /// Bore and length in m of each part.
    pub parts: Vec<(f64, f64)>,
    /// Whether the valve core is in.
    pub has_core: bool,
    /// The volume of the system in m³.
    pub volume: f64,
    /// The temperature around in K when the work begins.
    pub temperature: f64,
    /// The pressure above the barometer in Pa that the system is made for.
    pub nameplate: f64,
}

impl Part {
    /// A sound hose of a bore and a length in m, kept dry and capped. Mark: estimate, so that
    /// after minutes it adds some 10 micron to a pump's floor.
    #[must_use]
    pub fn hose(bore: f64, length: f64) -> Self {
        let wall = std::f64::consts::PI * bore * length;
        let walls = Walls { capacity: 5e-3 * wall, level: 400.0 };
        Self { bore, length, body: 0.0, walls, permeation: 1e-4 * wall, pocket: None }
    }

    /// A sound valve or core tool: a short wide way with a body. Mark: estimate.
    #[must_use]
    pub fn tool() -> Self {
        let walls = Walls { capacity: 5e-5, level: 400.0 };
        Self { bore: 8e-3, length: 0.08, body: 1.5e-5, walls, permeation: 0.0, pocket: None }
    }

    /// The volume in m³.
    #[must_use]
    pub fn volume(&self) -> f64 {
        std::f64::consts::PI / 4.0 * self.bore * self.bore * self.length + self.body
    }

    /// The way through it.
    pub(super) fn passage(&self) -> Passage {
        Passage::Tube { bore: self.bore, length: self.length }
    }

    /// The part without its faults: new seals, dried, nothing trapped.
    #[must_use]
    pub fn sound(&self) -> Self {
        let fresh =
            if self.length > 0.3 { Self::hose(self.bore, self.length) } else { Self::tool() };
        Self { bore: self.bore, length: self.length, body: self.body, ..fresh }
    }
}

impl Opening {
    /// Whether it is open while the valves of [`Valve`] are open or not.
    #[must_use]
    pub fn is_open(self, are_open: [bool; 2]) -> bool {
        match self {
            Self::Always => true,
            Self::WhileShut(valve) => !are_open[valve as usize],
            Self::WhileOpen(valve) => are_open[valve as usize],
        }
    }
}

impl Rig {
    /// A sound rig on a clean dry split system of some 9 L: wide hose and core tool, the core
    /// taken out. Mark: estimate; volumes and sizes as of a system of 3 tons.
    #[must_use]
    pub fn sound() -> Self {
        let section = |volume: f64, capacity: f64| Section {
            volume,
            walls: Walls { capacity, level: 300.0 },
            stores: Vec::new(),
        };
        let tube = |bore, length| Passage::Tube { bore, length };
        Self {
            pump: Pump::default(),
            oil: Oil::default(),
            tee: 3e-5,
            parts: vec![Part::hose(9.5e-3, 1.5), Part::tool()],
            core: None,
            seats: [0.0; 2],
            // Gas line, indoor coil, compressor, outdoor coil, liquid line.
            sections: vec![
                section(2.0e-3, 3e-4),
                section(1.8e-3, 5e-4),
                section(2.5e-3, 5e-4),
                section(2.2e-3, 5e-4),
                section(0.6e-3, 2e-4),
            ],
            pipes: vec![
                (0, 1, tube(16e-3, 8.0)),
                (0, 2, tube(16e-3, 0.5)),
                (2, 3, tube(12e-3, 1.0)),
                (3, 4, tube(8e-3, 4.0)),
                (4, 1, Passage::Hole { bore: CORE_BORE }),
            ],
            leaks: Vec::new(),
            puddles: Vec::new(),
            gauge: Gauge::default(),
            ambient: Ambient::default(),
            refrigerant: Refrigerant::R410a,
            nameplate: 40e5,
        }
    }

    /// The volume of the system in m³.
    #[must_use]
    pub fn system_volume(&self) -> f64 {
        self.sections.iter().map(|section| section.volume).sum()
    }

    /// What anybody can read or measure on it.
    #[must_use]
    pub fn seen(&self) -> Seen {
        Seen {
            rated_speed: self.pump.speed,
            parts: self.parts.iter().map(|part| (part.bore, part.length)).collect(),
            has_core: self.core.is_some(),
            volume: self.system_volume(),
            temperature: self.ambient.temperature,
            nameplate: self.nameplate,
        }
    }

    /// Whether a place is there.
    #[must_use]
    pub fn has(&self, place: Place) -> bool {
        match place {
            Place::PumpInlet => true,
            Place::Part(part) => part < self.parts.len(),
            Place::Section(section) => section < self.sections.len(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sound_part_keeps_its_size_and_loses_its_faults() {
        let pocket = Some(Pocket { volume: 5e-7, conductance: 1e-9 });
        let wet = Walls { capacity: 1e-2, level: 1500.0 };
        let part = Part { pocket, walls: wet, permeation: 1e-3, ..Part::hose(6e-3, 1.8) };
        assert_eq!(part.sound(), Part::hose(6e-3, 1.8));
        assert!((part.volume() - 50.9e-6).abs() < 1e-7);
        assert_eq!(Part { pocket, ..Part::tool() }.sound(), Part::tool());
    }

    #[test]
    fn a_stem_leaks_only_while_its_valve_is_shut() {
        let stem = Opening::WhileShut(Valve::System);
        assert!(stem.is_open([true, false]) && !stem.is_open([false, true]));
        assert!(Opening::WhileOpen(Valve::Pump).is_open([true, false]));
    }

    #[test]
    fn what_is_seen_names_no_fault() {
        let mut rig = Rig::sound();
        let before = rig.seen();
        rig.oil.water = 5e-3;
        rig.pump.worn = 40.0;
        rig.gauge.dirt = 0.5;
        assert_eq!(rig.seen(), before);
        assert!(rig.has(Place::Section(4)) && !rig.has(Place::Part(2)));
    }
}
