//! How a rig is put together at a time: which chambers there are and which ways are open.
//!
//! Every rig has the same chambers all the time, whether they are connected or lie about: the
//! pump's inlet, each part, the pocket of each part, each section.

use super::assembly::{Assembly, Chamber, Way};
use super::leak::Hole;
use super::passage::Passage;
use super::pump::Setting;
use super::rig::{Place, Rig, Valve};
use crate::physics::leak::LeakPath;

/// What is connected to the pump.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hookup {
    /// Nothing: its inlet is capped.
    PumpCapped,
    /// One part, capped at its far end.
    PartCapped(usize),
    /// All parts, capped at the far end.
    RigCapped,
    /// All parts and the system.
    System,
}

/// Where the gauge is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GaugePlace {
    /// At the pump's inlet.
    PumpInlet,
    /// At the far end of what is connected to the pump, on the pump's side of the valve there.
    FarEnd,
    /// On the system itself.
    System,
}

/// How a rig is put together and set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Configuration {
    /// What is connected.
    pub hookup: Hookup,
    /// Where the gauge is.
    pub gauge: GaugePlace,
    /// Which valves of [`Valve`] are open.
    pub are_open: [bool; 2],
    /// How the pump is set.
    pub pump: Setting,
}

/// What lies where among the chambers of a rig.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Sites {
    parts: usize,
}

/// The opening of a valve without a core: bore and length in m. Mark: estimate.
const OPEN_VALVE: Passage = Passage::Tube { bore: 8e-3, length: 0.06 };

/// A pocket that is not there still has a volume in m³, and nothing leads to it.
const NO_POCKET: f64 = 1e-9;

impl Sites {
    pub(super) fn new(rig: &Rig) -> Self {
        Self { parts: rig.parts.len() }
    }

    pub(super) fn part(self, part: usize) -> usize {
        1 + part
    }

    pub(super) fn pocket(self, part: usize) -> usize {
        1 + self.parts + part
    }

    pub(super) fn section(self, section: usize) -> usize {
        1 + 2 * self.parts + section
    }

    /// The chamber of a place.
    pub(super) fn at(self, place: Place) -> usize {
        match place {
            Place::PumpInlet => 0,
            Place::Part(part) => self.part(part),
            Place::Section(section) => self.section(section),
        }
    }

    /// Whether a chamber belongs to the system.
    pub(super) fn is_system(self, chamber: usize) -> bool {
        chamber >= self.section(0)
    }
}

impl Configuration {
    /// The parts between pump and far end, from the pump.
    pub(super) fn parts(&self, rig: &Rig) -> Vec<usize> {
        match self.hookup {
            Hookup::PumpCapped => Vec::new(),
            Hookup::PartCapped(part) => vec![part],
            Hookup::RigCapped | Hookup::System => (0..rig.parts.len()).collect(),
        }
    }

    /// The chamber that the gauge is at.
    pub(super) fn gauge_chamber(&self, rig: &Rig) -> usize {
        let sites = Sites::new(rig);
        match self.gauge {
            GaugePlace::PumpInlet => 0,
            GaugePlace::FarEnd => self.parts(rig).last().map_or(0, |part| sites.part(*part)),
            GaugePlace::System => sites.section(0),
        }
    }

    /// Everything of a rig as it is put together. Warming is nowhere yet.
    #[must_use]
    pub fn assemble(&self, rig: &Rig) -> Assembly {
        let sites = Sites::new(rig);
        Assembly {
            chambers: chambers(rig),
            ways: self.ways(rig),
            holes: self.holes(rig),
            puddles: rig.puddles.iter().map(|(n, puddle)| (sites.section(*n), *puddle)).collect(),
            pump: (rig.pump, self.pump),
            gauge: (self.gauge_chamber(rig), rig.gauge),
            ambient: rig.ambient,
            refrigerant: rig.refrigerant,
        }
    }

    fn ways(&self, rig: &Rig) -> Vec<Way> {
        let sites = Sites::new(rig);
        let pipe = |(near, far, passage): &(usize, usize, Passage)| Way {
            near: sites.section(*near),
            far: sites.section(*far),
            passage: *passage,
        };
        let (mut ways, far_end) = self.ways_to_far_end(rig);
        if self.hookup == Hookup::System {
            let port = rig.core.map_or(OPEN_VALVE, |bore| Passage::Hole { bore });
            let passage = self.through(Some(Valve::System), port, rig);
            let far = sites.section(0);
            ways.extend(passage.map(|passage| Way { near: far_end, far, passage }));
        }
        ways.extend(rig.pipes.iter().map(pipe));
        ways
    }

    /// The ways from the pump through the parts, and the chamber where they end.
    fn ways_to_far_end(&self, rig: &Rig) -> (Vec<Way>, usize) {
        let sites = Sites::new(rig);
        let mut ways = Vec::new();
        let mut near = 0;
        for (number, part) in self.parts(rig).into_iter().enumerate() {
            let Some(found) = rig.parts.get(part) else { continue };
            let valve = (number == 0).then_some(Valve::Pump);
            let far = sites.part(part);
            let passage = self.through(valve, found.passage(), rig);
            ways.extend(passage.map(|passage| Way { near, far, passage }));
            ways.extend(found.pocket.map(|pocket| Way {
                near: far,
                far: sites.pocket(part),
                passage: Passage::Gap { conductance: pocket.conductance },
            }));
            near = far;
        }
        (ways, near)
    }

    /// What is open through a valve, if there is one: the way itself, or what its seat passes.
    fn through(&self, valve: Option<Valve>, open: Passage, rig: &Rig) -> Option<Passage> {
        match valve {
            Some(valve) if !self.are_open[valve as usize] => {
                let conductance = rig.seats[valve as usize];
                (conductance > 0.0).then_some(Passage::Gap { conductance })
            }
            _ => Some(open),
        }
    }

    fn holes(&self, rig: &Rig) -> Vec<(usize, Hole)> {
        let sites = Sites::new(rig);
        let leaks = rig.leaks.iter().filter(|leak| leak.opening.is_open(self.are_open));
        let rubber = rig.parts.iter().enumerate().filter(|(_, part)| part.permeation > 0.0);
        leaks
            .map(|leak| (sites.at(leak.place), leak.hole))
            .chain(rubber.map(|(number, part)| {
                let hole = Hole { size: part.permeation, path: LeakPath::Molecular };
                (sites.part(number), hole)
            }))
            .collect()
    }
}

/// All chambers of a rig.
pub(super) fn chambers(rig: &Rig) -> Vec<Chamber> {
    let parts = rig.parts.iter().map(|part| Chamber {
        stores: part.walls.stores().collect(),
        ..Chamber::dry(part.volume())
    });
    let pockets = rig
        .parts
        .iter()
        .map(|part| Chamber::dry(part.pocket.map_or(NO_POCKET, |pocket| pocket.volume)));
    let sections = rig.sections.iter().map(|section| Chamber {
        stores: section.walls.stores().chain(section.stores.iter().copied()).collect(),
        ..Chamber::dry(section.volume)
    });
    std::iter::once(Chamber::dry(rig.tee)).chain(parts).chain(pockets).chain(sections).collect()
}

#[cfg(test)]
mod tests {
    use super::super::rig::{Leak, Opening, Part, Pocket};
    use super::*;

    const RUNNING: Configuration = Configuration {
        hookup: Hookup::System,
        gauge: GaugePlace::System,
        are_open: [true, true],
        pump: Setting { is_running: true, is_ballast_open: false },
    };

    #[test]
    fn a_shut_valve_cuts_the_rig_where_it_sits() {
        let mut rig = Rig::sound();
        let count =
            |configuration: Configuration, rig: &Rig| configuration.assemble(rig).ways.len();
        let all = count(RUNNING, &rig);
        for are_open in [[false, true], [true, false]] {
            assert_eq!(count(Configuration { are_open, ..RUNNING }, &rig), all - 1);
        }
        rig.seats = [0.0, 1e-8];
        let shut = Configuration { are_open: [true, false], ..RUNNING };
        assert_eq!(count(shut, &rig), all, "a bad seat passes");
    }

    #[test]
    fn what_is_capped_leads_nowhere_and_the_gauge_moves_along() {
        let mut rig = Rig::sound();
        rig.parts[1].pocket = Some(Pocket { volume: 5e-7, conductance: 1e-9 });
        let system = rig.pipes.len();
        for (hookup, ways, chamber) in
            [(Hookup::PumpCapped, 0, 0), (Hookup::PartCapped(1), 2, 2), (Hookup::RigCapped, 3, 2)]
        {
            let capped = Configuration { hookup, gauge: GaugePlace::FarEnd, ..RUNNING };
            let assembly = capped.assemble(&rig);
            assert_eq!((assembly.ways.len() - system, assembly.gauge.0), (ways, chamber));
        }
    }

    #[test]
    fn holes_open_with_their_valves() {
        let mut rig = Rig::sound();
        rig.parts = vec![Part::tool()];
        rig.leaks.push(Leak {
            place: Place::Section(0),
            hole: Hole { size: 1e-3, path: LeakPath::Choked },
            opening: Opening::WhileShut(Valve::System),
            is_joint: false,
        });
        assert!(RUNNING.assemble(&rig).holes.is_empty());
        let shut = Configuration { are_open: [true, false], ..RUNNING };
        assert_eq!(shut.assemble(&rig).holes[0].0, Sites::new(&rig).section(0));
    }
}
