//! What a part of a condition may come to, from what its slots may hold.

use std::collections::HashMap;

use super::graph::{Graph, Node, Part, PartId};
use super::interval::Interval;
use super::slot::SlotId;
use super::truths::Truths;
use crate::formula::{Body, Function, Given, Order, OutOfRange, Shape};

/// What a part may come to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum May {
    /// A number.
    Number(Interval),
    /// One of these choices, a bit each, and perhaps not known.
    Choice { places: u128, may_be_unknown: bool },
    /// A yes or no.
    Truth(Truths),
    /// Something handed on whole, which may be known and may be not known.
    Whole { may_be_known: bool, may_be_unknown: bool },
}

impl May {
    /// Anything of a shape, not known besides.
    pub fn anything(shape: Shape) -> Self {
        match shape {
            Shape::Number => Self::Number(Interval::ANYTHING.finite()),
            Shape::Time => Self::Number(Interval { low: f64::MIN, ..Interval::ANYTHING }),
            Shape::Truth => Self::Truth(Truths::ALL),
            Shape::Choice => Self::Choice { places: u128::MAX, may_be_unknown: true },
            Shape::Whole => Self::Whole { may_be_known: true, may_be_unknown: true },
        }
    }

    /// Not known for certain, of a shape.
    pub fn unknown(shape: Shape) -> Self {
        match shape {
            Shape::Number | Shape::Time => Self::Number(Interval::UNKNOWN),
            Shape::Truth => Self::Truth(Truths::UNKNOWN),
            Shape::Choice => Self::Choice { places: 0, may_be_unknown: true },
            Shape::Whole => Self::Whole { may_be_known: false, may_be_unknown: true },
        }
    }

    fn may_be_known(self) -> bool {
        match self {
            Self::Number(interval) => interval.is_known_at_all(),
            Self::Choice { places, .. } => places != 0,
            Self::Truth(truths) => truths.has(Truths::KNOWN),
            Self::Whole { may_be_known, .. } => may_be_known,
        }
    }

    fn may_be_unknown(self) -> bool {
        match self {
            Self::Number(interval) => interval.may_be_unknown,
            Self::Choice { may_be_unknown, .. } | Self::Whole { may_be_unknown, .. } => {
                may_be_unknown
            }
            Self::Truth(truths) => truths.has(Truths::UNKNOWN),
        }
    }

    /// Either of two.
    fn joined(self, other: Self) -> Self {
        match (self, other) {
            (Self::Number(a), Self::Number(b)) => Self::Number(a.joined(b)),
            (Self::Truth(a), Self::Truth(b)) => Self::Truth(a.and_those_of(b)),
            (
                Self::Choice { places: a, may_be_unknown: x },
                Self::Choice { places: b, may_be_unknown: y },
            ) => Self::Choice { places: a | b, may_be_unknown: x || y },
            (a, b) => Self::Whole {
                may_be_known: a.may_be_known() || b.may_be_known(),
                may_be_unknown: a.may_be_unknown() || b.may_be_unknown(),
            },
        }
    }

    pub fn truths(self) -> Truths {
        match self {
            Self::Truth(truths) => truths,
            _ => Truths::ALL,
        }
    }

    fn interval(self) -> Interval {
        match self {
            Self::Number(interval) => interval,
            _ => Interval::ANYTHING,
        }
    }
}

/// One evaluation over what the slots may hold.
pub(super) struct Evaluation<'a> {
    graph: &'a Graph<'a>,
    held: &'a dyn Fn(SlotId) -> May,
    /// Whether an action may have been done since a finding's observations.
    has_acted: bool,
    known: HashMap<PartId, May>,
}

impl<'a> Evaluation<'a> {
    pub fn new(graph: &'a Graph<'a>, held: &'a dyn Fn(SlotId) -> May, has_acted: bool) -> Self {
        Self { graph, held, has_acted, known: HashMap::new() }
    }

    /// What a part may come to.
    pub fn part(&mut self, id: PartId) -> May {
        if let Some(known) = self.known.get(&id) {
            return *known;
        }
        let node = self.graph.node(id);
        let may = self.worked_out(node);
        self.known.insert(id, may);
        may
    }

    fn worked_out(&mut self, node: &Node) -> May {
        match &node.part {
            Part::Number(low, high) => May::Number(Interval::between(*low, *high)),
            Part::Truth(truths) => May::Truth(*truths),
            Part::Choice(place) => match 1u128.checked_shl((*place).into()) {
                Some(places) => May::Choice { places, may_be_unknown: false },
                None => May::anything(Shape::Choice),
            },
            Part::Value(slot) => (self.held)(*slot),
            Part::Compare(left, order, right) => self.compared(*left, *order, *right),
            Part::Equal(left, right) => self.equal(*left, *right),
            Part::Not(inner) => May::Truth(self.truths(*inner).turned()),
            Part::And(parts) => self.joint(parts, Truths::YES, Truths::and),
            Part::Or(parts) => self.joint(parts, Truths::NO, Truths::or),
            Part::If(parts) => self.either(*parts, node.shape),
            Part::Finding { applies, test } => self.finding(*applies, *test, node),
            Part::Open(needed) => self.open(needed, node.shape),
            Part::Call(function, values) => self.called(function, values, node.shape),
            _ => May::Number(fit(self.arithmetic(&node.part), node.shape)),
        }
    }

    pub fn truths(&mut self, id: PartId) -> Truths {
        self.part(id).truths()
    }

    fn interval(&mut self, id: PartId) -> Interval {
        self.part(id).interval()
    }

    fn joint(
        &mut self,
        parts: &[PartId],
        neutral: Truths,
        join: fn(Truths, Truths) -> Truths,
    ) -> May {
        May::Truth(parts.iter().fold(neutral, |sofar, part| join(sofar, self.truths(*part))))
    }

    fn arithmetic(&mut self, part: &Part) -> Interval {
        match part {
            Part::Negate(inner) => self.interval(*inner).negated(),
            Part::Power(base, exponent) => self.interval(*base).power(*exponent),
            Part::Sum(terms) => {
                self.folded(
                    terms,
                    |sofar, next, is_taken_away| {
                        if is_taken_away { sofar.minus(next) } else { sofar.plus(next) }
                    },
                )
            }
            Part::Product(factors) => {
                self.folded(
                    factors,
                    |sofar, next, is_divisor| {
                        if is_divisor { sofar.over(next) } else { sofar.times(next) }
                    },
                )
            }
            _ => Interval::ANYTHING,
        }
    }

    fn folded(
        &mut self,
        parts: &[(bool, PartId)],
        join: impl Fn(Interval, Interval, bool) -> Interval,
    ) -> Interval {
        let mut rest = parts.iter();
        let Some((_, first)) = rest.next() else { return Interval::UNKNOWN };
        let first = self.interval(*first);
        rest.fold(first, |sofar, (is_turned, part)| join(sofar, self.interval(*part), *is_turned))
    }

    fn compared(&mut self, left: PartId, order: Order, right: PartId) -> May {
        let (a, b) = (self.interval(left), self.interval(right));
        let may_be_unknown = a.may_be_unknown || b.may_be_unknown;
        if !a.is_known_at_all() || !b.is_known_at_all() {
            return May::Truth(Truths::UNKNOWN);
        }
        let (most, least) = match order {
            Order::Less | Order::AtMost => (order.holds(a.low, b.high), order.holds(a.high, b.low)),
            Order::Greater | Order::AtLeast => {
                (order.holds(a.high, b.low), order.holds(a.low, b.high))
            }
        };
        May::Truth(Truths::when(most, !least, may_be_unknown))
    }

    fn equal(&mut self, left: PartId, right: PartId) -> May {
        let (a, b) = (self.part(left), self.part(right));
        if !a.may_be_known() || !b.may_be_known() {
            return May::Truth(Truths::UNKNOWN);
        }
        let (may_be, must_be) = match (a, b) {
            (May::Number(a), May::Number(b)) => {
                (a.low <= b.high && b.low <= a.high, a.low == b.high && a.high == b.low)
            }
            (May::Choice { places: a, .. }, May::Choice { places: b, .. }) => {
                (a & b != 0, a == b && a.is_power_of_two())
            }
            (May::Truth(a), May::Truth(b)) => {
                let (a, b) = (a.only_those_of(Truths::KNOWN), b.only_those_of(Truths::KNOWN));
                let is_one = a != Truths::KNOWN;
                (!a.only_those_of(b).is_empty(), a == b && is_one)
            }
            _ => (true, false),
        };
        let may_be_unknown = a.may_be_unknown() || b.may_be_unknown();
        May::Truth(Truths::when(may_be, !must_be, may_be_unknown))
    }

    fn either(&mut self, [condition, then, otherwise]: [PartId; 3], shape: Shape) -> May {
        let condition = self.truths(condition);
        let mut may: Option<May> = None;
        let mut add = |more: May| may = Some(may.map_or(more, |sofar| sofar.joined(more)));
        if condition.has(Truths::YES) {
            add(self.part(then));
        }
        if condition.has(Truths::NO) {
            add(self.part(otherwise));
        }
        if condition.has(Truths::UNKNOWN) {
            add(May::unknown(shape));
        }
        may.unwrap_or_else(|| May::unknown(shape))
    }

    fn finding(&mut self, applies: Option<PartId>, test: PartId, node: &Node) -> May {
        let applies = match applies {
            None => Truths::YES,
            // What was before an action may have been otherwise.
            Some(_) if node.may_lag && self.has_acted => Truths::ALL,
            Some(applies) => self.truths(applies),
        };
        let not_applicable = May::unknown(node.shape);
        if !applies.has(Truths::YES) {
            return not_applicable;
        }
        let tested = self.part(test);
        if applies == Truths::YES { tested } else { tested.joined(not_applicable) }
    }

    fn open(&mut self, needed: &[PartId], shape: Shape) -> May {
        if needed.iter().any(|part| !self.part(*part).may_be_known()) {
            return May::unknown(shape);
        }
        May::anything(shape)
    }

    fn called(
        &mut self,
        function: &'static Function,
        values: &[Option<PartId>],
        shape: Shape,
    ) -> May {
        if matches!(function.body, Body::Count) {
            return May::Number(Interval::between(0.0, values.len().max(1 << 20) as f64));
        }
        let given: Vec<Option<May>> =
            values.iter().map(|value| value.map(|part| self.part(part))).collect();
        if given.iter().flatten().any(|value| !value.may_be_known()) {
            return May::unknown(shape);
        }
        match function.body {
            Body::Fold(fold) if given.iter().flatten().all(is_number) => {
                May::Number(fit(folded(function, fold, &given), shape))
            }
            Body::Each(law) => each(function, law, &given, shape),
            _ => May::anything(shape),
        }
    }
}

fn is_number(may: &May) -> bool {
    matches!(may, May::Number(_))
}

/// A result that a shape can't hold is not known.
fn fit(interval: Interval, shape: Shape) -> Interval {
    match shape {
        // A time may be infinite, but only without end.
        Shape::Time if interval.low > f64::NEG_INFINITY => interval,
        _ => interval.finite(),
    }
}

/// The smallest, the largest and the sum rise with each of their values.
fn folded(function: &Function, fold: fn(&[f64]) -> f64, given: &[Option<May>]) -> Interval {
    let values: Vec<Interval> = given.iter().flatten().map(|value| value.interval()).collect();
    let ends = |end: fn(&Interval) -> f64| fold(&values.iter().map(end).collect::<Vec<f64>>());
    let (low, high) = (ends(|value| value.low), ends(|value| value.high));
    let is_refused = function.parameters.first().is_some_and(|parameter| {
        let is_out = |x: f64| OutOfRange::of(parameter, x).is_some();
        values.iter().any(|value| is_out(value.low) || is_out(value.high))
    });
    let may_be_unknown = is_refused || values.iter().any(|value| value.may_be_unknown);
    if low.is_nan() || high.is_nan() {
        return Interval::ANYTHING;
    }
    Interval { low, high, may_be_unknown }
}

/// A law of one value of each parameter.
fn each(
    function: &'static Function,
    law: fn(&Given<'_>) -> Result<f64, crate::formula::Refusal>,
    given: &[Option<May>],
    shape: Shape,
) -> May {
    let intervals: Vec<Option<Interval>> =
        given.iter().map(|value| value.map(May::interval)).collect();
    let at = |end: fn(&Interval) -> f64| -> Vec<f64> {
        intervals.iter().map(|value| value.as_ref().map_or(f64::NAN, end)).collect()
    };
    let is_certain = given.iter().flatten().all(is_number)
        && intervals.iter().flatten().all(|value| value.single().is_some());
    if is_certain && function.drawn.is_empty() {
        let values = at(|value| value.low);
        let out = |(parameter, value): (_, &f64)| {
            !value.is_nan() && OutOfRange::of(parameter, *value).is_some()
        };
        let is_refused = function.parameters.iter().zip(&values).any(out);
        let told = if is_refused { None } else { law(&Given::new(&values, &[])).ok() };
        return match told {
            Some(value) => value_of(value, shape),
            None => May::unknown(shape),
        };
    }
    match (function.name, intervals.as_slice()) {
        ("abs", [Some(value)]) => May::Number(fit(value.size(), shape)),
        ("sqrt", [Some(value)]) => May::Number(fit(root(*value), shape)),
        _ => May::anything(shape),
    }
}

fn root(value: Interval) -> Interval {
    if value.high < 0.0 {
        return Interval::UNKNOWN;
    }
    // The square root is rounded correctly, so that it rises with its value.
    let (low, high) = (libm::sqrt(value.low.max(0.0)), libm::sqrt(value.high));
    Interval { low, high, may_be_unknown: value.may_be_unknown || value.low < 0.0 }
}

/// What a law tells, in the shape that is wanted.
fn value_of(value: f64, shape: Shape) -> May {
    match shape {
        _ if value.is_nan() => May::unknown(shape),
        Shape::Truth => May::Truth(if value > 0.5 { Truths::YES } else { Truths::NO }),
        Shape::Number if value.is_infinite() => May::unknown(shape),
        Shape::Time if value == f64::NEG_INFINITY => May::unknown(shape),
        Shape::Number | Shape::Time => May::Number(Interval::between(value, value)),
        Shape::Choice => match 1u128.checked_shl(value as u32) {
            Some(places) => May::Choice { places, may_be_unknown: false },
            None => May::anything(shape),
        },
        Shape::Whole => May::anything(shape),
    }
}
