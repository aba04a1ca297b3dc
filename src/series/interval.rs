//! Pressures at an interval told in words: `300, 420, 510 micron every 5 min`.

use super::decimal::Comma;
use super::pasted::seconds;

/// Words that introduce an interval.
const EVERY: &[&str] = &["every", "each", "at intervals of"];

/// The pressures, and the seconds between them.
pub(super) fn at_intervals(text: &str) -> Option<(Vec<String>, f64)> {
    let lower = text.to_ascii_lowercase();
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
    let interval = interval.trim_matches([' ', '.', ',', ':']);
    let one =
        ["min", "minute", "hour", "second"].contains(&interval).then(|| format!("1 {interval}"));
    let interval = seconds(one.as_deref().unwrap_or(interval)).filter(|seconds| *seconds > 0.0)?;
    let pressures = listed(pressures);
    (pressures.len() > 1).then_some((pressures, interval))
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
        for text in ["every 5 min", "300 every 5 min", "300, 420 every 5", "300, 420", "everyone"] {
            assert_eq!(at_intervals(text), None, "{text}");
        }
    }
}
