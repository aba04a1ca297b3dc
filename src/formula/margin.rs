//! By how much a comparison holds or fails, in words.

use super::evaluate::evaluate;
use super::resolved::{Checked, Expression, Resolved, Shape};
use super::{Facts, Kind, Summary, Value, show_value};
use crate::quantity::{QuantityKind, UnitExpression, show};
use crate::text::{Line, Role, spoken};

impl Checked {
    /// For a formula that compares one named quantity with something: by how much the first lies
    /// above or below the second, with its doubt, as in `733 +- 90 micron above the blank off limit
    /// (165 micron)`.
    /// None for other formulas, where they compare bare numbers, where nobody could tell what the second
    /// one is, and while something is not known.
    #[must_use]
    pub fn margin(&self, facts: &dyn Facts) -> Option<Line> {
        let Resolved::Compare(sides, _) = &self.root.form else { return None };
        let [left, right] = &sides[..] else { return None };
        if left.shape != Shape::Number || right.shape != Shape::Number {
            return None;
        }
        // A bare number is a ratio or a count: `520 above 3` tells nobody what is how far off.
        let is_bare = |unit: &UnitExpression| matches!(unit.symbol.as_str(), "" | "1");
        let unit = named_unit(left, facts).filter(|unit| !is_bare(unit))?;
        let Value::Quantity(draws) = evaluate(&self.difference(left, right), facts) else {
            return None;
        };
        let summary = Summary::of(&draws);
        let (size, word) = match summary.middle {
            middle if middle < 0.0 => (-middle, "below"),
            middle => (middle, "above"),
        };
        let kind = QuantityKind::computed(unit.kind.dimension);
        let width = Some(summary.half_width()).filter(|&width| width > 0.0);
        let shown = show(size, width, unit, kind);
        let line = Line::new().push(Role::Value, shown).push(Role::Plain, format!(" {word} "));
        Some(line.join(self.second_side(right, unit, facts)?))
    }

    /// `the blank off limit (165 micron)` for a name, else the value, each with what it is made of.
    /// None for a computed value of which that can't be told: a figure from nowhere tells nobody
    /// anything.
    fn second_side(
        &self,
        side: &Expression,
        unit: &UnitExpression,
        facts: &dyn Facts,
    ) -> Option<Line> {
        let alone = Self { root: Box::new(side.clone()), ..self.clone() };
        let value = show_value(&evaluate(&alone, facts), &Kind::Quantity(unit.kind), Some(unit));
        let made_of = self.made_of(side, facts);
        Some(match side.form {
            Resolved::Recall(used) => {
                let made_of = made_of.map(|made_of| format!(": {made_of}")).unwrap_or_default();
                Line::new()
                    .push(Role::Name, format!("the {}", spoken(facts.name(used.symbol))))
                    .push(Role::Plain, format!(" ({value}{made_of})"))
            }
            Resolved::Constant(_) => Line::new().push(Role::Value, value),
            _ => Line::new().push(Role::Value, value).push(Role::Plain, format!(" ({})", made_of?)),
        })
    }

    fn difference(&self, left: &Expression, right: &Expression) -> Self {
        let terms = vec![(false, left.clone()), (true, right.clone())];
        let root = Expression {
            form: Resolved::Sum(terms),
            range: left.range.start..right.range.end,
            shape: Shape::Number,
            kind: left.kind.clone(),
            unit: None,
        };
        Self { root: Box::new(root), ..self.clone() }
    }
}

/// The unit of a side that is nothing but a name.
fn named_unit<'f>(side: &Expression, facts: &'f dyn Facts) -> Option<&'f UnitExpression> {
    match side.form {
        Resolved::Recall(used) => facts.unit(used.symbol),
        _ => None,
    }
}
