//! The laws against general-purpose libraries, where Python has them.
//!
//! What they gave once is recorded in `tests/data/physics/cross-check.csv`, whose rows are checked
//! like all others; here the libraries are asked anew.

use std::path::Path;
use std::process::Command;

use super::rows::rows;

const SCRIPT: &str = "tests/cross_check/physics.py";

#[test]
fn the_libraries_give_what_the_program_gives() {
    let imported = Command::new("python3").args(["-c", "import CoolProp, iapws, scipy"]).output();
    if !imported.is_ok_and(|run| run.status.success()) {
        println!("left out: {SCRIPT} needs python3 with CoolProp, iapws and scipy");
        return;
    }
    let run = Command::new("python3")
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .args([SCRIPT, env!("CARGO_BIN_EXE_dryhold")])
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&run.stdout);
    let complained = String::from_utf8_lossy(&run.stderr);
    assert!(run.status.success(), "{said}{complained}");
    assert_eq!(said.lines().count(), 4, "{said}");
}

#[test]
fn the_record_covers_what_the_script_asks() {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join(SCRIPT);
    assert!(script.exists());
    let recorded = rows();
    let count = |start: &str| {
        let is_of = |case: &str| case.starts_with(start);
        recorded.iter().filter(|row| row.topic == "cross-check" && is_of(&row.case)).count()
    };
    assert_eq!((count("liquid-"), count("ice-")), (60, 60));
    assert!(count("frost-") >= 5 && count("boiling-") >= 5);
    assert!(count("minimum-") >= 3 && count("pump-down-") >= 12);
}
