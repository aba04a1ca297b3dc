//! Columns of draws of which some may be missing.

use crate::formula::{Draws, Truth, Unknown, Value};

/// One draw, or a mark that it is missing.
pub(super) trait Draw: Copy {
    /// The mark.
    const MISSING: Self;
    /// Whether this is the mark.
    fn is_missing(self) -> bool;
}

impl Draw for f64 {
    const MISSING: Self = Self::NAN;
    fn is_missing(self) -> bool {
        self.is_nan()
    }
}

impl Draw for Truth {
    const MISSING: Self = Self::Unknown;
    fn is_missing(self) -> bool {
        self == Self::Unknown
    }
}

impl Draw for u16 {
    const MISSING: Self = Self::MAX;
    fn is_missing(self) -> bool {
        self == Self::MAX
    }
}

/// A column under computation.
#[derive(Clone, Debug)]
pub(super) struct Column<T> {
    /// The draws, missing ones marked.
    pub draws: Draws<T>,
    /// Why draws are missing; there if and only if some are.
    pub reason: Option<Unknown>,
}

impl<T: Draw> Column<T> {
    /// A column with the reason for draws that are missing in it.
    pub fn new(draws: Draws<T>, reason: impl FnOnce() -> Unknown) -> Self {
        let is_whole = has_none_missing(&draws);
        Self { draws, reason: if is_whole { None } else { Some(reason()) } }
    }

    /// A column that is missing throughout.
    pub fn missing(reason: Unknown) -> Self {
        Self { draws: Draws::Same(T::MISSING), reason: Some(reason) }
    }

    /// The whole column as a value; unknown if any draw is missing.
    pub fn known(self, value: impl FnOnce(Draws<T>) -> Value) -> Value {
        match self.reason {
            Some(reason) => Value::Unknown(reason),
            None => value(self.draws),
        }
    }
}

/// Whether no draw is missing. Nearly always none is, so that a look that can't end early is the
/// quicker one.
pub(super) fn has_none_missing<T: Draw>(draws: &Draws<T>) -> bool {
    draws.values().iter().fold(true, |all, draw| all & !draw.is_missing())
}

/// The first reason that any of some columns has.
pub(super) fn first_reason<T>(columns: &[Column<T>]) -> Option<Unknown> {
    columns.iter().find_map(|column| column.reason.clone())
}

/// One of two columns draw by draw; missing where the condition is.
pub(super) fn pick<T: Draw>(
    condition: &Column<Truth>,
    then: &Column<T>,
    otherwise: &Column<T>,
) -> Column<T> {
    let take = |truth, a, b| match truth {
        Truth::Yes => a,
        Truth::No => b,
        Truth::Unknown => T::MISSING,
    };
    // Both branches in one column of pairs, so that the three are joined row by row.
    let pairs = then.draws.zip(&otherwise.draws, |a, b| (a, b));
    let draws = match &condition.draws {
        Draws::Same(Truth::Yes) => then.draws.clone(),
        Draws::Same(Truth::No) => otherwise.draws.clone(),
        each => each.zip(&pairs, |truth, (a, b)| take(truth, a, b)),
    };
    let lacks = |column: &Column<T>, wanted| {
        let taken = condition.draws.zip(&column.draws, |t, v| t == wanted && v.is_missing());
        taken.values().contains(&true)
    };
    let reason = || {
        let from_condition = condition.reason.clone();
        let from_then = then.reason.clone().filter(|_| lacks(then, Truth::Yes));
        let from_else = otherwise.reason.clone().filter(|_| lacks(otherwise, Truth::No));
        from_condition.or(from_then).or(from_else)
    };
    let is_whole = has_none_missing(&draws);
    Column { draws, reason: if is_whole { None } else { reason() } }
}
