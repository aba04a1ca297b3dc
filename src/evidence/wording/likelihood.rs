//! The seven words for a probability.

use crate::text::{inert, list_or};
use std::fmt;
use std::str::FromStr;
use thiserror::Error;

/// A word for a probability; the words are in order, the least likely first.
///
/// The ranges are those of ICD 203: for *very unlikely* published as quoted by Wintle and
/// others, PLOS ONE 14(4) e0213522, 2019; for the other words from memory. A probability on the
/// border of two words gets the one nearer to the middle, so that a word never claims too much
/// and the words of a probability and of its complement mirror each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Likelihood {
    /// Below 5 in 100.
    AlmostNoChance,
    /// From 5 to 20 in 100.
    VeryUnlikely,
    /// From 20 to 45 in 100.
    Unlikely,
    /// From 45 to 55 in 100.
    RoughlyEven,
    /// From 55 to 80 in 100.
    Likely,
    /// From 80 to 95 in 100.
    VeryLikely,
    /// Above 95 in 100.
    AlmostCertain,
}

impl Likelihood {
    /// Every word, the least likely first.
    pub const ALL: [Self; 7] = [
        Self::AlmostNoChance,
        Self::VeryUnlikely,
        Self::Unlikely,
        Self::RoughlyEven,
        Self::Likely,
        Self::VeryLikely,
        Self::AlmostCertain,
    ];

    /// The word as it is written and read.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::AlmostNoChance => "almost no chance",
            Self::VeryUnlikely => "very unlikely",
            Self::Unlikely => "unlikely",
            Self::RoughlyEven => "roughly even",
            Self::Likely => "likely",
            Self::VeryLikely => "very likely",
            Self::AlmostCertain => "almost certain",
        }
    }

    /// The lowest and the highest probability that the word stands for.
    #[must_use]
    pub fn range(self) -> (f64, f64) {
        match self {
            Self::AlmostNoChance => (0.0, 0.05),
            Self::VeryUnlikely => (0.05, 0.20),
            Self::Unlikely => (0.20, 0.45),
            Self::RoughlyEven => (0.45, 0.55),
            Self::Likely => (0.55, 0.80),
            Self::VeryLikely => (0.80, 0.95),
            Self::AlmostCertain => (0.95, 1.0),
        }
    }

    /// Whether so many cases out of some go by this word.
    pub(super) fn covers(self, cases: u32, of: u32) -> bool {
        word(f64::from(cases) / f64::from(of)) == self
    }
}

/// The word for a probability (0 to 1; what lies outside is taken as the nearer end). What is
/// not a number says nothing either way: *roughly even*.
#[must_use]
pub fn word(probability: f64) -> Likelihood {
    // From either end inward, each range begins where the one before it was left.
    let lower = [Likelihood::AlmostNoChance, Likelihood::VeryUnlikely, Likelihood::Unlikely];
    let upper = [Likelihood::AlmostCertain, Likelihood::VeryLikely, Likelihood::Likely];
    let found = lower.into_iter().find(|word| probability < word.range().1);
    found
        .or_else(|| upper.into_iter().find(|word| probability > word.range().0))
        .unwrap_or(Likelihood::RoughlyEven)
}

impl fmt::Display for Likelihood {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.label())
    }
}

/// A text that is none of the seven words.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("`{}` is not a likelihood; say {}", inert(text), list_or(&Likelihood::ALL.map(Likelihood::label)))]
pub struct UnknownWord {
    /// The text as given.
    pub text: String,
}

impl FromStr for Likelihood {
    type Err = UnknownWord;

    /// Reads a word; capitals and the width of blanks don't matter.
    fn from_str(text: &str) -> Result<Self, UnknownWord> {
        let plain = text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
        let found = Self::ALL.into_iter().find(|word| word.label() == plain);
        found.ok_or_else(|| UnknownWord { text: text.to_owned() })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_probability_has_the_word_of_its_range() {
        for word_of in Likelihood::ALL {
            let (low, high) = word_of.range();
            for part in [0.001, 0.5, 0.999] {
                assert_eq!(word(low + part * (high - low)), word_of);
            }
        }
        assert_eq!(word(0.0), Likelihood::AlmostNoChance);
        assert_eq!(word(1.0), Likelihood::AlmostCertain);
        assert_eq!(word(-3.0), Likelihood::AlmostNoChance);
        assert_eq!(word(f64::INFINITY), Likelihood::AlmostCertain);
        assert_eq!(word(f64::NAN), Likelihood::RoughlyEven);
    }

    #[test]
    fn the_ranges_leave_no_gap_and_borders_go_to_the_middle() {
        for pair in Likelihood::ALL.windows(2) {
            assert!(pair[0] < pair[1]);
            let border = pair[0].range().1;
            assert_eq!(border, pair[1].range().0);
            let nearer = if border < 0.5 { pair[1] } else { pair[0] };
            assert_eq!(word(border), nearer, "at {border}");
        }
    }

    #[test]
    fn words_are_read_back() {
        for word in Likelihood::ALL {
            assert_eq!(word.label().parse(), Ok(word));
        }
        assert_eq!(" Very   LIKELY\n".parse(), Ok(Likelihood::VeryLikely));
        let unknown = "probable".parse::<Likelihood>().unwrap_err();
        assert_eq!(
            unknown.to_string(),
            "`probable` is not a likelihood; say almost no chance, very unlikely, unlikely, \
             roughly even, likely, very likely or almost certain"
        );
    }
}
