//! Arithmetic on intervals, with the rounding of the evaluator itself.
//!
//! Sums, products, quotients and whole powers of floating-point numbers are rounded but never
//! change their order, so that the ends of the interval are reached by the same operations that
//! [`evaluate`](crate::formula::evaluate) runs on one number: no widening is needed.

/// What a number may come to: finite values from `low` to `high`, and perhaps not known. An
/// interval with `low > high` holds no known value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Interval {
    pub low: f64,
    pub high: f64,
    pub may_be_unknown: bool,
}

impl Interval {
    /// Not known for certain.
    pub const UNKNOWN: Self =
        Self { low: f64::INFINITY, high: f64::NEG_INFINITY, may_be_unknown: true };
    /// Anything at all.
    pub const ANYTHING: Self =
        Self { low: f64::NEG_INFINITY, high: f64::INFINITY, may_be_unknown: true };

    pub fn between(low: f64, high: f64) -> Self {
        Self { low, high, may_be_unknown: false }
    }

    pub fn is_known_at_all(self) -> bool {
        self.low <= self.high
    }

    /// The only value that it may have.
    pub fn single(self) -> Option<f64> {
        (self.low == self.high && !self.may_be_unknown).then_some(self.low)
    }

    /// Known values of either.
    pub fn joined(self, other: Self) -> Self {
        Self {
            low: self.low.min(other.low),
            high: self.high.max(other.high),
            may_be_unknown: self.may_be_unknown || other.may_be_unknown,
        }
    }

    pub fn negated(self) -> Self {
        Self { low: -self.high, high: -self.low, ..self }
    }

    pub fn plus(self, other: Self) -> Self {
        self.ends(other, |a, b| [a.low + b.low, a.high + b.high])
    }

    pub fn minus(self, other: Self) -> Self {
        self.ends(other, |a, b| [a.low - b.high, a.high - b.low])
    }

    pub fn times(self, other: Self) -> Self {
        self.ends(other, |a, b| {
            hull([a.low * b.low, a.low * b.high, a.high * b.low, a.high * b.high])
        })
    }

    pub fn over(self, other: Self) -> Self {
        if !self.is_known_at_all() || !other.is_known_at_all() {
            return Self::UNKNOWN;
        }
        if other.low <= 0.0 && other.high >= 0.0 {
            // Near zero the quotient leaves every bound, and at zero it is no number.
            return Self::ANYTHING;
        }
        self.ends(other, |a, b| {
            hull([a.low / b.low, a.low / b.high, a.high / b.low, a.high / b.high])
        })
    }

    pub fn power(self, exponent: i8) -> Self {
        if !self.is_known_at_all() {
            return self;
        }
        let whole = |x: f64| power(x, exponent.unsigned_abs());
        let (a, b) = (whole(self.low), whole(self.high));
        let spans_zero = self.low <= 0.0 && self.high >= 0.0;
        let low = if spans_zero && exponent % 2 == 0 { 0.0 } else { a.min(b) };
        let raised = Self { low, high: a.max(b), ..self }.checked();
        if exponent < 0 { Self::between(1.0, 1.0).over(raised) } else { raised }
    }

    pub fn size(self) -> Self {
        if !self.is_known_at_all() {
            return self;
        }
        let (a, b) = (self.low.abs(), self.high.abs());
        let low = if self.low <= 0.0 && self.high >= 0.0 { 0.0 } else { a.min(b) };
        Self { low, high: a.max(b), ..self }
    }

    /// Values of a finite kind: what left the finite numbers is not known.
    pub fn finite(self) -> Self {
        if !self.is_known_at_all() {
            return self;
        }
        let leaves = self.low == f64::NEG_INFINITY || self.high == f64::INFINITY;
        let (low, high) = (self.low.max(f64::MIN), self.high.min(f64::MAX));
        Self { low, high, may_be_unknown: self.may_be_unknown || leaves }
    }

    /// The ends by an operation that keeps the order.
    fn ends(self, other: Self, ends: impl Fn(Self, Self) -> [f64; 2]) -> Self {
        if !self.is_known_at_all() || !other.is_known_at_all() {
            return Self::UNKNOWN;
        }
        let [low, high] = ends(self, other);
        let may_be_unknown = self.may_be_unknown || other.may_be_unknown;
        Self { low, high, may_be_unknown }.checked()
    }

    /// An end that is no number says nothing.
    fn checked(self) -> Self {
        if self.low.is_nan() || self.high.is_nan() { Self::ANYTHING } else { self }
    }
}

fn hull(ends: [f64; 4]) -> [f64; 2] {
    if ends.iter().any(|end| end.is_nan()) {
        return [f64::NAN; 2];
    }
    let low = ends.iter().copied().fold(f64::INFINITY, f64::min);
    [low, ends.iter().copied().fold(f64::NEG_INFINITY, f64::max)]
}

/// By repeated squaring, in the order of the evaluator.
fn power(base: f64, exponent: u8) -> f64 {
    let (mut result, mut square, mut rest) = (1.0, base, exponent);
    while rest > 0 {
        if rest & 1 == 1 {
            result *= square;
        }
        square *= square;
        rest >>= 1;
    }
    result
}

#[cfg(test)]
mod tests {
    use super::Interval;

    fn between(low: f64, high: f64) -> Interval {
        Interval::between(low, high)
    }

    #[test]
    fn every_pair_of_values_lies_in_the_result() {
        let sides = [(-3.0, 2.0), (1.0, 4.0), (-5.0, -0.5), (0.0, 0.0), (0.0, 2.5)];
        for (a, b) in sides.iter().flat_map(|a| sides.map(|b| (*a, b))) {
            let (x, y) = (between(a.0, a.1), between(b.0, b.1));
            let results = [x.plus(y), x.minus(y), x.times(y), x.over(y), x.power(3), x.power(-2)];
            for step in 0..=8 {
                let p = a.0 + (a.1 - a.0) * f64::from(step) / 8.0;
                for other in 0..=8 {
                    let q = b.0 + (b.1 - b.0) * f64::from(other) / 8.0;
                    let values = [p + q, p - q, p * q, p / q, p * p * p, 1.0 / (p * p)];
                    for (value, result) in values.into_iter().zip(results) {
                        let lies = result.low <= value && value <= result.high;
                        assert!(lies || (!value.is_finite() && result.may_be_unknown));
                    }
                }
            }
        }
    }

    #[test]
    fn a_divisor_that_may_be_zero_leaves_everything_open() {
        assert_eq!(between(1.0, 2.0).over(between(-1.0, 1.0)), Interval::ANYTHING);
        assert!(between(1.0, 2.0).over(between(0.5, 1.0)).single().is_none());
        assert_eq!(between(1.0, 1.0).over(between(0.5, 0.5)).single(), Some(2.0));
    }

    #[test]
    fn even_powers_and_sizes_know_that_nothing_lies_below_zero() {
        assert_eq!(between(-2.0, 1.0).power(2), between(0.0, 4.0));
        assert_eq!(between(-2.0, 1.0).size(), between(0.0, 2.0));
        assert_eq!(between(-2.0, -1.0).size(), between(1.0, 2.0));
    }
}
