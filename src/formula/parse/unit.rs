//! Units behind numbers and behind `as`, and whole-number powers.

use super::{Parsed, Parser};
use crate::diagnostic::{Code, Diagnostic};
use crate::formula::syntax::AsUnit;
use crate::formula::token::{Token, is_language_word};
use crate::quantity::{
    QuantityKind, Unit, UnitError, UnitExpression, find_unit, near_unit, parse_prompt_unit,
};
use crate::source::Span;

impl Parser<'_, '_> {
    /// The unit behind a number, if a word stands there. A word that is no unit is reported and
    /// passed over.
    pub(super) fn unit_behind_number(&mut self, end: &mut usize) -> Parsed<Option<UnitExpression>> {
        let Token::Word(word) = self.peek() else {
            let is_unit = self.unit_stands(0) || self.reciprocal_stands();
            return if is_unit { self.units(end).map(Some) } else { Ok(None) };
        };
        if is_language_word(word) || (word == "in" && self.converts()) {
            return Ok(None);
        }
        if self.unit_stands(0) {
            return self.units(end).map(Some);
        }
        if self.ahead(1).token == Token::Open {
            let fault = self
                .unexpected("an operator is missing before this")
                .note("a function can't stand right behind a number");
            return self.stop(fault);
        }
        self.unknown_unit(word);
        *end = self.advance().end;
        Ok(None)
    }

    /// Whether a unit, not followed by an opening bracket, stands `ahead`.
    pub(super) fn unit_stands(&self, ahead: usize) -> bool {
        self.unit_at(ahead).is_some()
    }

    /// Whether a unit such as `1/s` stands here.
    fn reciprocal_stands(&self) -> bool {
        self.peek() == Token::Number { value: 1.0, is_whole: true }
            && self.ahead(1).token == Token::Slash
            && self.unit_stands(2)
    }

    fn unit_at(&self, ahead: usize) -> Option<&'static Unit> {
        match self.ahead(ahead).token {
            Token::Percent => find_unit("%"),
            Token::Word(word) if self.ahead(ahead + 1).token != Token::Open => find_unit(word),
            _ => None,
        }
    }

    /// Whether the word `in` that stands here was meant to convert: a word follows it.
    fn converts(&self) -> bool {
        matches!(self.ahead(1).token, Token::Word(word) if !is_language_word(word))
    }

    /// A unit or a product of units, from the unit that stands here on.
    fn units(&mut self, end: &mut usize) -> Parsed<UnitExpression> {
        let start = self.next_range().start;
        let mut units = Vec::new();
        let mut sign = 1;
        if self.reciprocal_stands() {
            self.advance();
            self.advance();
            sign = -1;
        }
        while let Some(unit) = self.unit_at(0) {
            *end = self.advance().end;
            let mut power = 1;
            if self.take(Token::Caret).is_some() {
                (power, *end) = self.exponent()?;
            }
            units.push((unit, power.saturating_mul(sign)));
            sign = 1;
            if self.peek() == Token::Slash && self.unit_stands(1) {
                self.advance();
                sign = -1;
            } else if self.peek() == Token::Percent || self.peek() == Token::Word("in") {
                // `5 micron in Pa` means a conversion, and `%` multiplies nothing.
                break;
            }
        }
        match UnitExpression::product(&units) {
            Ok(unit) => Ok(unit),
            Err(error) => {
                let span = self.span(&(start..*end));
                self.stop(unit_fault(&error, span))
            }
        }
    }

    fn unknown_unit(&mut self, word: &str) {
        let span = self.span(&self.next_range());
        let fault = Diagnostic::at(
            Code::UnknownUnit,
            format!("`{word}` is not a unit"),
            span,
            "the word behind a number is its unit",
        )
        .maybe_help(meant(word).map(|near| format!("did you mean `{near}`?")));
        self.report(fault);
    }

    /// The unit behind `as`.
    pub(super) fn as_unit(&mut self) -> Parsed<Option<AsUnit>> {
        let range = self.next_range();
        let mut end = range.end;
        match self.peek() {
            _ if self.unit_stands(0) || self.reciprocal_stands() => {
                let unit = self.units(&mut end)?;
                let span = self.span(&(range.start..end));
                Ok(Some(AsUnit { unit, span }))
            }
            Token::Number { value: 1.0, is_whole: true } => {
                self.advance();
                let unit = UnitExpression::product(&[]).ok();
                let span = self.span(&range);
                Ok(unit.map(|unit| AsUnit { unit, span }))
            }
            Token::Word(word) => {
                let near = meant(word).map(|near| format!("did you mean `{near}`?"));
                let title = format!("`{word}` is not a unit");
                let span = self.span(&range);
                let label = "a unit is needed behind `as`";
                self.stop(Diagnostic::at(Code::UnknownUnit, title, span, label).maybe_help(near))
            }
            _ => {
                let fault = self.unexpected("a unit is needed behind `as`");
                self.stop(fault)
            }
        }
    }

    /// The whole number behind `^`, with the end of its last token.
    pub(super) fn exponent(&mut self) -> Parsed<(i8, usize)> {
        let (start, mut end) = (self.next_range().start, self.next_range().end);
        let is_negative = self.take(Token::Minus).is_some();
        if let Token::Number { value, is_whole: true } = self.peek() {
            end = self.advance().end;
            if value <= f64::from(i8::MAX) {
                // Whole and in range, so the conversion is exact.
                let power = value as i8;
                return Ok((if is_negative { -power } else { power }, end));
            }
        }
        let title = "a power must be a whole number from -127 to 127";
        let mut fault =
            Diagnostic::at(Code::BadNumber, title, self.span(&(start..end)), "this power");
        if let Token::Number { value: 0.5, .. } = self.peek() {
            fault = fault.help("write `sqrt(...)` for the square root");
        }
        self.stop(fault)
    }
}

/// The unit that a word most likely meant: near to it, or a temperature as it is said at a prompt,
/// such as `F`.
fn meant(word: &str) -> Option<String> {
    let said = || parse_prompt_unit(word, QuantityKind::TEMPERATURE).ok();
    let temperature = || said().filter(|unit| unit.kind == QuantityKind::TEMPERATURE);
    near_unit(word).map(str::to_owned).or_else(|| temperature().map(|unit| unit.symbol))
}

fn unit_fault(error: &UnitError, span: Span) -> Diagnostic {
    match error {
        UnitError::NoTrueZero { unit, mend } => Diagnostic::at(
            Code::WrongUnit,
            format!("`{unit}` can't be part of a product of units"),
            span,
            "does not count from a true zero",
        )
        .help(format!("write `{mend}`")),
        _ => Diagnostic::at(Code::UnknownUnit, error.to_string(), span, "this unit"),
    }
}
