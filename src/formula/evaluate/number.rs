//! Arithmetic draw by draw. Terms and factors are taken in the order written.

use super::Evaluator;
use super::column::{Column, Draw, first_reason};
use crate::formula::resolved::{Expression, Resolved, Shape};
use crate::formula::{Draws, Unknown, Value};

impl Evaluator<'_> {
    /// A part that is a number, in SI units.
    pub(super) fn number(&self, part: &Expression) -> Column<f64> {
        match &part.form {
            Resolved::Negate(inner) => {
                let inner = self.number(inner);
                self.finite(part, inner.draws.map(|x| -x), inner.reason)
            }
            Resolved::Sum(terms) => {
                self.folded(
                    part,
                    terms,
                    |total, x, is_taken_away| {
                        if is_taken_away { total - x } else { total + x }
                    },
                )
            }
            Resolved::Product(factors) => {
                self.folded(
                    part,
                    factors,
                    |total, x, is_divisor| {
                        if is_divisor { total / x } else { total * x }
                    },
                )
            }
            Resolved::Power(base, exponent) => {
                let base = self.number(base);
                self.finite(part, base.draws.map(|x| power(x, *exponent)), base.reason)
            }
            Resolved::If(parts) => self.picked(part, parts, Self::number),
            Resolved::Apply(function, values) => self.apply(part, function, values),
            Resolved::Default(si) => Column { draws: Draws::Same(*si), reason: None },
            _ => self.column(part, self.whole(part)),
        }
    }

    /// A value that should be a number, as a column.
    pub(super) fn column(&self, part: &Expression, value: Value) -> Column<f64> {
        match value {
            Value::Quantity(draws) => self.finite(part, draws, None),
            other => Column::missing(self.reason(part, other)),
        }
    }

    fn folded(
        &self,
        part: &Expression,
        parts: &[(bool, Expression)],
        join: impl Fn(f64, f64, bool) -> f64,
    ) -> Column<f64> {
        let columns: Vec<Column<f64>> = parts.iter().map(|(_, inner)| self.number(inner)).collect();
        let reason = first_reason(&columns);
        let mut rest = columns.iter().zip(parts);
        let Some((first, _)) = rest.next() else {
            return Column::missing(self.not_finite(part));
        };
        let draws = rest.fold(first.draws.clone(), |total, (column, (is_turned, _))| {
            total.zip(&column.draws, |a, b| join(a, b, *is_turned))
        });
        self.finite(part, draws, reason)
    }

    /// Draws that are not finite become missing; a time may be infinite.
    pub(super) fn finite(
        &self,
        part: &Expression,
        draws: Draws<f64>,
        reason: Option<Unknown>,
    ) -> Column<f64> {
        let is_fine = |x: f64| x.is_finite() || (part.shape == Shape::Time && x == f64::INFINITY);
        // Nearly always all are, so that a look that can't end early is the quicker one.
        let values = draws.values().iter();
        if values.clone().fold(true, |all, x| all & x.is_finite()) || values.copied().all(is_fine) {
            return Column { draws, reason: None };
        }
        let draws = draws.map(|x| if is_fine(x) { x } else { f64::MISSING });
        Column { draws, reason: reason.or_else(|| Some(self.not_finite(part))) }
    }
}

/// A whole-number power by repeated squaring, the same bits on every machine.
fn power(base: f64, exponent: i8) -> f64 {
    if base.is_missing() {
        return f64::MISSING;
    }
    let (mut result, mut square) = (1.0, base);
    let mut rest = exponent.unsigned_abs();
    while rest > 0 {
        if rest & 1 == 1 {
            result *= square;
        }
        square *= square;
        rest >>= 1;
    }
    if exponent < 0 { 1.0 / result } else { result }
}

#[cfg(test)]
mod tests {
    use super::power;

    #[test]
    fn powers_are_exact_where_they_can_be() {
        assert_eq!(power(3.0, 4), 81.0);
        assert_eq!(power(-2.0, 3), -8.0);
        assert_eq!(power(2.0, -2), 0.25);
        assert_eq!(power(7.0, 0), 1.0);
        assert_eq!(power(2.0, 127), 170141183460469231731687303715884105728.0);
        assert!(power(0.0, -1).is_infinite());
        assert!(power(f64::NAN, 0).is_nan());
    }
}
