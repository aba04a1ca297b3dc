//! Advice from the analysis, one file a question. No start waits for it.

mod dead;
mod derived;
mod example;
mod findings;
mod looking_back;
mod matters;
mod points;
mod ranges;
mod unasked;
mod unread;
mod unsure;
mod way_without;

use super::reach::Analysis;
use crate::diagnostic::{Code, Diagnostic, sort_in_file_order};
use crate::document::bound;
use crate::document::raw::{RawHandbook, RawStep, RawTree};
use crate::handbook::{Handbook, TreeId};

/// Advice on which answers lead where; `written` is what the handbook was compiled from.
#[must_use]
pub fn advise(written: &RawHandbook, analysis: &Analysis<'_>) -> Vec<Diagnostic> {
    let handbook = analysis.handbook();
    let mut advice = Vec::new();
    dead::advise(written, analysis, &mut advice);
    findings::advise(written, analysis, &mut advice);
    looking_back::advise(written, analysis, &mut advice);
    matters::advise(written, handbook, &mut advice);
    points::advise(written, analysis, &mut advice);
    ranges::advise(written, analysis, &mut advice);
    unasked::advise(written, analysis, &mut advice);
    unread::advise(written, analysis, &mut advice);
    unsure::advise(written, analysis, &mut advice);
    for (id, tree) in trees(written, handbook) {
        if analysis.is_coarse(id) {
            let title = format!(
                "tree `{}` has more ways through it than are followed one by one",
                tree.id.value
            );
            let label = "steps or branches out of reach may go unsaid here";
            let fault = Diagnostic::at(Code::NotAllFollowed, title, tree.id.span, label);
            advice.push(fault.note("nothing is wrong with it; some ways were taken together"));
        }
    }
    sort_in_file_order(&mut advice);
    bound(&mut advice);
    advice
}

/// Every tree with what was written of it.
fn trees<'w>(
    written: &'w RawHandbook,
    handbook: &Handbook,
) -> impl Iterator<Item = (TreeId, &'w RawTree)> {
    written.trees.iter().filter_map(|raw| Some((handbook.find_tree(&raw.id.value)?, raw)))
}

/// The step of a tree as written, by its place.
fn step(tree: &RawTree, place: usize) -> Option<&RawStep> {
    tree.steps.get(place)
}
