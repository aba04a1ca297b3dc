//! One law at work between a few unknowns: what flows, and to which unknowns it adds.

use super::gauge::Gauge;
use super::leak::Hole;
use super::liquid_water::{Puddle, vapour_of};
use super::mixture::{Each, Mixture};
use super::oil::Oil;
use super::passage::Conductor;
use super::pump::{Pump, Setting};

/// The most unknowns that a law looks at, and the most flows that it gives.
pub(super) const INPUTS: usize = 6;
/// The most flows that a law gives.
pub(super) const FLOWS: usize = 8;

/// A law with what it needs to know besides its unknowns.
#[derive(Clone, Debug)]
pub(super) enum Law {
    /// Between the gases of two chambers: the flow of each gas.
    Passage(Conductor),
    /// Into the gases of a chamber: the flow of each gas.
    Hole { hole: Hole, outside: Each },
    /// From a puddle. Looks at the gases, its water and its heat; gives vapour, inflow of heat
    /// and the change of heat.
    Puddle { puddle: Puddle, around: f64 },
    /// At the pump. Looks at the gases, what is in the oil and the warmth; gives the intake of
    /// each gas, what of water and refrigerant the oil captures and loses, and the warming.
    Pump { pump: Pump, setting: Setting, oil: Oil, outside: Each, per_mass: Each },
    /// The gauge's sensor. Looks at the gases and itself; gives its change.
    Gauge(Gauge),
}

/// A law with its unknowns.
#[derive(Clone, Debug)]
pub(super) struct Term {
    pub law: Law,
    /// The unknowns that it looks at, at most [`INPUTS`].
    pub inputs: Vec<usize>,
    /// To which unknown each flow adds, and how often.
    pub stamps: Vec<Stamp>,
}

/// That a flow adds to an unknown.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stamp {
    pub flow: usize,
    pub row: usize,
    pub factor: f64,
}

impl Term {
    /// Which unknown it makes depend on which, as (row, column): input by input, stamp by stamp.
    pub(super) fn places(&self) -> impl Iterator<Item = (usize, usize)> {
        let of_input = |input: &usize| {
            let column = *input;
            self.stamps.iter().map(move |stamp| (stamp.row, column))
        };
        self.inputs.iter().flat_map(of_input)
    }
}

impl Law {
    /// The flows for the values of the unknowns, gases as their pressures in Pa.
    pub(super) fn flows(&self, mixture: &Mixture, values: &[f64; INPUTS]) -> [f64; FLOWS] {
        let mut flows = [0.0; FLOWS];
        let [a, b, c, d, e, f] = *values;
        let gases = [a, b, c];
        match self {
            Self::Passage(conductor) => {
                flows[..3].copy_from_slice(&conductor.flows(mixture, &gases, &[d, e, f]));
            }
            Self::Hole { hole, outside } => {
                flows[..3].copy_from_slice(&hole.inflow(&gases, outside));
            }
            Self::Puddle { puddle, around } => {
                let at = (d / vapour_of(1.0), e);
                let exchange = puddle.exchange(at, (b, a + b + c), *around);
                flows[0] = vapour_of(exchange.evaporated);
                flows[1] = exchange.heat;
                flows[2] = exchange.warmed;
            }
            Self::Pump { pump, setting, oil, outside, per_mass } => {
                let oil = Oil { water: d / per_mass[1], refrigerant: e / per_mass[2], ..*oil };
                let at = (&gases, &oil, f);
                let exchange = pump.exchange(*setting, at, outside, per_mass);
                flows[..3].copy_from_slice(&exchange.intake);
                flows[3..5].copy_from_slice(&exchange.captured[1..]);
                flows[5..7].copy_from_slice(&exchange.cleaned[1..]);
                flows[7] = exchange.warming;
            }
            Self::Gauge(gauge) => flows[0] = (gauge.signal(&gases) - d) / gauge.slowness(),
        }
        flows
    }

    /// A step of an unknown that is small against what bends the law and large against its noise.
    pub(super) fn nudge(&self, input: usize, value: f64) -> f64 {
        match self {
            // In dense gas a flow turns within 1e-5 of the pressure.
            Self::Passage(_) => 1e-9 * value.abs() + 1e-6,
            // A puddle's heat bends where it begins to freeze, within a few joules.
            Self::Puddle { .. } if input == 4 => 1e-8 * value.abs() + 1e-4,
            _ => 1e-8 * value.abs() + 1e-6,
        }
    }
}
