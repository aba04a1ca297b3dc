//! Two readings of a hold as people tell them: `320 rising to 345 micron in half an hour`.

use super::default_unit;
use crate::quantity::{Bound, Expected, QuantityKind, parse_prompt_unit, read_typed};

/// The longest text that is looked at, in bytes (limit of ours: nobody says more in a sentence).
const LONGEST: usize = 200;

/// Words before the time that lay between the two.
const WITHIN: [&str; 8] = ["in", "over", "after", "within", "for", "during", "at", "until"];

/// Words that stand around the two readings and tell nothing but that there are two.
const AROUND: [&str; 26] = [
    "from",
    "to",
    "rising",
    "rises",
    "rose",
    "risen",
    "falling",
    "fell",
    "climbing",
    "climbed",
    "going",
    "goes",
    "went",
    "up",
    "down",
    "then",
    "and",
    "at",
    "the",
    "start",
    "first",
    "it",
    "was",
    "is",
    "beginning",
    "now",
];

/// Hours and parts of them in words, with their minutes.
const HOURS: [(&str, &str); 6] = [
    ("three quarters of an hour", "45 min"),
    ("a quarter of an hour", "15 min"),
    ("quarter of an hour", "15 min"),
    ("an hour and a half", "90 min"),
    ("half an hour", "30 min"),
    ("an hour", "60 min"),
];

/// The text with hours in figures: `half an hour` is `30 min`. A long one is a log, and stays.
pub(super) fn with_hours_in_figures(text: &str) -> String {
    let mut figures = text.to_owned();
    if text.len() > LONGEST {
        return figures;
    }
    for (words, minutes) in HOURS {
        while let Some(at) = figures.to_ascii_lowercase().find(words) {
            figures.replace_range(at..at + words.len(), minutes);
        }
    }
    figures
}

/// The two readings with their times, as they are dictated; none where the text says anything else.
pub(super) fn two_ends(text: &str) -> Option<String> {
    if text.len() > LONGEST || text.contains('\n') {
        return None;
    }
    let apart = text.to_lowercase().replace([',', ';'], " ");
    let words: Vec<&str> = apart.split_whitespace().collect();
    let (told, seconds) = words.iter().enumerate().rev().find_map(|(place, word)| {
        let behind = words.get(place + 1..).filter(|_| WITHIN.contains(word))?;
        Some((words.get(..place)?, duration(&behind.join(" "))?))
    })?;
    let [first, last] = readings(told)?;
    let unit =
        |own: &str, other: &str| if own.is_empty() { other.to_owned() } else { own.to_owned() };
    Some(format!(
        "0 min {} {}, {seconds} s {} {}",
        first.0,
        unit(&first.1, &last.1),
        last.0,
        unit(&last.1, &first.1)
    ))
}

/// A time in seconds, with its unit.
fn duration(text: &str) -> Option<f64> {
    let expected = Expected::new(QuantityKind::TIME, default_unit(QuantityKind::TIME)?);
    let typed = read_typed(text, &expected).ok()?;
    (!typed.is_bare && typed.bound == Bound::Exact && typed.value > 0.0).then_some(typed.value)
}

/// Two numbers, each with a unit of pressure or none, and nothing else that tells anything.
fn readings(words: &[&str]) -> Option<[(String, String); 2]> {
    let mut found: Vec<(String, String)> = Vec::new();
    for word in words.iter().filter(|word| !AROUND.contains(word)) {
        let digits = word.trim_end_matches(|c: char| c.is_alphabetic());
        let unit = word.get(digits.len()..).unwrap_or_default();
        let is_unit = unit.is_empty() || is_of_pressure(unit);
        match (digits.parse::<f64>().is_ok(), is_unit) {
            (true, true) => found.push((digits.to_owned(), unit.to_owned())),
            (false, true) if digits.is_empty() => {
                let last = found.last_mut().filter(|(_, known)| known.is_empty())?;
                unit.clone_into(&mut last.1);
            }
            _ => return None,
        }
    }
    found.try_into().ok()
}

fn is_of_pressure(unit: &str) -> bool {
    let unit = parse_prompt_unit(unit, QuantityKind::PRESSURE);
    unit.is_ok_and(|unit| unit.kind.fits(QuantityKind::PRESSURE))
}

/// Whether a text is two numbers, with a unit or without one, and nothing else.
pub(super) fn is_two_numbers(text: &str) -> bool {
    let apart = text.to_lowercase().replace([',', ';'], " ");
    readings(&apart.split_whitespace().collect::<Vec<_>>()).is_some()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rise_told_in_a_sentence_is_two_readings_with_their_times() {
        for text in [
            "320 rising to 345 micron in 30 min",
            "320 to 345 micron over 30 min",
            "from 320 micron to 345 micron within 30 minutes",
            "320 micron at start, 345 after 30 min",
            "320 micron at the start, 345 micron after 30 min",
            "it rose from 320 to 345micron in half an hour",
        ] {
            assert_eq!(
                two_ends(text).as_deref(),
                Some("0 min 320 micron, 1800 s 345 micron"),
                "{text}"
            );
        }
        assert_eq!(two_ends("320 to 345 in an hour").as_deref(), Some("0 min 320 , 3600 s 345 "));
    }

    #[test]
    fn what_says_anything_else_is_left_alone() {
        for text in [
            "320, 345 micron",
            "300, 420, 480 micron every 5 min",
            "5 min 320, 30 min 345",
            "420 after 5 min",
            "320 to 345 in 30",
            "320 oil to 345 in 30 min",
            "320 min to 345 min in 30 min",
            "",
        ] {
            assert_eq!(two_ends(text), None, "{text}");
        }
        assert!(is_two_numbers("320, 345 micron") && !is_two_numbers("5 min 345"));
    }

    #[test]
    fn hours_in_words_are_minutes() {
        assert_eq!(with_hours_in_figures("0 min 320, half an hour 345"), "0 min 320, 30 min 345");
        assert_eq!(with_hours_in_figures("an hour and a half 400"), "90 min 400");
        assert_eq!(with_hours_in_figures("400 micron"), "400 micron");
        let log = "half an hour 345 micron\n".repeat(40);
        assert_eq!(with_hours_in_figures(&log), log);
    }
}
