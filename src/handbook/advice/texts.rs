//! Texts that are missing, or too long for the place where they are read.

use crate::diagnostic::{Code, Diagnostic};
use crate::document::Scalar;
use crate::document::raw::{RawHandbook, RawQuestion};
use crate::text::{count, list_and};

/// The most words of a sentence that is read aloud (`estimate`: what a listener keeps).
const MOST_WORDS: usize = 30;

/// The most characters of a row that can't be broken, on a screen of 60 columns with what stands
/// before it (limit of ours).
const WIDEST_ROW: usize = 54;

pub(super) fn advise(raw: &RawHandbook, advice: &mut Vec<Diagnostic>) {
    for question in &raw.questions {
        absent(question, advice);
        if let Some(say) = &question.say {
            long_sentences(say, &format!("`say` of question `{}`", question.id.value), advice);
        }
        for choice in &question.choices {
            let what = format!("choice `{}` of question `{}`", choice.id.value, question.id.value);
            wide(&choice.text, &what, advice);
        }
    }
    for tree in &raw.trees {
        let title = tree.title.iter();
        title.for_each(|text| wide(text, &format!("`title` of tree `{}`", tree.id.value), advice));
        if let Some(say) = &tree.say {
            long_sentences(say, &format!("`say` of tree `{}`", tree.id.value), advice);
        }
    }
}

fn absent(question: &RawQuestion, advice: &mut Vec<Diagnostic>) {
    let texts = [
        ("say", question.say.is_some(), "`say` is read to a caller on the phone"),
        ("why", question.why.is_some(), "`why` is shown to whoever asks what the answer is for"),
    ];
    let missing = texts.iter().filter(|(_, is_written, _)| !is_written);
    let keys: Vec<String> = missing.clone().map(|(key, ..)| format!("`{key}`")).collect();
    if keys.is_empty() {
        return;
    }
    let title = format!("question `{}` has no {}", question.id.value, keys.join(" and no "));
    let verb = if keys.len() == 1 { "belongs" } else { "belong" };
    let label = format!("{} {verb} here", list_and(&keys));
    let uses: Vec<&str> = missing.map(|(_, _, what_for)| *what_for).collect();
    let fault = Diagnostic::at(Code::NoText, title, question.id.span, label);
    advice.push(fault.note(uses.join("; ")));
}

fn long_sentences(say: &Scalar, what: &str, advice: &mut Vec<Diagnostic>) {
    let mut start = 0;
    for sentence in say.text.split_inclusive(['.', '?', '!']) {
        let range = start..start + sentence.trim_end().len();
        start += sentence.len();
        let words = sentence.split_whitespace().count();
        if words > MOST_WORDS {
            let title = format!("a sentence in {what} has {}", count(words, "word"));
            let label = format!("more than {MOST_WORDS} words are hard to follow by ear");
            let span = say.span_of(range);
            advice.push(Diagnostic::at(Code::LongSentence, title, span, label));
        }
    }
}

fn wide(text: &Scalar, what: &str, advice: &mut Vec<Diagnostic>) {
    let length = text.text.trim().chars().count();
    if length > WIDEST_ROW {
        let title = format!("{what} has {}", count(length, "character"));
        let label = format!("more than {WIDEST_ROW} don't fit a narrow screen");
        advice.push(Diagnostic::at(Code::WideRow, title, text.span, label));
    }
}
