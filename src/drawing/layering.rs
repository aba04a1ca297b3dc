//! Which box stands in which row, and in which order within it.
//!
//! Lines that lead back are turned round first, so that a row can be given to every box: one below
//! all that lead to it. Lines over several rows get a place in each row between. Within a row,
//! places are put near those that they are joined to, in a few sweeps down and up.

use super::graph::Graph;

/// A place in a row: a box, or where a long line passes through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Slot {
    /// The box of this place.
    Node(usize),
    /// A line of this place, on its way.
    Bend(usize),
}

/// Rows of slots, and the slots that each line runs through.
#[derive(Clone, Debug)]
pub(super) struct Layering {
    /// Every slot; rows hold places in this list.
    pub slots: Vec<Slot>,
    /// The rows from above, each in its order from the left.
    pub rows: Vec<Vec<usize>>,
    /// For each line the slots from its higher end to its lower one.
    pub chains: Vec<Vec<usize>>,
    /// For each line whether it leads upwards.
    pub leads_up: Vec<bool>,
}

/// How often rows are put in order; more changes hardly anything (found by trying).
const SWEEPS: usize = 12;

impl Layering {
    pub fn of(graph: &Graph) -> Self {
        let leads_up = back_lines(graph);
        let ranks = ranks(graph, &leads_up);
        let mut layering = Self {
            slots: (0..graph.nodes.len()).map(Slot::Node).collect(),
            rows: vec![Vec::new(); ranks.iter().max().map_or(0, |most| most + 1)],
            chains: Vec::new(),
            leads_up,
        };
        for (node, rank) in ranks.iter().enumerate() {
            layering.rows[*rank].push(node);
        }
        for (line, edge) in graph.edges.iter().enumerate() {
            let (mut high, mut low) = (edge.from, edge.to);
            if layering.leads_up[line] {
                (high, low) = (low, high);
            }
            let mut chain = vec![high];
            for rank in ranks[high] + 1..ranks[low] {
                layering.slots.push(Slot::Bend(line));
                let bend = layering.slots.len() - 1;
                layering.rows[rank].push(bend);
                chain.push(bend);
            }
            if low != high {
                chain.push(low);
            }
            layering.chains.push(chain);
        }
        layering.order();
        layering
    }

    /// Neighbours of every slot in the row above and in the row below.
    pub fn neighbours(&self) -> (Vec<Vec<usize>>, Vec<Vec<usize>>) {
        let mut above = vec![Vec::new(); self.slots.len()];
        let mut below = vec![Vec::new(); self.slots.len()];
        for pair in self.chains.iter().flat_map(|chain| chain.windows(2)) {
            below[pair[0]].push(pair[1]);
            above[pair[1]].push(pair[0]);
        }
        (above, below)
    }

    fn order(&mut self) {
        let (above, below) = self.neighbours();
        let mut place = vec![0.0; self.slots.len()];
        for row in &self.rows {
            number(row, &mut place);
        }
        let rows = self.rows.len();
        for sweep in 0..SWEEPS {
            for step in 0..rows {
                let (row, joined) =
                    if sweep % 2 == 0 { (step, &above) } else { (rows - 1 - step, &below) };
                let weight = |slot: &usize| mean(&joined[*slot], &place).unwrap_or(place[*slot]);
                let mut weighed: Vec<(f64, usize)> =
                    self.rows[row].iter().map(|slot| (weight(slot), *slot)).collect();
                // A stable sort, so that the same tree gives the same drawing everywhere.
                weighed.sort_by(|a, b| a.0.total_cmp(&b.0));
                self.rows[row] = weighed.into_iter().map(|(_, slot)| slot).collect();
                number(&self.rows[row], &mut place);
            }
        }
    }
}

fn number(row: &[usize], place: &mut [f64]) {
    for (order, slot) in row.iter().enumerate() {
        // Counted from the middle, so that short rows stand over the middle of long ones.
        place[*slot] = order as f64 - (row.len() as f64 - 1.0) / 2.0;
    }
}

fn mean(slots: &[usize], place: &[f64]) -> Option<f64> {
    let sum: f64 = slots.iter().map(|slot| place[*slot]).sum();
    (!slots.is_empty()).then(|| sum / slots.len() as f64)
}

/// The lines that lead back to a box on their own way, found by going deep first.
fn back_lines(graph: &Graph) -> Vec<bool> {
    #[derive(Clone, Copy, PartialEq)]
    enum Seen {
        Never,
        OnTheWay,
        Left,
    }
    let mut leaving: Vec<Vec<usize>> = vec![Vec::new(); graph.nodes.len()];
    for (line, edge) in graph.edges.iter().enumerate() {
        leaving[edge.from].push(line);
    }
    let mut seen = vec![Seen::Never; graph.nodes.len()];
    let mut is_back = vec![false; graph.edges.len()];
    for start in 0..graph.nodes.len() {
        if seen[start] != Seen::Never {
            continue;
        }
        seen[start] = Seen::OnTheWay;
        // A box with how many of its lines have been followed; no recursion, however long a tree.
        let mut way = vec![(start, 0)];
        while let Some((node, followed)) = way.pop() {
            let Some(&line) = leaving[node].get(followed) else {
                seen[node] = Seen::Left;
                continue;
            };
            way.push((node, followed + 1));
            let to = graph.edges[line].to;
            match seen[to] {
                Seen::Never => {
                    seen[to] = Seen::OnTheWay;
                    way.push((to, 0));
                }
                Seen::OnTheWay => is_back[line] = true,
                Seen::Left => {}
            }
        }
    }
    is_back
}

/// The row of each box: below every box that leads to it.
fn ranks(graph: &Graph, leads_up: &[bool]) -> Vec<usize> {
    let mut ranks = vec![0; graph.nodes.len()];
    // Without lines back the longest way has fewer lines than there are boxes.
    for _ in 0..graph.nodes.len() {
        let mut is_changed = false;
        for (edge, leads_up) in graph.edges.iter().zip(leads_up) {
            if edge.from == edge.to {
                continue;
            }
            let (high, low) = if *leads_up { (edge.to, edge.from) } else { (edge.from, edge.to) };
            if ranks[low] <= ranks[high] {
                ranks[low] = ranks[high] + 1;
                is_changed = true;
            }
        }
        if !is_changed {
            break;
        }
    }
    ranks
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::graph::{Edge, Form, Mark, Node};

    fn graph(nodes: usize, lines: &[(usize, usize)]) -> Graph {
        let nodes = (0..nodes).map(|n| Node::new(Form::Do, n.to_string(), "x")).collect();
        let edge = |&(from, to): &(usize, usize)| Edge {
            from,
            to,
            label: String::new(),
            mark: Mark::Plain,
        };
        Graph::new("t", nodes, lines.iter().map(edge).collect())
    }

    fn row_of(layering: &Layering, node: usize) -> usize {
        layering.rows.iter().position(|row| row.contains(&node)).unwrap()
    }

    #[test]
    fn every_line_leads_down_unless_it_leads_back() {
        let graph = graph(5, &[(0, 1), (1, 2), (2, 0), (0, 3), (3, 2), (2, 4), (4, 4)]);
        let layering = Layering::of(&graph);
        let up: Vec<usize> =
            (0..graph.edges.len()).filter(|line| layering.leads_up[*line]).collect();
        assert_eq!(up, [2, 6], "the lines back");
        for (line, edge) in graph.edges.iter().enumerate() {
            let (from, to) = (row_of(&layering, edge.from), row_of(&layering, edge.to));
            if edge.from != edge.to {
                assert_eq!(from > to, layering.leads_up[line], "{edge:?}");
            }
        }
    }

    #[test]
    fn a_long_line_has_a_place_in_every_row() {
        let graph = graph(4, &[(0, 1), (1, 2), (2, 3), (0, 3)]);
        let layering = Layering::of(&graph);
        assert_eq!(layering.chains[3].len(), 4);
        assert_eq!(layering.rows.iter().map(Vec::len).collect::<Vec<_>>(), [1, 2, 2, 1]);
    }

    #[test]
    fn rows_are_put_in_order_so_that_lines_do_not_cross() {
        // 0 leads to 1 and 2; 1 leads to 4, 2 to 3: in the order of the file they would cross.
        let graph = graph(5, &[(0, 1), (0, 2), (1, 4), (2, 3)]);
        let layering = Layering::of(&graph);
        let order = |node| layering.rows.iter().find_map(|row| row.iter().position(|n| *n == node));
        assert_eq!(order(1) < order(2), order(4) < order(3));
    }
}
