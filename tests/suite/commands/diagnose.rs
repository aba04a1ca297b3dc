//! `dryhold diagnose` with answers given: the verdict in words.

use super::stand::Stand;
use super::transcript::replays;

#[test]
fn a_session_prints_what_it_should() {
    replays("diagnose");
}

/// A safety stop of the built-in handbook says whom to ask and nothing that sounds like going on.
#[test]
fn a_stop_refers_and_offers_no_next_check() {
    let ran = Stand::new().run(&["diagnose", "pump_alone", "--set", "blank_off=900 micron"]);
    assert_eq!(ran.status, Some(4), "{ran:?}");
    assert!(ran.stdout.starts_with("CAUTION: Stopped for safety."), "{}", ran.stdout);
    assert!(ran.stdout.contains(" Ask "), "{}", ran.stdout);
    assert!(ran.stdout.contains("\nBefore you act\n"), "{}", ran.stdout);
    assert!(!ran.stdout.contains("What to check next"), "{}", ran.stdout);
    assert!(!ran.stdout.contains("What to do about it"), "{}", ran.stdout);
}

/// What a caller has rounded is said to be, where it leaves a finding open.
#[test]
fn rounded_readings_are_told_where_they_leave_it_open() {
    let hold = |readings: &str| {
        let readings = format!("hold_readings={readings} micron");
        let mut arguments = vec!["diagnose", "hold_test", "--acknowledge", "system_open"];
        let answers = [
            "system_charged=no",
            "oxygen_offered=no",
            "confined_space=aired",
            "locked_out=yes",
            "refrigerant_class=a1",
            "class_read=yes",
            "gauge_unit=shows_micron",
            "gauge_place=system_far",
            "gauge_scale=5 %",
            "gauge_offset=5 micron",
            "target=500 micron",
            "valve_closed_at=at_system",
            &readings,
        ];
        arguments.extend(answers.iter().flat_map(|answer| ["--set", answer]));
        Stand::new().run(&arguments).stdout.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let rounded = "The readings look rounded to 20 micron; read to every digit";
    let said = hold("0 min 300, 3 min 320, 6 min 340, 9 min 360, 12 min 360, 15 min 380");
    assert_eq!(said.matches(rounded).count(), 1, "{said}");
    assert!(said.contains("it is too close to say whether the readings"), "{said}");
    let fine = hold("0 min 301, 3 min 322, 6 min 338, 9 min 357, 12 min 369, 15 min 383");
    assert!(!fine.contains("look rounded"), "{fine}");
    // Of a row on one line that is told of the rise, and of no display.
    let even = hold("0 min 300, 5 min 620, 10 min 940, 15 min 1260, 20 min 1580");
    assert!(even.contains("whether a part of the rise levels off"), "{even}");
    assert!(!even.contains("look rounded"), "{even}");
}

/// Where a fault is likely, and no other check will often settle it, the ways that ask after that very
/// fault come first, the second one beside the first.
#[test]
fn two_ways_that_ask_after_what_leads_come_before_what_may_turn_it() {
    let row = "hold_readings=0 min 300, 5 min 620, 10 min 940, 15 min 1260, 20 min 1580 micron";
    let mut arguments = vec!["diagnose", "hold_test", "--acknowledge", "system_open"];
    let answers = [
        "system_charged=no",
        "oxygen_offered=no",
        "confined_space=aired",
        "locked_out=yes",
        "refrigerant=R-410A",
        "refrigerant_class=a1",
        "gauge_unit=shows_micron",
        "gauge_place=system_far",
        "gauge_scale=10 %",
        "gauge_offset=5 micron",
        "system_volume=9 L",
        "coldest_temperature=18 degC",
        "target=500 micron",
        "valve_closed_at=at_system",
        "hold_temperature=steady",
        "changes_when_touched=no",
        row,
    ];
    arguments.extend(answers.iter().flat_map(|answer| ["--set", answer]));
    let said = Stand::new().run(&arguments).stdout;
    let (_, checks) = said.split_once("What to check next\n").expect("there is more to check");
    let mut rows = checks.lines().filter(|row| row.starts_with("- "));
    assert!(said.contains("a leak in the system is likely"), "{said}");
    let second_hold = "- Go on with \"A second hold, against the first\".";
    assert!(rows.next().is_some_and(|row| row.starts_with(second_hold)), "{checks}");
    let nitrogen = "- Or with \"A standing pressure test with dry nitrogen\".";
    assert!(rows.next().is_some_and(|row| row.starts_with(nitrogen)), "{checks}");
    assert!(rows.next().is_some_and(|row| row.contains("refrigerant")), "{checks}");
}

/// A written limit is judged, told beside the verdict, and no reason for any cause.
#[test]
fn a_written_limit_is_told_apart_from_the_cause() {
    let limit = ["hold_limit=1500 micron", "hold_time=10 min", "target=500 micron"];
    let hold =
        "hold_readings=0 min 300, 3 min 500, 6 min 700, 9 min 900, 12 min 1100, 15 min 1300 micron";
    let safe = [
        "system_charged=no",
        "oxygen_offered=no",
        "confined_space=aired",
        "locked_out=yes",
        "refrigerant_class=a1",
        "class_read=yes",
    ];
    let gauge = ["gauge_place=system_far", "gauge_scale=5 %", "gauge_offset=5 micron"];
    let rest = ["criterion_source=code", "valve_closed_at=at_system", hold];
    let answers = [&safe[..], &limit, &gauge, &rest].concat();
    let mut arguments = vec!["diagnose", "hold_test", "--acknowledge", "system_open"];
    arguments.extend(answers.iter().flat_map(|answer| ["--set", answer]));
    let ran = Stand::new().run(&arguments);
    assert_eq!(ran.status, Some(3), "{ran:?}");
    // It stands before what is likely, and speaks of no cause.
    let (before, _) = ran.stdout.split_once("Not settled").unwrap();
    assert!(before.contains("The written limit is kept: at most 1500 micron within"), "{before}");
    assert_eq!(ran.stdout.matches("written limit").count(), 1, "{}", ran.stdout);
}

/// A ballast that stood open and was not seen shut comes before every other check.
#[test]
fn a_ballast_that_was_not_seen_shut_is_the_next_thing_to_see_to() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let path = path.join("scenarios/pump_alone/ballast_not_proved.yaml");
    let scenario = std::fs::read_to_string(path).unwrap();
    let answers = scenario.split("expect:").next().unwrap().replace("scenario: ", "# ");
    let stand = Stand::new();
    stand.write("answers.yaml", &answers);
    let ran = stand.run(&["diagnose", "--answers", "answers.yaml"]);
    let said = ran.stdout.split_whitespace().collect::<Vec<_>>().join(" ");
    let next = "What to check next - First of all, as nothing was read since the gas ballast was \
                shut for good: see that it is so, and read again with \"The pump on its own\".";
    assert!(said.contains(next), "{said}");
    assert!(said.contains("Shut it first, as the pump's instructions show it"), "{said}");
}

/// A sum of the time clears no way with a core in it, what it takes for the line is told, and what a
/// wide way brings down takes back what a sum said before.
#[test]
fn a_sum_of_the_time_clears_no_core() {
    let slow = |more: &[&str]| {
        let mut arguments = vec!["diagnose", "drops_slowly", "--full"];
        let cautions = ["system_open", "swap_parts", "valves_open", "exhaust_outdoors"];
        arguments.extend(cautions.iter().flat_map(|caution| ["--acknowledge", caution]));
        let answers = [
            "system_charged=no",
            "oxygen_offered=no",
            "confined_space=aired",
            "locked_out=yes",
            "refrigerant=R-410A",
            "refrigerant_class=a1",
            "gauge_unit=shows_micron",
            "gauge_place=system_far",
            "gauge_scale=10 %",
            "gauge_offset=5 micron",
            "target=500 micron",
            "symptom=slow",
            "oily_gauge=no",
            "wet_history=no",
            "new_joints=yes",
            "held_nitrogen=yes",
            "cold_weather=no",
            "cores_in=yes",
            "system_volume=9 L",
            "pump_speed=6 cfm",
            "pump_rating=15 micron",
            "hose_bore=a quarter",
            "hose_length=2 m",
            "stall_reading=800 micron",
            "stall_minutes=0 min",
            "time_taken=2 h",
            "never_charged=yes",
            "wider_way_here=yes",
        ];
        arguments.extend(answers.iter().chain(more).flat_map(|answer| ["--set", answer]));
        Stand::new().run(&arguments).stdout.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let before = slow(&["line_length=30 m"]);
    for part in [
        "First comes a narrow or shut path",
        "so the sum doesn't clear the way: take the cores out first.",
        "30 m of line hold about 4.68 L of the 9 L given for the system",
    ] {
        assert!(before.contains(part), "{part}\n{before}");
    }
    assert!(!before.contains("is not what holds it up"), "{before}");
    let wide = ["hose_bore=9.5 mm", "hose_length=2 m", "cores_in=no", "stall_reading=450 micron"];
    let after = slow(&wide);
    assert!(after.contains("whatever a sum of the time said before"), "{after}");
}

/// Where no sum could be made, none is claimed of the way that is sent for.
#[test]
fn a_way_that_is_sent_for_claims_no_sum() {
    let card = Stand::new().run(&["print", "drops_slowly"]).stdout;
    let card = card.split_whitespace().collect::<Vec<_>>().join(" ");
    let (before, behind) = card.split_once("end for core tools").expect("it is sent for");
    assert!(!before.contains("By the sum"), "{before}");
    assert!(behind.contains("No sum clears a way that nobody has tried wide."), "{behind}");
}

/// The name of a hose is the size of its fitting, which the question says wherever it is asked.
#[test]
fn the_width_of_a_hose_is_not_the_size_in_its_name() {
    let card = Stand::new().run(&["print", "pull_down"]).stdout;
    let card = card.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        card.contains("How wide is the hose inside? One called 1/4 in is about 4.8 mm."),
        "{card}"
    );
}

/// Who gives answers beforehand is told every caution on their way at once, each with its text.
#[test]
fn cautions_further_on_are_told_with_the_first() {
    let stand = Stand::new();
    let answers = [
        "system_charged=no",
        "oxygen_offered=no",
        "confined_space=aired",
        "locked_out=yes",
        "refrigerant_class=a2l",
        "class_read=yes",
    ];
    let mut arguments = vec!["diagnose", "standing_pressure"];
    arguments.extend(answers.iter().flat_map(|answer| ["--set", answer]));
    let first = stand.run(&arguments);
    assert_eq!(first.status, Some(4), "{first:?}");
    let named = |text: &str| -> Vec<String> {
        let words = text.split_whitespace().zip(text.split_whitespace().skip(1));
        words
            .filter(|(option, _)| *option == "--acknowledge")
            .map(|(_, id)| id.to_owned())
            .collect()
    };
    let cautions = named(&first.stderr);
    assert!(cautions.len() > 1, "{first:?}");
    for id in &cautions[1..] {
        assert!(first.stderr.contains(&format!("{id}: ")), "no text of {id}: {first:?}");
    }
    let given: Vec<&str> = cautions.iter().flat_map(|id| ["--acknowledge", id]).collect();
    let all = stand.run(&[&arguments[..], &given].concat());
    assert!(!all.stderr.contains("is not acknowledged"), "{all:?}");
}

/// Who gives answers beforehand is told by their ids which ones the way asked for besides.
#[test]
fn what_the_way_asked_and_nobody_gave_is_told_by_its_id() {
    let settings = ["system_charged=no", "oxygen_offered=no", "confined_space=aired"];
    let answers =
        ["locked_out=yes", "refrigerant_class=a1", "class_read=yes", "blank_off=250 micron"];
    let given = settings.iter().chain(&answers).flat_map(|answer| ["--set", answer]);
    let acknowledged = ["system_open", "swap_parts"];
    let acknowledged = acknowledged.iter().flat_map(|caution| ["--acknowledge", caution]);
    let arguments: Vec<&str> =
        ["diagnose", "pump_alone"].into_iter().chain(given).chain(acknowledged).collect();
    let ran = Stand::new().run(&arguments);
    assert_eq!(ran.status, Some(3), "{ran:?}");
    assert!(ran.stderr.contains("dryhold: asked on this way and not given: `"), "{ran:?}");
    assert!(ran.stderr.contains("`pump_is_capped`"), "{ran:?}");
    assert!(!ran.stderr.contains("`blank_off`"), "{ran:?}");
    let by_json = Stand::new().run(&[&arguments[..], &["--json"]].concat());
    assert!(!by_json.stderr.contains("asked on this way"), "{by_json:?}");
}

const CAP: &str = "\
format: 1
name: Caps
version: 1
questions:
  at_first: {ask: What does the gauge read at first?, kind: pressure, unit: micron}
  later: {ask: What does it read later?, kind: pressure, unit: micron}
trees:
  cap:
    title: The cap
    start: first
    steps:
      first: {ask: at_first, next: second}
      second: {ask: later, next: [{if: later > at_first, go: rises}, {else: stands}]}
      rises: {end: It rises.}
      stands: {end: It stands.}
";

/// A tree of whose answers no finding makes anything comes to its end, as it does at the prompt.
#[test]
fn a_tree_without_findings_comes_to_its_end() {
    let stand = Stand::new();
    std::fs::create_dir(stand.path("mine")).unwrap();
    stand.write("mine/rules.yaml", CAP);
    let ran = stand.run(&[
        "--only-rules",
        "mine",
        "diagnose",
        "cap",
        "--set",
        "at_first=100 micron",
        "--set",
        "later=400 micron",
    ]);
    assert!(ran.stdout.contains("It rises."), "{ran:?}");
    assert!(!ran.stderr.contains("is used by any finding"), "{ran:?}");
}
