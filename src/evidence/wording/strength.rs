//! How strong a reason is, in words.

use crate::evidence::ledger::Weight;
use std::fmt;

/// How much a reason moves the odds, whichever way; in order, the weakest first.
///
/// The borders at 1, 3 and 5 nats (odds factors of about 3, 20 and 150) are those of Kass and
/// Raftery, Journal of the American Statistical Association 90(430), 1995, from memory; the
/// words are ours. The lowest border (0.1 nat, an odds factor of 1.1) is an estimate of what
/// nobody would notice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Strength {
    /// Below 0.1 nat.
    Negligible,
    /// From 0.1 to 1 nat.
    Weak,
    /// From 1 to 3 nats.
    Moderate,
    /// From 3 to 5 nats.
    Strong,
    /// From 5 nats on.
    VeryStrong,
    /// Without bound: the cause is proved or excluded, as far as the handbook's numbers go.
    Decisive,
}

impl Strength {
    /// The word as it is written and read.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::Negligible => "negligible",
            Self::Weak => "weak",
            Self::Moderate => "moderate",
            Self::Strong => "strong",
            Self::VeryStrong => "very strong",
            Self::Decisive => "decisive",
        }
    }
}

impl fmt::Display for Strength {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.label())
    }
}

/// The strength of a weight, whichever way it points. What is not a number is negligible.
#[must_use]
pub fn strength(weight: Weight) -> Strength {
    let nats = weight.nats().abs();
    if nats.is_infinite() {
        Strength::Decisive
    } else if nats >= 5.0 {
        Strength::VeryStrong
    } else if nats >= 3.0 {
        Strength::Strong
    } else if nats >= 1.0 {
        Strength::Moderate
    } else if nats >= 0.1 {
        Strength::Weak
    } else {
        Strength::Negligible
    }
}

/// A weight as a reason: `strong reason for it`, `weak reason against it`, or that it says next
/// to nothing.
#[must_use]
pub fn reason(weight: Weight) -> String {
    match strength(weight) {
        Strength::Negligible => "says next to nothing about it".to_owned(),
        strength if weight.nats() > 0.0 => format!("{strength} reason for it"),
        strength => format!("{strength} reason against it"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn borders_belong_to_the_stronger_word() {
        let expected = [
            (0.0, Strength::Negligible),
            (0.0999, Strength::Negligible),
            (0.1, Strength::Weak),
            (1.0, Strength::Moderate),
            (2.999, Strength::Moderate),
            (3.0, Strength::Strong),
            (5.0, Strength::VeryStrong),
            (700.0, Strength::VeryStrong),
            (f64::INFINITY, Strength::Decisive),
            (f64::NAN, Strength::Negligible),
        ];
        for (nats, word) in expected {
            assert_eq!(strength(Weight::from_nats(nats)), word, "{nats} nats");
            assert_eq!(strength(Weight::from_nats(-nats)), word, "-{nats} nats");
        }
    }

    #[test]
    fn a_reason_says_which_way_it_points() {
        assert_eq!(reason(Weight::from_nats(3.2)), "strong reason for it");
        assert_eq!(reason(Weight::from_nats(-0.835)), "weak reason against it");
        assert_eq!(reason(Weight::from_nats(f64::NEG_INFINITY)), "decisive reason against it");
        assert_eq!(reason(Weight::from_nats(-0.01)), "says next to nothing about it");
    }
}
