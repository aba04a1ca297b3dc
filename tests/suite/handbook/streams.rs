//! The draws behind its answers are independent of one another.

use std::collections::BTreeSet;

use dryhold::formula::{DRAWS, Kind, functions, stream};
use dryhold::handbook::Handbook;

use super::handbook;

/// How often one case may measure one thing anew, in this test.
const ANSWERS: usize = 3;

/// The most that two streams may be correlated (requirement of ours; 4.5 standard deviations of
/// independent streams of 2048 draws).
const MOST: f64 = 0.1;

/// The names of every stream that a case of this handbook can draw from.
fn names(handbook: &Handbook) -> Vec<String> {
    // What a law draws from stands beside whatever a case draws.
    let laws = functions().flat_map(|function| function.drawn);
    let laws: BTreeSet<String> = laws.map(|name| format!("law:{name}")).collect();
    let mut names: Vec<String> = laws.into_iter().collect();
    for instrument in handbook.instruments() {
        names
            .extend(["scale", "offset"].map(|part| format!("instrument:{}:{part}", instrument.id)));
    }
    for question in handbook.questions() {
        if !matches!(question.kind, Kind::Quantity(_)) {
            continue;
        }
        names.push(format!("answer:{}:not_sure", question.id));
        for number in 0..ANSWERS {
            let answer = format!("answer:{}:{number}", question.id);
            names.extend(["repeats", "bound"].map(|part| format!("{answer}:{part}")));
            if question.instrument.is_some() {
                names.push(format!("{answer}:resolution"));
            }
        }
    }
    names
}

/// The stream with mean 0 and length 1, so that a product of two is their correlation.
fn standard(name: &str) -> Vec<f64> {
    let column = stream(name);
    let mean = column.iter().sum::<f64>() / DRAWS as f64;
    let length = column.iter().map(|u| (u - mean) * (u - mean)).sum::<f64>().sqrt();
    column.iter().map(|u| (u - mean) / length).collect()
}

#[test]
fn no_two_streams_of_the_handbook_are_correlated() {
    let names = names(&handbook());
    assert!(names.len() > 150, "only {} streams", names.len());
    let columns: Vec<Vec<f64>> = names.iter().map(|name| standard(name)).collect();
    let mut correlated = Vec::new();
    for (i, a) in columns.iter().enumerate() {
        for (j, b) in columns.iter().enumerate().skip(i + 1) {
            let r: f64 = a.iter().zip(b).map(|(a, b)| a * b).sum();
            if r.abs() > MOST {
                correlated.push(format!("{} and {}: {r:.3}", names[i], names[j]));
            }
        }
    }
    assert_eq!(correlated, Vec::<String>::new());
}
