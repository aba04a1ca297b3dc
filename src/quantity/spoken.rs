//! Quantities as people say them, in figures: `half an hour`, `an hour and a half`, `about 400`.
//!
//! Only what can be meant in one way: `a couple of hours` and `a few` stay refused.

use super::prompt_unit::parse_prompt_unit;
use super::{Dimension, QuantityKind};

/// Words before a number that say it is not exact.
const ABOUT: [&str; 8] =
    ["about", "roughly", "around", "approximately", "approx", "approx.", "circa", "ca."];

const ONES: [&str; 20] = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];

const TENS: [&str; 8] =
    ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];

/// Words of numbers that are no units.
const NO_UNIT: [&str; 5] = ["and", "a", "an", "hundred", "thousand"];

/// The text without a word in front that says it is about so much; whether there was one.
pub(super) fn without_about(text: &str) -> (bool, &str) {
    if let Some(rest) = text.strip_prefix('~') {
        return (true, rest.trim_start());
    }
    let (word, rest) = text.split_once(' ').unwrap_or((text, ""));
    let is_about = ABOUT.iter().any(|about| word.eq_ignore_ascii_case(about));
    if is_about { (true, rest.trim_start()) } else { (false, text) }
}

/// A number in words and what is said behind it, in figures: `half an hour` is `0.5 hour`,
/// `two and a half hours` is `2.5 hours`. None where the text is no such thing, or what follows the
/// number is no unit where this kind is asked for.
pub(super) fn in_figures(text: &str, kind: QuantityKind) -> Option<String> {
    let lower = text.to_lowercase();
    let apart = lower.replace("half-", "half ");
    let words: Vec<&str> = apart.split_whitespace().collect();
    let large = || large_number(&words, kind).filter(|(_, unit)| unit.is_empty() || is_unit(unit));
    let (number, unit) = fraction_first(&words).or_else(|| number_first(&words)).or_else(large)?;
    let unit = unit.join(" ");
    let is_known = unit.is_empty() || parse_prompt_unit(&unit, kind).is_ok();
    is_known.then(|| format!("{number} {unit}").trim().to_owned())
}

/// `half an hour`, `half hour`, `a quarter of an hour`, `three quarters of an hour`.
fn fraction_first<'w>(words: &'w [&'w str]) -> Option<(f64, &'w [&'w str])> {
    let bare = match words {
        ["a", rest @ ..] => rest,
        all => all,
    };
    let (fraction, rest) = match bare {
        ["half", rest @ ..] => (0.5, rest),
        ["quarter", rest @ ..] => (0.25, rest),
        ["three", "quarters" | "quarter", rest @ ..] => (0.75, rest),
        _ => return None,
    };
    let unit = match rest {
        ["of", "a" | "an", unit @ ..] | ["a" | "an", unit @ ..] => unit,
        unit => unit,
    };
    is_unit(unit).then_some((fraction, unit))
}

/// `two hours`, `an hour and a half`, `two and a half hours`, `1 and a half hours`, `twelve`.
fn number_first<'w>(words: &'w [&'w str]) -> Option<(f64, &'w [&'w str])> {
    let (first, rest) = words.split_first()?;
    let is_article = matches!(*first, "a" | "an");
    let (whole, rest) = if is_article { (1.0, rest) } else { count(first, rest)? };
    let is_in_words = !first.starts_with(|c: char| c.is_ascii_digit());
    match rest {
        ["and", "a", part, unit @ ..] if !is_article && is_unit(unit) => {
            Some((whole + part_of_one(part)?, unit))
        }
        [unit @ .., "and", "a", part] if is_unit(unit) => Some((whole + part_of_one(part)?, unit)),
        unit if is_in_words && is_unit(unit) => Some((whole, unit)),
        [] if is_in_words && !is_article => Some((whole, &[])),
        _ => None,
    }
}

/// `fifteen hundred`, `two thousand five hundred`, and of pressures `twelve fifty`, as they are read
/// off a display.
fn large_number<'w>(words: &'w [&'w str], kind: QuantityKind) -> Option<(f64, &'w [&'w str])> {
    let (first, rest) = match words {
        ["a" | "one", "hundred" | "thousand", ..] => (1.0, &words[1..]),
        [first, rest @ ..] => count(first, rest)?,
        [] => return None,
    };
    match rest {
        ["hundred", rest @ ..] if first < 100.0 => Some(and_below(100.0 * first, 100.0, rest)),
        ["thousand", rest @ ..] if first < 1000.0 => {
            let (so_far, rest) = (1000.0 * first, without_and(rest));
            Some(match rest {
                [many, "hundred", rest @ ..] if below(many, &[], 10.0).is_some() => {
                    let (hundreds, _) = below(many, &[], 10.0)?;
                    and_below(so_far + 100.0 * hundreds, 100.0, rest)
                }
                rest => and_below(so_far, 100.0, rest),
            })
        }
        [tens, after @ ..] if kind.dimension == Dimension::PRESSURE && first < 100.0 => {
            let (tens, rest) = below(tens, after, 100.0).filter(|(tens, _)| *tens >= 20.0)?;
            (first >= 1.0).then_some((100.0 * first + tens, rest))
        }
        _ => None,
    }
}

/// A number with what is said behind it to be added, if it is less than so much.
fn and_below<'w>(number: f64, limit: f64, rest: &'w [&'w str]) -> (f64, &'w [&'w str]) {
    let added = match without_and(rest) {
        [next, after @ ..] => below(next, after, limit),
        [] => None,
    };
    added.map_or((number, rest), |(added, rest)| (number + added, rest))
}

fn without_and<'w>(words: &'w [&'w str]) -> &'w [&'w str] {
    match words {
        ["and", rest @ ..] => rest,
        all => all,
    }
}

/// A number in words that is less than a limit, and what follows it.
fn below<'w>(first: &str, rest: &'w [&'w str], limit: f64) -> Option<(f64, &'w [&'w str])> {
    let is_in_words = !first.starts_with(|c: char| c.is_ascii_digit());
    count(first, rest).filter(|(number, _)| is_in_words && *number < limit)
}

fn part_of_one(word: &str) -> Option<f64> {
    match word {
        "half" => Some(0.5),
        "quarter" => Some(0.25),
        _ => None,
    }
}

/// A whole number in figures or in words, and what follows it: `12`, `twelve`, `twenty-five`.
fn count<'w>(first: &str, rest: &'w [&'w str]) -> Option<(f64, &'w [&'w str])> {
    if let Ok(number) = first.parse::<u32>() {
        return Some((f64::from(number), rest));
    }
    let place = |table: &[&str], word: &str| table.iter().position(|known| *known == word);
    let as_number = |place: usize| u32::try_from(place).ok().map(f64::from);
    if let Some(one) = place(&ONES, first) {
        return Some((as_number(one)?, rest));
    }
    let (tens, ones) =
        first.split_once('-').map_or((first, None), |(tens, ones)| (tens, Some(ones)));
    let tens = 10.0 * (as_number(place(&TENS, tens)?)? + 2.0);
    let digit = |word: &str| place(&ONES, word).filter(|one| (1..10).contains(one));
    match (ones, rest) {
        (Some(ones), rest) => Some((tens + as_number(digit(ones)?)?, rest)),
        (None, [next, after @ ..]) if digit(next).is_some() => {
            Some((tens + as_number(digit(next)?)?, after))
        }
        (None, rest) => Some((tens, rest)),
    }
}

/// Whether what stands behind a number can be a unit: letters, and no further number in words.
fn is_unit(words: &[&str]) -> bool {
    let is_number = |word: &str| count(word, &[]).is_some() || NO_UNIT.contains(&word);
    !words.is_empty() && !words.iter().any(|word| is_number(word))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_people_say_is_written_in_figures() {
        for (said, figures) in [
            ("half an hour", "0.5 hour"),
            ("Half hour", "0.5 hour"),
            ("a half-hour", "0.5 hour"),
            ("half a minute", "0.5 minute"),
            ("a quarter of an hour", "0.25 hour"),
            ("three quarters of an hour", "0.75 hour"),
            ("an hour", "1 hour"),
            ("an hour and a half", "1.5 hour"),
            ("one and a half hours", "1.5 hours"),
            ("1 and a half hours", "1.5 hours"),
            ("two hours", "2 hours"),
            ("two hours and a half", "2.5 hours"),
            ("twenty-five minutes", "25 minutes"),
            ("twenty five minutes", "25 minutes"),
            ("ninety min", "90 min"),
            ("twelve", "12"),
        ] {
            assert_eq!(in_figures(said, QuantityKind::TIME).as_deref(), Some(figures), "{said}");
        }
    }

    #[test]
    fn numbers_as_they_are_read_off_a_display_are_written_in_figures() {
        for (said, figures) in [
            ("fifteen hundred", "1500"),
            ("fifteen thousand", "15000"),
            ("twelve fifty", "1250"),
            ("one twenty-five micron", "125 micron"),
            ("two hundred and fifty microns", "250 microns"),
            ("one thousand two hundred fifty", "1250"),
            ("a thousand micron", "1000 micron"),
            ("15 hundred", "1500"),
        ] {
            assert_eq!(
                in_figures(said, QuantityKind::PRESSURE).as_deref(),
                Some(figures),
                "{said}"
            );
        }
        for said in ["twelve three", "zero fifty", "hundred", "fifteen hundred or so many"] {
            assert_eq!(in_figures(said, QuantityKind::PRESSURE), None, "{said}");
        }
        assert_eq!(in_figures("five thirty", QuantityKind::TIME), None);
    }

    #[test]
    fn what_may_mean_several_things_is_left_as_it_is() {
        for said in [
            "",
            "a",
            "an",
            "half",
            "a couple of hours",
            "a few",
            "two or three hours",
            "two three",
            "45",
            "45 micron",
            "1 h 30 min",
            "half past two",
            "an hour and a bit",
            "and a half",
        ] {
            assert_eq!(in_figures(said, QuantityKind::TIME), None, "{said}");
        }
    }

    #[test]
    fn about_is_told_from_the_number_behind_it() {
        assert_eq!(without_about("about 1"), (true, "1"));
        assert_eq!(without_about("Roughly  400 micron"), (true, "400 micron"));
        assert_eq!(without_about("~30 min"), (true, "30 min"));
        assert_eq!(without_about("aboutface"), (false, "aboutface"));
        assert_eq!(without_about("400"), (false, "400"));
    }
}
