//! Where boxes, lines and labels stand, in points.

use super::graph::Graph;
use super::layering::{Layering, Slot};
use super::wrapped::{of_node, rows};

/// The size of the type (points), the height of a row of it, and how wide a letter is at most on
/// average in a sans-serif face (`estimate`: .56 of its size).
pub(super) const SIZE: f64 = 10.0;
pub(super) const ROW: f64 = 13.0;
pub(super) const LETTER: f64 = 5.6;

/// How wide a box's text is (characters), how many rows of it are shown, and how wide and how
/// many those of a label are.
const WIDTH: usize = 34;
const MOST: usize = 5;
const LABEL_WIDTH: usize = 24;
const LABEL_MOST: usize = 3;

/// Blank round a text in its box, between boxes, and round the drawing.
const INSET: f64 = 6.0;
const GAP: f64 = 24.0;
const MARGIN: f64 = 20.0;
/// Between a line that leads back up and one that leads down at the same place.
const BESIDE: f64 = 16.0;
/// Between two rows of boxes: room for a label and an arrow.
const BETWEEN: f64 = 64.0;

/// A rectangle by its corner on the upper left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Area {
    pub x: f64,
    pub y: f64,
    pub width: f64,
    pub height: f64,
}

impl Area {
    pub fn overlaps(&self, other: &Self) -> bool {
        self.x < other.x + other.width
            && other.x < self.x + self.width
            && self.y < other.y + other.height
            && other.y < self.y + self.height
    }

    fn middle(&self) -> f64 {
        self.x + self.width / 2.0
    }
}

/// A text that stands somewhere.
#[derive(Clone, Debug)]
pub(super) struct Written {
    pub area: Area,
    pub rows: Vec<String>,
}

/// A drawing laid out. `boxes`, `lines` and `labels` stand in the order of the graph.
#[derive(Clone, Debug)]
pub(super) struct Placed {
    pub width: f64,
    pub height: f64,
    pub boxes: Vec<Written>,
    /// The points of each line, from where it comes to where it leads.
    pub lines: Vec<Vec<(f64, f64)>>,
    pub labels: Vec<Option<Written>>,
    pub legend: Written,
}

/// Lays a drawing out below a heading of that many rows.
pub(super) fn place(graph: &Graph, heading: usize) -> Placed {
    let layering = Layering::of(graph);
    let texts: Vec<Vec<String>> =
        graph.nodes.iter().map(|node| of_node(node, WIDTH, MOST)).collect();
    let legend: Vec<String> = graph.legend.iter().flat_map(|row| rows(row, 90, 4)).collect();
    let top = MARGIN + ROW * (heading + legend.len()) as f64 + GAP;
    let areas = areas(&layering, &texts, top);
    let boxes: Vec<Written> = texts
        .into_iter()
        .enumerate()
        .map(|(node, rows)| Written { area: areas[node], rows })
        .collect();
    let lines: Vec<Vec<(f64, f64)>> =
        (0..graph.edges.len()).map(|line| points(graph, &layering, &areas, line)).collect();
    let labels = labels(graph, &lines, &boxes);
    let all = || areas.iter().chain(labels.iter().flatten().map(|label| &label.area));
    let width = all().map(|area| area.x + area.width).fold(480.0, f64::max);
    let height = all().map(|area| area.y + area.height).fold(top, f64::max);
    let legend_area = Area {
        x: MARGIN,
        y: MARGIN + ROW * heading as f64,
        width: width - 2.0 * MARGIN,
        height: ROW * legend.len() as f64,
    };
    Placed {
        width: width + MARGIN,
        height: height + MARGIN,
        boxes,
        lines,
        labels,
        legend: Written { area: legend_area, rows: legend },
    }
}

/// The area of every slot; that of a bend has no width.
fn areas(layering: &Layering, texts: &[Vec<String>], top: f64) -> Vec<Area> {
    let width = LETTER * WIDTH as f64 + 2.0 * INSET;
    let wide = |slot: usize| match layering.slots[slot] {
        Slot::Node(_) => width,
        Slot::Bend(_) => 0.0,
    };
    let x = across(layering, &wide);
    let mut areas = vec![Area { x: 0.0, y: 0.0, width: 0.0, height: 0.0 }; layering.slots.len()];
    let mut y = top;
    for row in &layering.rows {
        let height = |slot: usize| match layering.slots[slot] {
            Slot::Node(node) => ROW * texts[node].len() as f64 + 2.0 * INSET,
            Slot::Bend(_) => 0.0,
        };
        let tallest = row.iter().map(|&slot| height(slot)).fold(0.0, f64::max);
        for &slot in row {
            let is_box = matches!(layering.slots[slot], Slot::Node(_));
            let height = if is_box { height(slot) } else { tallest };
            areas[slot] = Area { x: x[slot], y, width: wide(slot), height };
        }
        y += tallest + BETWEEN;
    }
    areas
}

/// How often places across are drawn towards their neighbours (found by trying).
const PULLS: usize = 24;

/// The left end of every slot: near its neighbours, in the order of its row, and clear of those
/// beside it.
fn across(layering: &Layering, wide: &dyn Fn(usize) -> f64) -> Vec<f64> {
    let (above, below) = layering.neighbours();
    let mut middle = vec![0.0; layering.slots.len()];
    for row in &layering.rows {
        let mut x = 0.0;
        for &slot in row {
            middle[slot] = x + wide(slot) / 2.0;
            x += wide(slot) + GAP;
        }
        for &slot in row {
            middle[slot] -= x / 2.0;
        }
    }
    for pull in 0..PULLS {
        for step in 0..layering.rows.len() {
            let from_above = pull % 2 == 0;
            let row = if from_above { step } else { layering.rows.len() - 1 - step };
            let joined = if from_above { &above } else { &below };
            let wanted: Vec<f64> = layering.rows[row]
                .iter()
                .map(|&slot| match joined[slot].len() {
                    0 => middle[slot],
                    many => joined[slot].iter().map(|one| middle[*one]).sum::<f64>() / many as f64,
                })
                .collect();
            settle(&layering.rows[row], &wanted, wide, &mut middle);
        }
    }
    let left = (0..middle.len()).map(|slot| middle[slot] - wide(slot) / 2.0);
    let left: Vec<f64> = left.collect();
    let least = left.iter().copied().fold(f64::INFINITY, f64::min);
    left.into_iter().map(|x| x - least + MARGIN).collect()
}

/// Puts a row where it wants to be, moved apart as far as it must: halfway between what moving
/// all to the right and moving all to the left would give, both of which keep clear.
fn settle(row: &[usize], wanted: &[f64], wide: &dyn Fn(usize) -> f64, middle: &mut [f64]) {
    let apart = |a: usize, b: usize| (wide(a) + wide(b)) / 2.0 + GAP;
    let mut right = wanted.to_vec();
    for i in 1..row.len() {
        right[i] = right[i].max(right[i - 1] + apart(row[i - 1], row[i]));
    }
    let mut left = wanted.to_vec();
    for i in (1..row.len()).rev() {
        left[i - 1] = left[i - 1].min(left[i] - apart(row[i - 1], row[i]));
    }
    for (i, slot) in row.iter().enumerate() {
        middle[*slot] = (right[i] + left[i]) / 2.0;
    }
}

/// The points of a line from the box that it leaves to the one that it leads to.
fn points(graph: &Graph, layering: &Layering, areas: &[Area], line: usize) -> Vec<(f64, f64)> {
    let chain = &layering.chains[line];
    let edge = &graph.edges[line];
    if edge.from == edge.to {
        let area = areas[edge.from];
        let (right, y) = (area.x + area.width, area.y + area.height / 2.0);
        return vec![
            (right, y - 6.0),
            (right + 14.0, y - 6.0),
            (right + 14.0, y + 6.0),
            (right, y + 6.0),
        ];
    }
    let mut points = Vec::new();
    for (place, &slot) in chain.iter().enumerate() {
        let area = areas[slot];
        if place > 0 {
            points.push((port(areas, chain, place, -1), area.y));
        }
        if place + 1 < chain.len() {
            points.push((port(areas, chain, place, 1), area.y + area.height));
        }
    }
    points.dedup();
    if layering.leads_up[line] {
        // Beside the line that leads down between the same two boxes.
        points.iter_mut().for_each(|point| point.0 += BESIDE);
        points.reverse();
    }
    points
}

/// Where a line touches a slot: on a box a little towards where it goes, so that lines of one box
/// are told apart.
fn port(areas: &[Area], chain: &[usize], place: usize, step: isize) -> f64 {
    let area = areas[chain[place]];
    let next = chain.get(place.wrapping_add_signed(step)).map_or(area, |slot| areas[*slot]);
    let room = area.width * 0.4;
    area.middle() + (next.middle() - area.middle()).clamp(-room, room)
}

/// Labels on the first stretch of their lines, where they cover neither a box nor each other if
/// there is such a place.
fn labels(graph: &Graph, lines: &[Vec<(f64, f64)>], boxes: &[Written]) -> Vec<Option<Written>> {
    let mut placed: Vec<Option<Written>> = Vec::new();
    for (edge, points) in graph.edges.iter().zip(lines) {
        let rows = rows(&edge.label, LABEL_WIDTH, LABEL_MOST);
        let longest = rows.iter().map(|row| row.chars().count()).max().unwrap_or(0);
        if longest == 0 || points.len() < 2 {
            placed.push(None);
            continue;
        }
        let (width, height) = (LETTER * longest as f64 + 4.0, ROW * rows.len() as f64);
        let at =
            |(x, y): (f64, f64)| Area { x: x - width / 2.0, y: y - height / 2.0, width, height };
        let is_clear = |area: &Area| {
            area.x >= 0.0
                && !boxes.iter().any(|one| one.area.overlaps(area))
                && !placed.iter().flatten().any(|one| one.area.overlaps(area))
        };
        // The label of a line back to its own box stands beside the box.
        let aside = if edge.from == edge.to { width / 2.0 + 4.0 } else { 0.0 };
        let beside = |(x, y): (f64, f64)| at((x + aside, y));
        let candidates: Vec<Area> = along(points).into_iter().map(beside).collect();
        let clear = candidates.iter().copied().find(is_clear);
        let area = clear.unwrap_or_else(|| candidates[candidates.len() / 2]);
        placed.push(Some(Written { area, rows }));
    }
    placed
}

/// Points along a line, those near its beginning first.
fn along(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut all = Vec::new();
    for pair in points.windows(2) {
        for share in [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8] {
            let ((x, y), (to_x, to_y)) = (pair[0], pair[1]);
            all.push((x + (to_x - x) * share, y + (to_y - y) * share));
        }
    }
    all
}
