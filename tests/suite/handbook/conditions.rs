//! Every part of a condition on a finding has words of its own, since a reader is told which part
//! is not met.

use dryhold::formula::{Checked, Expression, Resolved, Symbol};
use dryhold::handbook::{Entry, Handbook};

use super::handbook;

/// The parts of a condition that would be told by their ids or as a calculation.
fn nameless(handbook: &Handbook, condition: &Checked) -> Vec<String> {
    let mut faults = Vec::new();
    look(handbook, condition, condition.root(), &mut faults);
    faults
}

fn look(handbook: &Handbook, whole: &Checked, part: &Expression, faults: &mut Vec<String>) {
    match &part.form {
        Resolved::And(inner) => inner.iter().for_each(|part| look(handbook, whole, part, faults)),
        Resolved::Not(inner) if matches!(inner.form, Resolved::Recall(_)) => {
            look(handbook, whole, inner, faults);
        }
        Resolved::Recall(used) if is_named(handbook, used.symbol) => {}
        Resolved::Recall(used) => match handbook.entry(used.symbol) {
            Entry::Formula(id)
                if matches!(handbook.formula(id).is.root().form, Resolved::And(_)) =>
            {
                let behind = &handbook.formula(id).is;
                look(handbook, behind, behind.root(), faults);
            }
            _ => faults.push(handbook.symbol_name(used.symbol).to_owned()),
        },
        _ => faults.push(whole.text()[part.range.clone()].to_owned()),
    }
}

fn is_named(handbook: &Handbook, symbol: Symbol) -> bool {
    match handbook.entry(symbol) {
        Entry::Formula(id) => handbook.formula(id).name.is_some(),
        Entry::Finding(id) => handbook.finding(id).name.is_some(),
        Entry::Question(_) => false,
    }
}

#[test]
fn every_part_of_a_condition_is_told_in_words() {
    let handbook = handbook();
    let conditions = handbook.findings().iter().filter_map(|f| Some((&f.id, f.only_if.as_ref()?)));
    let conditions: Vec<_> = conditions.collect();
    assert!(conditions.len() > 30);
    let faults: Vec<String> = conditions
        .iter()
        .flat_map(|(id, condition)| {
            let parts = nameless(&handbook, condition);
            parts.into_iter().map(move |part| format!("{id}: {part}"))
        })
        .collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}
