//! Words that people may type for an answer: what each stands for, and whether it is free.

use super::Resolver;
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::raw::RawQuestion;
use crate::document::{Scalar, Spanned};
use crate::formula::Kind;
use crate::handbook::model::{Choice, InWords, find_choice};
use crate::quantity::{Expected, QuantityKind, UnitExpression, read_typed};
use crate::text::{as_said, is_prompt_word, list_and, says_not_sure};

/// What words are held against: the numbers of the question that they belong to.
pub(super) struct Around<'a> {
    pub unit: Option<&'a UnitExpression>,
    pub range: Option<(f64, f64)>,
    pub choices: &'a [Choice],
}

impl Resolver<'_> {
    /// The words of a question, each with the answer that it stands for.
    pub(super) fn in_words(
        &mut self,
        raw: &RawQuestion,
        kind: &Kind,
        around: &Around<'_>,
    ) -> Vec<InWords> {
        let Some((first, _)) = raw.in_words.first() else { return Vec::new() };
        if !matches!(kind, Kind::Quantity(_) | Kind::Choice(_) | Kind::YesNo) {
            let title = format!(
                "question `{}` takes {} and has `in_words`",
                raw.id.value,
                kind.with_article()
            );
            let label = "only a number, a choice, or a yes or no is said so";
            self.faults.push(Diagnostic::at(Code::KeysTogether, title, first.span, label));
            return Vec::new();
        }
        for (place, (words, _)) in raw.in_words.iter().enumerate() {
            self.word_is_free(raw, kind, around, place, words);
        }
        let mut all = Vec::new();
        for (words, answer) in &raw.in_words {
            let fits = match kind {
                Kind::Quantity(quantity) => self.is_value(raw, answer, *quantity, around.range),
                Kind::YesNo => self.is_answer(raw, answer, vec!["yes", "no"]),
                _ => {
                    let ids = around.choices.iter().map(|choice| choice.id.as_str()).collect();
                    !raw.choices_are_whole || self.is_answer(raw, answer, ids)
                }
            };
            if fits {
                let (words, answer) = (words.value.clone(), answer.text.trim().to_owned());
                all.push(InWords { words, answer });
            }
        }
        all
    }

    /// Whether words stand for a value that the question takes; a fault if they don't.
    fn is_value(
        &mut self,
        raw: &RawQuestion,
        answer: &Scalar,
        kind: QuantityKind,
        range: Option<(f64, f64)>,
    ) -> bool {
        let Some(value) = self.quantity(answer, kind) else { return false };
        if let Some(whole) = range {
            self.check_inside((value, value), whole, answer, raw);
        }
        true
    }

    /// Whether words stand for one of these answers; a fault if they don't.
    fn is_answer(&mut self, raw: &RawQuestion, answer: &Scalar, ids: Vec<&str>) -> bool {
        let word = answer.text.trim();
        if ids.contains(&word) {
            return true;
        }
        let title = format!("`{word}` is no answer to question `{}`", raw.id.value);
        let label = "the answer that these words stand for belongs here";
        let quoted: Vec<String> = ids.iter().map(|id| format!("`{id}`")).collect();
        let near = near_name(word, ids);
        self.faults.push(
            Diagnostic::at(Code::UnknownChoice, title, answer.span, label)
                .note(format!("the answers are {}", list_and(&quoted)))
                .maybe_help(near.map(|near| format!("did you mean `{near}`?"))),
        );
        false
    }

    /// Words that would be read as something else, or that stand there twice.
    fn word_is_free(
        &mut self,
        raw: &RawQuestion,
        kind: &Kind,
        around: &Around<'_>,
        place: usize,
        words: &Spanned<String>,
    ) {
        let (said, own) = (as_said(&words.value), &words.value);
        let earlier =
            raw.in_words.iter().take(place).find(|(other, _)| as_said(&other.value) == said);
        let fault = if let Some((other, _)) = earlier {
            let title = format!("`{own}` and `{}` are the same words", other.value);
            Diagnostic::at(Code::WordTaken, title, words.span, "said once more")
                .and_at(other.span, "said here")
                .note("the case of letters, blanks and hyphens make no difference to what is typed")
                .help("take one of them out")
        } else if let Some(meaning) = taken_for(own, kind, around) {
            let title = format!("`{own}` is already read as {meaning}");
            Diagnostic::at(Code::WordTaken, title, words.span, "not free")
                .note("`in_words` is for what people type that would not be understood without it")
                .help("take it out, or write other words")
        } else {
            return;
        };
        self.faults.push(fault);
    }
}

/// What words would be read as without standing for anything.
fn taken_for(words: &str, kind: &Kind, around: &Around<'_>) -> Option<String> {
    let said = as_said(words);
    if said.is_empty() {
        return Some("nothing".to_owned());
    }
    if says_not_sure(words) {
        return Some("\"not sure\"".to_owned());
    }
    if is_prompt_word(words) {
        return Some("a word that every prompt takes".to_owned());
    }
    match (kind, around.unit) {
        (Kind::Quantity(kind), Some(unit)) => {
            let read = read_typed(words, &Expected::new(*kind, unit.clone())).ok()?;
            Some(format!("`{}`", read.echo))
        }
        _ if said.bytes().all(|byte| byte.is_ascii_digit()) => {
            Some("a number of the list".to_owned())
        }
        _ => find_choice(around.choices, words).map(|choice| format!("the choice `{}`", choice.id)),
    }
}
