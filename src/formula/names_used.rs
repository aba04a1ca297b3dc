//! Which names a formula as written speaks of.

use std::collections::BTreeSet;

use super::find_function;
use super::functions::Takes;
use super::syntax::{Argument, Call, Form, Node, Syntax};

impl Syntax {
    /// Every name that stands where a value may stand, once each. The name of an action and a
    /// bare word that a function takes are none.
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
        Form::Call(call) => {
            let values = call.arguments.iter().enumerate().filter(|(at, a)| is_value(call, *at, a));
            values.for_each(|(_, argument)| collect(&argument.value, names));
        }
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

/// Whether an argument is a value, and not the name of an action or a bare word.
fn is_value(call: &Call, at: usize, argument: &Argument) -> bool {
    let Some(function) = find_function(&call.function.text) else { return true };
    let parameter = match &argument.name {
        Some(name) => function.parameters.iter().find(|parameter| parameter.name == name.text),
        None => function.parameters.get(at),
    };
    !parameter.is_some_and(|parameter| matches!(parameter.takes, Takes::Action | Takes::Word(_)))
}
