//! Chains of comparisons.

use super::arithmetic::{gauge_advice, is_gauge_clash};
use super::join::{gauge_unit, join};
use super::{Checker, Number, Typed, typed};
use crate::diagnostic::{Code, Diagnostic};
use crate::formula::Kind;
use crate::formula::resolved::{Expression, Resolved};
use crate::formula::syntax::{Comparison, Form, Node, Order};
use crate::quantity::{NAMED_KINDS, Nature, QuantityKind};

impl Checker<'_> {
    pub(super) fn compare(
        &mut self,
        node: &Node,
        first: &Node,
        links: &[Comparison],
    ) -> Option<Typed> {
        let sides: Vec<&Node> =
            std::iter::once(first).chain(links.iter().map(|link| &link.node)).collect();
        let typed_sides: Vec<Option<Typed>> = sides.iter().map(|side| self.node(side)).collect();
        if let Some(fault) = self.probability_compared(&sides, &typed_sides, links) {
            self.report(fault);
            return None;
        }
        let numbers: Vec<Option<Number>> = sides
            .iter()
            .zip(typed_sides)
            .map(|(side, typed)| typed.and_then(|typed| self.ordered(side, typed)))
            .collect();
        let numbers = numbers.into_iter().collect::<Option<Vec<Number>>>()?;
        for (pair, nodes) in numbers.windows(2).zip(sides.windows(2)) {
            if join(pair[0].kind, pair[1].kind).is_none() {
                let fault = self.compared_fault((nodes[0], pair[0].kind), (nodes[1], pair[1].kind));
                self.report(fault);
                return None;
            }
        }
        let values: Vec<Expression> = numbers.into_iter().map(|n| n.expression).collect();
        let orders = links.iter().map(|link| link.order).collect();
        Some(typed(node, Kind::YesNo, Resolved::Compare(values, orders)))
    }

    /// A side of a comparison, which must be a quantity.
    fn ordered(&mut self, node: &Node, typed: Typed) -> Option<Number> {
        let kind = match typed.kind {
            Kind::Quantity(kind) => return Some(Number { kind, expression: typed.expression }),
            kind => kind,
        };
        let subject = self.subject(node);
        let title = format!("{subject} is {} and has no order", kind.with_article());
        let fault = self.side(Diagnostic::nowhere(Code::WrongKind, title), node, &kind);
        let fault = match kind {
            Kind::Choice(set) => fault.note(is_instead(&self.written(node), set.ids())),
            Kind::Choices(_) => fault.note("`includes` asks whether a choice is among them"),
            Kind::Text => fault.note(self.only_shown(node)),
            Kind::List(_) => fault.note("`min`, `max`, `sum` and `count` make one value of a list"),
            _ => fault,
        };
        self.report(fault);
        None
    }

    /// A yes or no compared with anything: its probability is part of it and is not a number.
    fn probability_compared(
        &self,
        sides: &[&Node],
        typed: &[Option<Typed>],
        links: &[Comparison],
    ) -> Option<Diagnostic> {
        let is_truth =
            |typed: &Option<Typed>| typed.as_ref().is_some_and(|t| t.kind == Kind::YesNo);
        let at = typed.iter().position(is_truth)?;
        let node = sides[at];
        let subject = self.subject(node);
        let fault = Diagnostic::nowhere(
            Code::ProbabilityCompared,
            format!("{subject} is a yes or no and can't be compared with a number"),
        );
        let fault = self.side(fault, node, &Kind::YesNo).note(
            "a yes or no carries its own probability: it counts as yes from .9 on and as no up \
             to .1",
        );
        let [link] = links else { return Some(fault) };
        let wants_yes = matches!(
            (link.order, at),
            (Order::Greater | Order::AtLeast, 0) | (Order::Less | Order::AtMost, 1)
        );
        let written = self.written(node);
        Some(fault.help(match wants_yes {
            true => format!("write `{written}` alone"),
            false => format!("write `not {written}`"),
        }))
    }

    fn compared_fault(
        &self,
        (left, a): (&Node, QuantityKind),
        (right, b): (&Node, QuantityKind),
    ) -> Diagnostic {
        let title = format!(
            "{} is {}, but it is compared with {}",
            self.subject(left),
            Kind::Quantity(a).with_article(),
            Kind::Quantity(b).with_article()
        );
        let fault = Diagnostic::nowhere(Code::KindsDiffer, title);
        let fault = self.side(fault, right, &Kind::Quantity(b));
        let fault = self.side(fault, left, &Kind::Quantity(a));
        if is_gauge_clash(a, b) {
            let literal = if a.nature == Nature::Gauge { right } else { left };
            return match literal_unit(literal).and_then(|unit| gauge_unit(&unit)) {
                Some(unit) => fault
                    .note("a gauge pressure counts from the air around")
                    .help(format!("write the unit as `{unit}`")),
                None => gauge_advice(fault),
            };
        }
        difference_advice(fault, (left, a), (right, b))
    }
}

/// How a choice is compared, shown with the first that there is.
fn is_instead(written: &str, choices: &[String]) -> String {
    let example = choices.first().map(|choice| format!(", such as `{written} is {choice}`"));
    let example = example.unwrap_or_default();
    format!("a choice is compared with `is` or `is one of`{example}")
}

/// What to write where a number without a unit meets a quantity that has one.
fn unit_behind(
    fault: Diagnostic,
    (left, a): (&Node, QuantityKind),
    (right, b): (&Node, QuantityKind),
) -> Diagnostic {
    let number = QuantityKind::NUMBER;
    let (side, other) = match (a == number, b == number) {
        (true, false) => (left, b),
        (false, true) => (right, a),
        _ => return fault.note(of_one_kind(a, b)),
    };
    let named = NAMED_KINDS.iter().find(|named| named.kind == other && named.unit != "1");
    let Some(named) = named.filter(|named| named.unit != "%") else {
        return fault.note(of_one_kind(a, b));
    };
    match &side.form {
        Form::Literal(literal) if literal.unit.is_none() => fault.help(format!(
            "write a unit behind the number, such as `{} {}`",
            literal.number, named.unit
        )),
        Form::Name(name) => fault.help(format!(
            "if the number in `{name}` lacks its unit, write it there, such as `5 {}`",
            named.unit
        )),
        _ => fault.note(of_one_kind(a, b)),
    }
}

/// What two sides that can't be compared would have to be.
fn of_one_kind(a: QuantityKind, b: QuantityKind) -> String {
    let (a, b) = (Kind::Quantity(a).with_article(), Kind::Quantity(b).with_article());
    format!("compare {a} with {a}, or {b} with {b}")
}

/// The unit of a literal.
fn literal_unit(node: &Node) -> Option<String> {
    match &node.form {
        Form::Literal(literal) => literal.unit.as_ref().map(|unit| unit.symbol.clone()),
        _ => None,
    }
}

/// What to say where an absolute value meets a difference.
fn difference_advice(
    fault: Diagnostic,
    (left, a): (&Node, QuantityKind),
    (right, b): (&Node, QuantityKind),
) -> Diagnostic {
    if a.dimension != b.dimension {
        return unit_behind(fault, (left, a), (right, b));
    }
    let fault = fault.note("a difference says how far two values lie apart, not where they lie");
    let literal = if a.nature == Nature::Difference { right } else { left };
    match literal_unit(literal).as_deref() {
        Some(unit @ ("degC" | "degF")) => fault.help(format!("write the unit as `{unit}_diff`")),
        Some("psia") => fault.help("write the unit as `psi`"),
        Some("bara") => fault.help("write the unit as `bar`"),
        _ => fault,
    }
}
