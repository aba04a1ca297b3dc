//! Rows about parts of the laws of leaks and water that no function shows by itself.

use dryhold::physics::gas::{AIR_MOLAR_MASS, Gas, REFERENCE_TEMPERATURE};
use dryhold::physics::leak::{LeakPath, LeakingGas};
use dryhold::physics::moisture::heat_of_evaporation;
use dryhold::physics::refrigerant::Refrigerant;
use dryhold::physics::warming::sealed_gas;

use super::LibraryRow;

const LEAKS: &str = "06-leak-equivalents";

pub const ROWS: &[LibraryRow] = &[
    ("05-rate-of-rise", "ror-t", || sealed_gas(500.0, 293.15, 303.15)),
    ("05-rate-of-rise", "leak-const", faded_by_5000_pa),
    (LEAKS, "M-R-32", || grams(Refrigerant::R32)),
    (LEAKS, "M-R-134a", || grams(Refrigerant::R134a)),
    (LEAKS, "M-R-410A", || grams(Refrigerant::R410a)),
    (LEAKS, "M-R-454B", || grams(Refrigerant::R454b)),
    (LEAKS, "M-R-290", || grams(Refrigerant::R290)),
    (LEAKS, "eta-R-32", || viscosity(Refrigerant::R32)),
    (LEAKS, "eta-R-134a", || viscosity(Refrigerant::R134a)),
    (LEAKS, "eta-R-290", || viscosity(Refrigerant::R290)),
    (LEAKS, "eta-air", || 1e6 * Gas::Air.viscosity(REFERENCE_TEMPERATURE)),
    (LEAKS, "he-air-mol", helium_to_air),
    ("10-dilution-vapour", "hfg", || 1e-3 * heat_of_evaporation(REFERENCE_TEMPERATURE)),
];

fn grams(refrigerant: Refrigerant) -> f64 {
    1e3 * refrigerant.vapour().molar_mass
}

fn viscosity(refrigerant: Refrigerant) -> f64 {
    1e6 * refrigerant.vapour().viscosity
}

/// What share of a laminar leak of air is gone when the vessel has filled to 5000 Pa. The law
/// counts from the pressure outside, so a drive from 101 325 Pa into 5000 Pa is one from
/// `101325² / 5000` Pa into 101 325 Pa, scaled.
fn faded_by_5000_pa() -> f64 {
    let (outside, inside) = (101_325.0, 5000.0);
    let times = outside / inside;
    let into_5000 = LeakPath::Laminar.ratio_to_air(&LeakingGas::AIR, outside * times);
    1.0 - into_5000 / (times * times)
}

/// What a molecular leak passes of helium for the same pressure of air.
fn helium_to_air() -> f64 {
    let helium =
        LeakingGas { molar_mass: 4.0026e-3, viscosity: 1.96e-5, isentropic_exponent: 5.0 / 3.0 };
    assert!(helium.molar_mass < AIR_MOLAR_MASS);
    LeakPath::Molecular.ratio_to_air(&helium, 101_325.0)
}
