//! Sums, products, powers and signs.

use super::join::gauge_unit;
use super::nature::{self, Clash};
use super::{Checker, Number, Typed, quantity};
use crate::diagnostic::{Code, Diagnostic};
use crate::formula::Kind;
use crate::formula::find_function;
use crate::formula::resolved::Resolved;
use crate::formula::syntax::{Factor, Form, Node, Term};
use crate::quantity::{Dimension, Nature, QuantityKind};

/// What has been added up so far.
struct Left<'n> {
    first: &'n Node,
    last: &'n Node,
    kind: QuantityKind,
}

impl Checker<'_> {
    /// A part that must be a quantity.
    pub(super) fn number(&mut self, node: &Node) -> Option<Number> {
        let typed = self.node(node)?;
        match typed.kind {
            Kind::Quantity(kind) => Some(Number { kind, expression: typed.expression }),
            kind => {
                let fault = self.not_a_number(node, &kind);
                self.report(fault);
                None
            }
        }
    }

    fn not_a_number(&self, node: &Node, kind: &Kind) -> Diagnostic {
        let fault = self.unfit(node, kind, "a number or a measured value");
        match kind {
            Kind::YesNo => {
                fault.note("`if ... then ... else ...` chooses between two values by a yes or no")
            }
            Kind::Choice(_) => fault.note("a choice is compared with `is`"),
            Kind::Choices(_) => fault.note("`includes` asks whether a choice is among them"),
            Kind::Text => fault.note(self.only_shown(node)),
            Kind::List(_) => fault.note("`min`, `max`, `sum` and `count` make one value of a list"),
            Kind::Date | Kind::Readings(_) | Kind::Quantity(_) => fault,
        }
    }

    /// What texts are for.
    pub(super) fn only_shown(&self, node: &Node) -> String {
        format!("a text is only shown, as `{{{}}}` in a sentence", self.written(node))
    }

    pub(super) fn negate(&mut self, node: &Node, inner: &Node) -> Option<Typed> {
        let number = self.number(inner)?;
        match nature::negated(number.kind) {
            Ok(kind) => Some(quantity(node, kind, Resolved::Negate(Box::new(number.expression)))),
            Err(clash) => {
                let fault = self.factor_fault(clash, inner, number.kind);
                let fault = match &inner.form {
                    Form::Literal(_) => fault.maybe_help(Some(format!(
                        "write the sign right before the number: `-{}`",
                        self.written(inner)
                    ))),
                    _ => fault,
                };
                self.report(fault);
                None
            }
        }
    }

    pub(super) fn sum(&mut self, node: &Node, first: &Node, terms: &[Term]) -> Option<Typed> {
        let head = self.number(first);
        let tail: Vec<Option<Number>> = terms.iter().map(|term| self.number(&term.node)).collect();
        let head = head?;
        let mut left = Left { first, last: first, kind: head.kind };
        let mut parts = vec![(false, head.expression)];
        for (term, number) in terms.iter().zip(tail) {
            let number = number?;
            match nature::sum(left.kind, number.kind, term.is_taken_away) {
                Ok(joined) => left.kind = joined,
                Err(clash) => {
                    let fault = self.sum_fault(clash, &left, term, number.kind);
                    self.report(fault);
                    return None;
                }
            }
            left.last = &term.node;
            parts.push((term.is_taken_away, number.expression));
        }
        Some(quantity(node, left.kind, Resolved::Sum(parts)))
    }

    fn sum_fault(
        &self,
        clash: Clash,
        left: &Left<'_>,
        term: &Term,
        kind: QuantityKind,
    ) -> Diagnostic {
        let (left_kind, right_kind) = (Kind::Quantity(left.kind), Kind::Quantity(kind));
        let (left_is, right_is) = (left_kind.with_article(), right_kind.with_article());
        let (subject, right) =
            (self.subject_between(left.first, left.last), self.subject(&term.node));
        let done = if term.is_taken_away { "taken from" } else { "added to" };
        let title = match clash {
            Clash::TwoTemperatures => {
                format!("{subject} and {right} are temperatures and can't be added")
            }
            Clash::TwoGauges => {
                format!("{subject} and {right} are gauge pressures and can't be added")
            }
            _ => format!("{subject} is {left_is}, but {right_is} is {done} it"),
        };
        let fault = Diagnostic::nowhere(Code::KindsDiffer, title);
        let fault = self.side(fault, &term.node, &right_kind);
        let fault = if std::ptr::eq(left.first, left.last) {
            self.side(fault, left.first, &left_kind)
        } else {
            fault.and_at(left.first.span.to(left.last.span), left_is)
        };
        sum_advice(fault, clash, &term.node, left.kind)
    }

    pub(super) fn product(
        &mut self,
        node: &Node,
        first: &Node,
        factors: &[Factor],
    ) -> Option<Typed> {
        let head = self.number(first);
        let tail: Vec<Option<Number>> = factors.iter().map(|f| self.number(&f.node)).collect();
        let head = head?;
        let mut kind = head.kind;
        let mut before = first;
        let mut parts = vec![(false, head.expression)];
        for (factor, number) in factors.iter().zip(tail) {
            let number = number?;
            match nature::product(kind, number.kind, factor.is_divisor) {
                Ok(joined) => kind = joined,
                Err(clash) => {
                    let is_left = is_no_factor(kind);
                    let (culprit, of) =
                        if is_left { (before, kind) } else { (&factor.node, number.kind) };
                    let fault = self.factor_fault(clash, culprit, of);
                    self.report(fault);
                    return None;
                }
            }
            before = &factor.node;
            parts.push((factor.is_divisor, number.expression));
        }
        Some(quantity(node, kind, Resolved::Product(parts)))
    }

    pub(super) fn power(&mut self, node: &Node, base: &Node, exponent: i8) -> Option<Typed> {
        let number = self.number(base)?;
        match nature::power(number.kind, exponent) {
            Ok(kind) => {
                let form = Resolved::Power(Box::new(number.expression), exponent);
                Some(quantity(node, kind, form))
            }
            Err(clash) => {
                let fault = self.factor_fault(clash, base, number.kind);
                self.report(fault);
                None
            }
        }
    }

    fn factor_fault(&self, clash: Clash, node: &Node, kind: QuantityKind) -> Diagnostic {
        let subject = self.subject(node);
        let (title, note) = match clash {
            Clash::TemperatureFactor => (
                format!("{subject} is a temperature and can't be a factor"),
                "a temperature difference can be multiplied and divided, and one temperature can \
                 be divided by another",
            ),
            Clash::GaugeFactor => (
                format!("{subject} is a gauge pressure and can't be a factor"),
                "a gauge pressure counts from the air around; a difference of two can be \
                 multiplied and divided",
            ),
            _ => (
                format!("the unit of {subject} grows beyond what can be held"),
                "the powers of a unit go from -127 to 127",
            ),
        };
        let fault = Diagnostic::nowhere(Code::WrongKind, title);
        self.side(fault, node, &Kind::Quantity(kind)).note(note)
    }
}

/// Whether a quantity of this kind can't be multiplied.
fn is_no_factor(kind: QuantityKind) -> bool {
    kind.nature == Nature::Gauge || kind == QuantityKind::TEMPERATURE
}

fn sum_advice(fault: Diagnostic, clash: Clash, right: &Node, left: QuantityKind) -> Diagnostic {
    let literal = match &right.form {
        Form::Literal(literal) => literal.unit.as_ref().map(|unit| unit.symbol.as_str()),
        _ => None,
    };
    match clash {
        Clash::TwoTemperatures | Clash::TemperatureTakenAway => {
            let fault = fault.note("a temperature difference can be added to a temperature");
            match literal {
                Some(unit @ ("degC" | "degF")) => {
                    fault.help(format!("write the difference in `{unit}_diff`"))
                }
                _ => fault,
            }
        }
        Clash::TwoGauges => {
            let fault = fault.note("a pressure difference can be added to a gauge pressure");
            match literal.and_then(|unit| unit.strip_suffix('g')) {
                Some(unit) => fault.help(format!("write the difference in `{unit}`")),
                None => fault,
            }
        }
        Clash::GaugeAndAbsolute => {
            let mend = (left.nature == Nature::Gauge)
                .then(|| literal.and_then(gauge_unit))
                .flatten()
                .map(|unit| format!("write the unit as `{unit}`"));
            gauge_advice(fault).maybe_help(mend)
        }
        _ => fault,
    }
}

/// What to say where a gauge pressure meets an absolute one.
pub(super) fn gauge_advice(fault: Diagnostic) -> Diagnostic {
    let fault = fault.note(
        "a gauge pressure counts from the air around and an absolute pressure from nothing; only \
         a barometer reading joins them",
    );
    match find_function("absolute") {
        Some(function) => fault.help(format!("convert with `{}`", function.signature())),
        None => fault,
    }
}

/// Whether two kinds are a gauge pressure and another pressure.
pub(super) fn is_gauge_clash(a: QuantityKind, b: QuantityKind) -> bool {
    a.dimension == Dimension::PRESSURE
        && b.dimension == Dimension::PRESSURE
        && (a.nature == Nature::Gauge) != (b.nature == Nature::Gauge)
}
