//! Of which time a line speaks, and which questions ask for that time.

use super::searching::words;
use crate::case::{Case, QuestionId};
use crate::terminal::words::folded;

/// Of two moments the one that a line speaks of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Time {
    Before,
    After,
}

const OF_BEFORE: [&str; 8] =
    ["yesterday", "before", "left", "noted", "evening", "first", "start", "was"];
const OF_AFTER: [&str; 9] =
    ["today", "now", "after", "found", "afterwards", "morning", "end", "last", "is"];

/// Of which time a line speaks; none where it speaks of both, or of neither.
pub(super) fn time_told(typed: &str) -> Option<Time> {
    let folded = folded(typed);
    let has = |all: &[&str]| words(&folded).any(|word| all.contains(&word));
    match (has(&OF_BEFORE), has(&OF_AFTER)) {
        (true, false) => Some(Time::Before),
        (false, true) => Some(Time::After),
        _ => None,
    }
}

/// Words that tell when something was read, and nothing of what.
const DAYS: [&str; 8] =
    ["yesterday", "today", "evening", "morning", "now", "afterwards", "left", "found"];

/// A line without the words for its day, which no question is found by.
pub(super) fn without_days(typed: &str) -> String {
    let folded = folded(typed);
    words(&folded).filter(|word| !DAYS.contains(word)).collect::<Vec<_>>().join(" ")
}

/// Of which time a question asks: it outdates another of its kind, or is outdated by one, since what
/// is read later goes with what was read before; or its id says so.
pub(super) fn time_asked(case: &Case<'_>, id: QuestionId) -> Option<Time> {
    match (case.is_read_before_another(id), case.is_read_after_another(id)) {
        (true, false) => Some(Time::Before),
        (false, true) => Some(Time::After),
        _ => time_told(&case.question_view(id).id.replace('_', " ")),
    }
}

/// How well a question goes with the time of a line: 0 where it is the same, 2 where it is the other.
pub(super) fn apart_in_time(case: &Case<'_>, told: Option<Time>, id: QuestionId) -> usize {
    match (told, time_asked(case, id)) {
        (Some(told), Some(asked)) if told == asked => 0,
        (Some(_), Some(_)) => 2,
        _ => 1,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_speaks_of_one_time_or_of_none() {
        assert_eq!(time_told("yesterday 350 micron"), Some(Time::Before));
        assert_eq!(time_told("today 900 micron"), Some(Time::After));
        assert_eq!(time_told("before 350, after 900"), None);
        assert_eq!(time_told("350 micron"), None);
    }
}
