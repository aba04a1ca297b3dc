//! Conditions as one graph over slots: formulas and findings are put in where they are named.

use std::collections::HashMap;

use super::slot::{Slot, SlotId, Slots};
use super::truths::Truths;
use crate::formula::{
    Body, Checked, Draws, Expression, Function, How, Kind, Order, Resolved, Shape, Symbol, Use,
    Value,
};
use crate::handbook::{Entry, Finding, FindingId, Handbook, Observes, QuestionId};

/// Names within names deeper than this are left open (limit of ours; far above any handbook).
const DEEPEST: u32 = 250;

/// A place in the graph.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct PartId(u32);

impl PartId {
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

/// A part of a condition.
#[derive(Clone, Debug)]
pub(super) enum Part {
    /// A number known within these bounds.
    Number(f64, f64),
    /// A yes or no that is there already.
    Truth(Truths),
    /// A choice that is there already, by its place.
    Choice(u16),
    /// What stands in a slot.
    Value(SlotId),
    Negate(PartId),
    Sum(Vec<(bool, PartId)>),
    Product(Vec<(bool, PartId)>),
    Power(PartId, i8),
    Call(&'static Function, Vec<Option<PartId>>),
    Compare(PartId, Order, PartId),
    Equal(PartId, PartId),
    Not(PartId),
    And(Vec<PartId>),
    Or(Vec<PartId>),
    If([PartId; 3]),
    /// A finding: what it tests, and what must hold before.
    Finding {
        applies: Option<PartId>,
        test: PartId,
    },
    /// Anything at all, but not known where one of these is not.
    Open(Vec<PartId>),
}

/// A part with what is known of it as a whole.
#[derive(Clone, Debug)]
pub(super) struct Node {
    pub part: Part,
    pub shape: Shape,
    /// Every slot below it, in order.
    pub slots: Vec<SlotId>,
    /// Whether one value of it may differ from draw to draw.
    pub is_doubtful: bool,
    /// Whether it depends on a finding that may still speak of what was before an action.
    pub may_lag: bool,
    depth: u32,
}

/// All conditions of a handbook.
#[derive(Debug)]
pub(super) struct Graph<'h> {
    handbook: &'h Handbook,
    pub slots: Slots,
    nodes: Vec<Node>,
    named: HashMap<(Symbol, How), PartId>,
    /// How many names are being put in, one within the other.
    nesting: u32,
}

impl<'h> Graph<'h> {
    pub fn new(handbook: &'h Handbook) -> Self {
        Self {
            handbook,
            slots: Slots::default(),
            nodes: Vec::new(),
            named: HashMap::new(),
            nesting: 0,
        }
    }

    pub fn node(&self, part: PartId) -> &Node {
        &self.nodes[part.index()]
    }

    pub fn len(&self) -> usize {
        self.nodes.len()
    }

    /// Every part, children before those that hold them.
    pub fn parts(&self) -> impl Iterator<Item = PartId> + use<> {
        (0..self.nodes.len() as u32).map(PartId)
    }

    /// Adds a formula as it stands.
    pub fn add(&mut self, formula: &Checked) -> PartId {
        self.expression(formula.root(), How::Latest)
    }

    /// Adds a finding.
    pub fn finding(&mut self, id: FindingId) -> PartId {
        let symbol = self.handbook.finding(id).symbol;
        self.name(Use { symbol, how: How::Latest }, &Shape::Truth, How::Latest)
    }

    /// A part as seen at a time: now, or before an action.
    fn expression(&mut self, expression: &Expression, at: How) -> PartId {
        let shape = expression.shape;
        let part = match &expression.form {
            Resolved::Constant(value) => constant(value),
            Resolved::Default(si) => Part::Number(*si, *si),
            Resolved::Recall(used) => return self.name(*used, &shape, at),
            Resolved::Negate(inner) => Part::Negate(self.expression(inner, at)),
            Resolved::Sum(terms) => Part::Sum(self.signed(terms, at)),
            Resolved::Product(factors) => Part::Product(self.signed(factors, at)),
            Resolved::Power(base, exponent) => Part::Power(self.expression(base, at), *exponent),
            Resolved::Compare(values, orders) => {
                let values = self.each(values, at);
                return self.chain(&values, orders);
            }
            Resolved::Is(left, is_negated, options) => {
                let options = self.each(options, at);
                let left = self.expression(left, at);
                return self.is(left, *is_negated, &options);
            }
            Resolved::Includes(choices, _) => Part::Open(vec![self.expression(choices, at)]),
            Resolved::Not(inner) => Part::Not(self.expression(inner, at)),
            Resolved::And(parts) => {
                let parts = self.each(parts, at);
                Part::And(self.sure_first(parts))
            }
            Resolved::Or(parts) => {
                let parts = self.each(parts, at);
                Part::Or(self.sure_first(parts))
            }
            Resolved::If(parts) => {
                let [condition, then, otherwise] = parts.as_ref();
                Part::If([condition, then, otherwise].map(|part| self.expression(part, at)))
            }
            Resolved::Apply(function, values) => {
                let given = |value: &Option<Expression>| {
                    value.as_ref().map(|value| self.expression(value, at))
                };
                Part::Call(function, values.iter().map(given).collect())
            }
        };
        self.push(part, shape)
    }

    fn each(&mut self, parts: &[Expression], at: How) -> Vec<PartId> {
        parts.iter().map(|part| self.expression(part, at)).collect()
    }

    /// What is the same in every draw comes first, so that cases differ in that before they
    /// differ in doubt. The order of `and` and `or` makes no difference to what they come to.
    fn sure_first(&self, mut parts: Vec<PartId>) -> Vec<PartId> {
        parts.sort_by_key(|part| self.node(*part).is_doubtful);
        parts
    }

    fn signed(&mut self, parts: &[(bool, Expression)], at: How) -> Vec<(bool, PartId)> {
        parts.iter().map(|(sign, part)| (*sign, self.expression(part, at))).collect()
    }

    fn chain(&mut self, values: &[PartId], orders: &[Order]) -> PartId {
        let pairs = values.windows(2).zip(orders);
        let mut links = Vec::new();
        for (pair, order) in pairs {
            links.push(self.push(Part::Compare(pair[0], *order, pair[1]), Shape::Truth));
        }
        match links.as_slice() {
            [only] => *only,
            _ => self.push(Part::And(links), Shape::Truth),
        }
    }

    fn is(&mut self, left: PartId, is_negated: bool, options: &[PartId]) -> PartId {
        let mut equals = Vec::new();
        for option in options {
            equals.push(self.push(Part::Equal(left, *option), Shape::Truth));
        }
        let any = match equals.as_slice() {
            [only] => *only,
            _ => self.push(Part::Or(equals), Shape::Truth),
        };
        if is_negated { self.push(Part::Not(any), Shape::Truth) } else { any }
    }

    /// What a name stands for, seen at a time.
    fn name(&mut self, used: Use, shape: &Shape, at: How) -> PartId {
        let how = match (at, used.how, self.handbook.entry(used.symbol)) {
            (How::Latest, how, Entry::Question(_)) => how,
            // A formula has no first or previous value; it is what it is now.
            (at, How::Latest | How::First | How::Previous, entry)
                if used.how == How::Latest || !matches!(entry, Entry::Question(_)) =>
            {
                at
            }
            (How::Latest, How::Before(action), _) => How::Before(action),
            _ => How::Every,
        };
        if let Some(known) = self.named.get(&(used.symbol, how)) {
            return *known;
        }
        if self.nesting > DEEPEST {
            return self.push(Part::Open(Vec::new()), *shape);
        }
        self.nesting += 1;
        let part = match (how, self.handbook.entry(used.symbol)) {
            (How::Every, _) => self.push(Part::Open(Vec::new()), *shape),
            (how, Entry::Question(question)) => self.question(question, how),
            (at, Entry::Formula(id)) => self.expression(self.handbook.formula(id).is.root(), at),
            (at, Entry::Finding(id)) => self.judged(self.handbook.finding(id), at),
        };
        self.nesting -= 1;
        self.named.insert((used.symbol, how), part);
        part
    }

    fn question(&mut self, question: QuestionId, how: How) -> PartId {
        let shape = Shape::of(&self.handbook.question(question).kind);
        let slot = self.slots.number(Slot { question, how });
        self.push(Part::Value(slot), shape)
    }

    fn judged(&mut self, finding: &Finding, at: How) -> PartId {
        let test = match &finding.observes {
            Observes::When(condition) => self.expression(condition.root(), at),
            Observes::Of(question) => self.question(*question, at),
        };
        let applies = finding.only_if.as_ref().map(|only| self.expression(only.root(), at));
        let applies = if self.is_disputed(finding) { Some(self.perhaps(applies)) } else { applies };
        let shape = self.node(test).shape;
        self.push(Part::Finding { applies, test }, shape)
    }

    fn is_disputed(&self, finding: &Finding) -> bool {
        let Entry::Finding(id) = self.handbook.entry(finding.symbol) else { return false };
        !self.handbook.disputed_by(id).is_empty()
    }

    /// A condition that may go unmet all the same, because readings can't be. Which ones is not
    /// followed: nothing is proved of a way that such doubt might open.
    fn perhaps(&mut self, applies: Option<PartId>) -> PartId {
        let may_fail = Part::Truth(Truths::YES.and_those_of(Truths::UNKNOWN));
        let may_fail = self.push(may_fail, Shape::Truth);
        match applies {
            Some(applies) => self.push(Part::And(vec![applies, may_fail]), Shape::Truth),
            None => may_fail,
        }
    }

    fn push(&mut self, part: Part, shape: Shape) -> PartId {
        let below = children(&part);
        let depth = below.iter().map(|child| self.node(*child).depth + 1).max().unwrap_or(0);
        if depth > DEEPEST {
            return self.push(Part::Open(Vec::new()), shape);
        }
        let slots = self.slots_of(&part, &below);
        let is_doubtful = self.starts_doubt(&part) || self.any(&below, |node| node.is_doubtful);
        let may_lag = self.starts_lag(&part) || self.any(&below, |node| node.may_lag);
        self.nodes.push(Node { part, shape, slots, is_doubtful, may_lag, depth });
        PartId(self.nodes.len() as u32 - 1)
    }

    fn any(&self, parts: &[PartId], claim: impl Fn(&Node) -> bool) -> bool {
        parts.iter().any(|part| claim(self.node(*part)))
    }

    fn slots_of(&self, part: &Part, below: &[PartId]) -> Vec<SlotId> {
        let mut slots: Vec<SlotId> = match part {
            Part::Value(slot) => vec![*slot],
            _ => below.iter().flat_map(|child| self.node(*child).slots.iter().copied()).collect(),
        };
        slots.sort_unstable();
        slots.dedup();
        slots
    }

    /// A measured value, a literal with `+-` and what is drawn within bounds carry doubt.
    fn starts_doubt(&self, part: &Part) -> bool {
        match part {
            Part::Number(low, high) => low != high,
            Part::Value(slot) => {
                let question = self.handbook.question(self.slots.get(*slot).question);
                matches!(question.kind, Kind::Quantity(_) | Kind::Readings(_))
            }
            Part::Call(function, _) => {
                !function.drawn.is_empty() || matches!(function.body, Body::Hold(_))
            }
            Part::Open(_) => true,
            _ => false,
        }
    }

    /// A finding whose condition rests on observations keeps to those made before an action.
    fn starts_lag(&self, part: &Part) -> bool {
        let Part::Finding { applies: Some(applies), .. } = part else { return false };
        let observed =
            |slot: &SlotId| !self.handbook.question(self.slots.get(*slot).question).is_setting();
        self.node(*applies).slots.iter().any(observed)
    }
}

/// The parts that a part is made of.
pub(super) fn children(part: &Part) -> Vec<PartId> {
    match part {
        Part::Number(..) | Part::Truth(_) | Part::Choice(_) | Part::Value(_) => Vec::new(),
        Part::Negate(inner) | Part::Power(inner, _) | Part::Not(inner) => vec![*inner],
        Part::Sum(parts) | Part::Product(parts) => parts.iter().map(|(_, part)| *part).collect(),
        Part::Call(_, values) => values.iter().flatten().copied().collect(),
        Part::Compare(left, _, right) | Part::Equal(left, right) => vec![*left, *right],
        Part::And(parts) | Part::Or(parts) | Part::Open(parts) => parts.clone(),
        Part::If(parts) => parts.to_vec(),
        Part::Finding { applies, test } => applies.iter().copied().chain([*test]).collect(),
    }
}

fn constant(value: &Value) -> Part {
    match value {
        Value::Quantity(draws) => {
            let values = draws.values().iter().copied();
            let high = values.clone().fold(f64::NEG_INFINITY, f64::max);
            Part::Number(values.fold(f64::INFINITY, f64::min), high)
        }
        Value::Truth(Draws::Same(truth)) => Part::Truth(Truths::one(*truth)),
        Value::Choice(Draws::Same(place)) => Part::Choice(*place),
        _ => Part::Open(Vec::new()),
    }
}
