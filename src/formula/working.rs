//! The way to the value of a formula, part by part.

use super::check::one_line;
use super::evaluate::evaluate;
use super::functions::{Function, Takes};
use super::resolved::{Checked, Expression, Resolved};
use super::{Draws, Facts, Kind, Truth, Value};
use crate::quantity::{QuantityKind, UnitExpression};

/// A value on the way to that of a formula.
#[derive(Clone, Debug)]
pub struct Step {
    /// The part of the formula as it was written; for a parameter that was left out, its name.
    pub text: String,
    /// What the part is.
    pub kind: Kind,
    /// The unit in which it is best shown, where the formula gives one.
    pub unit: Option<UnitExpression>,
    /// Its value.
    pub value: Value,
    /// How it came about.
    pub origin: Origin,
}

/// How a value on the way came about.
#[derive(Clone, Copy, Debug)]
pub enum Origin {
    /// It was given, or computed from the parts before it.
    Part,
    /// A function gave it.
    Call(&'static Function),
    /// It stands for a parameter of the function before it that was left out.
    LeftOut,
}

impl Checked {
    /// Every value on the way to that of the formula, innermost first, the whole last. Certain
    /// numbers that stand in the formula are not among them, nor is what no draw takes of an
    /// `if`. A function is followed by what stands for its parameters that were left out.
    #[must_use]
    pub fn working(&self, facts: &dyn Facts) -> Vec<Step> {
        let mut way = Way { formula: self, facts, steps: Vec::new() };
        way.part(&self.root);
        way.steps
    }
}

struct Way<'a> {
    formula: &'a Checked,
    facts: &'a dyn Facts,
    steps: Vec<Step>,
}

impl Way<'_> {
    fn part(&mut self, part: &Expression) {
        match &part.form {
            Resolved::Constant(Value::Quantity(Draws::Each(_))) | Resolved::Recall(_) => {}
            Resolved::Constant(_) | Resolved::Default(_) => return,
            Resolved::If(parts) => self.branches(parts),
            Resolved::Apply(function, values) => return self.call(part, function, values),
            _ => part.parts().into_iter().for_each(|inner| self.part(inner)),
        }
        self.step(part, Origin::Part);
    }

    /// The branches that some draw takes.
    fn branches(&mut self, [condition, then, otherwise]: &[Expression; 3]) {
        self.part(condition);
        let Value::Truth(draws) = self.value(condition) else { return };
        for (wanted, branch) in [(Truth::Yes, then), (Truth::No, otherwise)] {
            if draws.values().contains(&wanted) {
                self.part(branch);
            }
        }
    }

    fn call(
        &mut self,
        part: &Expression,
        function: &'static Function,
        values: &[Option<Expression>],
    ) {
        values.iter().flatten().for_each(|value| self.part(value));
        self.step(part, Origin::Call(function));
        for (parameter, value) in function.parameters.iter().zip(values) {
            let Some(Expression { form: Resolved::Default(si), .. }) = value else { continue };
            let (kind, value) = match parameter.takes {
                Takes::Word(words) => (Kind::word(words), Value::Choice(Draws::Same(*si as u16))),
                Takes::Quantity(kind) => (Kind::Quantity(kind), Value::Quantity(Draws::Same(*si))),
                _ => continue,
            };
            let (text, origin) = (parameter.name.to_owned(), Origin::LeftOut);
            self.steps.push(Step { text, kind, unit: None, value, origin });
        }
    }

    fn step(&mut self, part: &Expression, origin: Origin) {
        let is_whole = std::ptr::eq(part, &*self.formula.root);
        let (kind, unit) = match is_whole {
            true => (self.formula.kind.clone(), self.formula.unit.clone()),
            false => (part.kind.clone(), None),
        };
        let text = bare(&one_line(&self.formula.text, part.range.clone())).to_owned();
        let unit = unit.or_else(|| self.unit(part, &kind));
        self.steps.push(Step { text, kind, unit, value: self.value(part), origin });
    }

    fn value(&self, part: &Expression) -> Value {
        evaluate(&Checked { root: Box::new(part.clone()), ..self.formula.clone() }, self.facts)
    }

    /// The unit of the first number in a part that is of the same kind.
    fn unit(&self, part: &Expression, kind: &Kind) -> Option<UnitExpression> {
        let Kind::Quantity(wanted) = kind else { return None };
        let own = match &part.form {
            Resolved::Recall(used) => self.facts.unit(used.symbol).cloned(),
            Resolved::Constant(_) => part.unit.as_deref().cloned(),
            Resolved::Negate(_) | Resolved::Sum(_) | Resolved::If(_) => {
                part.parts().into_iter().find_map(|inner| self.unit(inner, kind))
            }
            _ => None,
        };
        own.filter(|unit| shows(unit, *wanted))
    }
}

/// Whether a unit shows a kind as it is: `degC` shows no difference.
fn shows(unit: &UnitExpression, kind: QuantityKind) -> bool {
    unit.kind.fits(kind) && (unit.offset == 0.0 || unit.kind == kind)
}

/// A part without the brackets around all of it.
fn bare(text: &str) -> &str {
    let Some(inner) = text.strip_prefix('(').and_then(|rest| rest.strip_suffix(')')) else {
        return text;
    };
    let mut depth = 0_i32;
    for letter in inner.chars() {
        match letter {
            '(' => depth += 1,
            ')' => depth -= 1,
            _ => {}
        }
        if depth < 0 {
            return text;
        }
    }
    bare(inner)
}

impl Expression {
    /// The parts that it is made of, in their order.
    fn parts(&self) -> Vec<&Self> {
        match &self.form {
            Resolved::Constant(_) | Resolved::Recall(_) | Resolved::Default(_) => Vec::new(),
            Resolved::Negate(inner)
            | Resolved::Power(inner, _)
            | Resolved::Includes(inner, _)
            | Resolved::Not(inner) => vec![inner],
            Resolved::Sum(parts) | Resolved::Product(parts) => {
                parts.iter().map(|(_, part)| part).collect()
            }
            Resolved::Compare(parts, _) | Resolved::And(parts) | Resolved::Or(parts) => {
                parts.iter().collect()
            }
            Resolved::Is(left, _, options) => {
                std::iter::once(left.as_ref()).chain(options).collect()
            }
            Resolved::If(parts) => parts.iter().collect(),
            Resolved::Apply(_, values) => values.iter().flatten().collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::formula::{NoNames, check, parse, show_value};
    use crate::source::Sources;

    /// The steps of a formula, each as `text = value`.
    fn steps(text: &str) -> Vec<String> {
        let mut sources = Sources::default();
        let id = sources.add("<formula>", text);
        let syntax = parse(text, &|range| sources.span(id, range.start, range.end)).unwrap();
        let checked = check(&syntax, &NoNames, "test").unwrap();
        let told = |step: super::Step| {
            let shown = show_value(&step.value, &step.kind, step.unit.as_ref());
            format!("{} = {shown}", step.text)
        };
        checked.working(&NoNames).into_iter().map(told).collect()
    }

    #[test]
    fn parts_come_innermost_first_in_their_own_units() {
        assert_eq!(
            steps("2 * (3 kPa + 1 kPa) / (sqrt(4) * 1 kPa)"),
            [
                "3 kPa + 1 kPa = 4 kPa",
                "sqrt(4) = 2",
                "sqrt(4) * 1 kPa = 15000 micron",
                "2 * (3 kPa + 1 kPa) / (sqrt(4) * 1 kPa) = 4",
            ]
        );
    }

    #[test]
    fn the_whole_is_shown_as_asked() {
        assert_eq!(steps("1 kPa + 1 kPa as hPa"), ["1 kPa + 1 kPa = 20 hPa"]);
        assert_eq!(steps("(1 + 2) * (3 + 4)")[2], "(1 + 2) * (3 + 4) = 21");
        assert!(steps("500 micron as Pa").is_empty());
    }

    #[test]
    fn a_number_in_doubt_is_a_value_of_its_own() {
        assert_eq!(
            steps("(20 degC +- 2 K) - 10 degC"),
            ["20 degC +- 2 K = 20 degC", "(20 degC +- 2 K) - 10 degC = 10 K"]
        );
    }

    #[test]
    fn a_branch_that_no_draw_takes_is_not_on_the_way() {
        let text = "if 2 micron > 1 micron then 3 + 4 else 5 + 6";
        assert_eq!(steps(text), ["2 micron > 1 micron = yes", "3 + 4 = 7", &format!("{text} = 7")]);
    }
}
