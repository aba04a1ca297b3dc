//! Pairs as somebody reads them off a note: `0 420, 5 455, 10 480 micron`, whose times have no unit.

use super::TimeForm;
use super::decimal::{Comma, Decimal};
use super::pasted::{Dictated, plain};

/// Fewer pairs could be anything; more are a log, whose times may well be seconds (limits of ours).
const PAIRS: std::ops::RangeInclusive<usize> = 3..=60;
/// A hold that is dictated begins within the hour and lasts no longer than this, in minutes.
const LONGEST: f64 = 240.0;
const LATEST_BEGIN: f64 = 60.0;

/// Pairs with the unit of their times.
pub(super) struct Pairs {
    /// The times in words, the pressures, and the line of each.
    pub lines: Vec<(u64, Dictated)>,
    /// Whether nobody said what the times are, so that they were taken as minutes.
    pub are_assumed: bool,
}

/// Every part a bare number and a pressure, the numbers rising as minutes of a hold would. One
/// time may say the unit for all; otherwise the form that is given counts, or else minutes.
///
/// `is_unit_said` says that the block names a unit of pressure by itself, as no log without a
/// heading does.
pub(super) fn pairs(
    parts: &[(u64, &str)],
    given: Option<&TimeForm>,
    is_unit_said: bool,
) -> Option<Pairs> {
    if !PAIRS.contains(&parts.len()) || !(is_unit_said || are_dictated(parts)) {
        return None;
    }
    let said = units_said(parts);
    let are_assumed = given.is_none() && said.is_empty();
    let unit = match (said.as_slice(), given) {
        ([unit], _) => unit.clone(),
        ([], Some(TimeForm::Unit(unit))) => unit.symbol.clone(),
        ([], None) => "min".to_owned(),
        _ => return None,
    };
    let mut lines = Vec::with_capacity(parts.len());
    let mut last = f64::NEG_INFINITY;
    for (line, part) in parts {
        let (time, pressure) = pair(part)?;
        let is_later = time > last && (last.is_finite() || time <= LATEST_BEGIN);
        if !is_later || time > LONGEST {
            return None;
        }
        last = time;
        lines.push((*line, Dictated { time: Some(format!("{time} {unit}")), pressure }));
    }
    Some(Pairs { lines, are_assumed })
}

/// `420 at 5 min` as `5 min 420`.
fn turned(part: &str) -> String {
    let plain = plain(part);
    let parted = [" at ", " after ", " @ "].iter().find_map(|word| plain.split_once(word));
    parted.map_or_else(|| plain.clone(), |(pressure, time)| format!("{time} {pressure}"))
}

/// `5 455`, `5: 455 micron`, `5 min 455`, `455 at 5`.
fn pair(part: &str) -> Option<(f64, String)> {
    let plain = turned(part);
    let (time, rest) = plain.split_once(' ')?;
    let time = Decimal::read(time.as_bytes(), Comma::Unsettled)?.value;
    let rest = without_unit_of_time(rest);
    let mut words = rest.split(' ');
    let number = words.next()?;
    let is_number = Decimal::read(number.as_bytes(), Comma::Unsettled).is_some()
        || number.eq_ignore_ascii_case("ol");
    let is_alone = words.all(|word| !word.contains(|c: char| c.is_ascii_digit()));
    (time >= 0.0 && is_number && is_alone).then(|| (time, rest.to_owned()))
}

fn without_unit_of_time(rest: &str) -> &str {
    match rest.split_once(' ') {
        Some((word, behind)) if is_unit_of_time(word) => behind,
        _ => rest,
    }
}

fn is_unit_of_time(word: &str) -> bool {
    word.starts_with(char::is_alphabetic) && TimeForm::parse(word).is_some()
}

/// The units that times have, each once.
fn units_said(parts: &[(u64, &str)]) -> Vec<String> {
    let units = parts.iter().filter_map(|(_, part)| {
        let plain = turned(part);
        let word = plain.split(' ').nth(1)?;
        is_unit_of_time(word).then(|| word.to_owned())
    });
    let mut units: Vec<String> = units.collect();
    units.sort();
    units.dedup();
    units
}

/// Two columns of bare numbers are a log without its heading, whatever its times are: somebody
/// who dictates puts pairs in one line, or says a unit.
fn are_dictated(parts: &[(u64, &str)]) -> bool {
    let share_a_line = parts.windows(2).any(|pair| pair[0].0 == pair[1].0);
    share_a_line || parts.iter().any(|(_, part)| part.contains(char::is_alphabetic))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn times(text: &str) -> Option<(Vec<String>, bool)> {
        let lines = (1..).zip(text.split('\n'));
        let parts = lines.flat_map(|(line, row)| row.split(", ").map(move |part| (line, part)));
        let parts: Vec<(u64, &str)> = parts.collect();
        let pairs = pairs(&parts, None, false)?;
        let times = pairs.lines.into_iter().filter_map(|(_, dictated)| dictated.time);
        Some((times.collect(), pairs.are_assumed))
    }

    #[test]
    fn bare_times_are_minutes_unless_one_says_otherwise() {
        let minutes = vec!["0 min".to_owned(), "5 min".to_owned(), "10 min".to_owned()];
        assert_eq!(times("0 420, 5 455, 10 480 micron"), Some((minutes.clone(), true)));
        assert_eq!(times("0: 420, 5: 455 micron, 10 - 480"), Some((minutes.clone(), true)));
        assert_eq!(times("420 at 0, 455 at 5, 480 at 10 micron"), None, "whose unit is it");
        assert_eq!(times("420 micron at 0, 455 at 5, 480 at 10"), Some((minutes.clone(), true)));
        assert_eq!(times("420 at 0, 455 at 5, 480 at 10 min"), Some((minutes.clone(), false)));
        assert_eq!(times("0 min 420 micron, 5 455, 10 480"), Some((minutes, false)));
        let seconds = vec!["0 s".to_owned(), "60 s".to_owned(), "120 s".to_owned()];
        assert_eq!(times("0 s 420 micron, 60 455, 120 480"), Some((seconds, false)));
    }

    #[test]
    fn what_could_not_be_minutes_of_a_hold_is_left_alone() {
        for text in [
            "0 420, 5 455",
            "0 420, 300 455, 600 480",
            "5 420, 0 455, 10 480",
            "0 420 430, 5 455 456, 10 480 481",
            "61 420, 65 455, 70 480",
            "0 min 420, 1 h 455, 10 480",
            "420, 455, 480",
            "0 420\n5 455\n10 480",
        ] {
            assert_eq!(times(text), None, "{text}");
        }
    }
}
