//! Words that tell of work as done already: the time that a step waits for has passed before anybody
//! began to wait here.

use super::words::{folded, is_nod_to_go_on};
use crate::quantity::{Bound, Expected, QuantityKind, parse_unit, read_typed};

/// What says that something is over, beside what says how long it took.
pub(super) const OVER: [&str; 9] =
    ["d", "done", "finished", "did", "waited", "passed", "stood", "elapsed", "over"];

/// Words that stand beside it and change nothing of it.
const BESIDE: [&str; 19] = [
    "already", "i", "we", "have", "has", "it", "is", "was", "the", "that", "this", "time", "all",
    "ago", "for", "just", "yes", "i've", "it's",
];

/// A wait that is told as over.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Past {
    /// How long it was, in s, where that was told too.
    pub seconds: Option<f64>,
}

/// What a text tells of a wait as over; none where it tells of something else, asks, or only nods.
pub(super) fn past(typed: &str) -> Option<Past> {
    let folded = folded(typed);
    if folded.ends_with('?') || is_nod_to_go_on(typed) {
        return None;
    }
    let words: Vec<&str> =
        folded.split(' ').map(|word| word.trim_end_matches(['.', ',', '!', ';'])).collect();
    let is_over = |word: &&str| OVER.contains(word);
    if !words.iter().any(is_over) {
        return None;
    }
    let mut rest = words;
    rest.retain(|word| !is_over(word) && !BESIDE.contains(word));
    if rest.is_empty() {
        return Some(Past { seconds: None });
    }
    minutes(&rest.join(" ")).map(|seconds| Past { seconds: Some(seconds) })
}

/// A time as typed, in s; a bare number is in minutes.
pub(super) fn minutes(typed: &str) -> Option<f64> {
    let expected = Expected::new(QuantityKind::TIME, parse_unit("min").ok()?);
    let typed = read_typed(typed, &expected).ok()?;
    (typed.bound != Bound::Under && typed.value >= 0.0).then_some(typed.value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_over_is_told_with_its_minutes_or_without() {
        let over = ["done", "Already done.", "did that", "waited already", "I have waited"];
        for typed in over.into_iter().chain(["it has passed", "it's over", "finished"]) {
            assert_eq!(past(typed), Some(Past { seconds: None }), "{typed}");
        }
        for typed in ["waited 10 min", "done, 10 minutes ago", "it stood for 10"] {
            assert_eq!(past(typed), Some(Past { seconds: Some(600.0) }), "{typed}");
        }
    }

    #[test]
    fn a_nod_a_doubt_and_what_tells_of_something_else_are_no_past() {
        let others = ["yes", "ok", "go on", "start", "", "done?", "not done", "i did not"];
        for typed in others.into_iter().chain(["10 min", "35 micron", "did the oil change"]) {
            assert_eq!(past(typed), None, "{typed}");
        }
    }
}
