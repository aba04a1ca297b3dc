//! What a function takes.

use crate::quantity::QuantityKind;

/// One thing that a function takes.
#[derive(Clone, Copy, Debug)]
pub struct Parameter {
    /// Its name, for `name = value`.
    pub name: &'static str,
    /// What it is, in a few words.
    pub says: &'static str,
    /// What may stand there.
    pub takes: Takes,
    /// Whether it may be left out.
    pub need: Need,
    /// The lowest and the highest value in SI units for which the function is known.
    pub range: Option<(f64, f64)>,
}

impl Parameter {
    /// A parameter that must be given, without a range.
    #[must_use]
    pub const fn required(name: &'static str, says: &'static str, takes: Takes) -> Self {
        Self { name, says, takes, need: Need::Required, range: None }
    }

    /// A quantity that must be given, with its lowest and highest value in SI units.
    #[must_use]
    pub const fn within(
        name: &'static str,
        says: &'static str,
        kind: QuantityKind,
        low: f64,
        high: f64,
    ) -> Self {
        let range = Some((low, high));
        Self { name, says, takes: Takes::Quantity(kind), need: Need::Required, range }
    }

    /// The same, which may be left out and then is this, in SI units.
    #[must_use]
    pub const fn or(self, default: f64) -> Self {
        Self { need: Need::Default(default), ..self }
    }
}

/// Whether a parameter may be left out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Need {
    /// It must be given.
    Required,
    /// It may be left out; the function then does without it.
    Optional,
    /// It may be left out and then is this, in SI units (or the place of the word).
    Default(f64),
}

/// What may stand for a parameter.
#[derive(Clone, Copy, Debug)]
pub enum Takes {
    /// A quantity of this kind.
    Quantity(QuantityKind),
    /// A quantity of any kind.
    AnyQuantity,
    /// One of these bare words, each with its meaning.
    Word(&'static [(&'static str, &'static str)]),
    /// The readings of a hold.
    Readings,
    /// Several quantities of one kind, or one list of them; the only parameter of its function.
    SeveralQuantities,
    /// Several values of any kind, or one list of them; the only parameter of its function.
    SeveralValues,
    /// The name of a question.
    Question,
    /// The name of a question, formula or finding.
    Name,
    /// The name of an action.
    Action,
}
