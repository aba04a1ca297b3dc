//! Shares and strengths: words and numbers for how often.

use super::Resolver;
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::raw::RawStrength;
use crate::handbook::strength::{STRENGTH_WORDS, clamped, strength_of};
use crate::text::list_or;

impl Resolver<'_> {
    /// A share between 0 and 1, drawn in from certainty.
    pub(super) fn share(&mut self, raw: &RawStrength) -> Option<f64> {
        match raw {
            RawStrength::Word(word) => {
                let share = strength_of(&word.value);
                if share.is_none() {
                    self.unknown_word(raw, &word.value);
                }
                share
            }
            RawStrength::Number(number) if !(0.0..=1.0).contains(&number.value) => {
                let title = format!("{} is not a share between 0 and 1", number.value);
                let label = "outside 0 to 1";
                let fault = Diagnostic::at(Code::OutOfRange, title, number.span, label);
                self.faults.push(fault.maybe_help(of_hundred(number.value)));
                None
            }
            RawStrength::Number(number) => {
                let share = clamped(number.value);
                if share != number.value {
                    self.claims_certainty(raw, number.value, share);
                }
                Some(share)
            }
        }
    }

    fn unknown_word(&mut self, raw: &RawStrength, word: &str) {
        let words: Vec<&str> = STRENGTH_WORDS.iter().map(|(word, _)| *word).collect();
        let near = near_name(word, words.iter().copied());
        let help = near.map(|near| format!("did you mean `{near}`?"));
        let quoted: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
        self.faults.push(
            Diagnostic::at(
                Code::UnknownWord,
                format!("`{word}` doesn't say how often"),
                raw.span(),
                "a word of the scale or a number between 0 and 1 belongs here",
            )
            .note(format!("the words are {}", list_or(&quoted)))
            .maybe_help(help.or_else(|| as_share(word))),
        );
    }

    fn claims_certainty(&mut self, raw: &RawStrength, written: f64, share: f64) {
        let title = format!("{written} claims to be certain; it counts as {share}");
        self.faults.push(
            Diagnostic::at(
                Code::Clamped,
                title,
                raw.span(),
                "nearer to certain than anybody knows",
            )
            .help(format!("write {share}")),
        );
    }
}

/// What to write for so many of a hundred.
fn of_hundred(percent: f64) -> Option<String> {
    let is_percent = percent > 1.0 && percent <= 100.0;
    is_percent.then(|| format!("if {percent} % is meant, write `{}`", percent / 100.0))
}

/// What to write for a share with a sign of percent or a decimal comma.
fn as_share(word: &str) -> Option<String> {
    if let Some(percent) = word.strip_suffix('%') {
        return of_hundred(percent.trim().parse().ok()?);
    }
    let point = word.replacen(',', ".", 1);
    let share: f64 = point.parse().ok()?;
    (0.0..=1.0).contains(&share).then(|| format!("write a decimal point: `{point}`"))
}
