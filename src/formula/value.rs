//! What a formula gives.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::Draws;
use super::hold::HoldReadings;

/// Yes, no, or not known, in one draw. In this order two that are joined by "and" come to the lesser one
/// and by "or" to the greater (Kleene's strong logic of three values).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Truth {
    /// No.
    No,
    /// What would decide it is not known.
    Unknown,
    /// Yes.
    Yes,
}

/// Why a value is not known.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Unknown {
    /// This question has no answer yet.
    NotAnswered(String),
    /// This question was answered with "not sure" or was skipped.
    NotSure(String),
    /// There is no earlier answer of this question to look back to.
    NoEarlier(String),
    /// The answer was given before something changed, and tells of what was there then: the
    /// question, and what happened since, in words that fit after "before".
    Outdated(String, String),
    /// A number alone was given, and nobody knows which unit the gauge shows.
    NoUnit(String),
    /// The arithmetic left the finite numbers, such as a division by zero.
    NotFinite(String),
    /// A finding that does not apply here.
    NotApplicable(String),
    /// A function was given a value beyond the range in which it is known, or values that don't go
    /// together; in words.
    Refused(String),
}

impl std::fmt::Display for Unknown {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::NotAnswered(id) => write!(f, "`{id}` is not answered yet"),
            Self::NotSure(id) => write!(f, "`{id}` was answered with not sure"),
            Self::NoEarlier(id) => write!(f, "`{id}` has no earlier answer"),
            Self::Outdated(id, since) => write!(f, "`{id}` was answered before {since}"),
            Self::NoUnit(id) => write!(f, "nobody knows the unit of `{id}`"),
            Self::NotFinite(what) => write!(f, "{what} gives no finite number"),
            Self::NotApplicable(id) => write!(f, "`{id}` does not apply here"),
            Self::Refused(what) => f.write_str(what),
        }
    }
}

/// A value over the draws. Quantities are in SI units.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Value {
    /// Not known, and why.
    Unknown(Unknown),
    /// A quantity in SI units; finite, except that a time may be infinite ("never").
    Quantity(Draws<f64>),
    /// Yes or no, draw by draw.
    Truth(Draws<Truth>),
    /// A choice by its place in the question's order.
    Choice(Draws<u16>),
    /// Which of the choices were named.
    Choices(Arc<[bool]>),
    /// Words.
    Text(Arc<str>),
    /// A day, as written: ISO 8601.
    Date(Arc<str>),
    /// Several values, oldest first.
    List(Arc<[Value]>),
    /// The readings of a hold. No formula holds any, so none are packed.
    #[serde(skip)]
    Readings(Arc<HoldReadings>),
}

/// What the draws say about a yes or no.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Verdict {
    /// Yes in at least nine draws of ten.
    Yes(f64),
    /// Yes in at most one draw of ten.
    No(f64),
    /// Known, but the doubt in the readings leaves it open; with the share of yes.
    TooClose(f64),
    /// What is known does not decide it.
    Unknown,
}

/// Judges a yes or no: yes where P(yes) >= .9, no where P(yes) <= .1 (design choice, common in
/// conformity testing as a guard band; `common_practice`), too close in between. Draws in which
/// it is not known count against both.
#[must_use]
pub fn verdict(truth: &Draws<Truth>) -> Verdict {
    let values = truth.values();
    let share =
        |wanted| values.iter().filter(|&&t| t == wanted).count() as f64 / values.len() as f64;
    let (yes, unknown) = (share(Truth::Yes), share(Truth::Unknown));
    if yes >= 0.9 {
        Verdict::Yes(yes)
    } else if yes + unknown <= 0.1 {
        Verdict::No(yes)
    } else if unknown == 0.0 {
        Verdict::TooClose(yes)
    } else {
        Verdict::Unknown
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nine_of_ten_decide() {
        let column = |yes: usize, unknown: usize| {
            let draw = |row| match row {
                r if r < yes => Truth::Yes,
                r if r < yes + unknown => Truth::Unknown,
                _ => Truth::No,
            };
            Draws::Each((0..super::super::DRAWS).map(draw).collect())
        };
        assert!(matches!(verdict(&column(1900, 0)), Verdict::Yes(_)));
        assert!(matches!(verdict(&column(100, 0)), Verdict::No(_)));
        assert!(matches!(verdict(&column(1000, 0)), Verdict::TooClose(_)));
        assert_eq!(verdict(&column(1000, 500)), Verdict::Unknown);
        assert!(matches!(verdict(&column(0, 100)), Verdict::No(_)));
    }
}
