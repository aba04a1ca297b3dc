//! Which names a formula as written speaks of.

use std::collections::BTreeSet;

use super::syntax::{Form, Node, Syntax};

impl Syntax {
    /// Every name that stands where a value may stand, once each; among them names of choices
    /// and of actions, since only the checker can tell them apart.
    #[must_use]
    pub fn names(&self) -> BTreeSet<String> {
        let mut names = BTreeSet::new();
        collect(&self.root, &mut names);
        names
    }
}

fn collect(node: &Node, names: &mut BTreeSet<String>) {
    let mut each = |nodes: &[Node]| nodes.iter().for_each(|node| collect(node, names));
    match &node.form {
        Form::Literal(_) | Form::Truth(_) | Form::Never => {}
        Form::Name(name) => drop(names.insert(name.clone())),
        Form::Call(call) => call.arguments.iter().for_each(|a| collect(&a.value, names)),
        Form::And(nodes) | Form::Or(nodes) => each(nodes),
        Form::Negate(inner) | Form::Power(inner, _) | Form::Not(inner) => collect(inner, names),
        Form::Is(inner, _) | Form::Includes(inner, _) => collect(inner, names),
        Form::Sum(first, rest) => {
            collect(first, names);
            rest.iter().for_each(|term| collect(&term.node, names));
        }
        Form::Product(first, rest) => {
            collect(first, names);
            rest.iter().for_each(|factor| collect(&factor.node, names));
        }
        Form::Compare(first, rest) => {
            collect(first, names);
            rest.iter().for_each(|comparison| collect(&comparison.node, names));
        }
        Form::If(branches) => {
            for part in [&branches.condition, &branches.then, &branches.otherwise] {
                collect(part, names);
            }
        }
    }
}
