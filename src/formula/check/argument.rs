//! What a function is given, against what it takes.

use super::join::join;
use super::{Checker, Number, Typed, quantity, typed};
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::formula::functions::{
    Body, Function, Gives, Need, OutOfRange, Parameter, Refusal, Takes,
};
use crate::formula::resolved::{Expression, Resolved};
use crate::formula::syntax::{Call, Form, Node};
use crate::formula::{Draws, Kind, Value};
use crate::quantity::QuantityKind;
use crate::text::list_and;

impl Checker<'_> {
    /// A call of a function with a place for each parameter.
    pub(super) fn apply(
        &mut self,
        node: &Node,
        function: &'static Function,
        arguments: &[Option<&Node>],
    ) -> Option<Typed> {
        let mut places = Vec::new();
        let mut kinds = Vec::new();
        let mut is_fine = true;
        for (parameter, argument) in function.parameters.iter().zip(arguments) {
            match argument.map(|argument| self.argument(function, parameter, argument)) {
                Some(Some(number)) => {
                    kinds.push(number.kind);
                    places.push(Some(number.expression));
                }
                Some(None) => is_fine = false,
                None => places.push(left_out(node, parameter)),
            }
        }
        if !is_fine {
            return None;
        }
        let first = kinds.first().copied().unwrap_or(QuantityKind::NUMBER);
        let of = arguments.iter().flatten().next().copied().unwrap_or(node);
        let kind = self.given_kind(function, first, of)?;
        Some(typed(node, kind, Resolved::Apply(function, places)))
    }

    /// The kind that a function gives for the kind it was given.
    fn given_kind(
        &mut self,
        function: &Function,
        given: QuantityKind,
        node: &Node,
    ) -> Option<Kind> {
        let rule = match function.gives {
            Gives::Kind(kind) => return Some(Kind::Quantity(kind)),
            Gives::OfName => return Some(Kind::Quantity(given)),
            Gives::YesNo => return Some(Kind::YesNo),
            Gives::Word(words) => return Some(Kind::word(words)),
            Gives::From(rule) => rule,
        };
        match rule(given) {
            Ok(kind) => Some(Kind::Quantity(kind)),
            Err(reason) => {
                let kind = Kind::Quantity(given);
                let title = format!(
                    "`{}` can't take {}, which is {}",
                    function.name,
                    self.subject(node),
                    kind.with_article()
                );
                let fault = Diagnostic::nowhere(Code::WrongKind, title);
                let fault = self.side(fault, node, &kind).note(reason);
                self.report(fault);
                None
            }
        }
    }

    fn argument(
        &mut self,
        function: &Function,
        parameter: &Parameter,
        node: &Node,
    ) -> Option<Number> {
        let wanted = match parameter.takes {
            Takes::Word(words) => return self.word(function, parameter, words, node),
            Takes::Quantity(wanted) => wanted,
            Takes::Readings => return self.readings(function, parameter, node),
            _ => return self.number(node),
        };
        let side = self.node(node)?;
        match side.kind {
            Kind::Quantity(kind) if kind.fits(wanted) => {
                self.within_range(function, parameter, node, &side.expression)?;
                let kind = Kind::Quantity(wanted);
                Some(Number { kind: wanted, expression: Expression { kind, ..side.expression } })
            }
            kind => {
                let wanted = Kind::Quantity(wanted).with_article();
                self.wrong_argument(function, parameter, &wanted, (node, &kind));
                None
            }
        }
    }

    /// Readings are handed on whole; the kind of the number stands for nothing.
    fn readings(
        &mut self,
        function: &Function,
        parameter: &Parameter,
        node: &Node,
    ) -> Option<Number> {
        let side = self.node(node)?;
        if let Kind::Readings(_) = side.kind {
            return Some(Number { kind: QuantityKind::NUMBER, expression: side.expression });
        }
        self.wrong_argument(function, parameter, "readings", (node, &side.kind));
        None
    }

    fn wrong_argument(
        &mut self,
        function: &Function,
        parameter: &Parameter,
        wanted: &str,
        (node, kind): (&Node, &Kind),
    ) {
        let title = format!(
            "`{}` takes {wanted} for `{}`, and {} is {}",
            function.name,
            parameter.name,
            self.subject(node),
            kind.with_article()
        );
        let fault = Diagnostic::nowhere(Code::WrongKind, title);
        let fault = self.side(fault, node, kind);
        self.report(fault);
    }

    /// Refuses a literal that lies beyond the range in which the function is known; what is only
    /// known from answers is refused when it is evaluated.
    fn within_range(
        &mut self,
        function: &Function,
        parameter: &Parameter,
        node: &Node,
        given: &Expression,
    ) -> Option<()> {
        let Resolved::Constant(Value::Quantity(Draws::Same(si))) = given.form else {
            return Some(());
        };
        let Some(fault) = OutOfRange::of(parameter, si) else { return Some(()) };
        let title = function.refuses(&Refusal::OutOfRange(fault), QuantityKind::NUMBER);
        self.report(Diagnostic::at(Code::OutOfRange, title, node.span, "outside the range"));
        None
    }

    /// A bare word for a parameter of words, as the number of its place.
    fn word(
        &mut self,
        function: &Function,
        parameter: &Parameter,
        words: &'static [(&'static str, &'static str)],
        node: &Node,
    ) -> Option<Number> {
        let written = match &node.form {
            Form::Name(name) => name.as_str(),
            _ => "",
        };
        if let Some(place) = words.iter().position(|(word, _)| *word == written) {
            let value = Value::Quantity(Draws::Same(place as f64));
            let typed = quantity(node, QuantityKind::NUMBER, Resolved::Constant(value));
            return Some(Number { kind: QuantityKind::NUMBER, expression: typed.expression });
        }
        let title = format!(
            "{} is not a word that `{}` takes for `{}`",
            self.subject(node),
            function.name,
            parameter.name
        );
        let possible: Vec<String> = words.iter().map(|(word, _)| format!("`{word}`")).collect();
        let near = near_name(written, words.iter().map(|(word, _)| *word));
        self.report(
            Diagnostic::at(Code::WrongArguments, title, node.span, "not among the words possible")
                .note(format!("possible are {}", list_and(&possible)))
                .maybe_help(near.map(|near| format!("did you mean `{near}`?"))),
        );
        None
    }

    /// A call of a function that takes several values or one list.
    pub(super) fn several(
        &mut self,
        node: &Node,
        call: &Call,
        function: &'static Function,
    ) -> Option<Typed> {
        if let Some(name) = call.arguments.iter().find_map(|argument| argument.name.as_ref()) {
            let title = format!("`{}` takes its values without names", function.name);
            let fault = Diagnostic::at(Code::WrongArguments, title, name.span, "named here");
            self.report(fault.help(format!("leave out `{} =`", name.text)));
            return None;
        }
        let nodes: Vec<&Node> = call.arguments.iter().map(|argument| &argument.value).collect();
        let sides: Vec<Option<Typed>> = nodes.iter().map(|node| self.node(node)).collect();
        let sides = sides.into_iter().collect::<Option<Vec<Typed>>>()?;
        let is_one_list = matches!(sides.as_slice(), [Typed { kind: Kind::List(_), .. }]);
        if sides.is_empty() || (sides.len() == 1 && !is_one_list) {
            self.too_few(call, function, sides.first().map(|typed| &typed.kind));
            return None;
        }
        let kind = match function.body {
            Body::Count => QuantityKind::NUMBER,
            _ => self.one_kind(function, &nodes, &sides)?,
        };
        let kind = self.given_kind(function, kind, nodes[0])?;
        let values: Vec<Option<Expression>> =
            sides.into_iter().map(|side| Some(side.expression)).collect();
        Some(typed(node, kind, Resolved::Apply(function, values)))
    }

    fn too_few(&mut self, call: &Call, function: &Function, given: Option<&Kind>) {
        let title = match given {
            None => format!("`{}` is called without values", function.name),
            Some(_) => format!("`{}` is called with one value alone", function.name),
        };
        let (span, label) = match call.arguments.first() {
            Some(argument) => (argument.value.span, "one value"),
            None => (call.close, "missing here"),
        };
        self.report(
            Diagnostic::at(Code::WrongArguments, title, span, label)
                .note("it takes two or more values, or one list such as `every(q)`"),
        );
    }

    /// The one kind of several values, or of the elements of one list.
    fn one_kind(
        &mut self,
        function: &Function,
        nodes: &[&Node],
        typed: &[Typed],
    ) -> Option<QuantityKind> {
        let mut joined: Option<QuantityKind> = None;
        for (node, side) in nodes.iter().zip(typed) {
            let kind = match &side.kind {
                Kind::List(of) if typed.len() == 1 => of,
                kind => kind,
            };
            let Kind::Quantity(kind) = kind else {
                let fault = self.unfit(node, &side.kind, "a number or a measured value");
                self.report(fault);
                return None;
            };
            joined = Some(match joined {
                None => *kind,
                Some(before) => match join(before, *kind) {
                    Some(one) => one,
                    None => {
                        self.mixed(function, (nodes[0], before), (node, *kind));
                        return None;
                    }
                },
            });
        }
        joined
    }

    fn mixed(
        &mut self,
        function: &Function,
        (first, before): (&Node, QuantityKind),
        (node, kind): (&Node, QuantityKind),
    ) {
        let (before, kind) = (Kind::Quantity(before), Kind::Quantity(kind));
        let title = format!(
            "`{}` is called with {} and {}",
            function.name,
            before.with_article(),
            kind.with_article()
        );
        let fault = Diagnostic::nowhere(Code::KindsDiffer, title);
        let fault = self.side(fault, node, &kind);
        let fault = self.side(fault, first, &before);
        self.report(fault);
    }
}

/// What stands for a parameter that was left out.
fn left_out(node: &Node, parameter: &Parameter) -> Option<Expression> {
    match parameter.need {
        Need::Default(si) => {
            Some(quantity(node, QuantityKind::NUMBER, Resolved::Default(si)).expression)
        }
        Need::Required | Need::Optional => None,
    }
}
