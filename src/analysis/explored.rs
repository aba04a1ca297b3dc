//! All trees of a handbook, swept one after the other.

use std::cell::Cell;
use std::collections::BTreeSet;

use petgraph::algo::toposort;
use petgraph::graph::{DiGraph, NodeIndex};

use super::conditions::Conditions;
use super::graph::{Graph, PartId};
use super::journey::{Doings, Shaken, outdated_by_asking};
use super::layout::Layout;
use super::slot::SlotId;
use super::sweep::{Ground, MOST_HELD, Swept, sweep};
use crate::handbook::{Handbook, Next, StepKind, TreeId};

/// A handbook whose trees have been swept.
pub(super) struct Explored<'h> {
    pub handbook: &'h Handbook,
    pub conditions: Conditions<'h>,
    /// For each tree and step, the conditions of its list.
    pub rules: Vec<Vec<Vec<PartId>>>,
    /// For each finding, what it comes to.
    pub findings: Vec<PartId>,
    pub swept: Vec<Swept>,
    /// For each tree, what it may ask and do, itself or where it leads.
    pub doings: Vec<Doings>,
}

impl<'h> Explored<'h> {
    /// Sweeps every tree, those that others lead to first.
    pub fn of(handbook: &'h Handbook) -> Self {
        Self::within(handbook, MOST_HELD)
    }

    /// Sweeps every tree while its entries hold no more slots than this, all trees together.
    fn within(handbook: &'h Handbook, most_held: usize) -> Self {
        let mut graph = Graph::new(handbook);
        let rules = rules(handbook, &mut graph);
        let findings = handbook.finding_ids().map(|id| graph.finding(id)).collect();
        let conditions = Conditions::new(handbook, graph);
        let shaken = Shaken::of(handbook, &conditions);
        let order = inner_first(handbook);
        let doings = doings(handbook, &order);
        let is_late = late(handbook, &order, &doings);
        let wanted = wanted_after(handbook, &order, &rules, &conditions);
        let mut swept: Vec<Swept> = handbook.trees().iter().map(|_| Swept::default()).collect();
        let room = Cell::new(most_held);
        for &tree in &order {
            let rules = &rules[tree.index()];
            let layout = Layout::of(handbook.tree(tree), rules, &conditions, &wanted[tree.index()]);
            let ground = Ground {
                handbook,
                conditions: &conditions,
                shaken: &shaken,
                doings: &doings,
                done: &swept,
                room: &room,
            };
            let found = sweep(ground, tree, rules, &layout, is_late[tree.index()]);
            swept[tree.index()] = found;
        }
        Self { handbook, conditions, rules, findings, swept, doings }
    }
}

/// For each tree and step, the conditions of its list.
fn rules(handbook: &Handbook, graph: &mut Graph<'_>) -> Vec<Vec<Vec<PartId>>> {
    let mut of = |next: &Next| match next {
        Next::ByRules { rules, .. } => {
            rules.iter().map(|rule| graph.add(&rule.condition)).collect()
        }
        _ => Vec::new(),
    };
    let trees = handbook.trees().iter();
    trees.map(|tree| tree.steps.iter().map(|step| of(&step.next)).collect()).collect()
}

/// The trees in an order in which those that a tree leads to come before it. A sound handbook has
/// no circle of trees.
fn inner_first(handbook: &Handbook) -> Vec<TreeId> {
    let mut graph: DiGraph<(), ()> = DiGraph::new();
    for _ in handbook.trees() {
        graph.add_node(());
    }
    for (from, tree) in handbook.trees().iter().enumerate() {
        for to in tree.leads_to() {
            graph.add_edge(NodeIndex::new(to.index()), NodeIndex::new(from), ());
        }
    }
    let sorted = toposort(&graph, None).unwrap_or_default();
    sorted.into_iter().map(|node| TreeId::at(node.index())).collect()
}

fn doings(handbook: &Handbook, order: &[TreeId]) -> Vec<Doings> {
    let mut all = vec![Doings::default(); handbook.trees().len()];
    for &id in order {
        let tree = handbook.tree(id);
        let mut doings = Doings::default();
        for step in &tree.steps {
            match step.kind {
                StepKind::Ask { question, again } => {
                    let is_setting = handbook.question(question).is_setting();
                    let again = again || tree.rounds.is_some() && !is_setting;
                    *doings.asked.entry(question).or_default() |= again;
                    doings.outdated.extend(outdated_by_asking(handbook, question, again));
                }
                StepKind::Act { action, .. } => {
                    doings.done.push(action);
                    doings.outdated.extend(&handbook.action(action).outdates);
                }
                _ => {}
            }
        }
        doings.asked.extend(tree.rounds.map(|question| (question, true)));
        for led in tree.leads_to() {
            let Doings { asked, done, outdated } = &all[led.index()];
            for (question, again) in asked {
                *doings.asked.entry(*question).or_default() |= again;
            }
            doings.done.extend(done);
            doings.outdated.extend(outdated);
        }
        doings.done.sort_unstable();
        doings.done.dedup();
        all[id.index()] = doings;
    }
    all
}

/// Which trees may begin after an action, done by a tree that leads to them.
fn late(handbook: &Handbook, order: &[TreeId], doings: &[Doings]) -> Vec<bool> {
    let mut late = vec![false; doings.len()];
    for &id in order.iter().rev() {
        let acts = !doings[id.index()].done.is_empty() || late[id.index()];
        for led in handbook.tree(id).leads_to() {
            late[led.index()] |= acts;
        }
    }
    late
}

/// For each tree, the slots that conditions of trees leading to it look at.
fn wanted_after(
    handbook: &Handbook,
    order: &[TreeId],
    rules: &[Vec<Vec<PartId>>],
    conditions: &Conditions<'_>,
) -> Vec<BTreeSet<SlotId>> {
    let mut wanted: Vec<BTreeSet<SlotId>> = vec![BTreeSet::new(); rules.len()];
    for &id in order.iter().rev() {
        let led = handbook.tree(id).leads_to();
        if led.is_empty() {
            continue;
        }
        let own = rules[id.index()].iter().flatten();
        let mut slots: BTreeSet<SlotId> =
            own.flat_map(|part| conditions.graph.node(*part).slots.iter().copied()).collect();
        slots.extend(&wanted[id.index()]);
        for tree in led {
            wanted[tree.index()].extend(&slots);
        }
    }
    wanted
}

#[cfg(test)]
mod tests {
    use super::Explored;
    use crate::handbook::{Handbook, compile};
    use crate::source::Sources;

    /// So many questions in a row, each with a branch, and each looked back at in the end.
    fn handbook(questions: usize) -> Handbook {
        let mut text = "format: 1\nname: Ways\nversion: 1\nquestions:\n".to_owned();
        let mut steps = String::new();
        for at in 0..questions {
            text += &format!("  q{at}: {{ask: Is it so?, kind: yes/no}}\n");
            for (step, work) in [("s", format!("ask: q{at}")), ("r", "do: Look back.".to_owned())] {
                let next = match (step, at + 1 == questions) {
                    ("s", true) => "r0".to_owned(),
                    (_, true) => "end".to_owned(),
                    _ => format!("{step}{}", at + 1),
                };
                steps += &format!(
                    "      {step}{at}:\n        {work}\n        next:\n          - {{if: q{at}, go: \
                     {step}{at}_do}}\n          - {{unknown: {next}}}\n          - {{else: {next}}}\n      \
                     {step}{at}_do:\n        do: Do it.\n        next: {next}\n"
                );
            }
        }
        text += "trees:\n  t:\n    title: T\n    start: s0\n    steps:\n";
        let mut sources = Sources::default();
        let id = sources.add("x.yaml", format!("{text}{steps}      end:\n        end: Done.\n"));
        let compiled = compile(&sources, &[id], &[]);
        compiled.handbook.unwrap_or_else(|| panic!("{:?}", compiled.faults.first()))
    }

    #[test]
    fn where_there_is_no_room_ways_are_joined_and_none_is_lost() {
        let handbook = handbook(12);
        let held = |explored: &Explored<'_>| -> usize {
            explored.swept[0].entered.iter().map(|entered| entered.region.held().len()).sum()
        };
        let (free, narrow) = (Explored::of(&handbook), Explored::within(&handbook, 100));
        assert!(held(&free) > 1000, "{}", held(&free));
        assert!(held(&narrow) <= 100, "{}", held(&narrow));
        assert!(narrow.swept[0].is_coarse);
        for steps in &narrow.swept[0].by_step {
            assert!(!steps.is_empty());
        }
        assert!(narrow.swept[0].taken.keys().eq(free.swept[0].taken.keys()));
    }
}
