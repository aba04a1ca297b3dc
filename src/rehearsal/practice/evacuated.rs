//! What would spoil or endanger a system that stands in vacuum, although the rig lets it be done.

use super::act::Act;
use super::caution::{Precaution, UNLOCKED};
use super::exercise::Exercise;
use crate::bench::gauge::MICRON;
use crate::bench::hookup::Hookup;
use crate::bench::rig::{Place, Valve};

/// The share of the barometer below which a system is under vacuum. Mark: estimate.
const VACUUM_BELOW: f64 = 0.9;
/// The share of the barometer below which it stands in deep vacuum. Mark: estimate.
const DEEP_BELOW: f64 = 0.1;
/// How far what is opened to a system may lie above it: by this factor, or by so many Pa. Mark:
/// estimate.
const LIES_ABOVE: (f64, f64) = (3.0, 1000.0 * MICRON);

/// Why something is not done, to stand after "Not done: ".
pub(super) type Why = &'static str;

impl Exercise<'_> {
    /// Why an act is not done that would let air, damp or oil into a system under vacuum.
    pub(super) fn of_the_vacuum(&self, act: Act) -> Option<(Why, Precaution)> {
        let set = self.session().configuration();
        if set.hookup != Hookup::System || !self.is_below(VACUUM_BELOW) {
            return None;
        }
        let is_open = |valve: Valve| set.are_open[valve as usize];
        match act {
            Act::Open(Valve::System) if !is_open(Valve::System) => self.of_opening_the_system(),
            Act::Open(Valve::Pump) if is_open(Valve::System) && !is_open(Valve::Pump) => {
                let is_pumped = set.pump.is_running && !self.lies_above([Place::PumpInlet]);
                (!is_pumped).then_some((
                    "the pump has not been pulled down behind its valve",
                    Precaution {
                        caution: LETS_IN,
                        first: "Pump the rig down against the system's shut valve first: shut \
                                system, open pump, pull 2.",
                    },
                ))
            }
            Act::Halt if set.pump.is_running && set.are_open.iter().all(|is_open| *is_open) => {
                Some((
                    "the valves at the system and at the pump are open",
                    Precaution {
                        caution: "A pump that stops while it is open to a vacuum lets air and its \
                                  oil be drawn back into the system.",
                        first: "Shut the valve at the system first: shut system.",
                    },
                ))
            }
            _ => None,
        }
    }

    fn of_opening_the_system(&self) -> Option<(Why, Precaution)> {
        let set = self.session().configuration();
        let is_pump_open = set.are_open[Valve::Pump as usize];
        let parts = (0..self.session().rig().parts.len()).map(Place::Part);
        let inlet = is_pump_open.then_some(Place::PumpInlet);
        let why = if self.lies_above(parts.chain(inlet)) {
            "the rig has not been pumped down as deep as the system"
        } else if is_pump_open && !set.pump.is_running {
            "the pump is off and its valve is open"
        } else {
            return None;
        };
        let first = "Pump the rig down against the system's shut valve first: open pump, pull 2.";
        Some((why, Precaution { caution: LETS_IN, first }))
    }

    /// Whether one of these places lies well above the system.
    fn lies_above(&self, places: impl IntoIterator<Item = Place>) -> bool {
        let system = self.pressure_at(Place::Section(0));
        let most = (LIES_ABOVE.0 * system).max(system + LIES_ABOVE.1);
        places.into_iter().any(|place| self.pressure_at(place) > most)
    }

    /// What is unsafe about letting time pass, though it is done: a system in deep vacuum whose
    /// compressor may start.
    pub(super) fn of_the_lock(&self, act: Act) -> Option<Precaution> {
        let passes_time = matches!(act, Act::Pull(_) | Act::Wait(_));
        let is_unsafe = passes_time && !self.session().is_locked_out() && self.is_below(DEEP_BELOW);
        is_unsafe.then_some(UNLOCKED)
    }

    fn is_below(&self, share: f64) -> bool {
        let barometer = self.session().rig().ambient.barometer;
        self.pressure_at(Place::Section(0)) < share * barometer
    }

    fn pressure_at(&self, place: Place) -> f64 {
        self.session().pressures(place).iter().sum()
    }
}

const LETS_IN: &str = "Opened so, air and moisture are let into an evacuated system.";
