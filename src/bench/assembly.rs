//! Volumes, what connects them, and what is in them: the rig as physics sees it.

use crate::physics::gas::{GAS_CONSTANT, REFERENCE_TEMPERATURE};
use crate::physics::leak::LeakingGas;
use crate::physics::refrigerant::Refrigerant;

use super::ambient::{Ambient, Warming};
use super::gauge::Gauge;
use super::leak::Hole;
use super::liquid_water::Puddle;
use super::mixture::{Each, Mixture};
use super::oil::Oil;
use super::passage::Passage;
use super::pump::{Pump, Setting};
use super::wall_water::Store;

/// A volume with what its walls hold.
#[derive(Clone, Debug, PartialEq)]
pub struct Chamber {
    /// The volume in m³, above 0.
    pub volume: f64,
    /// What is bound beside the gas.
    pub stores: Vec<Store>,
    /// How far it is warmer than the air around.
    pub warming: Warming,
}

/// A way between two chambers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Way {
    /// The chamber at one end.
    pub near: usize,
    /// The chamber at the other end.
    pub far: usize,
    /// What lies between.
    pub passage: Passage,
}

/// Chambers and ways as they are at one time, with a pump at chamber 0.
#[derive(Clone, Debug, PartialEq)]
pub struct Assembly {
    /// The chambers; the pump's inlet is the first.
    pub chambers: Vec<Chamber>,
    /// The ways that are open.
    pub ways: Vec<Way>,
    /// Holes to the outside, each with its chamber.
    pub holes: Vec<(usize, Hole)>,
    /// Puddles, each with its chamber.
    pub puddles: Vec<(usize, Puddle)>,
    /// The pump and how it is set.
    pub pump: (Pump, Setting),
    /// The gauge and its chamber.
    pub gauge: (usize, Gauge),
    /// The air around.
    pub ambient: Ambient,
    /// What is left of the refrigerant is this one.
    pub refrigerant: Refrigerant,
}

/// What is in one chamber, all at 20 °C.
#[derive(Clone, Debug, PartialEq)]
pub struct Contents {
    /// The partial pressures in Pa that the gases would have at 20 °C.
    pub gas: Each,
    /// What each store holds, in Pa m³.
    pub stores: Vec<f64>,
}

/// A puddle as it is now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lying {
    /// Water and ice in kg.
    pub mass: f64,
    /// The heat of the spot in J, counted from liquid of the triple point.
    pub heat: f64,
    /// The heat in J that came in from around so far.
    pub inflow: f64,
}

/// All that changes while time passes.
#[derive(Clone, Debug, PartialEq)]
pub struct Held {
    /// What is in the chambers.
    pub chambers: Vec<Contents>,
    /// The puddles.
    pub puddles: Vec<Lying>,
    /// The pump's oil.
    pub oil: Oil,
    /// How warm the pump is, 0 to 1.
    pub warmth: f64,
    /// What the sensor of the gauge is at, in Pa.
    pub sensed: f64,
    /// What came in from outside so far, in Pa m³ at 20 °C.
    pub brought: Each,
    /// What left to the outside so far, in Pa m³ at 20 °C.
    pub gone: Each,
}

impl Chamber {
    /// A dry volume in m³.
    #[must_use]
    pub fn dry(volume: f64) -> Self {
        Self { volume, stores: Vec::new(), warming: Warming::default() }
    }

    /// What is in it before any pumping, with gases of partial pressures in Pa at 20 °C.
    #[must_use]
    pub fn filled(&self, gas: Each) -> Contents {
        Contents { gas, stores: self.stores.iter().map(Store::content).collect() }
    }
}

impl Assembly {
    /// One dry chamber in m³ at the inlet of a pump that runs.
    #[must_use]
    pub fn bare(pump: Pump, volume: f64) -> Self {
        Self {
            chambers: vec![Chamber::dry(volume)],
            ways: Vec::new(),
            holes: Vec::new(),
            puddles: Vec::new(),
            pump: (pump, Setting { is_running: true, is_ballast_open: false }),
            gauge: (0, Gauge::default()),
            ambient: Ambient::default(),
            refrigerant: Refrigerant::R410a,
        }
    }

    /// The gases of this assembly together.
    #[must_use]
    pub fn mixture(&self) -> Mixture {
        let vapour: LeakingGas = self.refrigerant.vapour();
        Mixture::new(&vapour)
    }

    /// What a kg of each gas is in Pa m³ at 20 °C. Source: ideal gas.
    #[must_use]
    pub fn per_mass(&self) -> Each {
        self.mixture().molar_masses.map(|mass| GAS_CONSTANT * REFERENCE_TEMPERATURE / mass)
    }

    /// Everything as it is before any pumping: gases of partial pressures in Pa at 20 °C in all
    /// chambers, full stores, puddles at the temperature of their spot, a cold pump.
    #[must_use]
    pub fn filled(&self, gas: Each, oil: Oil) -> Held {
        let around = |chamber: usize, puddle: &Puddle| {
            let warming = self.chambers.get(chamber).map_or(0.0, |chamber| chamber.warming.start);
            self.ambient.temperature + warming + puddle.offset
        };
        Held {
            chambers: self.chambers.iter().map(|chamber| chamber.filled(gas)).collect(),
            puddles: self
                .puddles
                .iter()
                .map(|(chamber, puddle)| Lying {
                    mass: puddle.mass,
                    heat: puddle.heat_at(around(*chamber, puddle), puddle.mass),
                    inflow: 0.0,
                })
                .collect(),
            oil,
            warmth: 0.0,
            sensed: self.gauge.1.signal(&gas),
            brought: [0.0; 3],
            gone: [0.0; 3],
        }
    }
}
