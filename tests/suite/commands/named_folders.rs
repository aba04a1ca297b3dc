//! Folders named in the place of something else, and trees that no loaded rules have.

use super::stand::{Ran, Stand};

#[track_caller]
fn says(ran: &Ran, status: i32, said: &str) {
    assert_eq!((ran.status, ran.stderr.as_str()), (Some(status), said), "{}", ran.stdout);
}

/// A handbook `parts` with its scenarios beside it.
fn stand() -> Stand {
    let stand = Stand::new();
    let made = stand.run(&["new", "handbook", "Parts", "--into", "parts"]);
    assert_eq!(made.status, Some(0), "{made:?}");
    stand
}

#[test]
fn rules_named_as_scenarios_are_told_with_the_way_to_write_it() {
    let stand = stand();
    says(
        &stand.run(&["rehearse", "parts"]),
        2,
        "dryhold: parts holds rules, no scenarios; load it and name its scenarios: dryhold rehearse \
         --only-rules parts parts-scenarios\n",
    );
    says(
        &stand.run(&["rehearse", "more"]),
        2,
        "dryhold: more holds rules, no scenarios; load it and name its scenarios: dryhold rehearse \
         --rules more SCENARIOS\n",
    );
}

#[test]
fn scenarios_of_another_handbook_are_told_once() {
    let stand = stand();
    let text = "scenario: A\ntree: tap_of_mine\nanswers: {level: 5, lid: shut}\n";
    stand.write("mine.yaml", text);
    let told = "dryhold: no scenario named runs a tree of the built-in handbook; load their rules with \
                --only-rules FOLDER (--rules FOLDER where they add to the built-in one)\n";
    says(&stand.run(&["rehearse", "mine.yaml"]), 2, told);
    std::fs::create_dir(stand.path("barrel-scenarios")).unwrap();
    stand.write("barrel-scenarios/mine.yaml", text);
    let told = told.replace("--only-rules FOLDER", "--only-rules barrel");
    says(&stand.run(&["rehearse", "barrel-scenarios/"]), 2, &told);
    // A slip of the pen is told where it stands.
    stand.write("slip.yaml", "scenario: A\ntree: pump_alon\n");
    let ran = stand.run(&["rehearse", "slip.yaml"]);
    assert!(ran.stderr.contains("did you mean `pump_alone`?"), "{ran:?}");
}

#[test]
fn a_tree_of_rules_that_are_not_loaded_is_told_with_the_options() {
    let stand = stand();
    for command in ["diagnose", "try", "graph", "print"] {
        let ran = stand.run(&[command, "parts"]);
        let told = "dryhold: `parts` is a folder of rules, no tree; load it with --only-rules parts, \
                    and name one of its trees\n";
        says(&ran, 2, told);
        let ran = stand.run(&[command, "barrel_of_mine"]);
        assert!(ran.stderr.contains("there is no tree `barrel_of_mine`"), "{ran:?}");
        assert!(ran.stderr.contains("--rules FOLDER, or with --only-rules FOLDER"), "{ran:?}");
        let ran = stand.run(&["--only-rules", "parts", command, "barrel_of_mine"]);
        let told = "dryhold: there is no tree `barrel_of_mine`; the trees are start\n";
        says(&ran, 2, told);
    }
    let new = ["new", "scenario", "--id", "a", "--title", "A", "--tree", "more", "--into", "here"];
    let ran = stand.run(&new);
    assert!(ran.stderr.contains("`more` is a folder of rules, no tree; load it with --rules more"));
}

/// 146 faults of one missing handbook say less than one line.
#[test]
fn rules_that_add_to_the_built_in_ones_are_checked_with_them() {
    let stand = Stand::new();
    let ran = stand.run(&["check", "more"]);
    let told = "dryhold: more is no handbook of its own: it has no `format`, and names what the \
                built-in one has. It adds to that: dryhold check --rules more\n";
    says(&ran, 5, told);
    assert_eq!(ran.stdout, "");
    // What does not fit the built-in handbook either has its own faults told.
    let ran = stand.run(&["check", "orphan"]);
    assert!(ran.stdout.contains("error[H208]"), "{ran:?}");
    let json = stand.run(&["check", "more", "--format", "json"]);
    assert!(json.stdout.contains("H208"), "{json:?}");
}

/// A scenario serves as answers; what it expects is for a rehearsal.
#[test]
fn a_scenario_is_taken_for_answers() {
    let stand = stand();
    let file = "parts-scenarios/start/torn_seal.yaml";
    let ran = stand.run(&["--only-rules", "parts", "diagnose", "--answers", file]);
    let told = format!(
        "dryhold: what the scenario {file} expects is not looked at here; that is for dryhold \
         rehearse {file}\n"
    );
    says(&ran, 0, &told);
    assert!(ran.stdout.contains("Mended: A leaky seal."), "{ran:?}");
}

/// A handbook with one tree leads nowhere, and its drawing says what there is.
#[test]
fn a_drawing_of_trees_is_described() {
    let ran = stand().run(&["--only-rules", "parts", "graph"]);
    let described = "<desc id=\"desc\">Boxes: tree: start. Lines: none.</desc>";
    assert!(ran.stdout.contains(described), "{ran:?}");
    let ran = Stand::new().run(&["graph"]);
    assert!(ran.stdout.contains("start to pump_alone (goes on to"), "{}", &ran.stdout[..2000]);
}

/// The gaps of a folder that adds to the built-in handbook are its own.
#[test]
fn a_rehearsal_measures_what_an_added_folder_brings() {
    let stand = Stand::new();
    let text = "causes:\n  flat_gasket:\n    name: A flat gasket\n    how_common: 0.02\n    \
                because: It was used too often.\n    basis: estimate\n";
    std::fs::create_dir(stand.path("mine")).unwrap();
    stand.write("mine/causes.yaml", text);
    stand.write("one.yaml", "scenario: A\ntree: history\nanswers: {wet_history: no}\n");
    let told = stand.run(&["--rules", "mine", "rehearse", "one.yaml"]);
    let rows: Vec<&str> = told.stdout.lines().collect();
    assert_eq!(rows[1..3], ["1 cause that led in no scenario:", "  flat_gasket"], "{told:?}");
    assert_eq!(rows[4], "  steps               none to count");
    let passed_over = rows[rows.len() - 2];
    assert!(passed_over.starts_with("Only what the added folder brings is measured; "), "{rows:?}");
    // A finding copied to take the new cause in brings no outcome of its own; another test does.
    let copy = "findings:\n  exhaust_mist:\n    replaces: built_in\n    when: oil_mist\n    \
                only_if: pump_stands_alone and pump_warm\n    shown_by: {flat_gasket: 0.6}\n    \
                anyway: 0.1\n    basis: estimate\n";
    stand.write("mine/findings.yaml", copy);
    let told = stand.run(&["--rules", "mine", "rehearse", "one.yaml"]);
    assert!(!told.stdout.contains("exhaust_mist is"), "{told:?}");
    stand.write("mine/findings.yaml", &copy.replace("when: oil_mist", "when: not oil_mist"));
    let told = stand.run(&["--rules", "mine", "rehearse", "one.yaml"]);
    assert!(told.stdout.contains("  exhaust_mist is true\n"), "{told:?}");
    let all = stand.run(&["--rules", "mine", "rehearse", "one.yaml", "--all"]);
    assert!(all.stdout.contains("  pump_alone.capped\n"), "{all:?}");
    assert!(!all.stdout.contains("Only what the added folder"), "{all:?}");
}
