//! Where comparisons turn: the values at which an axis is cut.

use std::collections::BTreeMap;

use super::evaluate::{Evaluation, May};
use super::graph::{Graph, Part, PartId};
use super::interval::Interval;
use super::slot::SlotId;
use super::truths::Truths;
use crate::formula::{Kind, Shape};
use crate::handbook::{Handbook, QuestionId};

/// How many values are looked at to find where a formula of one quantity turns. A turn between
/// two of them that is missed leaves its cell undecided, never wrong.
const SAMPLES: i32 = 48;

/// For each question, the values at which some comparison that looks at it alone turns, in SI
/// units; and for each part, those at which it turns itself.
pub(super) fn thresholds(handbook: &Handbook, graph: &Graph<'_>) -> BTreeMap<QuestionId, Vec<f64>> {
    let mut found: BTreeMap<QuestionId, Vec<f64>> = BTreeMap::new();
    for part in graph.parts() {
        let [slot] = graph.node(part).slots.as_slice() else { continue };
        let question = graph.slots.get(*slot).question;
        if !matches!(handbook.question(question).kind, Kind::Quantity(_)) {
            continue;
        }
        let turns = turns(handbook, graph, part, *slot);
        if !turns.is_empty() {
            found.entry(question).or_default().extend(turns);
        }
    }
    found
}

/// Where one comparison of one quantity turns.
fn turns(handbook: &Handbook, graph: &Graph<'_>, part: PartId, slot: SlotId) -> Vec<f64> {
    let (left, right) = match &graph.node(part).part {
        Part::Compare(left, _, right) => (*left, *right),
        Part::Equal(left, right) if is_number(graph, *left) => (*left, *right),
        _ => return Vec::new(),
    };
    let is_bare = |side: PartId| matches!(graph.node(side).part, Part::Value(_));
    let constant = |side: PartId| graph.node(side).slots.is_empty();
    let against = match (is_bare(left), is_bare(right)) {
        (true, _) if constant(right) => right,
        (_, true) if constant(left) => left,
        _ => return sampled(handbook, graph, part, slot),
    };
    let nothing = |_| May::unknown(Shape::Number);
    match Evaluation::new(graph, &nothing, false).part(against) {
        May::Number(value) if value.is_known_at_all() && value.low == value.high => {
            vec![value.low]
        }
        May::Number(value) if value.is_known_at_all() => vec![value.low, value.high],
        _ => Vec::new(),
    }
}

fn is_number(graph: &Graph<'_>, part: PartId) -> bool {
    matches!(graph.node(part).shape, Shape::Number | Shape::Time)
}

/// Where a formula of one quantity turns, by looking and halving: the first value at which it is
/// otherwise.
fn sampled(handbook: &Handbook, graph: &Graph<'_>, part: PartId, slot: SlotId) -> Vec<f64> {
    let question = handbook.question(graph.slots.get(slot).question);
    let at = |value: f64| truth_at(graph, part, value);
    let points = points(question.range);
    let mut turns = Vec::new();
    for pair in points.windows(2) {
        let (mut below, mut above) = (pair[0], pair[1]);
        let start = at(below);
        if start == at(above) {
            continue;
        }
        // 2100 halvings reach neighbours from any two floating-point numbers.
        for _ in 0..2100 {
            let middle = below + (above - below) / 2.0;
            if middle <= below || middle >= above {
                break;
            }
            if at(middle) == start { below = middle } else { above = middle }
        }
        turns.push(above);
    }
    turns
}

fn truth_at(graph: &Graph<'_>, part: PartId, value: f64) -> Truths {
    let held = |_| May::Number(Interval::between(value, value));
    Evaluation::new(graph, &held, false).truths(part)
}

/// Values over a range: evenly, or evenly in the logarithm where it spans a decade.
fn points(range: Option<(f64, f64)>) -> Vec<f64> {
    let Some((low, high)) = range else {
        let sizes = || (-SAMPLES / 4..=SAMPLES / 4).map(|tens| libm::pow(10.0, f64::from(tens)));
        let negative = sizes().rev().map(|size| -size);
        return negative.chain([0.0]).chain(sizes()).collect();
    };
    let spans_a_decade = low > 0.0 && high >= 10.0 * low;
    let at = |step: i32| {
        let share = f64::from(step) / f64::from(SAMPLES);
        match step {
            0 => low,
            SAMPLES => high,
            _ if spans_a_decade => low * libm::pow(high / low, share),
            _ => low + share * (high - low),
        }
    };
    let mut points: Vec<f64> = (0..=SAMPLES).map(at).collect();
    points.dedup();
    points
}
