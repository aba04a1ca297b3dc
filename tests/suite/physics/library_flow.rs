//! The rows of saturation, conductance and pump-down that check parts of the laws, which no
//! function shows by itself.

use std::f64::consts::PI;

use dryhold::physics::conductance::{
    Tube, choked_conductance, core_conductance, critical_pressure_ratio, knudsen_variable,
    laminar_conductance, molecular_conductance, orifice_conductance, transmission_probability,
};
use dryhold::physics::gas::{
    AIR_VISCOSITY, Gas, REFERENCE_TEMPERATURE, STANDARD_ATMOSPHERE, hard_sphere_free_path,
};
use dryhold::physics::pump_down::PumpDown;
use dryhold::physics::pumping_speed::PumpingLine;
use dryhold::physics::saturation::over_liquid;

/// Topic, case and value in the unit of the row.
pub const ROWS: &[super::LibraryRow] = &[
    ("02-saturation", "liq0", || over_liquid(273.15)),
    ("03-conductance", "cbar-air20", || Gas::Air.mean_speed(REFERENCE_TEMPERATURE)),
    ("03-conductance", "const-12p1", || LITRES_PER_CUBE * molecular(0.01, 0.01)),
    ("03-conductance", "const-11p6", || LITRES_PER_CUBE * hole(0.01) / (PI / 4.0)),
    ("03-conductance", "const-vis", || laminar_conductance(AIR_VISCOSITY, 1.0, 1.0, 1.0)),
    ("03-conductance", "exercise-5cm", || 1e3 * molecular(0.05, 0.3)),
    ("03-conductance", "exercise-1cm", || 1e3 * molecular(0.01, 0.3)),
    ("03-conductance", "exercise-laminar", || laminar(0.002, 0.1, 10_000.0)),
    ("03-conductance", "q14-mol", || 1e3 * molecular(Q14.0, Q14.1)),
    ("03-conductance", "q14-vis-1000", || laminar(Q14.0, Q14.1, 1000.0)),
    ("03-conductance", "q14-vis-500", || laminar(Q14.0, Q14.1, 500.0)),
    ("03-conductance", "q14-vis-50", || laminar(Q14.0, Q14.1, 50.0)),
    ("03-conductance", "h38-mol", || 1e3 * molecular(H38.0, H38.1)),
    ("03-conductance", "h38-vis-1000", || laminar(H38.0, H38.1, 1000.0)),
    ("03-conductance", "h38-vis-500", || laminar(H38.0, H38.1, 500.0)),
    ("03-conductance", "h38-vis-50", || laminar(H38.0, H38.1, 50.0)),
    ("03-conductance", "h38-kn-50", || 1e3 * long_tube(H38.0, H38.1, 50.0 * MICRON)),
    ("03-conductance", "capl-mol", || 1e3 * molecular(CAPILLARY.0, CAPILLARY.1)),
    ("03-conductance", "capl-vis-1000", || laminar(CAPILLARY.0, CAPILLARY.1, 1000.0)),
    ("03-conductance", "capl-vis-500", || laminar(CAPILLARY.0, CAPILLARY.1, 500.0)),
    ("03-conductance", "capl-vis-50", || laminar(CAPILLARY.0, CAPILLARY.1, 50.0)),
    ("03-conductance", "mfp-hs", || {
        1e3 * hard_sphere_free_path(0.37e-9, 1.0, REFERENCE_TEMPERATURE)
    }),
    ("03-conductance", "kn-min-x", || minimum().0),
    ("03-conductance", "kn-min-c", || minimum().1),
    ("03-conductance", "clausing-0.5", || transmission_probability(1.0, 0.5)),
    ("03-conductance", "clausing-1", || transmission_probability(1.0, 1.0)),
    ("03-conductance", "or-choked", || choked_conductance(1.0, REFERENCE_TEMPERATURE) / (PI / 4.0)),
    ("03-conductance", "or-rc", critical_pressure_ratio),
    ("03-conductance", "or-leak", || {
        STANDARD_ATMOSPHERE * choked_conductance(50e-6, REFERENCE_TEMPERATURE)
    }),
    ("03-conductance", "lam-leak", || {
        let mean = 0.5 * STANDARD_ATMOSPHERE;
        STANDARD_ATMOSPHERE * laminar_conductance(AIR_VISCOSITY, 10e-6, 5e-3, mean)
    }),
    ("03-conductance", "core-low", || 1e3 * core_conductance(REFERENCE_TEMPERATURE).0),
    ("03-conductance", "core-high", || 1e3 * core_conductance(REFERENCE_TEMPERATURE).1),
    ("04-pumpdown", "exercise-ultimate-5cm", || ultimate(10e-3, 50.4167e-3, COURSE_LOAD) / TORR),
    ("04-pumpdown", "exercise-ultimate-1cm", || ultimate(10e-3, 0.403_333e-3, COURSE_LOAD) / TORR),
    ("04-pumpdown", "exercise-ultimate-long", || ultimate(10e-3, 10.0833e-3, COURSE_LOAD) / TORR),
    ("04-pumpdown", "cores-low", || with_core(core_conductance(REFERENCE_TEMPERATURE).0)),
    ("04-pumpdown", "cores-high", || with_core(core_conductance(REFERENCE_TEMPERATURE).1)),
];

/// A micron in Pa.
const MICRON: f64 = 0.133_322_387_415;
/// A Torr in Pa.
const TORR: f64 = STANDARD_ATMOSPHERE / 760.0;
/// From m³/s to L/s per cm², for a tube or a hole of 1 cm.
const LITRES_PER_CUBE: f64 = 1e3;
/// 600 cm² that give off 1e-8 Torr L/s per cm², in Pa m³/s.
const COURSE_LOAD: f64 = 600.0 * 1e-8 * 1e-3 * TORR;
/// Bores and lengths in m.
const Q14: (f64, f64) = (4.7625e-3, 0.9144);
const H38: (f64, f64) = (9.525e-3, 0.9144);
const CAPILLARY: (f64, f64) = (0.7e-3, 2.0);
/// A length in m at which the ends of a tube count nothing.
const LONG: f64 = 1e9;

fn molecular(bore: f64, length: f64) -> f64 {
    molecular_conductance(Gas::Air, bore, length, REFERENCE_TEMPERATURE)
}

fn hole(bore: f64) -> f64 {
    orifice_conductance(Gas::Air, bore, REFERENCE_TEMPERATURE)
}

/// In L/s, at a mean pressure in micron.
fn laminar(bore: f64, length: f64, micron: f64) -> f64 {
    1e3 * laminar_conductance(AIR_VISCOSITY, bore, length, micron * MICRON)
}

/// The conductance in m³/s of a tube at a mean pressure in Pa without what its ends take: the
/// share of its length in a tube so long that they don't count.
fn long_tube(bore: f64, length: f64, pressure: f64) -> f64 {
    let tube = Tube::new(Gas::Air, bore, LONG, REFERENCE_TEMPERATURE);
    tube.conductance(pressure) * LONG / length
}

/// The place of Knudsen's minimum in his variable, and the conductance there over the molecular.
fn minimum() -> (f64, f64) {
    let tube = Tube::new(Gas::Air, 0.01, LONG, REFERENCE_TEMPERATURE);
    let scale = knudsen_variable(Gas::Air, 0.01, 1.0, REFERENCE_TEMPERATURE);
    let ratio = |x: f64| tube.conductance(x / scale) / tube.molecular();
    let (mut low, mut high) = (0.0, 5.0);
    while high - low > 1e-6 {
        let (left, right) = (low + 0.382 * (high - low), low + 0.618 * (high - low));
        if ratio(left) < ratio(right) { high = right } else { low = left }
    }
    (low, ratio(low))
}

/// The pressure in Pa that a load in Pa m³/s leaves behind a conductance in m³/s.
fn ultimate(speed: f64, conductance: f64, load: f64) -> f64 {
    let line = PumpingLine { cores: conductance, ..PumpingLine::bare(speed) };
    line.at_throughput(load).system_pressure
}

/// The time in s of 10 L from the atmosphere to 500 micron through a hose and a core.
fn with_core(core: f64) -> f64 {
    let hose = Some(Tube::new(Gas::Air, 9.5e-3, 1.5, REFERENCE_TEMPERATURE));
    let line = PumpingLine { speed: 2.36e-3, floor: 20.0 * MICRON, hose, cores: core };
    PumpDown::new(line, 0.01, 0.0).time(760_000.0 * MICRON, 500.0 * MICRON)
}
