//! A probability as a natural frequency beside its word.

use super::likelihood::word;
use crate::text::list_or;
use std::fmt;

/// Lifts numbers that stand on a border but were rounded below it, such as 1 - 0.55.
const ROUNDING: f64 = 1e-9;

/// A probability as so many cases out of some.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Share {
    LessThanOneInHundred,
    About { cases: u32, of: u32 },
    MoreThanNinetyNineInHundred,
}

impl Share {
    /// Whole tens, and hundredths where less than one case in ten is on either side. Halves go
    /// toward the middle, so that a share and its complement always add up.
    fn of(probability: f64) -> Self {
        let probability = if probability.is_nan() { 0.5 } else { probability.clamp(0.0, 1.0) };
        if probability > 0.5 {
            return Self::of(1.0 - probability).complement();
        }
        if probability + ROUNDING < 0.01 {
            return Self::LessThanOneInHundred;
        }
        let hundredths = nearest(probability * 100.0);
        if hundredths < 10 {
            Self::About { cases: hundredths, of: 100 }
        } else {
            Self::About { cases: nearest(probability * 10.0), of: 10 }
        }
    }

    fn complement(self) -> Self {
        match self {
            Self::LessThanOneInHundred => Self::MoreThanNinetyNineInHundred,
            Self::MoreThanNinetyNineInHundred => Self::LessThanOneInHundred,
            Self::About { cases, of } => Self::About { cases: of - cases, of },
        }
    }
}

/// The nearest whole number of a number from 0 to 100; a half goes up.
fn nearest(number: f64) -> u32 {
    (number + 0.5 + ROUNDING).floor() as u32
}

impl fmt::Display for Share {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::LessThanOneInHundred => f.write_str("less than 1 in 100"),
            Self::About { cases, of } => write!(f, "about {cases} in {of}"),
            Self::MoreThanNinetyNineInHundred => f.write_str("more than 99 in 100"),
        }
    }
}

/// The frequency alone: `about 7 in 10`, `about 3 in 100`, `less than 1 in 100`.
#[must_use]
pub fn share(probability: f64) -> String {
    Share::of(probability).to_string()
}

/// The word with its frequency: `likely (about 7 in 10)`. Where rounding brings the frequency
/// under another word, it says on which side it lies: `very unlikely (nearly 2 in 10)`, so that
/// one number never stands beside two words.
#[must_use]
pub fn in_words(probability: f64) -> String {
    let word = word(probability);
    let share = Share::of(probability);
    let side = match share {
        Share::About { cases, of } if !word.covers(cases, of) => {
            let rounded = f64::from(cases) / f64::from(of);
            let side = if probability < rounded { "nearly" } else { "a little over" };
            Some(format!("{side} {cases} in {of}"))
        }
        _ => None,
    };
    format!("{word} ({})", side.unwrap_or_else(|| share.to_string()))
}

/// The other side of a probability: `about 3 in 10 it is something else, mostly moisture`. The
/// frequency is the complement of the one that [`in_words`] gives. `mostly` names what it would
/// be most of the time; it may be empty.
#[must_use]
pub fn otherwise(probability: f64, mostly: &[&str]) -> String {
    let share = Share::of(probability).complement();
    let mostly = match mostly {
        [] => String::new(),
        names => format!(", mostly {}", list_or(names)),
    };
    format!("{share} it is something else{mostly}")
}

/// What must be said once where the shares of two or more faults are shown together; nothing
/// for fewer.
#[must_use]
pub fn several_faults(shown: usize) -> Option<&'static str> {
    (shown >= 2).then_some(
        "Several faults can be there at once, so these shares need not add up to 10 in 10.",
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_are_whole_tens_except_at_the_ends() {
        let expected = [
            (0.0, "less than 1 in 100"),
            (0.0099, "less than 1 in 100"),
            (0.01, "about 1 in 100"),
            (0.034, "about 3 in 100"),
            (0.094, "about 9 in 100"),
            (0.096, "about 1 in 10"),
            (0.149, "about 1 in 10"),
            (0.15, "about 2 in 10"),
            (0.45, "about 5 in 10"),
            (0.5, "about 5 in 10"),
            (0.55, "about 5 in 10"),
            (0.551, "about 6 in 10"),
            (0.68, "about 7 in 10"),
            (0.904, "about 9 in 10"),
            (0.966, "about 97 in 100"),
            (0.99, "about 99 in 100"),
            (0.997, "more than 99 in 100"),
            (1.0, "more than 99 in 100"),
        ];
        for (probability, text) in expected {
            assert_eq!(share(probability), text, "for {probability}");
        }
    }

    #[test]
    fn a_share_and_its_complement_add_up() {
        for step in 0..=10_000 {
            let probability = f64::from(step) / 10_000.0;
            assert_eq!(Share::of(1.0 - probability), Share::of(probability).complement());
            let text = in_words(probability);
            assert!(!text.contains(" 0 in ") && !text.contains("10 in 10"), "{text}");
            assert!(!text.contains("100 in 100"), "{text}");
        }
    }

    #[test]
    fn one_number_never_stands_beside_two_words() {
        let mut beside = std::collections::BTreeMap::new();
        for step in 0..=10_000 {
            let text = in_words(f64::from(step) / 10_000.0);
            let (word, number) = text.split_once(" (").unwrap();
            let first = beside.entry(number.to_owned()).or_insert_with(|| word.to_owned());
            assert_eq!(first, word, "for {number}");
        }
    }

    #[test]
    fn the_word_and_the_other_side_stand_with_their_numbers() {
        assert_eq!(in_words(0.68), "likely (about 7 in 10)");
        assert_eq!(in_words(0.19), "very unlikely (nearly 2 in 10)");
        assert_eq!(in_words(0.21), "unlikely (about 2 in 10)");
        assert_eq!(in_words(0.83), "very likely (a little over 8 in 10)");
        assert_eq!(in_words(0.951), "almost certain (a little over 95 in 100)");
        assert_eq!(in_words(0.002), "almost no chance (less than 1 in 100)");
        assert_eq!(
            otherwise(0.62, &["moisture", "a leak"]),
            "about 4 in 10 it is something else, mostly moisture or a leak"
        );
        assert_eq!(otherwise(1.0, &[]), "less than 1 in 100 it is something else");
        assert_eq!(in_words(f64::NAN), "roughly even (about 5 in 10)");
    }

    #[test]
    fn the_note_on_several_faults_comes_with_the_second() {
        assert_eq!(several_faults(1), None);
        assert!(several_faults(2).is_some_and(|note| note.ends_with("10 in 10.")));
    }
}
