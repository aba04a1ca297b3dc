//! What connects two volumes, and how a mixture passes it.
//!
//! Dense gas moves as a whole: each gas goes along with its share on the side that the flow comes
//! from. In thin gas each follows its own pressure. In between, and where two gases of equal
//! pressure mix, both count. Where mixing outruns the flow, what goes along is a mean of both
//! sides, so that nothing jumps where a flow turns.

use crate::physics::conductance::{
    choked_conductance, end_correction, knudsen_bend, knudsen_variable, laminar_conductance,
    molecular_conductance, orifice_conductance,
};
use crate::physics::gas::{AIR_VISCOSITY, Gas, REFERENCE_TEMPERATURE};

use super::mixture::{Each, Mixture, Motion, SPECIES, shares};

/// A way between two volumes, all of it at 20 °C: from 0 to 40 °C a conductance changes by a few
/// percent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Passage {
    /// A tube of a bore and a length in m.
    Tube {
        /// The bore in m.
        bore: f64,
        /// The length in m.
        length: f64,
    },
    /// A hole of a bore in m, such as a valve core or a depressor.
    Hole {
        /// The bore in m.
        bore: f64,
    },
    /// The same conductance in m³/s for every gas at every pressure: a gap past a seat.
    Gap {
        /// The conductance in m³/s.
        conductance: f64,
    },
}

/// A passage with everything worked out that does not change with the pressure.
#[derive(Clone, Copy, Debug)]
pub(super) struct Conductor {
    kind: Kind,
    /// What each gas passes by its own pressure in thin gas, in m³/s.
    thin: Each,
    /// Knudsen's variable of air over the pressure, in 1/Pa.
    crowding: f64,
}

#[derive(Clone, Copy, Debug)]
enum Kind {
    /// The laminar conductance of air over the mean pressure in m³/(s Pa).
    Tube {
        laminar: f64,
    },
    /// The conductance in m³/s of the choked hole.
    Hole {
        choked: f64,
    },
    Gap,
}

/// How much sooner a gas moves with the mixture than Knudsen's variable alone says. Makes the
/// share that still mixes in dense gas about that of diffusion, which falls with the pressure:
/// `.53 viscosity / density` of a bore against the 1.7 of water in air. Mark: estimate.
const MIXING: f64 = 1.0 / 3.0;

/// What of the flow of dense gas does not go along but mixes: no gas lies still, as warmth and
/// weight stir it. Mark: estimate; it mixes two sections at the barometer within minutes, and is
/// nothing in vacuum.
const STIRRING: f64 = 1e-5;

impl Passage {
    /// What flows of each gas in Pa m³/s from near to far, for the partial pressures in Pa at
    /// both ends.
    ///
    /// A tube passes air alone as [`crate::physics::conductance::Tube`] says. A hole passes
    /// between its conductance in molecular and in choked flow, by Knudsen's variable (estimate).
    #[must_use]
    pub fn flows(self, mixture: &Mixture, near: &Each, far: &Each) -> Each {
        Conductor::new(self, mixture).flows(mixture, near, far)
    }
}

impl Conductor {
    /// A passage for a mixture.
    pub(super) fn new(passage: Passage, mixture: &Mixture) -> Self {
        let temperature = REFERENCE_TEMPERATURE;
        let by_gas = |air: f64| mixture.speeds().map(|speed| air * speed);
        let crowding = |bore: f64| knudsen_variable(Gas::Air, bore, 1.0, temperature);
        match passage {
            Passage::Tube { bore, length } => Self {
                kind: Kind::Tube { laminar: laminar_conductance(AIR_VISCOSITY, bore, length, 1.0) },
                thin: by_gas(
                    molecular_conductance(Gas::Air, bore, length, temperature)
                        * end_correction(bore, length),
                ),
                crowding: crowding(bore),
            },
            Passage::Hole { bore } => Self {
                kind: Kind::Hole { choked: choked_conductance(bore, temperature) },
                thin: by_gas(orifice_conductance(Gas::Air, bore, temperature)),
                crowding: crowding(bore),
            },
            Passage::Gap { conductance } => {
                Self { kind: Kind::Gap, thin: [conductance; SPECIES], crowding: 0.0 }
            }
        }
    }

    /// What [`Passage::flows`] gives.
    pub(super) fn flows(&self, mixture: &Mixture, near: &Each, far: &Each) -> Each {
        let difference = near.iter().sum::<f64>() - far.iter().sum::<f64>();
        let mean: Each = std::array::from_fn(|species| 0.5 * (near[species] + far[species]));
        let pressure = mean.iter().sum::<f64>().max(0.0);
        let Motion { viscosity, molar_mass } = mixture.motion(&mean);
        let x = self.crowding * pressure * libm::sqrt(molar_mass) / viscosity;
        let (dense, share) = match self.kind {
            Kind::Tube { laminar } => (laminar * pressure / viscosity, knudsen_bend(x)),
            Kind::Hole { choked } => (choked * x / (1.0 + x), 1.0 / (1.0 + x)),
            Kind::Gap => (0.0, 1.0),
        };
        let own = 1.0 / (1.0 + MIXING * x);
        let stirred = STIRRING * dense;
        let mixes = self.thin.map(|thin| thin * share * own + stirred);
        let along = self.thin.map(|thin| dense - stirred + thin * share * (1.0 - own));
        let slowest = mixes.iter().copied().fold(f64::INFINITY, f64::min) * pressure;
        let faster = if slowest > 0.0 { along[0] * difference / slowest } else { 0.0 };
        let carried = carried(near, far, faster);
        std::array::from_fn(|species| {
            along[species] * difference * carried[species]
                + mixes[species] * (near[species] - far[species])
        })
    }
}

/// The share of each gas in what flows along, by how much faster it flows than it mixes: above 0
/// from near to far.
///
/// A smooth turn with the slope of the exact profile of flow and diffusion, `1 / 12`, that keeps
/// every share from running below 0. Source: the exponential scheme of Scharfetter and Gummel
/// 1969 has that slope; the root in place of its exponential is ours.
fn carried(near: &Each, far: &Each, faster: f64) -> Each {
    let from_near = 0.5 * (1.0 + faster / libm::sqrt(faster * faster + 36.0));
    let (near, far) = (shares(near), shares(far));
    std::array::from_fn(|species| far[species] + from_near * (near[species] - far[species]))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::conductance::{Tube, core_conductance};
    use crate::physics::refrigerant::Refrigerant;

    fn mixture() -> Mixture {
        Mixture::new(&Refrigerant::R32.vapour())
    }

    #[test]
    fn a_tube_passes_air_as_its_law_says() {
        let law = Tube::new(Gas::Air, 9.5e-3, 1.5, REFERENCE_TEMPERATURE);
        let tube = Conductor::new(Passage::Tube { bore: 9.5e-3, length: 1.5 }, &mixture());
        for (near, far) in [(1e5, 10.0), (200.0, 190.0), (5.0, 2.0), (0.1, 0.0), (3.0, 8.0)] {
            let flow = tube.flows(&mixture(), &[near, 0.0, 0.0], &[far, 0.0, 0.0])[0];
            let expected = law.conductance(0.5 * (near + far)) * (near - far);
            assert!((flow / expected - 1.0).abs() < 1e-12, "{flow} {expected}");
        }
    }

    #[test]
    fn thin_water_vapour_passes_faster_than_air_and_alone_by_its_own_pressure() {
        let tube = Conductor::new(Passage::Tube { bore: 5e-3, length: 1.0 }, &mixture());
        let flows = tube.flows(&mixture(), &[0.01, 0.02, 0.0], &[0.02, 0.01, 0.0]);
        assert!((flows[1] / flows[0] + 1.268).abs() < 2e-3, "{flows:?}");
    }

    #[test]
    fn in_dense_gas_water_goes_where_the_mixture_goes() {
        let tube = Conductor::new(Passage::Tube { bore: 5e-3, length: 1.0 }, &mixture());
        let flows = tube.flows(&mixture(), &[9e4, 1000.0, 0.0], &[5e4, 1500.0, 0.0]);
        assert!((flows[1] / flows[0] * 90.0 - 1.0).abs() < 1e-3, "{flows:?}");
    }

    #[test]
    fn gases_of_equal_pressure_mix_about_as_they_diffuse() {
        let tube = Conductor::new(Passage::Tube { bore: 5e-3, length: 1.0 }, &mixture());
        let mixed = tube.flows(&mixture(), &[900.0, 100.0, 0.0], &[1000.0, 0.0, 0.0])[1];
        // Water in air at 1000 Pa: 2.4e-5 m²/s at the barometer times 101 (memory), over 1 m.
        let diffused = 2.4e-5 * 101.3 * std::f64::consts::PI / 4.0 * 25e-6 * 100.0;
        assert!((0.3..3.0).contains(&(mixed / diffused)), "{mixed} {diffused}");
    }

    #[test]
    fn nothing_jumps_where_a_flow_turns() {
        let tube = Conductor::new(Passage::Tube { bore: 16e-3, length: 8.0 }, &mixture());
        let flow = |more: f64| tube.flows(&mixture(), &[9e4 + more, 1e4, 0.0], &[1e5, 0.0, 0.0])[1];
        let (slope_before, slope_after) = (flow(0.0) - flow(-1e-4), flow(1e-4) - flow(0.0));
        assert!((slope_after / slope_before - 1.0).abs() < 1e-3, "{slope_before} {slope_after}");
        // Dry gas that flows in carries no water back out.
        let in_flow = tube.flows(&mixture(), &[0.9e5, 1e4, 0.0], &[1.1e5, 0.0, 0.0]);
        assert!(in_flow[0] < 0.0 && in_flow[1].abs() < 1e-4 * in_flow[0].abs(), "{in_flow:?}");
    }

    #[test]
    fn a_core_passes_between_its_two_bounds() {
        let (low, high) = core_conductance(REFERENCE_TEMPERATURE);
        let core = Conductor::new(Passage::Hole { bore: 1.5e-3 }, &mixture());
        let conductance = |p: f64| core.flows(&mixture(), &[p, 0.0, 0.0], &[0.0; 3])[0] / p;
        assert!((conductance(1e-3) / low - 1.0).abs() < 1e-3);
        assert!((conductance(1e5) / high - 1.0).abs() < 1e-2);
        assert!(conductance(10.0) > low && conductance(10.0) < high);
    }
}
