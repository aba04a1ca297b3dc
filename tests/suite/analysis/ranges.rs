//! Ranges left out or claimed twice, against every pair of comparisons judged by hand.

use dryhold::analysis::{Analysis, advise};
use dryhold::diagnostic::Code;
use dryhold::handbook::compile;
use dryhold::source::Sources;

const CUTS: [f64; 2] = [3.0, 6.0];
/// Below, at, between and above the cuts.
const VALUES: [f64; 5] = [1.0, 3.0, 4.5, 6.0, 8.0];
/// Those of them that stand for a range and not for a point.
const RANGES: [usize; 3] = [0, 2, 4];
const ORDERS: [&str; 4] = ["<", "<=", ">", ">="];

fn holds(order: &str, value: f64, cut: f64) -> bool {
    match order {
        "<" => value < cut,
        "<=" => value <= cut,
        ">" => value > cut,
        _ => value >= cut,
    }
}

/// What the analysis says of a step with two conditions of one quantity: whether it tells of a
/// range left out, and of one claimed twice.
fn told(first: &str, second: &str) -> (bool, bool) {
    let yaml = format!(
        "format: 1\nname: Bench\nversion: 1\nquestions:\n  p:\n    ask: How many?\n    kind: number\n    \
         unit: \"1\"\n    range: 0 to 10\n    basis: estimate\ntrees:\n  t:\n    title: Bench\n    \
         start: look\n    steps:\n      look:\n        ask: p\n        next: [{{if: {first}, go: a}}, \
         {{if: {second}, go: b}}, {{too_close: c}}, {{unknown: c}}, {{else: c}}]\n      a: {{end: A.}}\n      \
         b: {{end: B.}}\n      c: {{end: C.}}\n"
    );
    let mut sources = Sources::default();
    let id = sources.add("bench.yaml", yaml.as_str());
    let compiled = compile(&sources, &[id], &[]);
    let handbook = compiled.handbook.unwrap_or_else(|| panic!("{yaml}\n{:#?}", compiled.faults));
    let advice = advise(&compiled.written, &Analysis::of(&handbook));
    let has = |code| advice.iter().any(|one| one.code == code);
    (has(Code::RangeLeftOut), has(Code::RangeClaimedTwice))
}

#[test]
fn ranges_are_told_where_values_judged_by_hand_show_them() {
    let each = || ORDERS.into_iter().flat_map(|order| CUTS.map(|cut| (order, cut)));
    let (mut left_out, mut twice) = (0, 0);
    for (first, second) in each().flat_map(|first| each().map(move |second| (first, second))) {
        let yes = |(order, cut): (&str, f64)| VALUES.map(|value| holds(order, value, cut));
        let (a, b) = (yes(first), yes(second));
        let claimed: Vec<usize> = (0..VALUES.len()).filter(|at| a[*at] || b[*at]).collect();
        let (low, high) = (claimed[0], claimed[claimed.len() - 1]);
        let is_open = RANGES.iter().any(|at| (low..high).contains(at) && !claimed.contains(at));
        let is_both = RANGES.iter().any(|at| a[*at] && b[*at]);
        let is_within = |a: &[bool], b: &[bool]| a.iter().zip(b).all(|(a, b)| !a || *b);
        let is_claimed = is_both && !is_within(&a, &b) && !is_within(&b, &a);
        let text = |(order, cut): (&str, f64)| format!("p {order} {cut}");
        assert_eq!(
            told(&text(first), &text(second)),
            (is_open, is_claimed),
            "{} and {}",
            text(first),
            text(second)
        );
        left_out += usize::from(is_open);
        twice += usize::from(is_claimed);
    }
    assert!(left_out > 4 && twice > 4, "{left_out} left out, {twice} claimed twice");
}
