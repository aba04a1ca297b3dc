//! Outside values: an enumeration cross-checked with another program, and a published table.

use super::yes_no::{assert_close, finding, model, seen};
use dryhold::evidence::network::{Evidence, Network};
use serde_json::Value;

const REFERENCE: &str = include_str!("../../data/noisy-or-network.json");

fn names(map: &Value) -> Vec<String> {
    map.as_object().unwrap().keys().cloned().collect()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

/// The network of the file; causes and findings in the order of the given names.
fn network(file: &Value, causes: &[String], findings: &[String]) -> Network {
    let priors: Vec<f64> = causes.iter().map(|cause| number(&file["causes"][cause])).collect();
    let findings = findings.iter().map(|name| {
        let links = &file["links"][name];
        let strengths: Vec<f64> =
            causes.iter().map(|cause| links[cause].as_f64().unwrap_or(0.0)).collect();
        finding(number(&file["finding_leak"][name]), &strengths)
    });
    Network::new(model(&priors, findings.collect())).unwrap()
}

fn evidence(case: &Value, findings: &[String]) -> Vec<Evidence> {
    let place = |name: &String| findings.iter().position(|other| other == name).unwrap();
    let mut pieces = Vec::new();
    for (name, outcome) in case["hard"].as_object().unwrap() {
        pieces.push(seen(place(name), usize::try_from(outcome.as_u64().unwrap()).unwrap()));
    }
    for (name, told) in case["virtual"].as_object().unwrap() {
        let likelihood = vec![number(&told["no"]), number(&told["yes"])];
        pieces.push(Evidence::Likely { finding: place(name), likelihood });
    }
    pieces
}

#[test]
fn every_case_of_the_reference_network_agrees() {
    let file: Value = serde_json::from_str(REFERENCE).unwrap();
    let (causes, findings) = (names(&file["causes"]), names(&file["finding_leak"]));
    let network = network(&file, &causes, &findings);
    let cases = file["cases"].as_array().unwrap();
    assert_eq!(cases.len(), 8);
    for case in cases {
        let posterior = network.posterior(&[], &evidence(case, &findings)).unwrap();
        let expected: Vec<f64> =
            causes.iter().map(|cause| number(&case["posterior"][cause])).collect();
        assert_close(&posterior.marginals, &expected, 1e-9);
        let weight = number(&case["evidence_weight"]);
        assert_close(&[posterior.evidence / weight], &[1.0], 1e-9);
    }
}

/// Published: the noisy-OR fever table of university lecture slides after Pearl 1988, with
/// inhibitions .6, .2 and .1 and no background. Read as slides; the book was not opened.
#[test]
fn the_fever_table_is_reproduced() {
    let fever = finding(0.0, &[0.4, 0.8, 0.9]);
    let network = Network::new(model(&[0.1, 0.1, 0.1], vec![fever])).unwrap();
    for (state, expected) in
        [(0b000, 0.0), (0b001, 0.4), (0b010, 0.8), (0b100, 0.9), (0b111, 0.988)]
    {
        assert_close(&[network.chance(0, 1, state).unwrap()], &[expected], 1e-12);
    }
}

/// Computed: 1 - .9 x .8 x .6, in closed form.
#[test]
fn a_background_combines_as_one_more_cause() {
    let network = Network::new(model(&[0.5, 0.5], vec![finding(0.1, &[0.2, 0.4])])).unwrap();
    assert_close(&[network.chance(0, 1, 0b11).unwrap()], &[0.568], 1e-12);
    assert_eq!(network.chance(0, 1, 0b100), None);
    assert_eq!(network.chance(0, 2, 0b11), None);
    assert_eq!(network.chance(1, 0, 0b11), None);
}
