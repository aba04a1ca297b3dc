//! The comparisons in a formula, and the limits among them: one name compared with a constant.

use super::check::one_line;
use super::evaluate::evaluate;
use super::resolved::{Checked, Expression, Resolved, Shape};
use super::syntax::Order;
use super::{Kind, NoNames, Summary, Symbol, Value};

/// A comparison of two values, at least one of which names something; of a chain, one link.
#[derive(Clone, Debug)]
pub struct Compared {
    /// As it is written, in one line.
    pub text: String,
    /// The comparison by itself, a yes or no.
    pub formula: Checked,
    /// What it is where it compares one name with a constant.
    pub limit: Option<Limit>,
}

/// A comparison of one name with a constant, such as `rise > 50 micron`.
#[derive(Clone, Debug)]
pub struct Limit {
    /// The name.
    pub symbol: Symbol,
    order: Order,
    /// The constant, in SI units.
    constant: f64,
    is_constant_first: bool,
}

impl Limit {
    /// Whether the comparison holds for a value of the name, in SI units; a value may be infinite.
    #[must_use]
    pub fn holds(&self, si: f64) -> bool {
        match self.is_constant_first {
            true => self.order.holds(self.constant, si),
            false => self.order.holds(si, self.constant),
        }
    }

    /// The constant, in SI units.
    #[must_use]
    pub fn constant(&self) -> f64 {
        self.constant
    }
}

impl Checked {
    /// Every comparison in it that names something, in the order of the text.
    #[must_use]
    pub fn comparisons(&self) -> Vec<Compared> {
        let mut found = Vec::new();
        self.add_comparisons(&self.root, &mut found);
        found
    }

    fn add_comparisons(&self, part: &Expression, found: &mut Vec<Compared>) {
        if let Resolved::Compare(sides, orders) = &part.form {
            let links = sides.windows(2).zip(orders);
            let named = links.filter(|(pair, _)| pair.iter().any(|s| s.form.names_something()));
            found.extend(named.map(|(pair, order)| self.compared(&pair[0], &pair[1], *order)));
        }
        for inner in part.form.parts() {
            self.add_comparisons(inner, found);
        }
    }

    fn compared(&self, left: &Expression, right: &Expression, order: Order) -> Compared {
        let range = left.range.start..right.range.end;
        let root = Expression {
            form: Resolved::Compare(vec![left.clone(), right.clone()], vec![order]),
            range: range.clone(),
            shape: Shape::Truth,
            kind: Kind::YesNo,
            unit: None,
        };
        let formula = Self { root: Box::new(root), kind: Kind::YesNo, ..self.clone() };
        let text = one_line(&self.text, range);
        Compared { text, formula, limit: self.limit(left, right, order) }
    }

    fn limit(&self, left: &Expression, right: &Expression, order: Order) -> Option<Limit> {
        let (named, other, is_constant_first) = match (&left.form, &right.form) {
            (Resolved::Recall(used), _) => (used, right, false),
            (_, Resolved::Recall(used)) => (used, left, true),
            _ => return None,
        };
        let constant = self.constant(other)?;
        Some(Limit { symbol: named.symbol, order, constant, is_constant_first })
    }

    /// The value of a part that is a finite number whatever is answered.
    fn constant(&self, part: &Expression) -> Option<f64> {
        if !matches!(part.shape, Shape::Number | Shape::Time) || part.form.names_something() {
            return None;
        }
        let alone = Self { root: Box::new(part.clone()), ..self.clone() };
        match evaluate(&alone, &NoNames) {
            Value::Quantity(draws) => Some(Summary::of(&draws).middle).filter(|si| si.is_finite()),
            _ => None,
        }
    }
}

impl Resolved {
    /// The parts that it is made of.
    fn parts(&self) -> Vec<&Expression> {
        match self {
            Self::Constant(_) | Self::Default(_) | Self::Recall(_) => Vec::new(),
            Self::Negate(one) | Self::Power(one, _) | Self::Includes(one, _) | Self::Not(one) => {
                vec![one]
            }
            Self::Sum(parts) | Self::Product(parts) => parts.iter().map(|(_, part)| part).collect(),
            Self::Compare(parts, _) | Self::And(parts) | Self::Or(parts) => parts.iter().collect(),
            Self::Is(one, _, options) => std::iter::once(&**one).chain(options).collect(),
            Self::If(parts) => parts.iter().collect(),
            Self::Apply(_, values) => values.iter().flatten().collect(),
        }
    }

    fn names_something(&self) -> bool {
        matches!(self, Self::Recall(_))
            || self.parts().into_iter().any(|part| part.form.names_something())
    }
}
