//! What stands behind an equals sign, in a shell that takes the sign for a word of its own, as bash does.
//!
//! Such a shell replaces only what stands behind the sign. So the words about it are put together again,
//! completed as one, and of what is offered only the part behind the sign is written.

use std::ffi::OsString;
use std::io::{Error, Write};
use std::path::Path;

use clap::Command;
use clap_complete::engine::complete;

/// The shell that divides words at the sign.
const DIVIDING: &str = "bash";

/// A line whose last word is being typed behind a sign.
pub(super) struct Behind {
    /// The words, that of the sign as one.
    words: Vec<OsString>,
    /// The place of that word.
    place: usize,
    /// What stands before what is typed: `oil_look=`.
    before: String,
}

impl Behind {
    /// The line, where what is being typed stands behind a sign of its own.
    pub fn sign(words: &[OsString], shell: &str) -> Option<Self> {
        if shell != DIVIDING {
            return None;
        }
        let place = std::env::var("_CLAP_COMPLETE_INDEX").ok()?.parse().ok()?;
        Self::at(words, place)
    }

    fn at(words: &[OsString], place: usize) -> Option<Self> {
        let typed = words.get(place)?.to_string_lossy();
        let is_sign = |at: usize| words.get(at).is_some_and(|word| word == "=");
        let (sign, typed) = match typed.as_ref() {
            "=" => (place, ""),
            typed => (place.checked_sub(1).filter(|at| is_sign(*at))?, typed),
        };
        let name = words.get(sign.checked_sub(1)?)?.to_string_lossy();
        let before = format!("{name}=");
        let mut joined: Vec<OsString> = words.get(..sign - 1)?.to_vec();
        let place = joined.len();
        joined.push(format!("{before}{typed}").into());
        Some(Self { words: joined, place, before })
    }

    /// Writes what may stand behind the sign.
    pub fn complete(
        self,
        command: &mut Command,
        here: Option<&Path>,
        out: &mut dyn Write,
    ) -> Result<(), Error> {
        let offered = complete(command, self.words, self.place, here)?;
        let values = offered.iter().map(|candidate| candidate.get_value().to_string_lossy());
        let behind: Vec<String> =
            values.filter_map(|value| Some(value.strip_prefix(&self.before)?.to_owned())).collect();
        let between = std::env::var("_CLAP_IFS").unwrap_or_else(|_| "\n".to_owned());
        write!(out, "{}", behind.join(&between))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(words: &[&str]) -> Option<(Vec<OsString>, String)> {
        let words: Vec<OsString> = words.iter().map(OsString::from).collect();
        Behind::at(&words, words.len() - 1).map(|behind| (behind.words, behind.before))
    }

    #[test]
    fn the_words_about_a_sign_are_one() {
        let joined = |typed: &str| {
            let words = ["dryhold", "--set", typed].iter().map(OsString::from).collect();
            Some((words, "oil_look=".to_owned()))
        };
        assert_eq!(at(&["dryhold", "--set", "oil_look", "="]), joined("oil_look="));
        assert_eq!(at(&["dryhold", "--set", "oil_look", "=", ""]), joined("oil_look="));
        assert_eq!(at(&["dryhold", "--set", "oil_look", "=", "c"]), joined("oil_look=c"));
        assert_eq!(at(&["dryhold", "--set", "oil_look"]), None);
        assert_eq!(at(&["="]), None);
    }
}
