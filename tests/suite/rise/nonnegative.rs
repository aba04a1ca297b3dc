//! Non-negative least squares against scipy's, recorded by `tests/cross_check/nonnegative.py`.

use dryhold::rise::nonnegative::NonNegative;
use serde::Deserialize;

#[derive(Deserialize)]
struct Recorded {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    name: String,
    columns: Vec<Vec<f64>>,
    target: Vec<f64>,
    amounts: Vec<f64>,
    norm: f64,
}

fn dot(left: &[f64], right: &[f64]) -> f64 {
    left.iter().zip(right).map(|(a, b)| a * b).sum()
}

fn cases() -> Vec<Case> {
    let text = include_str!("../../data/rise/nonnegative.json");
    serde_json::from_str::<Recorded>(text).unwrap().cases
}

fn norm(case: &Case, amounts: &[f64]) -> f64 {
    let rest = (0..case.target.len()).map(|row| {
        let fitted: f64 =
            case.columns.iter().zip(amounts).map(|(column, amount)| column[row] * amount).sum();
        case.target[row] - fitted
    });
    libm::sqrt(rest.map(|r| r * r).sum())
}

#[test]
fn agrees_with_scipy() {
    for case in cases() {
        let products: Vec<f64> = case.columns.iter().map(|c| dot(c, &case.target)).collect();
        let amounts = NonNegative::new(&case.columns).solve(&products, &[]);
        assert!(amounts.iter().all(|amount| *amount >= 0.0), "{}: {amounts:?}", case.name);
        let ours = norm(&case, &amounts);
        let size = libm::sqrt(dot(&case.target, &case.target));
        assert!((ours - case.norm).abs() < 1e-6 * size, "{}: {ours} {}", case.name, case.norm);
        if case.name == "random" && case.columns.len() < case.target.len() {
            for (amount, theirs) in amounts.iter().zip(&case.amounts) {
                assert!((amount - theirs).abs() < 1e-8, "{amounts:?} {:?}", case.amounts);
            }
        }
    }
}

#[test]
fn any_start_leads_to_the_same_misfit() {
    for case in cases() {
        let products: Vec<f64> = case.columns.iter().map(|c| dot(c, &case.target)).collect();
        let problem = NonNegative::new(&case.columns);
        let cold = problem.solve(&products, &[]);
        let starts = [vec![1.0; case.columns.len()], cold.iter().map(|a| a + 1.0).collect()];
        for start in starts {
            let warm = problem.solve(&products, &start);
            assert!(warm.iter().all(|amount| *amount >= 0.0), "{}: {warm:?}", case.name);
            let (one, other) = (norm(&case, &cold), norm(&case, &warm));
            let size = libm::sqrt(dot(&case.target, &case.target));
            assert!((one - other).abs() < 1e-6 * size, "{}: {one} {other}", case.name);
        }
    }
}
