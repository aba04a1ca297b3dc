//! `dryhold diagnose --json`: the shape of the verdict, and that it is the same to the bit.

use std::collections::BTreeSet;

use serde_json::Value;

use super::stand::{Ran, Stand};
use super::transcript::replays;

/// A pump on its own, read warm and capped, by the built-in handbook.
pub const PUMP: [(&str, &str); 16] = [
    ("system_charged", "no"),
    ("oxygen_offered", "no"),
    ("confined_space", "aired"),
    ("locked_out", "yes"),
    ("refrigerant", "R410A"),
    ("refrigerant_class", "a1"),
    ("pump_is_capped", "yes"),
    ("pump_minutes", "20 min"),
    ("ballast_state", "shut"),
    ("still_falling", "no"),
    ("oil_look", "cloudy"),
    ("gauge_scale", "10 %"),
    ("gauge_offset", "5 micron"),
    ("pump_rating", "20 micron"),
    ("target", "500 micron"),
    ("blank_off", "900 micron"),
];

/// The stop cautions on the way to the pump.
const CAUTIONS: [&str; 3] = ["system_open", "no_oxygen", "swap_parts"];

/// The arguments of a case of the built-in handbook, with some answers in place of [`PUMP`]'s.
pub fn pump(changes: &[(&str, &str)]) -> Vec<String> {
    let mut arguments = vec!["diagnose".to_owned(), "pump_alone".to_owned(), "--json".to_owned()];
    for (id, answer) in PUMP.iter().filter(|(id, _)| !changes.iter().any(|(other, _)| other == id))
    {
        arguments.extend(["--set".to_owned(), format!("{id}={answer}")]);
    }
    for (id, answer) in changes {
        arguments.extend(["--set".to_owned(), format!("{id}={answer}")]);
    }
    for caution in CAUTIONS {
        arguments.extend(["--acknowledge".to_owned(), caution.to_owned()]);
    }
    arguments
}

/// An entry of a list of the verdict by its id.
pub fn entry<'a>(verdict: &'a Value, list: &str, id: &str) -> &'a Value {
    let entries = verdict[list].as_array().unwrap();
    entries.iter().find(|entry| entry["id"] == id).unwrap_or_else(|| panic!("no {id} in {list}"))
}

fn answers_file() -> String {
    let mut text = "tree: pump_alone\nanswers:\n".to_owned();
    for (id, answer) in PUMP {
        text.push_str(&format!("  {id}: {answer}\n"));
    }
    text + &format!("acknowledge: [{}]\n", CAUTIONS.join(", "))
}

#[test]
fn a_session_prints_what_it_should() {
    replays("json");
}

#[test]
fn the_ranking_is_complete_and_sorted() {
    let stand = Stand::new();
    let ran = stand.run(&pump(&[]));
    assert_eq!(ran.status, Some(0), "{ran:?}");
    let verdict = ran.json();
    assert_eq!(verdict["format"], 1);
    assert_eq!(verdict["tree"], "pump_alone");
    assert_eq!(verdict["settled"], true);
    assert_eq!(verdict["stopped"], Value::Null);
    let ranking = verdict["ranking"].as_array().unwrap();
    let probabilities: Vec<f64> =
        ranking.iter().map(|cause| cause["probability"].as_f64().unwrap()).collect();
    assert!(probabilities.is_sorted_by(|a, b| a >= b), "{probabilities:?}");
    assert!(probabilities.iter().all(|p| (0.0..=1.0).contains(p)), "{probabilities:?}");
    assert!((0.0..=1.0).contains(&verdict["nothing_wrong"].as_f64().unwrap()));
    assert!(ranking.iter().all(|cause| cause["name"].is_string() && cause["group"].is_string()));
    let causes: BTreeSet<&str> =
        ranking.iter().map(|cause| cause["cause"].as_str().unwrap()).collect();
    let checked = stand.run(&["check"]).stdout;
    assert_eq!(causes.len(), ranking.len());
    assert!(checked.contains(&format!(" {} causes", causes.len())), "{checked}");
    assert_eq!(ranking[0]["cause"], "pump_oil");
}

#[test]
fn every_finding_and_formula_has_its_state() {
    let verdict = Stand::new().run(&pump(&[])).json();
    for finding in verdict["findings"].as_array().unwrap() {
        let probability = finding["probability"].as_f64();
        let fits = match &finding["state"] {
            Value::Bool(true) => probability.is_some_and(|p| p >= 0.9),
            Value::Bool(false) => probability.is_some_and(|p| p <= 0.1),
            Value::String(word) if word == "too_close" => {
                probability.is_some_and(|p| p > 0.1 && p < 0.9)
            }
            Value::String(word) if word == "not_applicable" || word == "unknown" => {
                probability.is_none()
            }
            // The choice that was seen.
            Value::String(_) => probability == Some(1.0),
            _ => false,
        };
        assert!(fits && finding["text"].is_string(), "{finding}");
    }
    for formula in verdict["formulas"].as_array().unwrap() {
        match formula["value"].as_f64() {
            Some(value) => {
                let (low, high) = (formula["low"].as_f64(), formula["high"].as_f64());
                assert!(low.unwrap() <= value && value <= high.unwrap(), "{formula}");
                assert!(formula["unit"].is_string(), "{formula}");
            }
            None => assert!(formula["value"].is_boolean() || formula["unknown"].is_string()),
        }
    }
}

#[test]
fn a_stop_names_its_caution_and_whom_to_ask() {
    let ran =
        Stand::new().run(&["diagnose", "pump_alone", "--json", "--set", "blank_off=900 micron"]);
    assert_eq!(ran.status, Some(4), "{ran:?}");
    let stopped = &ran.json()["stopped"];
    assert_eq!(stopped["caution"], "system_open");
    assert!(stopped["refer"].as_str().is_some_and(|refer| !refer.is_empty()), "{stopped}");
    let hint = "--acknowledge system_open\n";
    assert!(ran.stderr.ends_with(hint), "{}", ran.stderr);
}

#[test]
fn a_file_and_its_twins_give_the_same_bits() {
    let stand = Stand::new();
    stand.write("pump.yaml", &answers_file());
    let file: Ran = stand.run(&["diagnose", "--answers", "pump.yaml", "--json"]);
    assert_eq!(file.status, Some(0), "{file:?}");
    assert_eq!(file, stand.run(&pump(&[])));
    assert_eq!(file, stand.run(&["diagnose", "--answers", "pump.yaml", "--json"]));
    let over = ["diagnose", "--answers", "pump.yaml", "--json", "--set", "blank_off=27 micron"];
    assert_eq!(stand.run(&over), stand.run(&pump(&[("blank_off", "27 micron")])));
}

/// The tree leads on from a high floor to a change of oil. Nothing given was read after one.
#[test]
fn a_repair_that_no_answer_follows_is_not_taken_as_done() {
    let stand = Stand::new();
    let before = stand.run(&pump(&[])).json();
    assert_eq!(before["was"], Value::Array(Vec::new()));
    let readings = [("blank_off", "900 micron"), ("blank_off", "35 micron")];
    let with_oil = stand.run(&pump(&readings)).json();
    // Nobody has said that the pump had run and stood still on the new oil.
    let high = entry(&with_oil, "findings", "blank_off_high");
    assert_eq!(high["state"], "not_applicable", "{high}");
    let twice = [("pump_minutes", "10 min"), ("pump_minutes", "8 min")];
    let still = [("still_falling", "no"), ("still_falling", "no")];
    let after = stand.run(&pump(&[readings, twice, still].concat())).json();
    assert_eq!(after["was"][0]["cause"], "pump_oil", "{after}");
    let oil = |verdict: &Value| {
        let ranking = verdict["ranking"].as_array().unwrap();
        let oil = ranking.iter().find(|cause| cause["cause"] == "pump_oil").unwrap();
        oil["probability"].as_f64().unwrap()
    };
    assert!(oil(&before) > 0.9 && oil(&after) < 0.2, "{} {}", oil(&before), oil(&after));
}
