//! A stretch of the seven words, as an expectation states it.

use super::likelihood::{Likelihood, UnknownWord, word};
use std::fmt;
use std::str::FromStr;

/// From one word to another: `likely`, `at least likely`, `at most unlikely`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Band {
    /// The least likely word in it.
    pub least: Likelihood,
    /// The likeliest word in it.
    pub most: Likelihood,
}

impl Band {
    /// Whether the word for a probability lies in the band.
    #[must_use]
    pub fn holds(self, probability: f64) -> bool {
        (self.least..=self.most).contains(&word(probability))
    }
}

impl FromStr for Band {
    type Err = UnknownWord;

    /// Reads a word alone or after `at least` or `at most`.
    fn from_str(text: &str) -> Result<Self, UnknownWord> {
        let words: Vec<String> = text.split_whitespace().map(str::to_lowercase).collect();
        let unknown = |_| UnknownWord { text: text.to_owned() };
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let (rest, is_least, is_most) = match &words[..] {
            ["at", "least", rest @ ..] => (rest, true, false),
            ["at", "most", rest @ ..] => (rest, false, true),
            rest => (rest, false, false),
        };
        let word: Likelihood = rest.join(" ").parse().map_err(unknown)?;
        Ok(Self {
            least: if is_most { Likelihood::AlmostNoChance } else { word },
            most: if is_least { Likelihood::AlmostCertain } else { word },
        })
    }
}

impl fmt::Display for Band {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.least == self.most {
            write!(f, "{}", self.least)
        } else if self.most == Likelihood::AlmostCertain {
            write!(f, "at least {}", self.least)
        } else if self.least == Likelihood::AlmostNoChance {
            write!(f, "at most {}", self.most)
        } else {
            write!(f, "{} to {}", self.least, self.most)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_band_holds_its_words_and_no_others() {
        let exact: Band = "very likely".parse().unwrap();
        assert!(exact.holds(0.9) && !exact.holds(0.97) && !exact.holds(0.8));
        let least: Band = "at least very likely".parse().unwrap();
        assert!(least.holds(0.9) && least.holds(1.0) && !least.holds(0.8));
        let most: Band = "At most  unlikely".parse().unwrap();
        assert!(most.holds(0.0) && most.holds(0.44) && !most.holds(0.45));
    }

    #[test]
    fn bands_print_as_they_are_written() {
        for text in ["likely", "at least likely", "at most roughly even"] {
            assert_eq!(text.parse::<Band>().unwrap().to_string(), text);
        }
    }

    #[test]
    fn what_is_no_band_is_refused_with_the_text_given() {
        for text in ["", "at least", "at likely", "most unlikely", "at least 80 %"] {
            assert_eq!(text.parse::<Band>(), Err(UnknownWord { text: text.to_owned() }));
        }
    }
}
