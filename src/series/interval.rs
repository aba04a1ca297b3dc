//! Pressures at an interval told in words: `300, 420, 510 micron every 5 min`, or `5 min apart`.

use super::at_the_start::without_the_start;
use super::decimal::Comma;
use super::pasted::seconds;

/// Words that introduce an interval.
const EVERY: &[&str] = &["every", "each", "at intervals of"];

/// Numbers of minutes or seconds as they are said.
const NUMBERS: &[(&str, &str)] = &[
    ("a", "1"),
    ("one", "1"),
    ("two", "2"),
    ("three", "3"),
    ("four", "4"),
    ("five", "5"),
    ("ten", "10"),
    ("fifteen", "15"),
    ("twenty", "20"),
    ("thirty", "30"),
    ("sixty", "60"),
];

/// The pressures, and the seconds between them.
pub(super) fn at_intervals(text: &str) -> Option<(Vec<String>, f64)> {
    let lower = text.to_ascii_lowercase();
    every(text, &lower).or_else(|| apart(text, &lower))
}

/// The seconds of an interval that stands alone: `every 5 min`, told before the readings that come
/// so.
///
/// ```
/// use dryhold::series::interval_alone;
/// assert_eq!(interval_alone("every 10 min"), Some(600.0));
/// assert_eq!(interval_alone("300, 420 micron every 10 min"), None);
/// ```
#[must_use]
pub fn interval_alone(text: &str) -> Option<f64> {
    // Two pressures stand in for those that are still to come.
    let (pressures, interval) = at_intervals(&format!("1, 2 {}", text.trim()))?;
    (pressures == ["1", "2"]).then_some(interval)
}

/// `300, 420 micron every 5 min`, or `every 5 min: 300, 420`.
fn every(text: &str, lower: &str) -> Option<(Vec<String>, f64)> {
    let (at, word) = EVERY.iter().find_map(|&word| {
        let at = lower.find(word)?;
        let is_alone = !lower[..at].ends_with(char::is_alphanumeric)
            && !lower[at + word.len()..].starts_with(char::is_alphanumeric);
        is_alone.then_some((at, word))
    })?;
    let (before, behind) = (text[..at].trim(), text[at + word.len()..].trim());
    let (pressures, interval) = if before.is_empty() {
        let (interval, pressures) = behind.split_once([':', '\n'])?;
        (pressures, interval)
    } else {
        (before, behind)
    };
    told(pressures, interval)
}

/// `300, 420 micron 5 minutes apart`, or `5 minutes apart: 300, 420`.
fn apart(text: &str, lower: &str) -> Option<(Vec<String>, f64)> {
    let at = lower.find(" apart")?;
    let behind = text[at + " apart".len()..].trim();
    let before = text[..at].trim_end();
    let begin = |words: usize| {
        let start = before.rsplit(char::is_whitespace).take(words).map(|word| word.len() + 1);
        before.len().saturating_sub(start.sum::<usize>().saturating_sub(1))
    };
    // `five minutes`, or `5min`.
    [2, 1].into_iter().find_map(|words| {
        let (pressures, interval) = before.split_at_checked(begin(words))?;
        let is_before = !pressures.trim().is_empty();
        told(if is_before { pressures } else { behind.trim_start_matches([':', ',']) }, interval)
    })
}

/// The pressures, and their interval in s.
fn told(pressures: &str, interval: &str) -> Option<(Vec<String>, f64)> {
    let interval = interval.trim_matches([' ', '.', ',', ':']).to_ascii_lowercase();
    let (number, unit) = interval.split_once(' ').unwrap_or(("1", &interval));
    let number = in_digits(number);
    let is_bare = ["min", "minute", "hour", "second"].contains(&interval.as_str());
    let is_in_words = interval.contains(' ');
    let interval =
        if is_bare || is_in_words { format!("{number} {unit}") } else { interval.clone() };
    let interval = seconds(&interval).filter(|seconds| *seconds > 0.0)?;
    let pressures = listed(&from_the_first(pressures));
    (pressures.len() > 1).then_some((pressures, interval))
}

/// The pressures without what speech puts between them: `350 at once, then 700, 1050`.
fn from_the_first(pressures: &str) -> String {
    let end = pressures.find([',', ';', '\n']).unwrap_or(pressures.len());
    let first = without_the_start(&pressures[..end]);
    let said = match first {
        Some(first) => format!("{first}{}", &pressures[end..]),
        None => pressures.to_owned(),
    };
    let is_between = |word: &str| ["then", "and"].contains(&word.to_ascii_lowercase().as_str());
    let lines = said
        .lines()
        .map(|line| line.split(' ').filter(|word| !is_between(word)).collect::<Vec<_>>().join(" "));
    lines.collect::<Vec<_>>().join("\n")
}

/// A number that is said, in digits.
fn in_digits(word: &str) -> &str {
    NUMBERS.iter().find(|(name, _)| *name == word).map_or(word, |(_, digits)| digits)
}

/// `300, 420, 510 micron` or `300 420 510 micron`, one by one.
fn listed(text: &str) -> Vec<String> {
    let text = text.trim().trim_end_matches([',', ':', '.']);
    let has_commas = text.contains([',', ';', '\n']);
    let mut found: Vec<String> = Vec::new();
    for part in text.split([',', ';', '\n', ' ', '\t']).filter(|part| !part.is_empty()) {
        let starts_anew = part.starts_with(|c: char| c.is_ascii_digit() || c == '>' || c == '-')
            || part.eq_ignore_ascii_case("ol");
        match found.last_mut() {
            Some(last) if !starts_anew => {
                last.push(' ');
                last.push_str(part);
            }
            _ => found.push(part.to_owned()),
        }
    }
    // `1,200, 1,300`: a comma without a blank behind it may part thousands.
    let is_doubtful = has_commas
        && text
            .split(", ")
            .any(|part| Comma::of(part.trim()).is_none() && part.trim().contains(','))
        && text.contains(", ");
    if is_doubtful { text.split(", ").map(|part| part.trim().to_owned()).collect() } else { found }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_interval_stands_before_or_behind_the_pressures() {
        for text in ["300, 420 every minute", "every 60 s: 300, 420", "each 1 min\n300\n420"] {
            let expected = (vec!["300".to_owned(), "420".to_owned()], 60.0);
            assert_eq!(at_intervals(text), Some(expected), "{text}");
        }
        for text in [
            "300, 420 micron 5 minutes apart",
            "300 420 micron, five minutes apart.",
            "300, 420 micron every five minutes",
            "Every five minutes: 300, 420 micron",
            "5 min apart: 300, 420 micron",
            "300, 420 micron 5min apart",
        ] {
            let (pressures, interval) = at_intervals(text).unwrap_or_else(|| panic!("{text}"));
            assert_eq!((pressures[0].as_str(), interval), ("300", 300.0), "{text}");
            assert_eq!((pressures[1].as_str(), pressures.len()), ("420 micron", 2), "{text}");
        }
        for text in [
            "350 at once, then 700, 1050 micron every 5 min",
            "at the start 350, then 700 and then 1050 micron, every 5 min",
        ] {
            let (pressures, interval) = at_intervals(text).unwrap_or_else(|| panic!("{text}"));
            assert_eq!(pressures, ["350", "700", "1050 micron"], "{text}");
            assert_eq!(interval, 300.0, "{text}");
        }
        let thirty = at_intervals("300, 420 thirty seconds apart").map(|told| told.1);
        assert_eq!((thirty, at_intervals("300, 420 far apart")), (Some(30.0), None));
        for text in
            ["every 5 min", "Every five minutes.", "5 min apart", "each 300 s", "every 5 min:"]
        {
            assert_eq!(interval_alone(text), Some(300.0), "{text}");
        }
        for text in ["every 5", "300 every 5 min", "every 5 min: 300", "5 min 300", "420", ""] {
            assert_eq!(interval_alone(text), None, "{text}");
        }
        for text in ["every 5 min", "300 every 5 min", "300, 420 every 5", "300, 420", "everyone"] {
            assert_eq!(at_intervals(text), None, "{text}");
        }
    }
}
