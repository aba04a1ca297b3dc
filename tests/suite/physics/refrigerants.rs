//! The table of refrigerants against what CoolProp gave, and CoolProp asked anew where it is.

use std::path::{Path, PathBuf};
use std::process::Command;

use dryhold::physics::refrigerant::{Refrigerant, Saturation};

const SCRIPT: &str = "tests/cross_check/refrigerants.py";

fn record() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/refrigerants.csv")
}

#[test]
fn the_record_names_the_program_that_computed_it() {
    let text = std::fs::read_to_string(record()).unwrap();
    assert!(text.starts_with("# computed: CoolProp 8.0.0\n"), "{:?}", text.lines().next());
}

#[test]
fn the_table_agrees_with_the_record() {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(record()).unwrap();
    let (mut worst_pressure, mut pressures, mut others) = (0.0_f64, 0, 0);
    for row in reader.records() {
        let row = row.unwrap();
        let refrigerant = Refrigerant::ALL.into_iter().find(|r| r.designation() == &row[0]);
        let refrigerant = refrigerant.unwrap_or_else(|| panic!("{} is not known", &row[0]));
        let temperature = 273.15 + row[2].parse::<f64>().unwrap();
        let recorded: f64 = row[3].parse().unwrap();
        let gas = refrigerant.vapour();
        let (value, tolerance) = match &row[1] {
            "molar_mass" => (1e3 * gas.molar_mass, 1e-5),
            "viscosity" => (1e6 * gas.viscosity, 3e-3),
            "isentropic_exponent" => (gas.isentropic_exponent, 5e-4),
            "bubble" => (1e-3 * refrigerant.pressure(temperature, Saturation::Bubble), 6e-4),
            "dew" => (1e-3 * refrigerant.pressure(temperature, Saturation::Dew), 6e-4),
            other => panic!("{other} is not known"),
        };
        let error = (value / recorded - 1.0).abs();
        assert!(error <= tolerance, "{row:?}: {value} is off by {error:.1e}");
        if row[4] == *"kPa" {
            pressures += 1;
            worst_pressure = worst_pressure.max(error);
        } else {
            others += 1;
        }
    }
    assert_eq!(others, 3 * Refrigerant::ALL.len());
    assert!(pressures > 550, "{pressures}");
    println!("{pressures} pressures, worst relative error {worst_pressure:.1e}");
}

#[test]
fn the_library_gives_what_was_recorded() {
    let imported = Command::new("python3").args(["-c", "import CoolProp, numpy"]).output();
    if !imported.is_ok_and(|run| run.status.success()) {
        println!("left out: {SCRIPT} needs python3 with CoolProp and numpy");
        return;
    }
    let run = Command::new("python3")
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .arg(SCRIPT)
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&run.stdout);
    let complained = String::from_utf8_lossy(&run.stderr);
    assert!(run.status.success(), "{said}{complained}");
}
