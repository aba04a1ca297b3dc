//! Conditions that hold one computed value, and nothing else, against constants.

use std::collections::HashMap;

use super::points::{Side, Subject};
use crate::analysis::cells::{Axis, Cells};
use crate::analysis::evaluate::{Evaluation, May};
use crate::analysis::graph::{Graph, Part, PartId, children};
use crate::analysis::reach::Analysis;
use crate::formula::{Checked, How, Kind, Order, Resolved, Shape, default_unit};
use crate::handbook::{Entry, Handbook};
use crate::quantity::{QuantityKind, UnitExpression};
use crate::source::Span;

/// Parts by their structure: those alike have one number.
pub(super) struct Alike(Vec<usize>);

impl Alike {
    pub fn of(graph: &Graph<'_>) -> Self {
        let mut numbers: HashMap<String, usize> = HashMap::new();
        let mut alike: Vec<usize> = Vec::new();
        for part in graph.parts() {
            let written = structure(&graph.node(part).part, part, &alike);
            let next = numbers.len();
            alike.push(*numbers.entry(written).or_insert(next));
        }
        Self(alike)
    }
}

/// A part with the parts below it by their numbers. What is open is like itself alone.
fn structure(part: &Part, id: PartId, alike: &[usize]) -> String {
    let below: Vec<usize> = children(part).into_iter().map(|child| alike[child.index()]).collect();
    match part {
        Part::Sum(parts) | Part::Product(parts) => {
            let word = if matches!(part, Part::Sum(_)) { "sum" } else { "product" };
            let signs = parts.iter().map(|(sign, _)| *sign);
            let mut parts: Vec<(bool, usize)> = signs.zip(below).collect();
            parts.sort_unstable();
            format!("{word} {parts:?}")
        }
        Part::Negate(_) => format!("negate {below:?}"),
        Part::Power(_, exponent) => format!("power {exponent} {below:?}"),
        Part::Not(_) => format!("not {below:?}"),
        Part::And(_) => format!("and {below:?}"),
        Part::Or(_) => format!("or {below:?}"),
        Part::If(_) => format!("if {below:?}"),
        Part::Compare(_, order, _) => format!("{} {below:?}", order.symbol()),
        Part::Equal(..) => format!("is {below:?}"),
        Part::Call(function, values) => {
            let given: Vec<bool> = values.iter().map(Option::is_some).collect();
            format!("{} {given:?} {below:?}", function.name)
        }
        Part::Finding { applies, .. } => format!("finding {} {below:?}", applies.is_some()),
        Part::Number(low, high) => format!("number {:x} {:x}", low.to_bits(), high.to_bits()),
        Part::Truth(_) | Part::Choice(_) | Part::Value(_) => format!("{part:?}"),
        Part::Open(_) => format!("open {}", id.index()),
    }
}

/// One condition of a list, as it is checked and where it is written.
pub(super) struct Listed<'a> {
    pub part: PartId,
    pub condition: &'a Checked,
    pub span: Span,
}

/// A computed value with the constants that it is held against.
pub(super) struct Line {
    pub axis: Axis,
    pub kind: QuantityKind,
    pub unit: UnitExpression,
}

/// Those conditions of a list that hold one computed value against constants, each with its place
/// in the list: the value that the first of them looks at.
pub(super) fn sides(
    analysis: &Analysis<'_>,
    alike: &Alike,
    listed: &[(usize, &Listed<'_>)],
) -> Option<(Line, Vec<(usize, Side)>)> {
    let graph = &analysis.explored.conditions.graph;
    let read = Read { graph, alike };
    let mut values = listed.iter().filter_map(|(_, one)| Some((one, read.value(one.part)?)));
    let (first, value) = values.next()?;
    let is_of_it = |one: &Listed<'_>| read.value(one.part) == Some(value);
    let same: Vec<&(usize, &Listed<'_>)> = listed.iter().filter(|(_, o)| is_of_it(o)).collect();
    let mut constants = Vec::new();
    same.iter().for_each(|(_, one)| read.constants(one.part, &mut constants));
    let axis = Axis::over_all(constants)?;
    let (kind, unit) = unit_in(analysis.handbook(), first.condition)?;
    let side = |(place, one): &&(usize, &Listed<'_>)| {
        let yes = read.yes(one.part, &axis);
        (*place, Side { subject: Subject::Computed(value), yes, span: one.span })
    };
    let sides = same.iter().map(side).collect();
    Some((Line { axis, kind, unit }, sides))
}

struct Read<'a, 'h> {
    graph: &'a Graph<'h>,
    alike: &'a Alike,
}

impl Read<'_, '_> {
    /// The one computed value that a condition holds against constants, by its number.
    fn value(&self, part: PartId) -> Option<usize> {
        match &self.graph.node(part).part {
            Part::Compare(left, _, right) => match (self.constant(*left), self.constant(*right)) {
                (None, Some(_)) => Some(self.alike.0[left.index()]),
                (Some(_), None) => Some(self.alike.0[right.index()]),
                _ => None,
            },
            part @ (Part::And(_) | Part::Or(_) | Part::Not(_)) => {
                let parts = children(part);
                let first = self.value(*parts.first()?)?;
                parts.iter().all(|part| self.value(*part) == Some(first)).then_some(first)
            }
            _ => None,
        }
    }

    fn constants(&self, part: PartId, found: &mut Vec<f64>) {
        match &self.graph.node(part).part {
            Part::Compare(left, _, right) => {
                found.extend(self.constant(*left).or_else(|| self.constant(*right)));
            }
            part => children(part).into_iter().for_each(|part| self.constants(part, found)),
        }
    }

    /// In which cells of the value a condition holds.
    fn yes(&self, part: PartId, axis: &Axis) -> Cells {
        let each = |parts: &[PartId]| parts.iter().map(|part| self.yes(*part, axis)).collect();
        match &self.graph.node(part).part {
            Part::Not(inner) => axis.known().without(self.yes(*inner, axis)),
            Part::And(parts) => {
                let parts: Vec<Cells> = each(parts);
                parts.into_iter().fold(axis.known(), Cells::within)
            }
            Part::Or(parts) => {
                let parts: Vec<Cells> = each(parts);
                parts.into_iter().fold(Cells::NONE, Cells::with)
            }
            Part::Compare(left, order, right) => {
                let holds = |value| self.holds(value, *order, (*left, *right));
                let cells = axis.known().places().map(Cells::one);
                let held = cells.filter(|cell| axis.hull(*cell).is_some_and(|c| holds(c.low)));
                held.fold(Cells::NONE, Cells::with)
            }
            _ => Cells::NONE,
        }
    }

    fn holds(&self, value: f64, order: Order, (left, right): (PartId, PartId)) -> bool {
        let [left, right] = [left, right].map(|side| self.constant(side).unwrap_or(value));
        order.holds(left, right)
    }

    /// The value of a part that is one number whatever is answered.
    fn constant(&self, part: PartId) -> Option<f64> {
        let node = self.graph.node(part);
        if !node.slots.is_empty() || !matches!(node.shape, Shape::Number | Shape::Time) {
            return None;
        }
        let nothing = |_| May::unknown(Shape::Number);
        match Evaluation::new(self.graph, &nothing, false).part(part) {
            May::Number(value) if value.low == value.high && value.low.is_finite() => {
                Some(value.low)
            }
            _ => None,
        }
    }
}

/// The kind of what a condition compares, and the unit in which it is written there or shown.
fn unit_in(handbook: &Handbook, condition: &Checked) -> Option<(QuantityKind, UnitExpression)> {
    if let Some(link) = condition.comparisons().first() {
        let Resolved::Compare(sides, _) = &link.formula.root().form else { return None };
        let Kind::Quantity(kind) = sides.first()?.kind else { return None };
        let written = sides.iter().find_map(|side| side.unit.as_deref().cloned());
        let shown = sides.iter().find_map(|side| match side.form {
            Resolved::Recall(used) => handbook.unit(used.symbol).cloned(),
            _ => None,
        });
        return Some((kind, written.or(shown).unwrap_or_else(|| default_unit(kind))));
    }
    // A sound handbook has no circle of names.
    let mut named = condition.uses().iter().filter(|used| used.how == How::Latest);
    named.find_map(|used| match handbook.entry(used.symbol) {
        Entry::Formula(id) if *handbook.formula(id).is.kind() == Kind::YesNo => {
            unit_in(handbook, &handbook.formula(id).is)
        }
        _ => None,
    })
}
