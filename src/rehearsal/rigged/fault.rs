//! Named faults that a rig may have, each with a size: what a scenario or a range file names.

use super::kit::Kit;
use super::typed::rounded;
use crate::bench::leak::{Hole, LeakPath};
use crate::bench::liquid_water::{Puddle, vapour_of};
use crate::bench::rig::{Leak, Opening, Part, Place, Pocket, Rig};
use crate::bench::wall_water::Store;
use crate::quantity::{Misread, QuantityKind, parse_quantity};

/// The section of the compressor.
const COMPRESSOR: usize = 2;
/// The section of the outdoor coil, where water gathers.
const LOW_POINT: usize = 3;
/// The section at the end of the gas line, at the indoor coil.
const FLARES: usize = 1;
/// The section of the liquid line, with its drier.
const LIQUID_LINE: usize = 4;
/// The volume in m³ of refrigerant that the oil holds per pressure and g, and the pressure in Pa
/// over it: .01 m³ at 5000 Pa for a gram (estimate, as the bench has it).
const IN_OIL: (f64, f64) = (0.01, 5000.0);
/// The pressure in Pa over a wet drier. Mark: estimate.
const OVER_DRIER: f64 = 100.0;
/// How easily gas leaves a trapped pocket, in m³/s (estimate, as the bench has it).
const POCKET_WAY: f64 = 1e-9;
/// How long in s a pump that labours takes to warm. Mark: estimate.
const SLOW_TO_WARM: f64 = 2400.0;

/// Whether a size is written as a quantity, or the fault is there or not.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Size {
    /// The fault has no size; `yes` is written.
    There,
    /// A quantity of this kind, within these bounds in SI units.
    Of(QuantityKind, f64, f64),
}

macro_rules! faults {
    ($($(#[doc = $doc:literal])+ $name:ident = $word:literal, $size:expr;)*) => {
        /// A fault of a rig.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Fault {
            $($(#[doc = $doc])+ $name,)*
        }

        impl Fault {
            /// Every fault.
            pub const ALL: &[Self] = &[$(Self::$name,)*];

            /// Its name in files.
            #[must_use]
            pub fn word(self) -> &'static str {
                match self { $(Self::$name => $word,)* }
            }

            /// What its size is.
            #[must_use]
            pub fn size(self) -> Size {
                match self { $(Self::$name => $size,)* }
            }
        }
    };
}

faults! {
    /// Water in the pump's oil.
    OilWet = "oil_wet", Size::Of(QuantityKind::MASS, 1e-5, 0.1);
    /// Refrigerant in the pump's oil.
    OilGassy = "oil_gassy", Size::Of(QuantityKind::MASS, 1e-5, 0.1);
    /// Too little oil.
    OilLow = "oil_low", Size::There;
    /// Old dark oil.
    OilDark = "oil_dark", Size::There;
    /// The gas ballast was left open; it adds so much to the floor.
    BallastOpen = "ballast_open", Size::Of(QuantityKind::PRESSURE_DIFFERENCE, 1.0, 1000.0);
    /// Worn vanes, which add so much to the floor.
    PumpWorn = "pump_worn", Size::Of(QuantityKind::PRESSURE_DIFFERENCE, 1.0, 2000.0);
    /// A pump that is cold or turns slowly, with so much more floor until it is warm.
    PumpCold = "pump_cold", Size::Of(QuantityKind::PRESSURE_DIFFERENCE, 1.0, 2000.0);
    /// A dirty gauge, from nothing to the worst.
    GaugeDirty = "gauge_dirty", Size::Of(QuantityKind::NUMBER, 0.01, 1.0);
    /// A gauge that reads too high by so much of its reading.
    GaugeHigh = "gauge_high", Size::Of(QuantityKind::NUMBER, -0.8, 0.95);
    /// A leak of a joint of the hose.
    HoseLeak = "hose_leak", Size::Of(QuantityKind::THROUGHPUT, 1e-6, 1e2);
    /// A leak of a joint of the core tool.
    ToolLeak = "tool_leak", Size::Of(QuantityKind::THROUGHPUT, 1e-6, 1e2);
    /// A hose with so many times the water of a dry one.
    HoseDamp = "hose_damp", Size::Of(QuantityKind::NUMBER, 1.0, 1000.0);
    /// Air trapped in the core tool's valve.
    ToolPocket = "tool_pocket", Size::Of(QuantityKind::VOLUME, 1e-8, 1e-5);
    /// A hose of this bore.
    HoseNarrow = "hose_narrow", Size::Of(QuantityKind::LENGTH, 1e-3, 0.02);
    /// The valve core is in, a hole of this bore.
    CoreIn = "core_in", Size::Of(QuantityKind::LENGTH, 2e-4, 5e-3);
    /// Something is shut or blocked on the way, which leaves a hole of this bore and nobody sees.
    WayBlocked = "way_blocked", Size::Of(QuantityKind::LENGTH, 2e-4, 5e-3);
    /// Water that lies at a low point.
    Water = "water", Size::Of(QuantityKind::MASS, 1e-6, 1.0);
    /// Walls with so many times the water of dry ones.
    WallsWet = "walls_wet", Size::Of(QuantityKind::NUMBER, 1.0, 1000.0);
    /// Refrigerant in the compressor's oil.
    RefrigerantInOil = "refrigerant_in_oil", Size::Of(QuantityKind::MASS, 1e-5, 1.0);
    /// Water in the drier.
    DrierWet = "drier_wet", Size::Of(QuantityKind::MASS, 1e-5, 0.1);
    /// A leak of a joint of the system.
    SystemLeak = "system_leak", Size::Of(QuantityKind::THROUGHPUT, 1e-6, 1e2);
    /// The air warms, or cools, by so much in an hour.
    AirWarms = "air_warms", Size::Of(QuantityKind::TEMPERATURE_DIFFERENCE, -30.0, 30.0);
}

/// A rig as it is made, with who stands at it.
#[derive(Clone, Debug, PartialEq)]
pub struct Making {
    /// The rig.
    pub rig: Rig,
    /// Whether the ballast was left open.
    pub is_ballast_open: bool,
    /// What whoever stands at it has and knows.
    pub kit: Kit,
}

impl Making {
    /// A rig with who stands at it, without faults.
    #[must_use]
    pub fn of(rig: Rig) -> Self {
        Self { kit: Kit::of(&rig), rig, is_ballast_open: false }
    }

    /// Puts a fault of a size in SI units into it.
    pub fn spoil(&mut self, fault: Fault, size: f64) {
        match fault {
            Fault::OilWet => self.rig.oil.water += size,
            Fault::OilGassy => self.rig.oil.refrigerant += size,
            Fault::OilLow => self.rig.oil.is_low = true,
            Fault::OilDark => self.rig.oil.is_dark = true,
            Fault::BallastOpen => {
                self.rig.pump.ballast = size;
                self.is_ballast_open = true;
            }
            Fault::PumpWorn => self.rig.pump.worn = size,
            Fault::PumpCold => {
                self.rig.pump.cold = size;
                self.rig.pump.warm_up = SLOW_TO_WARM;
                self.kit.labours = true;
            }
            Fault::GaugeDirty => self.rig.gauge.dirt = size,
            Fault::GaugeHigh => self.rig.gauge.scale_error = size,
            Fault::AirWarms => self.rig.ambient.drift = size / 3600.0,
            Fault::HoseLeak | Fault::ToolLeak | Fault::HoseDamp | Fault::ToolPocket => {
                self.spoil_part(fault, size);
            }
            Fault::HoseNarrow | Fault::CoreIn | Fault::WayBlocked => self.narrow(fault, size),
            _ => self.spoil_system(fault, size),
        }
    }

    /// The place of the hose, and of the tool.
    fn part(&self, fault: Fault) -> usize {
        let is_hose = matches!(fault, Fault::HoseLeak | Fault::HoseDamp | Fault::HoseNarrow);
        let is_it = |part: &Part| (part.length > 0.3) == is_hose;
        self.rig.parts.iter().position(is_it).unwrap_or(0)
    }

    fn spoil_part(&mut self, fault: Fault, size: f64) {
        let at = self.part(fault);
        match fault {
            Fault::HoseDamp => {
                let walls = &mut self.rig.parts[at].walls;
                (walls.capacity, walls.level) = (walls.capacity * size, 1200.0);
            }
            Fault::ToolPocket => {
                let pocket = Pocket { volume: size, conductance: POCKET_WAY };
                self.rig.parts[at].pocket = Some(pocket);
            }
            _ => self.leak(Place::Part(at), size),
        }
    }

    fn leak(&mut self, place: Place, size: f64) {
        let hole = Hole { size, path: LeakPath::Laminar };
        self.rig.leaks.push(Leak { place, hole, opening: Opening::Always, is_joint: true });
    }

    /// A narrow way that is seen is said as well; a blocked one nobody sees.
    fn narrow(&mut self, fault: Fault, size: f64) {
        match fault {
            Fault::HoseNarrow => {
                let at = self.part(fault);
                self.rig.parts[at] = Part::hose(size, self.rig.parts[at].length);
                self.kit.said.parts = self.rig.seen().parts;
            }
            Fault::CoreIn => {
                self.rig.core = Some(size);
                self.kit.said.has_core = true;
            }
            _ => self.rig.core = Some(size),
        }
    }

    fn spoil_system(&mut self, fault: Fault, size: f64) {
        let last = self.rig.sections.len().saturating_sub(1);
        let at = |section: usize| section.min(last);
        match fault {
            Fault::Water => self.rig.puddles.push((
                at(LOW_POINT),
                // A wet spot of some cm² on bare pipe, as the bench has it (estimate).
                Puddle {
                    mass: size,
                    offset: -3.0,
                    openness: 0.02,
                    heat_capacity: 100.0 + 4200.0 * size,
                    heat_inflow: 1.0,
                },
            )),
            Fault::WallsWet => self.rig.sections.iter_mut().for_each(|section| {
                let walls = &mut section.walls;
                (walls.capacity, walls.level) = (walls.capacity * size, 1200.0);
            }),
            Fault::RefrigerantInOil => {
                let (per_gram, level) = IN_OIL;
                let stores = Store::in_compressor_oil(1000.0 * size * per_gram, level);
                self.rig.sections[at(COMPRESSOR)].stores.extend(stores);
            }
            Fault::DrierWet => {
                let stores = Store::in_drier(vapour_of(size) / OVER_DRIER, OVER_DRIER);
                self.rig.sections[at(LIQUID_LINE)].stores.extend(stores);
            }
            _ => self.leak(Place::Section(at(FLARES)), size),
        }
    }
}

impl Fault {
    /// The fault of a name.
    #[must_use]
    pub fn named(word: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|fault| fault.word() == word)
    }

    /// A size as it is written, in SI units.
    ///
    /// # Errors
    /// What belongs there.
    pub fn read_size(self, text: &str) -> Result<f64, String> {
        match self.size() {
            Size::There if text.trim() == "yes" => Ok(1.0),
            Size::There => Err("it has no size: write `yes`".to_owned()),
            Size::Of(kind, least, most) => {
                let read = parse_quantity(text.trim(), kind);
                let size = read.map_err(|misread: Misread| misread.to_string())?;
                if (least..=most).contains(&size) {
                    return Ok(size);
                }
                let [least, most] = [least, most].map(|bound| rounded(bound, 2, ""));
                Err(format!("it lies between {}and {}in SI units", least, most))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::bench::session::Session;

    #[test]
    fn every_fault_has_a_name_of_its_own_and_makes_a_rig_that_can_be() {
        let words: BTreeSet<&str> = Fault::ALL.iter().map(|fault| fault.word()).collect();
        assert_eq!(words.len(), Fault::ALL.len());
        for fault in Fault::ALL {
            let sizes = match fault.size() {
                Size::There => [1.0, 1.0],
                Size::Of(_, least, most) => [least, most],
            };
            for size in sizes {
                let sound = Making::of(Rig::sound());
                let mut making = sound.clone();
                making.spoil(*fault, size);
                assert!(Session::new(making.rig.clone(), 1).is_ok(), "{fault:?} {size}");
                assert_ne!(making, sound, "{fault:?} changes something");
            }
        }
    }

    #[test]
    fn a_size_is_read_in_its_unit_and_bounded() {
        assert_eq!(Fault::OilWet.read_size("4 g"), Ok(4e-3));
        assert_eq!(Fault::OilLow.read_size("yes"), Ok(1.0));
        assert!(Fault::OilLow.read_size("4 g").is_err() && Fault::OilWet.read_size("yes").is_err());
        let out = Fault::OilWet.read_size("400 g").unwrap_err();
        assert_eq!(out, "it lies between 0.000010 and 0.10 in SI units");
    }

    #[test]
    fn what_is_seen_is_told_and_what_is_blocked_is_not() {
        let mut making = Making::of(Rig::sound());
        making.spoil(Fault::WayBlocked, 1e-3);
        assert!(!making.kit.said.has_core && making.rig.core.is_some());
        making.spoil(Fault::HoseNarrow, 4.8e-3);
        assert_eq!(making.kit.said.parts[0], (4.8e-3, 1.5));
    }
}
