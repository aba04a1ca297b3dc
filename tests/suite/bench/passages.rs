//! What one passage lets through, against the rows of `tests/data/physics/03-conductance.csv`
//! (python, the formulas named there; air of 28.9647 g/mol, 20 °C, 1.82e-5 Pa s).

use dryhold::bench::gauge::MICRON;
use dryhold::bench::mixture::Mixture;
use dryhold::bench::passage::Passage;
use dryhold::physics::refrigerant::Refrigerant;

const Q14: Passage = Passage::Tube { bore: 4.7625e-3, length: 0.9144 };
const H38: Passage = Passage::Tube { bore: 9.525e-3, length: 0.9144 };
const CAPILLARY: Passage = Passage::Tube { bore: 0.7e-3, length: 2.0 };

/// The conductance in L/s at a mean pressure in Pa; of air, or of water vapour alone.
fn litres(passage: Passage, mean: f64, species: usize) -> f64 {
    let mixture = Mixture::new(&Refrigerant::R410a.vapour());
    let (mut near, mut far) = ([0.0; 3], [0.0; 3]);
    near[species] = 1.1 * mean;
    far[species] = 0.9 * mean;
    1e3 * passage.flows(&mixture, &near, &far)[species] / (0.2 * mean)
}

#[test]
fn tubes_pass_what_the_rows_say() {
    let thin = 1e-6;
    for (case, passage, mean, expected, tolerance) in [
        ("q14-molend", Q14, thin, 0.014_217_703_293, 1e-5),
        ("h38-molend", H38, thin, 0.112_962_574_11, 1e-5),
        ("capl-molend", CAPILLARY, thin, 2.077_436_267_3e-5, 1e-5),
        ("q14-kn-1000", Q14, 1000.0 * MICRON, 0.112_716_171_35, 5e-3),
        ("q14-kn-500", Q14, 500.0 * MICRON, 0.062_158_283_918, 5e-3),
        ("h38-kn-1000", H38, 1000.0 * MICRON, 1.710_873_392_4, 5e-3),
        ("h38-kn-500", H38, 500.0 * MICRON, 0.901_729_370_82, 5e-3),
        ("capl-kn-1000", CAPILLARY, 1000.0 * MICRON, 3.852_094_531_4e-5, 5e-3),
        ("capl-kn-50", CAPILLARY, 50.0 * MICRON, 1.975_981_664e-5, 5e-3),
    ] {
        let found = litres(passage, mean, 0);
        assert!((found / expected - 1.0).abs() < tolerance, "{case}: {found} {expected}");
    }
}

#[test]
fn holes_pass_what_the_rows_say_at_both_ends() {
    let hole = Passage::Hole { bore: 3e-3 };
    // or-mol, and or-choked of 198.6313545 m/s times the area.
    let choked = 1e3 * 198.631_354_5 * std::f64::consts::PI / 4.0 * 9e-6;
    assert!((litres(hole, 1e-6, 0) / 0.818_031_412_73 - 1.0).abs() < 1e-5);
    assert!((litres(hole, 1e7, 0) / choked - 1.0).abs() < 1e-4);
}

#[test]
fn thin_water_vapour_passes_faster() {
    // gas-scale.
    let ratio = litres(H38, 1e-6, 1) / litres(H38, 1e-6, 0);
    assert!((ratio - 1.267_985_110_3).abs() < 1e-5, "{ratio}");
}
