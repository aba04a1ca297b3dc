//! Names, and functions called with what they are given.

use super::{Binding, Parsed, Parser};
use crate::formula::syntax::{Argument, Call, Form, Node, Word};
use crate::formula::token::Token;

impl Parser<'_, '_> {
    /// A name, or a function called if a bracket opens behind it.
    pub(super) fn name_or_call(&mut self, word: &str) -> Parsed<Node> {
        let range = self.advance();
        let Some(open) = self.take(Token::Open) else {
            return self.node(Form::Name(word.to_owned()), range);
        };
        let function = Word { text: word.to_owned(), span: self.span(&range) };
        let (arguments, close) = self.deeper(|parser| parser.arguments(&open))?;
        let call = Call { function, arguments, close: self.span(&close) };
        self.node(Form::Call(call), range.start..close.end)
    }

    fn arguments(
        &mut self,
        open: &std::ops::Range<usize>,
    ) -> Parsed<(Vec<Argument>, std::ops::Range<usize>)> {
        let mut arguments = Vec::new();
        if let Some(close) = self.take(Token::Close) {
            return Ok((arguments, close));
        }
        loop {
            arguments.push(self.argument()?);
            self.mend_infix();
            if self.take(Token::Comma).is_none() {
                let close = self.close(open, "`,` or `)`")?;
                return Ok((arguments, close));
            }
        }
    }

    fn argument(&mut self) -> Parsed<Argument> {
        let name = match (self.peek(), self.ahead(1).token) {
            (Token::Word(word), Token::Equals) => {
                let range = self.advance();
                self.advance();
                Some(Word { text: word.to_owned(), span: self.span(&range) })
            }
            _ => None,
        };
        Ok(Argument { name, value: self.expression(Binding::Anything)? })
    }
}
