//! The gases that share the volumes of a rig, and how their mixture moves.

use crate::physics::gas::{Gas, REFERENCE_TEMPERATURE};
use crate::physics::leak::LeakingGas;

/// How many gases there are.
pub const SPECIES: usize = 3;

/// One value for each gas, in the order of [`Species::ALL`]: partial pressures in Pa, flows in
/// Pa m³/s.
pub type Each = [f64; SPECIES];

/// A gas in a rig.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Species {
    /// Dry air; nitrogen counts as it.
    Air,
    /// Water vapour.
    Water,
    /// Vapour of the refrigerant that the system held.
    Refrigerant,
}

impl Species {
    /// Every gas.
    pub const ALL: [Self; SPECIES] = [Self::Air, Self::Water, Self::Refrigerant];

    /// The place of its value in [`Each`].
    #[must_use]
    pub fn index(self) -> usize {
        self as usize
    }
}

/// What is known of the three gases together, at 20 °C.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mixture {
    /// Molar masses in kg/mol.
    pub molar_masses: Each,
    /// Square roots of the molar masses over that of air's.
    roots: Each,
    /// Viscosities over air's.
    viscosities: Each,
}

impl Mixture {
    /// Air, water vapour and the vapour of a refrigerant.
    #[must_use]
    pub fn new(refrigerant: &LeakingGas) -> Self {
        let air = Gas::Air.molar_mass();
        let molar_masses = [air, Gas::Water.molar_mass(), refrigerant.molar_mass];
        let reference = Gas::Air.viscosity(REFERENCE_TEMPERATURE);
        let water = Gas::Water.viscosity(REFERENCE_TEMPERATURE);
        Self {
            molar_masses,
            roots: molar_masses.map(|mass| libm::sqrt(mass / air)),
            viscosities: [1.0, water / reference, refrigerant.viscosity / reference],
        }
    }

    /// How fast the molecules of each gas fly, over those of air. Source: kinetic theory of gases.
    #[must_use]
    pub fn speeds(&self) -> Each {
        self.roots.map(|root| 1.0 / root)
    }

    /// The viscosity of a mixture over that of air, from partial pressures: the mean weighted
    /// with the square roots of the molar masses. 1 where there is no gas.
    ///
    /// Source: Herning and Zipperer 1936, from memory; within a few percent for gases like these.
    #[must_use]
    pub fn viscosity(&self, pressures: &Each) -> f64 {
        let (mut over, mut under) = (0.0, 0.0);
        for ((pressure, root), viscosity) in pressures.iter().zip(self.roots).zip(self.viscosities)
        {
            let weight = pressure.max(0.0) * root;
            over += weight * viscosity;
            under += weight;
        }
        if under > 0.0 { over / under } else { 1.0 }
    }

    /// The molar mass of a mixture over that of air, from partial pressures. 1 where there is no
    /// gas. Source: definition.
    #[must_use]
    pub fn molar_mass(&self, pressures: &Each) -> f64 {
        let (mut over, mut under) = (0.0, 0.0);
        for (pressure, root) in pressures.iter().zip(self.roots) {
            over += pressure.max(0.0) * root * root;
            under += pressure.max(0.0);
        }
        if under > 0.0 { over / under } else { 1.0 }
    }
}

/// The share of each gas in a mixture, from partial pressures; all air where there is no gas.
pub(super) fn shares(pressures: &Each) -> Each {
    let positive = pressures.map(|pressure| pressure.max(0.0));
    let total: f64 = positive.iter().sum();
    if total > 0.0 { positive.map(|pressure| pressure / total) } else { [1.0, 0.0, 0.0] }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::refrigerant::Refrigerant;

    #[test]
    fn a_gas_alone_is_itself() {
        let mixture = Mixture::new(&Refrigerant::R32.vapour());
        assert_eq!(mixture.viscosity(&[5.0, 0.0, 0.0]), 1.0);
        let water = mixture.viscosity(&[0.0, 3.0, 0.0]) * 1.82e-5;
        // IAPWS R12-08 at 20 °C.
        assert!((water / 9.55e-6 - 1.0).abs() < 1e-3, "{water}");
        assert!((mixture.molar_mass(&[0.0, 0.0, 7.0]) * 28.9647e-3 / 52.024e-3 - 1.0).abs() < 1e-9);
        assert_eq!(shares(&[0.0, -1e-9, 0.0]), [1.0, 0.0, 0.0]);
    }

    #[test]
    fn water_flies_faster_than_air_by_the_root_of_the_masses() {
        let speeds = Mixture::new(&Refrigerant::R32.vapour()).speeds();
        // tests/data/physics/03-conductance.csv: 1.26799.
        assert!((speeds[Species::Water.index()] - 1.267_985).abs() < 1e-5, "{speeds:?}");
    }
}
