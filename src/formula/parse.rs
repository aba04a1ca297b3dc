//! From tokens to the tree: an operator-precedence (Pratt) parser.
//!
//! From low to high: `or`, `and`, `not`, comparison, `+ -`, `* /`, unary `-`, `^`. A chain of
//! one precedence becomes one node. A unit belongs to the number before it and binds tighter
//! than any operator.

mod call;
mod comparison;
mod literal;
mod operand;
mod unit;
pub(super) mod wording;

use std::ops::Range;

use super::lex::lex;
use super::syntax::{AsUnit, Factor, Form, Node, Syntax, Term};
use super::token::{Lexeme, Token};
use crate::diagnostic::{Code, Diagnostic, sort_in_file_order};
use crate::source::Span;

/// The longest formula that is read, in bytes.
pub const LONGEST_FORMULA: usize = 20_000;
/// How many brackets, calls, signs and branches may stand inside each other.
pub const DEEPEST_FORMULA: usize = 64;
/// How many parts a formula may have.
pub const LARGEST_FORMULA: usize = 4_000;

/// Reads a formula. `place` says where in the author's file a range of its bytes stands; it is
/// only asked for ranges within the text.
///
/// # Errors
/// Every fault of the characters, numbers and units, and the first fault of the order in which
/// they stand.
///
/// ```
/// use dryhold::formula::parse;
/// use dryhold::source::Sources;
/// let mut sources = Sources::default();
/// let text = "p > 20 micron";
/// let id = sources.add("<formula>", text);
/// assert!(parse(text, &|range| sources.span(id, range.start, range.end)).is_ok());
/// let faults = parse("p >", &|range| sources.span(id, range.start, range.end)).unwrap_err();
/// assert_eq!(faults[0].title, "the formula ends where a value is needed");
/// ```
pub fn parse(text: &str, place: &dyn Fn(Range<usize>) -> Span) -> Result<Syntax, Vec<Diagnostic>> {
    if text.len() > LONGEST_FORMULA {
        let title = format!("a formula of {} bytes is too long", text.len());
        return Err(vec![
            Diagnostic::at(Code::TooDeep, title, place(0..0), "starts here")
                .note(format!("a formula has at most {LONGEST_FORMULA} bytes")),
        ]);
    }
    let lexed = lex(text, place);
    if lexed.is_spoiled {
        return Err(lexed.faults);
    }
    let mut parser = Parser {
        text,
        place,
        tokens: lexed.tokens,
        faults: lexed.faults,
        next: 0,
        depth: 0,
        nodes: 0,
    };
    let parsed = parser.whole();
    let mut faults = parser.faults;
    match parsed {
        Ok((root, unit)) if faults.is_empty() => {
            Ok(Syntax { text: text.into(), span: place(trimmed(text)), root, unit })
        }
        _ => {
            sort_in_file_order(&mut faults);
            Err(faults)
        }
    }
}

/// The range of a text without the blanks around it.
fn trimmed(text: &str) -> Range<usize> {
    let start = text.len() - text.trim_start().len();
    start..start.max(text.trim_end().len())
}

/// A fault was reported after which the parser can't go on.
#[derive(Debug)]
struct Stopped;

type Parsed<T> = Result<T, Stopped>;

/// How tightly an operator holds its sides, from loose to tight.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Binding {
    Anything,
    Or,
    And,
    Not,
    Compare,
    Sum,
    Product,
    Negate,
    Power,
}

struct Parser<'a, 'p> {
    text: &'a str,
    place: &'p dyn Fn(Range<usize>) -> Span,
    tokens: Vec<Lexeme<'a>>,
    faults: Vec<Diagnostic>,
    next: usize,
    depth: usize,
    nodes: usize,
}

impl<'a> Parser<'a, '_> {
    /// The token `ahead` of the next one; the end repeats without end.
    fn ahead(&self, ahead: usize) -> &Lexeme<'a> {
        let last = self.tokens.len() - 1;
        &self.tokens[(self.next + ahead).min(last)]
    }

    fn peek(&self) -> Token<'a> {
        self.ahead(0).token
    }

    fn next_range(&self) -> Range<usize> {
        self.ahead(0).range.clone()
    }

    fn advance(&mut self) -> Range<usize> {
        let range = self.next_range();
        self.next += 1;
        range
    }

    /// Passes over the next token if it is this one.
    fn take(&mut self, token: Token<'_>) -> Option<Range<usize>> {
        (self.peek() == token).then(|| self.advance())
    }

    /// Whether no blank stands between the next token and the one `ahead - 1` after it.
    fn touches(&self, ahead: usize) -> bool {
        ahead == 0 || self.ahead(ahead - 1).range.end == self.ahead(ahead).range.start
    }

    fn span(&self, range: &Range<usize>) -> Span {
        (self.place)(range.clone())
    }

    fn report(&mut self, fault: Diagnostic) {
        self.faults.push(fault);
    }

    fn stop<T>(&mut self, fault: Diagnostic) -> Parsed<T> {
        self.report(fault);
        Err(Stopped)
    }

    fn node(&mut self, form: Form, range: Range<usize>) -> Parsed<Node> {
        self.nodes += 1;
        let span = self.span(&range);
        if self.nodes > LARGEST_FORMULA {
            let title = "the formula has too many parts";
            return self.stop(
                Diagnostic::at(Code::TooDeep, title, span, "one part too many")
                    .note(format!("a formula has at most {LARGEST_FORMULA} parts")),
            );
        }
        Ok(Node { form, range, span })
    }

    /// Goes one level deeper for as long as `inner` runs.
    fn deeper<T>(&mut self, inner: impl FnOnce(&mut Self) -> Parsed<T>) -> Parsed<T> {
        self.depth += 1;
        if self.depth > DEEPEST_FORMULA {
            let span = self.span(&self.next_range());
            let title = "the formula is nested too deeply";
            return self.stop(
                Diagnostic::at(Code::TooDeep, title, span, "one level too many")
                    .note(format!("brackets and branches nest at most {DEEPEST_FORMULA} deep")),
            );
        }
        let result = inner(self);
        self.depth -= 1;
        result
    }

    fn whole(&mut self) -> Parsed<(Node, Option<AsUnit>)> {
        if let Token::End | Token::Word("as") = self.peek() {
            let span = (self.place)(trimmed(self.text));
            return self.stop(Diagnostic::at(
                Code::EmptyFormula,
                "the formula is empty",
                span,
                "a formula belongs here",
            ));
        }
        let root = self.expression(Binding::Anything)?;
        let unit = if self.take(Token::Word("as")).is_some() { self.as_unit()? } else { None };
        if self.peek() != Token::End {
            return self.left_over(unit.is_some());
        }
        Ok((root, unit))
    }

    /// An expression whose operators hold more tightly than `floor`.
    fn expression(&mut self, floor: Binding) -> Parsed<Node> {
        let mut left = self.prefix()?;
        loop {
            self.mend_infix();
            let Some(binding) = infix(self.peek()).filter(|&binding| binding > floor) else {
                return Ok(left);
            };
            left = match binding {
                Binding::Or => self.joined(left, "or", Binding::Or, Form::Or)?,
                Binding::And => self.joined(left, "and", Binding::And, Form::And)?,
                Binding::Compare => self.comparison(left)?,
                Binding::Sum => self.sum(left)?,
                Binding::Product => self.product(left)?,
                _ => self.power(left)?,
            };
        }
    }

    fn joined(
        &mut self,
        first: Node,
        word: &'static str,
        binding: Binding,
        form: fn(Vec<Node>) -> Form,
    ) -> Parsed<Node> {
        let start = first.range.start;
        let mut parts = vec![first];
        let mut end = start;
        while self.take(Token::Word(word)).is_some() {
            let part = self.expression(binding)?;
            end = part.range.end;
            parts.push(part);
        }
        self.node(form(parts), start..end)
    }

    fn sum(&mut self, first: Node) -> Parsed<Node> {
        let mut range = first.range.clone();
        let mut terms = Vec::new();
        while let Token::Plus | Token::Minus = self.peek() {
            let is_taken_away = self.peek() == Token::Minus;
            self.advance();
            let node = self.expression(Binding::Sum)?;
            range.end = node.range.end;
            terms.push(Term { is_taken_away, node });
        }
        self.node(Form::Sum(Box::new(first), terms), range)
    }

    fn product(&mut self, first: Node) -> Parsed<Node> {
        let mut range = first.range.clone();
        let mut factors = Vec::new();
        while let Token::Star | Token::Slash = self.peek() {
            let is_divisor = self.peek() == Token::Slash;
            self.advance();
            let node = self.expression(Binding::Product)?;
            range.end = node.range.end;
            factors.push(Factor { is_divisor, node });
        }
        self.node(Form::Product(Box::new(first), factors), range)
    }

    fn power(&mut self, base: Node) -> Parsed<Node> {
        self.advance();
        let (exponent, end) = self.exponent()?;
        let range = base.range.start..end;
        if self.peek() == Token::Caret {
            let fault = self
                .unexpected("a second power")
                .note("brackets say which power comes first, as in `(a^2)^3`");
            return self.stop(fault);
        }
        self.node(Form::Power(Box::new(base), exponent), range)
    }
}

/// How tightly the operator holds that a token begins; none if it begins none.
fn infix(token: Token<'_>) -> Option<Binding> {
    Some(match token {
        Token::Word("or") => Binding::Or,
        Token::Word("and") => Binding::And,
        Token::Word("is" | "includes") => Binding::Compare,
        Token::Less | Token::AtMost | Token::Greater | Token::AtLeast => Binding::Compare,
        Token::Plus | Token::Minus => Binding::Sum,
        Token::Star | Token::Slash => Binding::Product,
        Token::Caret => Binding::Power,
        _ => return None,
    })
}
