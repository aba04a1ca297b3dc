//! Functions called: finding them, and putting what they are given in the order of their
//! parameters.

use super::{Checker, Typed};
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::formula::functions::{Body, Function, Need, functions};
use crate::formula::parse::wording::{asks_for_earlier, previous};
use crate::formula::syntax::{Argument, Call, Form, Node, Word};
use crate::formula::{Referent, find_function};
use crate::quantity::find_unit;
use crate::text::count;

impl Checker<'_> {
    pub(super) fn call(&mut self, node: &Node, call: &Call) -> Option<Typed> {
        let name = &call.function;
        let Some(function) = find_function(&name.text) else {
            let fault = self.unknown_function(call);
            self.report(fault);
            for argument in &call.arguments {
                self.silently(&argument.value);
            }
            return None;
        };
        if function.takes_several() {
            return self.several(node, call, function);
        }
        let arguments = self.in_order(call, function)?;
        match function.body {
            Body::LookBack(way) => self.look_back(node, function, way, &arguments),
            _ => self.apply(node, function, &arguments),
        }
    }

    /// Checks the inner parts of an argument whose function is not known; a bare word may be a
    /// choice or an action and is left alone.
    fn silently(&mut self, node: &Node) {
        if !matches!(node.form, crate::formula::syntax::Form::Name(_)) {
            self.node(node);
        }
    }

    fn unknown_function(&self, call: &Call) -> Diagnostic {
        let (name, text) = (&call.function, &call.function.text);
        let fault = |title: String, label: &str| {
            Diagnostic::at(Code::UnknownFunction, title, name.span, label)
        };
        if let Some(info) = self.names.lookup(text) {
            let what = match info.referent {
                Referent::Question => "a question",
                Referent::Formula => "a formula",
                Referent::Finding => "a finding",
            };
            let fault =
                fault(format!("`{text}` is {what}, not a function"), "called like a function")
                    .note("a product is written with `*`");
            let is_place = matches!(call.arguments.as_slice(), [only] if is_place(&only.value));
            let earlier = format!("an earlier answer is `previous({text})` or `first({text})`");
            return fault.maybe_help(is_place.then_some(earlier));
        }
        if find_unit(text).is_some() {
            return fault(format!("`{text}` is a unit, not a function"), "called like a function")
                .note("a product is written with `*`");
        }
        if let ([only], true) = (call.arguments.as_slice(), asks_for_earlier(text)) {
            return fault(format!("`{text}` is not a function"), "not known")
                .help(previous(&self.written(&only.value)));
        }
        let near = near_name(text, functions().map(|function| function.name));
        fault(format!("`{text}` is not a function"), "not known")
            .maybe_help(near.map(|near| format!("did you mean `{near}`?")))
    }

    /// The arguments in the order of the parameters.
    fn in_order<'n>(
        &mut self,
        call: &'n Call,
        function: &Function,
    ) -> Option<Vec<Option<&'n Node>>> {
        let mut places: Vec<Option<&'n Argument>> = vec![None; function.parameters.len()];
        let mut is_fine = true;
        let mut named: Option<&Word> = None;
        for (position, argument) in call.arguments.iter().enumerate() {
            let place = match (&argument.name, named) {
                (Some(name), _) => {
                    named = Some(name);
                    self.parameter_named(function, name)
                }
                (None, Some(before)) => self.behind_named(argument, before),
                (None, None) => self.parameter_at(call, function, position, argument),
            };
            let Some(place) = place else {
                is_fine = false;
                continue;
            };
            if let Some(first) = places[place] {
                self.given_twice(function, place, first, argument);
                is_fine = false;
            }
            places[place] = Some(argument);
        }
        // A misspelt name would be reported a second time as a missing argument.
        if is_fine {
            is_fine = self.none_missing(call, function, &places);
        }
        is_fine.then(|| places.into_iter().map(|place| place.map(|a| &a.value)).collect())
    }

    fn parameter_named(&mut self, function: &Function, name: &Word) -> Option<usize> {
        let names = || function.parameters.iter().map(|parameter| parameter.name);
        let place = names().position(|parameter| parameter == name.text);
        if place.is_none() {
            let near = near_name(&name.text, names());
            let title = format!("`{}` has no argument `{}`", function.name, name.text);
            self.report(
                Diagnostic::at(Code::WrongArguments, title, name.span, "not known")
                    .note(format!("it is called as `{}`", function.signature()))
                    .maybe_help(near.map(|near| format!("did you mean `{near}`?"))),
            );
        }
        place
    }

    fn behind_named(&mut self, argument: &Argument, before: &Word) -> Option<usize> {
        let title = format!("a value without a name stands behind `{} = ...`", before.text);
        self.report(
            Diagnostic::at(Code::WrongArguments, title, argument.value.span, "has no name")
                .and_at(before.span, "names begin here")
                .note("once an argument is named, all behind it are named"),
        );
        None
    }

    fn parameter_at(
        &mut self,
        call: &Call,
        function: &Function,
        position: usize,
        argument: &Argument,
    ) -> Option<usize> {
        if position < function.parameters.len() {
            return Some(position);
        }
        // Said once, at the first one too many.
        if position == function.parameters.len() {
            let title = format!(
                "`{}` takes {}, but {} given",
                function.name,
                count(function.parameters.len(), "argument"),
                match call.arguments.len() {
                    1 => "1 is".to_owned(),
                    many => format!("{many} are"),
                }
            );
            self.report(
                Diagnostic::at(Code::WrongArguments, title, argument.value.span, "one too many")
                    .note(format!("it is called as `{}`", function.signature())),
            );
        }
        None
    }

    fn given_twice(
        &mut self,
        function: &Function,
        place: usize,
        first: &Argument,
        second: &Argument,
    ) {
        let name = function.parameters[place].name;
        let title = format!("`{name}` of `{}` is given twice", function.name);
        let span =
            |argument: &Argument| argument.name.as_ref().map_or(argument.value.span, |n| n.span);
        self.report(
            Diagnostic::at(Code::WrongArguments, title, span(second), "given again")
                .and_at(span(first), "given first here"),
        );
    }

    fn none_missing(
        &mut self,
        call: &Call,
        function: &Function,
        places: &[Option<&Argument>],
    ) -> bool {
        let missing: Vec<String> = function
            .parameters
            .iter()
            .zip(places)
            .filter(|(parameter, place)| parameter.need == Need::Required && place.is_none())
            .map(|(parameter, _)| format!("`{}`", parameter.name))
            .collect();
        if missing.is_empty() {
            return true;
        }
        let title =
            format!("`{}` is called without {}", function.name, crate::text::list_and(&missing));
        let fault = Diagnostic::at(Code::WrongArguments, title, call.close, "missing here")
            .note(format!("it is called as `{}`", function.signature()));
        let earlier = match call.arguments.as_slice() {
            [Argument { value: Node { form: Form::Name(name), .. }, .. }]
                if function.name == "before" && self.names.lookup(name).is_some() =>
            {
                Some(previous(name))
            }
            _ => None,
        };
        self.report(fault.maybe_help(earlier));
        false
    }
}

/// Whether an argument is a whole number, as if answers were counted.
fn is_place(node: &Node) -> bool {
    matches!(&node.form, Form::Literal(literal) if literal.unit.is_none() && literal.number.fract() == 0.0)
}

#[cfg(test)]
mod tests;
