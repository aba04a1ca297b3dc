//! Finding circles among things that lead to each other, and telling one as a chain.

use std::collections::VecDeque;

use petgraph::algo::kosaraju_scc;
use petgraph::graph::{DiGraph, NodeIndex};

use crate::diagnostic::{Code, Diagnostic};
use crate::source::Span;

/// The most links of a circle that a message shows (`estimate`: more than a reader follows).
const MOST_SHOWN: usize = 8;

/// What each thing leads to, by number.
pub(super) type Edges = Vec<Vec<usize>>;

/// One shortest circle for each knot of things that lead to each other: it starts at the knot's
/// first thing that lies on a circle so short. In the order of the first things.
pub(super) fn rings(edges: &Edges) -> Vec<Vec<usize>> {
    let mut rings: Vec<Vec<usize>> =
        knots(edges).iter().filter_map(|knot| shortest(edges, knot)).collect();
    rings.sort_unstable();
    rings
}

/// The sets of things each of which leads to each other one and to itself, each set in order.
pub(super) fn knots(edges: &Edges) -> Vec<Vec<usize>> {
    let mut graph: DiGraph<(), ()> = DiGraph::new();
    for _ in edges {
        graph.add_node(());
    }
    for (from, targets) in edges.iter().enumerate() {
        for &to in targets {
            graph.add_edge(NodeIndex::new(from), NodeIndex::new(to), ());
        }
    }
    // Not by recursion, so that a long chain in a file can't exhaust the stack.
    let mut knots: Vec<Vec<usize>> = kosaraju_scc(&graph)
        .into_iter()
        .map(|nodes| nodes.iter().map(|node| node.index()).collect::<Vec<usize>>())
        .filter(|knot| knot.len() > 1 || edges[knot[0]].contains(&knot[0]))
        .collect();
    knots.iter_mut().for_each(|knot| knot.sort_unstable());
    knots.sort_unstable();
    knots
}

/// The shortest way from the first of a knot back to itself.
fn shortest(edges: &Edges, knot: &[usize]) -> Option<Vec<usize>> {
    let start = *knot.first()?;
    let mut came_from = std::collections::BTreeMap::new();
    let mut queue = VecDeque::from([start]);
    while let Some(at) = queue.pop_front() {
        for &to in &edges[at] {
            if to == start {
                let mut ring = vec![at];
                while let Some(&before) = came_from.get(&ring[ring.len() - 1]) {
                    ring.push(before);
                }
                ring.reverse();
                return Some(ring);
            }
            if knot.binary_search(&to).is_ok() && !came_from.contains_key(&to) {
                came_from.insert(to, at);
                queue.push_back(to);
            }
        }
    }
    None
}

/// Tells a circle: the title holds the chain, and each link has a label.
///
/// `verb` is what one link does to the next: `needs`, `brings`.
pub(super) fn tell(code: Code, title: &str, verb: &str, ring: &[(&str, Span)]) -> Diagnostic {
    let next = |i: usize| ring[(i + 1) % ring.len()].0;
    let shown = &ring[..ring.len().min(MOST_SHOWN)];
    let mut chain: Vec<String> = shown.iter().map(|(name, _)| format!("`{name}`")).collect();
    if shown.len() < ring.len() {
        chain.push("...".to_owned());
    }
    chain.extend(ring.first().map(|(name, _)| format!("`{name}`")));
    let mut fault = Diagnostic::nowhere(code, format!("{title}: {}", chain.join(" -> ")));
    for (i, (_, span)) in shown.iter().enumerate() {
        fault = fault.and_at(*span, format!("{verb} `{}`", next(i)));
    }
    fault
}

#[cfg(test)]
mod tests {
    use super::{knots, rings};

    #[test]
    fn the_shortest_circle_of_each_knot_is_found() {
        let edges = vec![vec![1], vec![2, 3], vec![3], vec![0], vec![4], vec![0]];
        assert_eq!(rings(&edges), [vec![0, 1, 3], vec![4]]);
        assert_eq!(knots(&edges), [vec![0, 1, 2, 3], vec![4]]);
    }

    #[test]
    fn a_long_chain_is_no_circle_and_a_long_circle_is_one() {
        let length = 200_000;
        let mut edges: Vec<Vec<usize>> = (1..length).map(|next| vec![next]).collect();
        edges.push(Vec::new());
        assert!(rings(&edges).is_empty());
        edges[length - 1].push(0);
        assert_eq!(rings(&edges)[0].len(), length);
    }
}
