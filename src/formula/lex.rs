//! From text to tokens.
//!
//! A character or operator that formulas don't use is reported and stands for what was surely
//! meant, so that one run reports all of them.

mod number;
mod operator;

use std::ops::Range;

use super::token::{LANGUAGE_WORDS, Lexeme, Token};
use crate::diagnostic::{Code, Diagnostic};
use crate::quantity::find_unit;
use crate::source::Span;

/// What the lexer found: tokens, closed by one [`Token::End`], and the faults.
pub(super) struct Lexed<'a> {
    /// All tokens in order.
    pub tokens: Vec<Lexeme<'a>>,
    /// All faults in order.
    pub faults: Vec<Diagnostic>,
    /// Whether something was left out that nothing stands for, so that the order of the tokens
    /// says nothing any more.
    pub is_spoiled: bool,
}

/// Cuts a text into tokens.
pub(super) fn lex<'a>(text: &'a str, place: &dyn Fn(Range<usize>) -> Span) -> Lexed<'a> {
    let mut lexer = Lexer {
        text,
        place,
        at: 0,
        open: 0,
        tokens: Vec::new(),
        faults: Vec::new(),
        is_spoiled: false,
    };
    lexer.run();
    Lexed { tokens: lexer.tokens, faults: lexer.faults, is_spoiled: lexer.is_spoiled }
}

struct Lexer<'a, 'p> {
    text: &'a str,
    place: &'p dyn Fn(Range<usize>) -> Span,
    at: usize,
    /// How many brackets are open; a comma between digits reads differently inside them.
    open: usize,
    tokens: Vec<Lexeme<'a>>,
    faults: Vec<Diagnostic>,
    is_spoiled: bool,
}

impl<'a> Lexer<'a, '_> {
    fn run(&mut self) {
        while let Some(c) = self.rest().chars().next() {
            if c.is_whitespace() {
                self.at += c.len_utf8();
            } else if c.is_ascii_digit() || (c == '.' && self.digit_follows(1)) {
                self.number();
            } else if begins_word(c) {
                self.word();
            } else {
                self.operator(c);
            }
        }
        let end = self.text.trim_end().len();
        self.push(Token::End, end..end);
    }

    fn rest(&self) -> &'a str {
        &self.text[self.at..]
    }

    /// Whether the byte `ahead` of the place is an ASCII digit.
    fn digit_follows(&self, ahead: usize) -> bool {
        self.rest().as_bytes().get(ahead).is_some_and(u8::is_ascii_digit)
    }

    fn push(&mut self, token: Token<'a>, range: Range<usize>) {
        self.tokens.push(Lexeme { token, range });
    }

    fn fault(
        &mut self,
        code: Code,
        title: String,
        range: Range<usize>,
        label: &str,
        help: Option<String>,
    ) {
        let span = (self.place)(range);
        self.faults.push(Diagnostic::at(code, title, span, label).maybe_help(help));
    }

    fn word(&mut self) {
        let rest = self.rest();
        let length = rest.find(|c| !continues_word(c)).unwrap_or(rest.len());
        let (word, range) = (&rest[..length], self.at..self.at + length);
        self.at += length;
        match capitalised_language_word(word) {
            Some(meant) => {
                self.fault(
                    Code::BadOperator,
                    format!("`{word}` is not a word of formulas"),
                    range.clone(),
                    "written in capitals",
                    Some(format!("write `{meant}`")),
                );
                self.push(Token::Word(meant), range);
            }
            None => self.push(Token::Word(word), range),
        }
    }
}

/// `AND` for `and`; names are in lower case, so nothing else can be meant.
fn capitalised_language_word(word: &str) -> Option<&'static str> {
    // Asked first, since nearly every word is in lower case and looking for a unit takes longer.
    if !word.bytes().any(|letter| letter.is_ascii_uppercase()) || find_unit(word).is_some() {
        return None;
    }
    LANGUAGE_WORDS.iter().copied().find(|w| *w != word && w.eq_ignore_ascii_case(word))
}

fn begins_word(c: char) -> bool {
    c.is_alphabetic() || c == '_' || c == '°'
}

fn continues_word(c: char) -> bool {
    c.is_alphanumeric() || c == '_' || c == '°'
}
