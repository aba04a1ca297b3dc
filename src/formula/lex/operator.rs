//! Operators: those of formulas, and those of other languages with what to write instead.

use super::Lexer;
use crate::diagnostic::Code;
use crate::formula::token::Token;

/// Operators of formulas, longer ones first.
const OPERATORS: &[(&str, Token<'static>)] = &[
    ("+-", Token::PlusMinus),
    ("<=", Token::AtMost),
    (">=", Token::AtLeast),
    ("+", Token::Plus),
    ("-", Token::Minus),
    ("*", Token::Star),
    ("/", Token::Slash),
    ("^", Token::Caret),
    ("(", Token::Open),
    (")", Token::Close),
    (",", Token::Comma),
    ("=", Token::Equals),
    ("<", Token::Less),
    (">", Token::Greater),
    ("%", Token::Percent),
];

/// Operators of other languages and look-alikes, longer ones first: as written, what to write,
/// and the tokens that stand for it.
const FOREIGN: &[(&str, &str, &[Token<'static>])] = &[
    ("===", "is", &[Token::Word("is")]),
    ("!==", "is not", &[Token::Word("is"), Token::Word("not")]),
    ("==", "is", &[Token::Word("is")]),
    ("!=", "is not", &[Token::Word("is"), Token::Word("not")]),
    ("<>", "is not", &[Token::Word("is"), Token::Word("not")]),
    ("≠", "is not", &[Token::Word("is"), Token::Word("not")]),
    ("&&", "and", &[Token::Word("and")]),
    ("&", "and", &[Token::Word("and")]),
    ("||", "or", &[Token::Word("or")]),
    ("|", "or", &[Token::Word("or")]),
    ("!", "not", &[Token::Word("not")]),
    ("=>", ">=", &[Token::AtLeast]),
    ("=<", "<=", &[Token::AtMost]),
    ("≥", ">=", &[Token::AtLeast]),
    ("⩾", ">=", &[Token::AtLeast]),
    ("≤", "<=", &[Token::AtMost]),
    ("⩽", "<=", &[Token::AtMost]),
    ("**", "^", &[Token::Caret]),
    ("×", "*", &[Token::Star]),
    ("·", "*", &[Token::Star]),
    ("∙", "*", &[Token::Star]),
    ("÷", "/", &[Token::Slash]),
    ("∕", "/", &[Token::Slash]),
    ("−", "-", &[Token::Minus]),
    ("–", "-", &[Token::Minus]),
    ("—", "-", &[Token::Minus]),
    ("±", "+-", &[Token::PlusMinus]),
    ("[", "(", &[Token::Open]),
    ("]", ")", &[Token::Close]),
    ("{", "(", &[Token::Open]),
    ("}", ")", &[Token::Close]),
    (";", ",", &[Token::Comma]),
];

impl Lexer<'_, '_> {
    /// Reads the operator that starts here, or reports a character that formulas don't use.
    pub(super) fn operator(&mut self, first: char) {
        let rest = self.rest();
        let foreign = FOREIGN.iter().find(|(written, ..)| rest.starts_with(written));
        let own = OPERATORS.iter().find(|(written, _)| rest.starts_with(written));
        match (foreign, own) {
            // `=>` begins with an own operator, `<=` with a foreign one of no greater length.
            (Some(foreign), own)
                if own.is_none_or(|(written, _)| foreign.0.len() > written.len()) =>
            {
                self.foreign(foreign.0, foreign.1, foreign.2);
            }
            (_, Some(&(written, token))) => self.take(written, &[token]),
            _ => self.unused(first),
        }
    }

    fn take(&mut self, written: &str, tokens: &[Token<'static>]) {
        let range = self.at..self.at + written.len();
        for &token in tokens {
            match token {
                Token::Open => self.open += 1,
                Token::Close => self.open = self.open.saturating_sub(1),
                _ => {}
            }
            self.push(token, range.clone());
        }
        self.at = range.end;
    }

    fn foreign(&mut self, written: &str, meant: &str, tokens: &[Token<'static>]) {
        let range = self.at..self.at + written.len();
        let is_bracket = matches!(tokens, [Token::Open | Token::Close | Token::Comma]);
        let code = if is_bracket { Code::BadCharacter } else { Code::BadOperator };
        let title = format!("`{written}` is not used in formulas");
        let help = if tokens.first() == Some(&Token::Word("is")) && self.number_follows(range.end) {
            "compare measured values with `<`, `<=`, `>` or `>=`".to_owned()
        } else {
            format!("write `{meant}`")
        };
        self.fault(code, title, range, "", Some(help));
        self.take(written, tokens);
    }

    /// Whether a number, perhaps with its sign, stands behind a place and its blanks.
    fn number_follows(&self, at: usize) -> bool {
        let rest = self.text[at..].trim_start();
        rest.trim_start_matches(['-', '+']).starts_with(|c: char| c.is_ascii_digit() || c == '.')
    }

    /// Text between quotation marks; a word in it was meant to stand alone.
    fn quoted(&mut self, first: char) {
        let inside = self.at + first.len_utf8();
        let rest = &self.text[inside..];
        let length = rest.find(is_quotation_mark).unwrap_or(rest.len());
        let word = &rest[..length];
        let mark = rest[length..].chars().next().map_or(0, char::len_utf8);
        let range = self.at..inside + length + mark;
        let is_word = word.chars().all(super::continues_word)
            && word.starts_with(super::begins_word)
            && mark > 0;
        let title = "quotation marks are not used in formulas".to_owned();
        let help = is_word.then(|| format!("write `{word}`"));
        self.fault(Code::BadCharacter, title, range.clone(), "", help);
        self.push(Token::Word(if is_word { word } else { "text" }), range.clone());
        self.at = range.end;
    }

    fn unused(&mut self, first: char) {
        if is_quotation_mark(first) {
            return self.quoted(first);
        }
        let range = self.at..self.at + first.len_utf8();
        let (title, help) = match first {
            '?' => (
                "`?` is not used in formulas".to_owned(),
                Some("write `if ... then ... else ...`".to_owned()),
            ),
            ':' if !self.text.contains('?') => (
                "`:` is not used in formulas".to_owned(),
                Some("write `/` where it is to divide".to_owned()),
            ),
            _ => (format!("`{first}` is not used in formulas"), None),
        };
        self.fault(Code::BadCharacter, title, range.clone(), "", help);
        self.at = range.end;
        self.is_spoiled = true;
    }
}

fn is_quotation_mark(c: char) -> bool {
    matches!(c, '"' | '\'' | '`' | '\u{2018}'..='\u{201f}' | '«' | '»')
}
