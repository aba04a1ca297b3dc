//! Comparisons: chains of `<`, `is`, `is one of`, `includes`.

use super::{Binding, Parsed, Parser};
use crate::diagnostic::{Code, Diagnostic};
use crate::formula::syntax::{Comparison, Form, IsOneOf, Node, Order, Word};
use crate::formula::token::Token;

impl Parser<'_, '_> {
    /// A comparison whose left side has been read.
    pub(super) fn comparison(&mut self, left: Node) -> Parsed<Node> {
        let node = match self.peek() {
            Token::Word("is") => self.is(left)?,
            Token::Word("includes") => self.includes(left)?,
            _ => self.chain(left)?,
        };
        self.mend_infix();
        if super::infix(self.peek()) == Some(Binding::Compare) {
            let fault = self
                .unexpected("a second comparison")
                .and_at(node.span, "this is a yes or no already")
                .note("only `<`, `<=`, `>` and `>=` may be chained, as in `a < b <= c`");
            return self.stop(fault);
        }
        Ok(node)
    }

    fn chain(&mut self, first: Node) -> Parsed<Node> {
        let mut range = first.range.clone();
        let mut links = Vec::new();
        while let Some(order) = order(self.peek()) {
            self.advance();
            let node = self.expression(Binding::Compare)?;
            range.end = node.range.end;
            links.push(Comparison { order, node });
        }
        self.node(Form::Compare(Box::new(first), links), range)
    }

    fn is(&mut self, left: Node) -> Parsed<Node> {
        let word = self.advance();
        let is_negated = self.take(Token::Word("not")).is_some();
        let (options, is_list, end) = if self.is_one_of() {
            let (options, end) = self.options()?;
            (options, true, end)
        } else {
            let option = self.option(&word)?;
            let end = option.range.end;
            (vec![option], false, end)
        };
        let range = left.range.start..end;
        self.node(Form::Is(Box::new(left), IsOneOf { is_negated, is_list, options }), range)
    }

    fn is_one_of(&self) -> bool {
        self.peek() == Token::Word("one") && self.ahead(1).token == Token::Word("of")
    }

    /// One value behind `is`; a slip such as `is > 5 micron` gets its own mend.
    fn option(&mut self, is: &std::ops::Range<usize>) -> Parsed<Node> {
        if let Some(order) = order(self.peek()) {
            let span = self.span(&(is.start..self.next_range().end));
            let symbol = order.symbol();
            return self.stop(
                Diagnostic::at(
                    Code::UnexpectedToken,
                    format!("`is` and `{symbol}` stand together"),
                    span,
                    "two comparisons",
                )
                .help(format!("write `{symbol}` alone")),
            );
        }
        self.expression(Binding::Compare)
    }

    fn options(&mut self) -> Parsed<(Vec<Node>, usize)> {
        self.advance();
        self.advance();
        let Some(open) = self.take(Token::Open) else {
            let fault = self
                .unexpected("`(` is needed here")
                .note("the choices stand in brackets, as in `is one of (dark, cloudy)`");
            return self.stop(fault);
        };
        let mut options = Vec::new();
        loop {
            options.push(self.deeper(|parser| parser.expression(Binding::Anything))?);
            if self.take(Token::Comma).is_none() {
                let close = self.close(&open, "`,` or `)`")?;
                return Ok((options, close.end));
            }
        }
    }

    fn includes(&mut self, left: Node) -> Parsed<Node> {
        self.advance();
        let Token::Word(word) = self.peek() else {
            let fault = self.unexpected("the id of a choice is needed behind `includes`");
            return self.stop(fault);
        };
        let text = word.to_owned();
        let range = self.advance();
        let choice = Word { text, span: self.span(&range) };
        let range = left.range.start..range.end;
        self.node(Form::Includes(Box::new(left), choice), range)
    }
}

fn order(token: Token<'_>) -> Option<Order> {
    Some(match token {
        Token::Less => Order::Less,
        Token::AtMost => Order::AtMost,
        Token::Greater => Order::Greater,
        Token::AtLeast => Order::AtLeast,
        _ => return None,
    })
}
