//! One leak under two drives: as air into vacuum, and as refrigerant out of a working system.
//!
//! The path of a real leak is not known. Three laws bound it: a molecular path (the thinnest), a
//! short hole that chokes, and a long laminar capillary (the steepest with pressure).

use super::conductance::choked_conductance;
use super::gas::{
    AIR_HEAT_CAPACITY_RATIO, AIR_MOLAR_MASS, AIR_VISCOSITY, GAS_CONSTANT, REFERENCE_TEMPERATURE,
    STANDARD_ATMOSPHERE,
};

/// A gas as a leak sees it, at 20 °C.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeakingGas {
    /// The molar mass in kg/mol.
    pub molar_mass: f64,
    /// The viscosity in Pa s.
    pub viscosity: f64,
    /// The isentropic exponent, above 1.
    pub isentropic_exponent: f64,
}

impl LeakingGas {
    /// Dry air.
    pub const AIR: Self = Self {
        molar_mass: AIR_MOLAR_MASS,
        viscosity: AIR_VISCOSITY,
        isentropic_exponent: AIR_HEAT_CAPACITY_RATIO,
    };

    /// What a hole of 1 m² passes in m³/s, at the state in front of it, into a pressure that is
    /// `ratio` of the one in front: choked up to the critical ratio, isentropic above.
    fn hole_speed(&self, ratio: f64) -> f64 {
        let gamma = self.isentropic_exponent;
        let critical = libm::pow(2.0 / (gamma + 1.0), gamma / (gamma - 1.0));
        let ratio = ratio.clamp(critical, 1.0);
        let square = 2.0 * gamma / (gamma - 1.0)
            * (GAS_CONSTANT * REFERENCE_TEMPERATURE / self.molar_mass)
            * (libm::pow(ratio, 2.0 / gamma) - libm::pow(ratio, (gamma + 1.0) / gamma));
        libm::sqrt(square.max(0.0))
    }
}

/// The path that a gas takes through a leak.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeakPath {
    /// So narrow that molecules meet only its walls: the flow goes with the gas's own pressure,
    /// `sqrt(M_air / M) p / p_air`.
    Molecular,
    /// A short hole, choked beyond about twice the pressure outside: the flow goes with pressure
    /// times the speed of an ideal isentropic jet.
    Choked,
    /// A long capillary with laminar flow: the flow goes with the difference of the squares of
    /// the pressures, over the viscosity.
    Laminar,
}

impl LeakPath {
    /// Every path.
    pub const ALL: [Self; 3] = [Self::Molecular, Self::Choked, Self::Laminar];

    /// What a leak that lets 1 Pa m³/s of air of 101 325 Pa into vacuum lets out, in Pa m³/s, of
    /// a gas with a pressure in Pa inside, into air of 101 325 Pa. All at 20 °C.
    ///
    /// Holds for the gas as an ideal one; liquid in the path is another matter, and so is air
    /// that comes in against it. Source: Hagen and Poiseuille's law for a compressible gas,
    /// isentropic flow, kinetic theory.
    #[must_use]
    pub fn ratio_to_air(self, gas: &LeakingGas, inside: f64) -> f64 {
        let times = inside / STANDARD_ATMOSPHERE;
        let air = LeakingGas::AIR;
        match self {
            Self::Molecular => libm::sqrt(air.molar_mass / gas.molar_mass) * times,
            Self::Choked => times * gas.hole_speed(1.0 / times) / air.hole_speed(0.0),
            Self::Laminar => air.viscosity / gas.viscosity * (times * times - 1.0),
        }
    }
}

/// The lowest and the highest of [`LeakPath::ratio_to_air`] over all paths.
#[must_use]
pub fn ratio_bounds(gas: &LeakingGas, inside: f64) -> (f64, f64) {
    LeakPath::ALL.iter().fold((f64::INFINITY, 0.0), |(low, high), path| {
        let ratio = path.ratio_to_air(gas, inside);
        (low.min(ratio), high.max(ratio))
    })
}

/// The diameter in m of the round hole that lets a leak in Pa m³/s of air of 101 325 Pa and 20 °C
/// into vacuum, choked: `sqrt(4 Q / (pi p 198.6 m/s))`.
///
/// Source: isentropic flow of an ideal gas. An equivalent, not a picture: a real hole of that
/// size passes less (a contracted jet), and real leaks are longer and wider.
#[must_use]
pub fn hole_diameter(leak: f64) -> f64 {
    libm::sqrt(leak / (STANDARD_ATMOSPHERE * choked_conductance(1.0, REFERENCE_TEMPERATURE)))
}

/// The mass flow in kg/s of a throughput in Pa m³/s of a gas with a molar mass in kg/mol at a
/// temperature in K: `Q M / (R T)`. Source: ideal gas.
#[must_use]
pub fn mass_flow(throughput: f64, molar_mass: f64, temperature: f64) -> f64 {
    throughput * molar_mass / (GAS_CONSTANT * temperature)
}

#[cfg(test)]
mod tests {
    use super::*;

    const HEAVY: LeakingGas =
        LeakingGas { molar_mass: 72.6e-3, viscosity: 1.3e-5, isentropic_exponent: 1.16 };

    #[test]
    fn air_out_of_one_atmosphere_into_vacuum_is_itself() {
        let air = LeakingGas::AIR;
        let area = std::f64::consts::PI / 4.0;
        let choked = choked_conductance(1.0, REFERENCE_TEMPERATURE) / area;
        assert!((air.hole_speed(0.0) / choked - 1.0).abs() < 1e-12);
        let one = LeakPath::Molecular.ratio_to_air(&air, STANDARD_ATMOSPHERE);
        assert!((one - 1.0).abs() < 1e-12);
    }

    #[test]
    fn the_jet_of_a_hole_is_steady_where_it_begins_to_choke() {
        let critical = libm::pow(2.0 / 2.16, 1.16 / 0.16);
        let (below, above) = (HEAVY.hole_speed(critical - 1e-9), HEAVY.hole_speed(critical + 1e-9));
        assert!((below / above - 1.0).abs() < 1e-6);
        assert_eq!(HEAVY.hole_speed(1.0), 0.0);
    }

    #[test]
    fn ten_to_forty_bar_pass_ten_to_over_a_thousand_times_as_much() {
        let air = LeakingGas::AIR;
        for (bar, choked, laminar) in [(11.0, 10.9, 117.0), (41.0, 40.5, 1637.0)] {
            let (low, high) = ratio_bounds(&air, bar * 1e5);
            assert!((low / choked - 1.0).abs() < 0.02, "{low}");
            assert!((high / laminar - 1.0).abs() < 0.02, "{high}");
        }
    }

    #[test]
    fn a_hole_of_four_micrometres_lets_in_eighty_grams_a_year() {
        let leak = 10.0 * 0.133_322 / 60.0 * 10e-3;
        assert!((hole_diameter(leak) / 3.7e-6 - 1.0).abs() < 0.03);
        let year = mass_flow(leak, AIR_MOLAR_MASS, REFERENCE_TEMPERATURE) * 31_557_600.0;
        assert!((year / 82e-3 - 1.0).abs() < 0.02, "{year}");
    }
}
