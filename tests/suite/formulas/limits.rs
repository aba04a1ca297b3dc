//! The bounds of a formula: length, depth, parts.

use dryhold::diagnostic::Code;
use dryhold::formula::{DEEPEST_FORMULA, LARGEST_FORMULA, LONGEST_FORMULA};

use super::checked;
use super::names::Case;

fn code(text: &str) -> Option<Code> {
    checked(text, &Case::new()).err().map(|faults| faults[0].code)
}

#[test]
fn brackets_nest_to_a_limit() {
    let nested = |depth: usize| format!("{}1{}", "(".repeat(depth), ")".repeat(depth));
    assert_eq!(code(&nested(DEEPEST_FORMULA)), None);
    assert_eq!(code(&nested(DEEPEST_FORMULA + 1)), Some(Code::TooDeep));
    for opener in ["(", "not ", "- ", "abs(", "if wet then ", "min(1,"] {
        assert_eq!(code(&opener.repeat(1000)), Some(Code::TooDeep), "{opener}");
    }
    // The deepest tree that the limits allow is checked and computed without trouble.
    let deep = format!("{}1{}", "(1+2*3^2-(".repeat(32), "))".repeat(32));
    assert_eq!(code(&deep), None);
}

#[test]
fn parts_are_counted() {
    // A sum is one part more than its terms.
    let sum = |terms: usize| vec!["1"; terms].join("+");
    assert_eq!(code(&sum(LARGEST_FORMULA - 1)), None);
    assert_eq!(code(&sum(LARGEST_FORMULA)), Some(Code::TooDeep));
}

#[test]
fn bytes_are_counted_first() {
    let padded = |length: usize| format!("1{}", " ".repeat(length - 1));
    assert_eq!(code(&padded(LONGEST_FORMULA)), None);
    assert_eq!(code(&padded(LONGEST_FORMULA + 1)), Some(Code::TooDeep));
}
