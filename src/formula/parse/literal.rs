//! Number literals: sign, fraction, unit, half-width.

use std::ops::Range;

use super::{Parsed, Parser};
use crate::diagnostic::{Code, Diagnostic};
use crate::formula::syntax::{Form, Literal, Node};
use crate::formula::token::Token;
use crate::quantity::{Nature, QuantityKind, UnitExpression};
use crate::source::Span;

/// A number with its unit, before doubt is added.
struct Measure {
    number: f64,
    unit: Option<UnitExpression>,
    range: Range<usize>,
    span: Span,
}

impl Parser<'_, '_> {
    /// Whether a sign stands right before a number and belongs to it. It belongs to a power
    /// instead if `^` follows the bare number: `-2^2` is -4.
    pub(super) fn is_sign_of_number(&self) -> bool {
        matches!(self.ahead(1).token, Token::Number { .. })
            && self.touches(1)
            && self.ahead(2).token != Token::Caret
    }

    /// A literal: `45`, `-10 degC`, `3/8 in`, `25 +- 5 micron`.
    pub(super) fn literal(&mut self) -> Parsed<Node> {
        let start = self.next_range().start;
        let sign = match self.peek() {
            Token::Plus | Token::Minus if self.advance_is_minus() => -1.0,
            _ => 1.0,
        };
        let mut measure = self.measure()?;
        measure.number *= sign;
        measure.range.start = start;
        let mut half_width = 0.0;
        if self.take(Token::PlusMinus).is_some() {
            half_width = self.half_width(&mut measure)?;
        }
        let Measure { number, unit, range, .. } = measure;
        self.node(Form::Literal(Literal { number, unit, half_width }), range)
    }

    fn advance_is_minus(&mut self) -> bool {
        let is_minus = self.peek() == Token::Minus;
        self.advance();
        is_minus
    }

    fn measure(&mut self) -> Parsed<Measure> {
        let Token::Number { mut value, is_whole } = self.peek() else {
            let fault = self.unexpected("a number is needed here");
            return self.stop(fault);
        };
        let mut range = self.advance();
        if is_whole && let Some(denominator) = self.fraction() {
            value /= denominator;
            range.end = self.advance_by(2);
        } else if is_whole && let Some((parts, numerator, denominator)) = self.mixed_fraction() {
            let end = self.advance_by(parts);
            self.refuse_mixed(range.start..end, value * denominator + numerator, denominator);
            range.end = end;
        }
        let unit = self.unit_behind_number(&mut range.end)?;
        let span = self.span(&range);
        Ok(Measure { number: value, unit, range, span })
    }

    /// Passes over some tokens and gives the end of the last one.
    fn advance_by(&mut self, tokens: usize) -> usize {
        (0..tokens).map(|_| self.advance().end).last().unwrap_or_default()
    }

    /// The denominator, if the tokens `/8` stand right behind a number and a unit follows.
    fn fraction(&self) -> Option<f64> {
        self.denominator(0).filter(|_| self.touches_last(0) && self.unit_stands(2))
    }

    /// The denominator in the tokens `/8` from `ahead` on.
    fn denominator(&self, ahead: usize) -> Option<f64> {
        match (self.ahead(ahead).token, self.ahead(ahead + 1).token) {
            (Token::Slash, Token::Number { value, is_whole: true })
                if value > 0.0 && self.touches(ahead + 1) =>
            {
                Some(value)
            }
            _ => None,
        }
    }

    /// The length in tokens, the numerator and the denominator, if `-1/8` or ` 1/8` stand behind
    /// a number and a unit follows.
    fn mixed_fraction(&self) -> Option<(usize, f64, f64)> {
        let skip = match self.peek() {
            Token::Minus if self.touches_last(0) && self.touches(1) => 1,
            Token::Number { .. } => 0,
            _ => return None,
        };
        let Token::Number { value, is_whole: true } = self.ahead(skip).token else {
            return None;
        };
        let denominator = self.denominator(skip + 1).filter(|_| self.touches(skip + 1))?;
        self.unit_stands(skip + 3).then_some((skip + 3, value, denominator))
    }

    /// Whether no blank stands between the last token passed and the one `ahead`.
    fn touches_last(&self, ahead: usize) -> bool {
        self.next > 0 && self.tokens[self.next - 1].range.end == self.ahead(ahead).range.start
    }

    fn refuse_mixed(&mut self, range: Range<usize>, numerator: f64, denominator: f64) {
        let written = &self.text[range.clone()];
        let title = format!("`{written}` is a mixed fraction, which formulas don't use");
        let fault = Diagnostic::at(
            Code::BadNumber,
            title,
            self.span(&range),
            "a whole number and a fraction",
        )
        .help(format!("write `{numerator}/{denominator}`"));
        self.report(fault);
    }

    /// Reads the half-width behind `+-` in SI units, and hands its unit on to a number that
    /// has none.
    fn half_width(&mut self, measure: &mut Measure) -> Parsed<f64> {
        let half = self.measure()?;
        measure.range.end = half.range.end;
        match (&measure.unit, half.unit) {
            (None, None) => Ok(half.number),
            (Some(unit), None) => Ok(half.number * unit.factor.abs()),
            (None, Some(unit)) => {
                let si = half.number * unit.factor.abs();
                measure.unit = Some(unit);
                Ok(si)
            }
            (Some(unit), Some(of_half)) => {
                if !is_width_of(&of_half, unit) {
                    let fault = unfit_width(&of_half, half.span, unit, measure.span);
                    self.report(fault);
                }
                Ok(half.number * of_half.factor.abs())
            }
        }
    }
}

/// Whether a half-width may be given in one unit for a value in another.
fn is_width_of(half: &UnitExpression, value: &UnitExpression) -> bool {
    half.symbol == value.symbol
        || half.kind.dimension == value.kind.dimension
            && matches!(half.kind.nature, Nature::Plain | Nature::Difference | Nature::Open)
}

fn unfit_width(
    half: &UnitExpression,
    half_span: Span,
    value: &UnitExpression,
    value_span: Span,
) -> Diagnostic {
    let kind = |kind: QuantityKind| crate::formula::Kind::Quantity(kind).with_article();
    let title = format!("the half-width of {} is given as {}", kind(value.kind), kind(half.kind));
    Diagnostic::at(Code::WrongUnit, title, half_span, kind(half.kind))
        .and_at(value_span, kind(value.kind))
        .maybe_help(
            (half.kind.dimension != value.kind.dimension)
                .then(|| format!("write the half-width in `{}`", value.symbol)),
        )
}
