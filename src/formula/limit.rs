//! Where a limit comes from, in words: `3 times the pump rating of 15 micron`.
//!
//! A person who reads *below 560 micron* has said 700 and 180, and looks for the 560 in vain.

use super::evaluate::evaluate;
use super::resolved::{Checked, Expression, How, Resolved, Use};
use super::show::NOT_KNOWN;
use super::{Facts, Value};
use crate::text::{list_and, spoken};

impl Checked {
    /// How one side of a comparison is made of what was answered or stands in the handbook. None
    /// where it is a number as it is written, or made in a way that has no short words.
    pub(super) fn made_of(&self, side: &Expression, facts: &dyn Facts) -> Option<String> {
        match &side.form {
            Resolved::Constant(_) => None,
            Resolved::Recall(used) => {
                let behind = facts.behind(used.symbol)?;
                behind.made_of(&behind.root, facts)
            }
            _ => self.term(side, facts),
        }
    }

    fn term(&self, part: &Expression, facts: &dyn Facts) -> Option<String> {
        match &part.form {
            Resolved::Constant(_) => self.text.get(part.range.clone()).map(str::to_owned),
            Resolved::Recall(used) => self.named(part, *used, facts),
            Resolved::Product(terms) => self.joined(terms, facts, " times ", " divided by "),
            Resolved::Sum(terms) => self.joined(terms, facts, " plus ", " less "),
            Resolved::Apply(function, terms) => {
                let lead = match function.name {
                    "max" => "the larger of",
                    "min" => "the smaller of",
                    _ => return None,
                };
                let told = terms.iter().map(|term| self.term(term.as_ref()?, facts));
                Some(format!("{lead} {}", list_and(&told.collect::<Option<Vec<_>>>()?)))
            }
            _ => None,
        }
    }

    /// `the pump rating of 15 micron`.
    fn named(&self, part: &Expression, used: Use, facts: &dyn Facts) -> Option<String> {
        let alone = Self { root: Box::new(part.clone()), unit: None, ..self.clone() };
        if !matches!(evaluate(&alone, facts), Value::Quantity(_)) {
            return None;
        }
        let earlier = match used.how {
            How::Latest => "",
            How::First | How::Previous | How::Before(_) => "earlier ",
            How::Every => return None,
        };
        let told = alone.tell(facts);
        let name = spoken(facts.name(used.symbol));
        (!told.contains(NOT_KNOWN)).then(|| format!("the {earlier}{name} of {told}"))
    }

    fn joined(
        &self,
        terms: &[(bool, Expression)],
        facts: &dyn Facts,
        with: &str,
        against: &str,
    ) -> Option<String> {
        let mut words = String::new();
        for (place, (is_against, term)) in terms.iter().enumerate() {
            let sign = match (place, is_against) {
                (0, false) => "",
                (0, true) => return None,
                (_, false) => with,
                (_, true) => against,
            };
            words.push_str(sign);
            words.push_str(&self.term(term, facts)?);
        }
        Some(words)
    }
}
