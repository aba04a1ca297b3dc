//! `dryhold practice`: through a pipe, with its record, and the list of a class.

use serde_json::Value;

use super::stand::{Ran, Stand};

/// Practises with these lines behind each other.
fn practises(stand: &Stand, arguments: &[&str], lines: &[&str]) -> Ran {
    let all: Vec<&str> = std::iter::once("practice").chain(arguments.iter().copied()).collect();
    let text: String = lines.iter().flat_map(|line| [line, "\n"]).collect();
    stand.run_fed(&all, text.as_bytes())
}

/// A rig with too little oil in its pump.
const LOW_OIL: [&str; 4] = ["--level", "easy", "--seed", "7"];

fn with<'a>(more: &[&'a str]) -> Vec<&'a str> {
    LOW_OIL.iter().copied().chain(more.iter().copied()).collect()
}

#[test]
fn an_exercise_goes_through_a_pipe_to_its_debrief() {
    let stand = Stand::new();
    let lines = [
        "cap",
        "lock",
        "vent",
        "cap",
        "ballast look",
        "oil",
        "pull 6",
        "pull",
        "2",
        "board",
        "name",
    ];
    let naming = ["pump_oil", "done", "change oil", "done"];
    let all: Vec<&str> = lines.into_iter().chain(naming).collect();
    let arguments = with(&["--hourly", "60", "--name", "Kim", "--save", "kim.json"]);
    let ran = practises(&stand, &arguments, &all);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    for told in [
        "Practice, easy, seed 7",
        "CAUTION: Not done: it is under vacuum and was not vented.",
        "For how long?",
        "In the sight glass the oil is below the mark.",
        "cost 2 so far",
        "The record is kept in kim.json.",
    ] {
        assert!(ran.stderr.contains(told), "{told}: {}", ran.stderr);
    }
    for told in [
        "What was hidden\n- Wet, dirty, low or wrong pump oil\nAt this rig: too little oil in the pump.",
        "You named bad pump oil. That is right.",
        "The assistant, with somebody who does as it says, took ",
        "- The look at the oil (below the mark): 0 min, ",
        "1 act was refused:",
        "Your dearest mistake\n",
    ] {
        assert!(ran.stdout.contains(told), "{told}: {}", ran.stdout);
    }
    assert!(ran.stdout.lines().all(|line| line.chars().count() <= 80), "{}", ran.stdout);
    let text = std::fs::read_to_string(stand.path("kim.json")).unwrap();
    let record: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(record["format"], "dryhold practice");
    assert_eq!((&record["name"], &record["seed"]), (&"Kim".into(), &7.into()));
    assert_eq!(record["outcome"]["hidden"], serde_json::json!(["pump_oil"]));
    assert_eq!(record["outcome"]["right"], true);
    assert_eq!(record["unsafe_steps"].as_array().unwrap().len(), 1);
    assert_eq!(record["steps"][0]["refused"], true);
    // The same lines give the same record, which is not replaced unless it is asked for.
    let again = practises(&stand, &arguments, &all);
    assert_eq!((again.status, again.stdout.as_str()), (Some(2), ""));
    assert!(again.stderr.contains("--force replaces it"), "{}", again.stderr);
    let forced = practises(&stand, &[&arguments[..], &["--force"]].concat(), &all);
    assert_eq!(forced.stdout, ran.stdout);
    assert_eq!(std::fs::read_to_string(stand.path("kim.json")).unwrap(), text);
}

#[test]
fn whoever_leaves_is_told_how_to_begin_anew_and_not_what_was_hidden() {
    let stand = Stand::new();
    let ran = practises(&stand, &with(&["--save", "left.json"]), &["read", "stop"]);
    assert_eq!(ran.status, Some(3), "{ran:?}");
    assert!(ran.stderr.contains("dryhold practice --level easy --seed 7 begins"), "{}", ran.stderr);
    let ended = practises(&stand, &LOW_OIL, &["read"]);
    assert_eq!(ended.status, Some(3), "the end of the pipe ends it: {ended:?}");
    let back = practises(&stand, &LOW_OIL, &["name", "back", "oil", "pul 3", "shut"]);
    assert!(back.stderr.contains("Did you mean pull?") && back.stderr.contains("Which valve?"));
    let text = std::fs::read_to_string(stand.path("left.json")).unwrap();
    assert!(!text.contains("hidden") && !text.contains("pump_oil"), "{text}");
}

#[test]
fn a_handbook_of_its_own_has_no_rig() {
    let stand = Stand::new();
    let ran = stand.run(&["--only-rules", "barrel", "practice"]);
    assert_eq!((ran.status, ran.stdout.as_str()), (Some(2), ""));
    assert!(ran.stderr.contains("practice needs the built-in handbook"), "{}", ran.stderr);
}

const OUTCOME: &str = r#"{"hidden": ["moisture"], "named": ["pump_oil"], "remedies": ["change_oil"],
 "right": false, "right_to_do": false, "mends": false, "assistant_minutes": 51.2,
 "assistant_right": true, "dearest_minutes": 40.0, "dearest": "The hold, \"again\", took 40 min."}"#;

fn record(name: &str, outcome: &str) -> String {
    format!(
        "{{\"format\": \"dryhold practice\", \"version\": 1, \"name\": \"{name}\", \"level\": \"hard\", \
         \"seed\": 3, \"handbook\": \"x\", \"minutes\": 84.5, \"hourly\": 60.0, \"steps\": [], \
         \"tests\": [], \"unsafe_steps\": []{outcome}}}"
    )
}

#[test]
fn a_class_is_listed_for_people_spreadsheets_and_programs() {
    let stand = Stand::new();
    stand.write("lee.json", &record("=Lee", &format!(", \"outcome\": {OUTCOME}")));
    stand.write("kim.json", &record("Kim", ""));
    let text = stand.run(&["practice", "--class", "lee.json", "kim.json"]);
    assert_eq!((text.status, text.stderr.as_str()), (Some(0), ""), "{text:?}");
    let rows: Vec<&str> = text.stdout.lines().collect();
    assert_eq!(
        rows[0],
        "name           level      seed right   mends   min assistant unsafe dearest"
    );
    assert_eq!(
        rows[1],
        "=Lee           hard          3 no      no       84        51      0      40"
    );
    assert_eq!(
        rows[2],
        "Kim            hard          3 left             84                0       0"
    );
    assert!(
        rows[4].starts_with("2 records: 0 right, 1 not right and 1 left; 0 unsafe steps."),
        "{rows:?}"
    );
    let csv = stand.run(&["practice", "--class", "lee.json", "kim.json", "--format", "csv"]);
    let rows: Vec<&str> = csv.stdout.lines().collect();
    assert_eq!(
        rows[1],
        "lee.json,'=Lee,hard,3,no,no,no,moisture,pump_oil,change_oil,84.5,51.2,yes,84.5,0,40,\
         \"The hold, \"\"again\"\", took 40 min.\",no"
    );
    assert_eq!(rows[2], "kim.json,Kim,hard,3,,,,,,,84.5,,,84.5,0,,,");
    let columns = rows[0].split(',').count();
    assert_eq!(rows[2].split(',').count(), columns);
    let json =
        stand.run(&["practice", "--class", "lee.json", "kim.json", "--format", "json"]).json();
    assert_eq!(json["records"][0]["outcome"]["dearest_minutes"], 40.0);
    assert_eq!(json["records"][1]["outcome"], Value::Null);
}

#[test]
fn a_wrong_verdict_of_the_assistant_is_marked_and_no_line_is_too_long() {
    let stand = Stand::new();
    let wrong = OUTCOME.replace("\"assistant_right\": true", "\"assistant_right\": false");
    stand.write("lee.json", &record("Lee", &format!(", \"outcome\": {wrong}")));
    let to_do = OUTCOME.replace("\"right_to_do\": false", "\"right_to_do\": true");
    stand.write("mo.json", &record("Mo", &format!(", \"outcome\": {to_do}")));
    stand.write("kim.json", &record("Kim", ""));
    let text = stand.run(&["practice", "--class", "lee.json", "mo.json", "kim.json"]).stdout;
    let rows: Vec<&str> = text.lines().collect();
    assert_eq!(
        rows[1],
        "Lee            hard          3 no      no       84  wrong 51      0      40"
    );
    assert!(!rows[2].contains("wrong") && !rows[3].contains("wrong"), "{text}");
    assert!(text.contains("Minutes are those of the"), "{text}");
    assert!(rows.iter().all(|row| row.chars().count() <= 78), "{text}");
}

#[test]
fn what_can_be_done_is_listed_in_parts() {
    let stand = Stand::new();
    let whole = practises(&stand, &LOW_OIL, &["list", "stop"]).stderr;
    assert!(whole.contains("- build: vent, cap, line, rig, system, off"), "{whole}");
    assert!(!whole.contains("warm by so many degrees"), "{whole}");
    let part = practises(&stand, &LOW_OIL, &["list dry", "stop"]).stderr;
    assert!(part.contains("DEGREES: warm by so many degrees"), "{part}");
    assert!(!part.contains("put the rig on the system"), "{part}");
}

#[test]
fn what_is_unsafe_and_done_is_told_apart_from_what_was_refused() {
    let stand = Stand::new();
    let lines = ["pull 2", "vent", "open system", "name", "pump_oil", "done", "change oil", "done"];
    let ran = practises(&stand, &with(&["--save", "kim.json"]), &lines);
    for told in [
        "1 act was done all the same:",
        "you pulled for 2 min, the compressor not locked",
        "1 act was refused:",
    ] {
        assert!(ran.stdout.replace('\n', " ").contains(told), "{told}: {}", ran.stdout);
    }
    let text = std::fs::read_to_string(stand.path("kim.json")).unwrap();
    let record: Value = serde_json::from_str(&text).unwrap();
    let done: Vec<&Value> =
        record["unsafe_steps"].as_array().unwrap().iter().map(|step| &step["done"]).collect();
    assert_eq!(done, [true, false]);
}

#[test]
fn a_damaged_record_is_told_and_the_others_are_listed() {
    let stand = Stand::new();
    stand.write("kim.json", &record("Kim", ""));
    stand.write("torn.json", &record("Kim", "")[..60]);
    stand.write("other.json", "{\"format\": \"something else\"}");
    stand.write("later.json", &record("Kim", "").replace("\"version\": 1", "\"version\": 2"));
    stand.write("short.json", "{\"format\": \"dryhold practice\", \"version\": 1}");
    let files = ["torn.json", "other.json", "kim.json", "later.json", "short.json", "gone.json"];
    let arguments: Vec<&str> = ["practice", "--class"].into_iter().chain(files).collect();
    let ran = stand.run(&arguments);
    assert_eq!(ran.status, Some(2), "{ran:?}");
    assert!(ran.stdout.contains("1 record: 0 right and 1 left"), "{}", ran.stdout);
    for told in [
        "torn.json is left out: it is no whole record",
        "other.json is left out: it is not the record of an exercise",
        "later.json is left out: it was written by a later version",
        "short.json is left out: it is damaged: missing field",
        "gone.json is left out: ",
    ] {
        assert!(ran.stderr.contains(told), "{told}: {}", ran.stderr);
    }
}

/// Who gives up is told what was hidden and names nothing; the record says so, and counts it as not
/// found.
#[test]
fn giving_up_names_nothing_and_tells_what_was_hidden() {
    let stand = Stand::new();
    for (file, lines) in
        [("a.json", &["lock", "I give up"][..]), ("b.json", &["name", "I don't know"])]
    {
        let ran = practises(&stand, &with(&["--name", "Kim", "--save", file]), lines);
        assert_eq!(ran.status, Some(0), "{lines:?}: {ran:?}");
        for told in
            ["What was hidden\n- Wet", "What you named\nNothing: you gave up.\nWhat you did"]
        {
            assert!(ran.stdout.contains(told), "{told}: {}", ran.stdout);
        }
        let text = std::fs::read_to_string(stand.path(file)).unwrap();
        let outcome = &serde_json::from_str::<Value>(&text).unwrap()["outcome"];
        let [given_up, right, to_do] =
            ["given_up", "right", "right_to_do"].map(|key| outcome[key].as_bool());
        assert_eq!((given_up, right, to_do), (Some(true), Some(false), Some(false)), "{text}");
        assert_eq!(outcome["hidden"], serde_json::json!(["pump_oil"]));
    }
    let class = stand.run(&["practice", "--class", "a.json", "b.json"]).stdout;
    assert!(class.contains("7 gave up no "), "{class}");
    assert!(class.contains("2 records: 0 right and 2 given up; 0 unsafe steps."), "{class}");
}

/// A sound rig is not found by giving up.
#[test]
fn giving_up_at_a_sound_rig_is_not_right() {
    let stand = Stand::new();
    let sound = |seed: &&str| {
        let ran = practises(&stand, &["--level", "hard", "--seed", seed], &["give up"]);
        ran.stdout.contains("Nothing was wrong with this rig.").then_some(ran.stdout)
    };
    let told = ["1", "2", "3", "4", "5", "6", "7", "8"].iter().find_map(sound).unwrap();
    assert!(
        told.contains("Nothing: you gave up.") && !told.contains("That is right.\nTime"),
        "{told}"
    );
}

/// Who names the fault and not what mends it has named the fault.
#[test]
fn what_mends_it_need_not_be_known() {
    let stand = Stand::new();
    let lines = ["Name pump_oil", "pump_oil", "done", "not sure"];
    let ran = practises(&stand, &LOW_OIL, &lines);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    for told in ["You named bad pump oil. That is right.", "does not mend all of it."] {
        assert!(ran.stdout.contains(told), "{told}: {}", ran.stdout);
    }
}

/// What can't be done at a rig is not offered there.
#[test]
fn a_second_gauge_is_offered_only_where_one_is() {
    let stand = Stand::new();
    let listed = practises(&stand, &LOW_OIL, &["list", "list look", "stop"]).stderr;
    assert!(listed.contains("There is no second gauge."), "{listed}");
    assert!(listed.contains("touch") && !listed.contains("read the second gauge"), "{listed}");
    assert!(!listed.contains("second, "), "{listed}");
    let typed = practises(&stand, &LOW_OIL, &["second", "stop"]).stderr;
    assert!(typed.contains("There is no second gauge here."), "{typed}");
}

/// To lock out is no mistake, however little comes after it.
#[test]
fn a_lock_out_is_no_time_that_told_nothing() {
    let stand = Stand::new();
    let debrief = |acts: &[&str]| {
        let ending = ["name", "pump_oil", "done", "change oil", "done"];
        let ran = practises(&stand, &LOW_OIL, &[acts, &ending].concat());
        assert_eq!(ran.status, Some(0), "{acts:?}: {ran:?}");
        ran.stdout
    };
    let locked = debrief(&["lock"]);
    assert!(!locked.contains("before you named it told nothing"), "{locked}");
    let capped = debrief(&["lock", "vent", "cap"]);
    assert!(capped.contains("You took 5 min."), "{capped}");
    assert!(capped.contains("The last 3 min before you named it told nothing."), "{capped}");
    assert!(capped.contains("- The lock-out of the compressor: 2 min."), "{capped}");
    // Nor is a test charged with it.
    let looked = debrief(&["lock", "oil"]);
    assert!(looked.contains("- The look at the oil (below the mark): 0 min"), "{looked}");
}
