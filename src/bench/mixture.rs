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

/// How a mixture moves; air where there is no gas.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Motion {
    /// Its viscosity over that of air: the mean weighted with the square roots of the molar
    /// masses.
    ///
    /// Source: Herning and Zipperer 1936, from memory; within a few percent for gases like these.
    pub viscosity: f64,
    /// Its molar mass over that of air.
    pub molar_mass: f64,
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

    /// How a mixture moves, from partial pressures in Pa.
    #[must_use]
    pub fn motion(&self, pressures: &Each) -> Motion {
        let (mut total, mut mass, mut roots, mut slow) = (0.0, 0.0, 0.0, 0.0);
        for ((pressure, root), viscosity) in pressures.iter().zip(self.roots).zip(self.viscosities)
        {
            let pressure = pressure.max(0.0);
            let weight = pressure * root;
            total += pressure;
            mass += weight * root;
            roots += weight;
            slow += weight * viscosity;
        }
        if total > 0.0 {
            Motion { viscosity: slow / roots, molar_mass: mass / total }
        } else {
            Motion { viscosity: 1.0, molar_mass: 1.0 }
        }
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
        assert_eq!(mixture.motion(&[5.0, 0.0, 0.0]).viscosity, 1.0);
        let water = mixture.motion(&[0.0, 3.0, 0.0]).viscosity * 1.82e-5;
        // IAPWS R12-08 at 20 °C.
        assert!((water / 9.55e-6 - 1.0).abs() < 1e-3, "{water}");
        let mass = mixture.motion(&[0.0, 0.0, 7.0]).molar_mass * 28.9647e-3;
        assert!((mass / 52.024e-3 - 1.0).abs() < 1e-9);
        assert_eq!(shares(&[0.0, -1e-9, 0.0]), [1.0, 0.0, 0.0]);
    }

    #[test]
    fn water_flies_faster_than_air_by_the_root_of_the_masses() {
        let speeds = Mixture::new(&Refrigerant::R32.vapour()).speeds();
        // tests/data/physics/03-conductance.csv: 1.26799.
        assert!((speeds[Species::Water.index()] - 1.267_985).abs() < 1e-5, "{speeds:?}");
    }
}
