//! What stands between operators: names, numbers, signs, brackets, `not`, `if`; and what is
//! said where something else stands.

use super::wording::meant;
use super::{Binding, Parsed, Parser};
use crate::diagnostic::{Code, Diagnostic};
use crate::formula::syntax::{Branches, Form, Node};
use crate::formula::token::{Token, is_language_word};

impl Parser<'_, '_> {
    /// An operand with what stands before it.
    pub(super) fn prefix(&mut self) -> Parsed<Node> {
        match self.peek() {
            Token::Number { .. } => self.literal(),
            Token::Plus | Token::Minus if self.is_sign_of_number() => self.literal(),
            Token::Minus => self.negated(),
            Token::Open => self.bracketed(),
            Token::Word("not") => self.not(),
            Token::Word("if") => self.deeper(Self::branches),
            Token::Word("yes") => self.word_alone(Form::Truth(true)),
            Token::Word("no") => self.word_alone(Form::Truth(false)),
            Token::Word("never") => self.word_alone(Form::Never),
            Token::Word(word) if !is_language_word(word) => self.name_or_call(word),
            _ => self.value_missing(),
        }
    }

    fn word_alone(&mut self, form: Form) -> Parsed<Node> {
        let range = self.advance();
        self.node(form, range)
    }

    fn negated(&mut self) -> Parsed<Node> {
        let start = self.advance().start;
        let inner = self.deeper(|parser| parser.expression(Binding::Negate))?;
        let range = start..inner.range.end;
        self.node(Form::Negate(Box::new(inner)), range)
    }

    fn not(&mut self) -> Parsed<Node> {
        let start = self.advance().start;
        let inner = self.deeper(|parser| parser.expression(Binding::Not))?;
        let range = start..inner.range.end;
        self.node(Form::Not(Box::new(inner)), range)
    }

    /// The inner node takes the brackets into its range, so that a text cut out is whole.
    fn bracketed(&mut self) -> Parsed<Node> {
        let open = self.advance();
        let mut inner = self.deeper(|parser| parser.expression(Binding::Anything))?;
        let close = self.close(&open, "`)`")?;
        inner.range = open.start..close.end;
        inner.span = self.span(&inner.range);
        Ok(inner)
    }

    /// Passes over the bracket that closes `open`, or says what stands there instead of
    /// `expected`.
    pub(super) fn close(
        &mut self,
        open: &std::ops::Range<usize>,
        expected: &str,
    ) -> Parsed<std::ops::Range<usize>> {
        self.mend_infix();
        if let Some(close) = self.take(Token::Close) {
            return Ok(close);
        }
        let opener = self.span(open);
        if self.peek() == Token::End {
            let end = self.span(&self.next_range());
            return self.stop(
                Diagnostic::at(
                    Code::UnclosedBracket,
                    "a bracket is not closed",
                    opener,
                    "opened here",
                )
                .and_at(end, "the formula ends here"),
            );
        }
        let mut fault = self.unexpected(&format!("{expected} is needed here"));
        if self.peek() == Token::Word("as") {
            fault = fault.note("`as` stands at the end of the whole formula, outside all brackets");
        }
        self.stop(fault.and_at(opener, "opened here"))
    }

    fn branches(&mut self) -> Parsed<Node> {
        let start = self.advance().start;
        let condition = self.expression(Binding::Anything)?;
        self.branch_word("then")?;
        let then = self.expression(Binding::Anything)?;
        self.branch_word("else")?;
        let otherwise = self.expression(Binding::Anything)?;
        let range = start..otherwise.range.end;
        self.node(Form::If(Box::new(Branches { condition, then, otherwise })), range)
    }

    fn branch_word(&mut self, word: &'static str) -> Parsed<()> {
        if self.take(Token::Word(word)).is_some() {
            return Ok(());
        }
        let fault = self
            .unexpected(&format!("`{word}` is needed here"))
            .note("a choice between two values is written `if a then b else c`");
        self.stop(fault)
    }

    /// A fault at the next token.
    pub(super) fn unexpected(&self, label: &str) -> Diagnostic {
        let title = match self.peek() {
            Token::End => "the formula ends too early".to_owned(),
            _ => format!("`{}` is not expected here", &self.text[self.next_range()]),
        };
        self.titled(&title, label)
    }

    fn titled(&self, title: &str, label: &str) -> Diagnostic {
        Diagnostic::at(Code::UnexpectedToken, title, self.span(&self.next_range()), label)
    }

    fn value_missing<T>(&mut self) -> Parsed<T> {
        let range = self.next_range();
        let written = &self.text[range.clone()];
        let title = match self.peek() {
            Token::End => "the formula ends where a value is needed".to_owned(),
            _ => format!("`{written}` stands where a value is needed"),
        };
        let mut fault = Diagnostic::at(
            Code::UnexpectedToken,
            title,
            self.span(&range),
            "a name, a number or a bracket belongs here",
        );
        if self.peek() == Token::Plus {
            fault = fault.help("leave out the `+`");
        }
        self.stop(fault)
    }

    /// Mends what stands for an operator and is none, after reporting it: `=` for `is`, `in` for
    /// `as`.
    pub(super) fn mend_infix(&mut self) {
        let word_follows = matches!(self.ahead(1).token, Token::Word(_));
        let range = self.next_range();
        let (title, label, help, meant) = match self.peek() {
            Token::Equals => (
                "`=` does not compare",
                "`=` only names an argument of a function",
                if word_follows {
                    "write `is`"
                } else {
                    "compare measured values with `<`, `<=`, `>` or `>=`"
                },
                "is",
            ),
            Token::Word("in") if word_follows => {
                ("`in` does not convert", "`in` is the inch", "write `as`", "as")
            }
            _ => return,
        };
        let fault = Diagnostic::at(Code::BadOperator, title, self.span(&range), label).help(help);
        self.report(fault);
        let at = self.next.min(self.tokens.len() - 1);
        self.tokens[at].token = Token::Word(meant);
    }

    /// What is said where the formula should have ended.
    pub(super) fn left_over<T>(&mut self, is_behind_unit: bool) -> Parsed<T> {
        let token = self.peek();
        let fault = match token {
            Token::Close => self.titled("`)` closes no bracket", "no `(` before it is open"),
            Token::PlusMinus => self
                .unexpected("`+-` gives the half-width of a number")
                .note("doubt is written on numbers only, as in `25 +- 5 micron`"),
            Token::Percent => self
                .unexpected("`%` belongs to a number")
                .note("`%` is a unit and stands behind a number, as in `10 %`"),
            _ if is_behind_unit => self.unexpected("the unit behind `as` ends the formula"),
            Token::Number { .. } => self.number_left_over(),
            Token::Word("then" | "else") => self.unexpected("there is no `if` before it"),
            Token::Comma => self
                .titled("a comma stands outside a call", "nothing to separate here")
                .help("write `and` where both are to be so, `or` where one is enough"),
            _ => self.operator_missing(),
        };
        self.stop(fault)
    }

    fn operator_missing(&self) -> Diagnostic {
        let written = &self.text[self.next_range()];
        let title = format!("an operator is missing before `{written}`");
        let (before, after) = self.text.split_at(self.next_range().start);
        self.titled(&title, "no operator before this").maybe_help(meant(before, after))
    }

    fn number_left_over(&self) -> Diagnostic {
        let fault = self.operator_missing();
        let (before, range) = (self.tokens.get(self.next.wrapping_sub(1)), self.next_range());
        let written = &self.text[range.clone()];
        match before {
            Some(before)
                if matches!(before.token, Token::Number { is_whole: true, .. })
                    && written.len() == 3
                    && before.range.len() <= 3
                    && range.start == before.range.end + 1 =>
            {
                fault.help(format!("write `{}{written}`", &self.text[before.range.clone()]))
            }
            _ => fault,
        }
    }
}
