//! `dryhold try`.

use serde_json::Value;

use super::stand::{Ran, Stand};

/// A reading of the pump's floor, all else as it should be.
fn floor(stand: &Stand, reading: &str, more: &[&str]) -> Ran {
    let reading = format!("blank_off={reading}");
    let mut arguments = vec!["try", "pump_alone", "--from", "falling"];
    for set in [
        reading.as_str(),
        "still_falling=no",
        "target=500 micron",
        "pump_rating=15 micron",
        "pump_is_capped=yes",
        "pump_minutes=10 min",
        "ballast_state=shut",
        "gauge_scale=10 %",
        "gauge_offset=5 micron",
    ] {
        arguments.extend(["--set", set]);
    }
    arguments.extend(more);
    let ran = stand.run(&arguments);
    assert_eq!((ran.status, ran.stderr.as_str()), (Some(0), ""), "{ran:?}");
    ran
}

/// The decisions of a way.
fn decisions(way: &Value) -> Vec<&Value> {
    way["way"].as_array().unwrap().iter().filter(|one| one["to"].is_string()).collect()
}

#[test]
fn it_starts_at_a_step_and_says_which_comparison_decided() {
    let stand = Stand::new();
    let text = floor(&stand, "900 micron", &[]).stdout;
    assert!(text.starts_with("pump_alone.falling\n"), "{text}");
    for said in [
        "- Known beforehand: no.",
        "- if blank_off_high or blank_off_above_rating: yes",
        "blank_off = 900 micron (19 in 20: ",
        "blank_off > rating_limit = yes",
        "rating_limit is: max(3 * pump_rating, 50 micron)",
        "- Goes to pump_alone.high: `blank_off_high or blank_off_above_rating` holds.",
        "- Goes to pump_alone.mist: `floor_needs_work` holds.",
        "`oil_mist` has no answer left; give --set oil_mist=...",
    ] {
        assert!(text.contains(said), "{said}: {text}");
    }
    assert!(!text.contains("pump_alone.floor\n"), "the step before is not run: {text}");
}

/// `computed`: at 50 micron the limit of the rating is `max(3 * 15, 50) = 50 micron`, and a gauge
/// good to 10 % and 5 micron can't tell it from that; at 26 micron it can.
#[test]
fn doubt_is_told_where_it_decides() {
    let stand = Stand::new();
    let way = floor(&stand, "50 micron", &["--json"]).json();
    let last = decisions(&way)[0].clone();
    assert_eq!(last["to"], "pump_alone.near_limit", "{last}");
    let judged = last["conditions"].as_array().unwrap().last().unwrap();
    assert_eq!(judged["verdict"], "too close", "{judged}");
    let share = judged["probability"].as_f64().unwrap();
    assert!((0.1..0.9).contains(&share), "{judged}");
    assert!(last["doubt"].as_str().unwrap().contains("nine of ten"), "{last}");
    assert!(last["because"].as_str().unwrap().contains("so `too_close`"), "{last}");
    let way = floor(&stand, "26 micron", &["--json"]).json();
    let last = decisions(&way)[0].clone();
    assert_eq!((&last["to"], &last["doubt"]), (&"pump_alone.good".into(), &Value::Null), "{last}");
    assert_eq!(last["because"], "no condition holds, so `else`");
    assert!(way["stands"]["ended"].as_str().unwrap().contains("26 micron"), "{way}");
}

#[test]
fn what_is_not_known_says_why() {
    let stand = Stand::new();
    let arguments = ["try", "pump_alone", "--from", "falling", "--json", "--set"];
    let way = stand.run(&[&arguments[..], &["still_falling=no"]].concat()).json();
    let last = decisions(&way)[0];
    assert_eq!(last["to"], "pump_alone.watch");
    assert!(last["doubt"].is_string(), "{last}");
    assert!(last["because"].as_str().unwrap().contains("so `unknown`"), "{last}");
}

#[test]
fn not_sure_of_a_safety_question_counts_as_the_dangerous_answer() {
    let stand = Stand::new();
    let set = ["system_connected=yes", "system_charged=not sure"];
    let way = stand.run(&["try", "safety", "--json", "--set", set[0], "--set", set[1]]).json();
    let last = *decisions(&way).last().unwrap();
    assert_eq!(last["to"], "safety.stop_charge", "{last}");
    assert_eq!(last["doubt"], "not sure counts as the dangerous answer");
    assert_eq!(way["stands"]["at"], "safety.stop_charge");
    assert!(way["stands"]["refer"].as_str().unwrap().contains("licensed"), "{way}");
    assert_eq!(way["acknowledged"], serde_json::json!(["system_open"]));
}

#[test]
fn later_answers_come_in_turn_and_a_bound_is_told() {
    let stand = Stand::new();
    let mut arguments = vec!["try", "pump_alone", "--from", "capped", "--json"];
    for _ in 0..3 {
        arguments.extend(["--set", "pump_is_capped=no"]);
    }
    let way = stand.run(&arguments).json();
    let last = *decisions(&way).last().unwrap();
    assert_eq!(last["to"], "pump_alone.not_capped", "{way}");
    assert!(last["because"].as_str().unwrap().contains("at_most"), "{last}");
    let asked = way["way"].as_array().unwrap().iter().filter(|one| one["answer"] == "no").count();
    assert_eq!(asked, 2, "{way}");
}

#[test]
fn a_tree_in_rounds_begins_its_first_round_by_itself() {
    let stand = Stand::new();
    let arguments =
        ["try", "part_in_line", "--from", "reading", "--set", "part_reading=40 micron", "--json"];
    let way = stand.run(&arguments).json();
    assert_eq!(way["way"][0]["round"], "the first", "{way}");
    assert_eq!(way["way"][1]["answer"], "40 micron", "{way}");
    assert_eq!(way["stands"]["at"], "part_in_line.settling", "{way}");
}

#[test]
fn every_step_of_every_tree_can_be_tried() {
    let handbook = dryhold::built_in::built_in_handbook().unwrap();
    let engine = dryhold::evidence::Engine::new(&handbook).unwrap();
    let mut tried = 0;
    for (t, tree) in handbook.trees().iter().enumerate() {
        for step in 0..tree.steps.len() {
            let from = dryhold::case::Place {
                tree: dryhold::handbook::TreeId::at(t),
                step: dryhold::handbook::StepId::at(step),
            };
            let (mut case, mut trial) =
                dryhold::case::Trial::open(&handbook, &engine, from, Vec::new()).unwrap();
            let keeper = &mut dryhold::case::KeepNothing;
            let ending = dryhold::case::interview(&mut case, &mut trial, keeper);
            assert!(!matches!(ending, dryhold::case::Ending::Unusable(_)), "{ending:?}");
            let told = dryhold::report::tried(&case, &trial);
            assert!(told.len() >= 2, "{}.{}", tree.id, tree.steps[step].id);
            tried += 1;
        }
    }
    assert!(tried > 200, "only {tried} steps were tried");
}

#[test]
fn what_can_t_be_tried_is_told() {
    let stand = Stand::new();
    for (arguments, said) in [
        (&["try"][..], "<TREE>"),
        (&["try", "pump_alon"], "did you mean `pump_alone`?"),
        (&["try", "pump_alone", "--from", "floot"], "did you mean `floor`?"),
        (&["try", "history", "--from", "x"], "tree `history` has no step `x`; its steps are oily,"),
        (&["try", "history", "--set", "wet_histori=yes"], "did you mean `wet_history`?"),
        (&["try", "history", "--set", "wet_history=perhaps"], "`--set wet_history=perhaps`"),
        (&["try", "history", "--set", "wet_history"], "has no `=`"),
        (&["try", "history", "--only-rules", "nowhere"], "it is not there"),
    ] {
        let ran = stand.run(arguments);
        assert_eq!((ran.status, ran.stdout.as_str()), (Some(2), ""), "{arguments:?}: {ran:?}");
        assert!(ran.stderr.contains(said), "{arguments:?}: {}", ran.stderr);
    }
    assert_eq!(stand.run(&["try", "well", "--only-rules", "broken"]).status, Some(5));
    let cases = stand.path("data/dryhold/cases");
    assert!(!cases.exists(), "nothing is kept");
}

/// A reader that has seen enough is told nothing.
#[test]
fn a_closed_pipe_is_no_fault() {
    use std::io::{BufRead, BufReader};
    use std::process::Stdio;
    let stand = Stand::new();
    for arguments in
        [&["graph", "pump_alone"][..], &["print", "hold_test"], &["schema"], &["try", "history"]]
    {
        let mut command = stand.command(arguments);
        let mut child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        let mut row = String::new();
        BufReader::with_capacity(1, child.stdout.take().unwrap()).read_line(&mut row).unwrap();
        let ran = Ran::of(child.wait_with_output().unwrap());
        assert_eq!((ran.stderr.as_str(), ran.status), ("", Some(0)), "{arguments:?}");
    }
}
