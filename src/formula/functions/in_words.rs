//! An entry of the table as people read it.

use super::{Function, Gives, Need, Parameter, Takes, in_unit};
use crate::formula::Kind;
use crate::quantity::QuantityKind;
use crate::text::list_or;

impl Function {
    /// The kind of what it gives: `a pressure`, `one of viscous, transitional or molecular`.
    #[must_use]
    pub fn gives_in_words(&self) -> String {
        match self.gives {
            Gives::Kind(kind) => Kind::Quantity(kind).with_article(),
            Gives::From(_) => "a kind that follows from what it is given".to_owned(),
            Gives::OfName => "the kind of the name".to_owned(),
            Gives::YesNo => Kind::YesNo.with_article(),
            Gives::Word(words) => format!("one of {}", list_or(&named(words))),
        }
    }

    /// The words that it may give, each with its meaning; none if it gives a number.
    #[must_use]
    pub fn words(&self) -> &'static [(&'static str, &'static str)] {
        match self.gives {
            Gives::Word(words) => words,
            _ => &[],
        }
    }
}

impl Parameter {
    /// What may stand there: `a pressure from 1 micron to 760000 micron`.
    #[must_use]
    pub fn takes_in_words(&self) -> String {
        let kind = match self.takes {
            Takes::Quantity(kind) => Kind::Quantity(kind).with_article(),
            Takes::AnyQuantity => "any quantity".to_owned(),
            Takes::Word(words) => format!("one of {}", list_or(&named(words))),
            Takes::Readings => "readings".to_owned(),
            Takes::SeveralQuantities => "quantities of one kind, or a list of them".to_owned(),
            Takes::SeveralValues => "values of any kind, or a list of them".to_owned(),
            Takes::Question => "the id of a question".to_owned(),
            Takes::Name => "the id of a question, formula or finding".to_owned(),
            Takes::Action => "the id of an action".to_owned(),
        };
        match self.range {
            // The kind of several values is known only in a formula.
            Some((low, high)) if !matches!(self.takes, Takes::SeveralQuantities) => {
                format!("{kind} from {} to {}", self.in_unit(low), self.in_unit(high))
            }
            _ => kind,
        }
    }

    /// The words that it takes, each with its meaning; none if it takes no words.
    #[must_use]
    pub fn words(&self) -> &'static [(&'static str, &'static str)] {
        match self.takes {
            Takes::Word(words) => words,
            _ => &[],
        }
    }

    /// What it is if it is left out: `20 degC`; none if it must be given or the function does
    /// without it.
    #[must_use]
    pub fn default_in_words(&self) -> Option<String> {
        let Need::Default(si) = self.need else { return None };
        // The place of a word is a small whole number.
        let word = self.words().get(si as usize).map(|(word, _)| (*word).to_owned());
        Some(word.unwrap_or_else(|| self.in_unit(si)))
    }

    fn in_unit(&self, si: f64) -> String {
        match self.takes {
            Takes::Quantity(kind) => in_unit(si, kind),
            _ => in_unit(si, QuantityKind::NUMBER),
        }
    }
}

fn named(words: &[(&'static str, &'static str)]) -> Vec<&'static str> {
    words.iter().map(|(word, _)| *word).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_parameter_is_told_in_the_units_of_people() {
        let pressure = Parameter {
            range: Some((0.0, 101_325.0)),
            need: Need::Default(66.661_193_707_5),
            ..Parameter::required("target", "", Takes::Quantity(QuantityKind::PRESSURE))
        };
        assert_eq!(pressure.takes_in_words(), "a pressure from 0 micron to 760000 micron");
        assert_eq!(pressure.default_in_words().as_deref(), Some("500 micron"));
        let temper = Parameter {
            need: Need::Default(1.0),
            ..Parameter::required("temper", "", Takes::Word(&[("soft", ""), ("hard", "")]))
        };
        assert_eq!(temper.takes_in_words(), "one of soft or hard");
        assert_eq!(temper.default_in_words().as_deref(), Some("hard"));
    }
}
