//! Circles: names that need each other, causes that bring each other, findings that replace each
//! other, trees that lead into each other.

use super::ring::{Edges, rings, tell};
use crate::diagnostic::{Code, Diagnostic};
use crate::document::Spanned;
use crate::document::raw::{RawHandbook, RawTree, RawWork};
use crate::handbook::resolve::Ids;
use crate::handbook::written::WrittenNames;
use crate::source::Span;

pub(super) fn check(raw: &RawHandbook, ids: &Ids, faults: &mut Vec<Diagnostic>) {
    names(raw, faults);
    brings(raw, ids, faults);
    replaces(raw, ids, faults);
    trees(raw, ids, faults);
}

fn names(raw: &RawHandbook, faults: &mut Vec<Diagnostic>) {
    let names = WrittenNames::of(raw);
    for ring in rings(names.needs()) {
        let next = |at: usize| ring[(at + 1) % ring.len()];
        let link = |(at, &i): (usize, &usize)| (names.name(i), names.place(i, next(at)));
        let links: Vec<(&str, Span)> = ring.iter().enumerate().map(link).collect();
        let title = match links.as_slice() {
            [(only, _)] => format!("`{only}` needs its own result"),
            _ => "names need each other in a circle".to_owned(),
        };
        let fault = tell(Code::FormulaCycle, &title, "needs", &links);
        faults.push(fault.note("what is needed must be known first"));
    }
}

fn brings(raw: &RawHandbook, ids: &Ids, faults: &mut Vec<Diagnostic>) {
    let brought = |i: usize| {
        let names = raw.causes[i].brings.iter().map(|(name, _)| name);
        names.filter_map(|name| ids.causes.get(&name.value)).map(|id| id.index()).collect()
    };
    let edges: Edges = (0..raw.causes.len()).map(brought).collect();
    for ring in rings(&edges) {
        let links: Vec<(&str, Span)> = ring
            .iter()
            .enumerate()
            .map(|(at, &i)| {
                let (cause, next) = (&raw.causes[i], &raw.causes[ring[(at + 1) % ring.len()]].id);
                let link = cause.brings.iter().find(|(name, _)| name.value == next.value);
                (cause.id.value.as_str(), link.map_or(cause.id.span, |(name, _)| name.span))
            })
            .collect();
        let title = match links.as_slice() {
            [(only, _)] => format!("cause `{only}` brings itself"),
            _ => "causes bring each other in a circle".to_owned(),
        };
        let fault = tell(Code::BringsCycle, &title, "brings", &links);
        faults.push(fault.note("a cause that brings others comes before them"));
    }
}

fn replaces(raw: &RawHandbook, ids: &Ids, faults: &mut Vec<Diagnostic>) {
    let replaced = |i: usize| {
        let name = raw.findings[i].replaces_finding.as_ref();
        name.and_then(|name| ids.findings.get(&name.value)).map(|id| id.index())
    };
    let edges: Edges = (0..raw.findings.len()).map(|i| Vec::from_iter(replaced(i))).collect();
    for ring in rings(&edges) {
        let place = |&i: &usize| {
            let finding = &raw.findings[i];
            let span = finding.replaces_finding.as_ref().map_or(finding.id.span, |name| name.span);
            (finding.id.value.as_str(), span)
        };
        let links: Vec<(&str, Span)> = ring.iter().map(place).collect();
        let title = match links.as_slice() {
            [(only, _)] => format!("finding `{only}` replaces itself"),
            _ => "findings replace each other in a circle".to_owned(),
        };
        let fault = tell(Code::ReplacesCycle, &title, "replaces", &links);
        faults.push(fault.note("the better observation replaces the other, and none replaces it"));
    }
}

fn trees(raw: &RawHandbook, ids: &Ids, faults: &mut Vec<Diagnostic>) {
    let leads: Vec<Vec<&Spanned<String>>> = raw.trees.iter().map(leads_to).collect();
    let number = |name: &&Spanned<String>| ids.trees.get(&name.value).map(|id| id.index());
    let edges: Edges = leads.iter().map(|led| led.iter().filter_map(number).collect()).collect();
    for ring in rings(&edges) {
        let links: Vec<(&str, Span)> = ring
            .iter()
            .enumerate()
            .map(|(at, &i)| {
                let next = &raw.trees[ring[(at + 1) % ring.len()]].id.value;
                let link = leads[i].iter().find(|name| name.value == *next);
                let tree = &raw.trees[i].id;
                (tree.value.as_str(), link.map_or(tree.span, |name| name.span))
            })
            .collect();
        let title = match links.as_slice() {
            [(only, _)] => format!("tree `{only}` leads into itself"),
            _ => "trees lead into each other in a circle".to_owned(),
        };
        let fault = tell(Code::VisitCycle, &title, "leads to", &links);
        faults.push(fault.note("a tree may only be offered again, under `then:` of an `end`"));
    }
}

/// The trees that a tree visits or goes on to; those it only offers at its end don't count.
fn leads_to(tree: &RawTree) -> Vec<&Spanned<String>> {
    let mut led = Vec::new();
    for step in &tree.steps {
        if let Some(RawWork::Visit(visited)) = &step.work {
            led.push(visited);
        }
        let targets = step.next.iter().flat_map(|next| next.targets());
        led.extend(targets.filter_map(|target| target.tree()));
    }
    led
}
