//! `first`, `previous`, `before` and `every`.

use super::{Checker, Typed};
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::formula::functions::{Function, LookBack, Takes};
use crate::formula::syntax::{Form, Node};
use crate::formula::{NameInfo, Referent, Symbol, Use};

impl Checker<'_> {
    /// A call that looks back, its arguments in the order of the parameters.
    pub(super) fn look_back(
        &mut self,
        node: &Node,
        function: &Function,
        way: LookBack,
        arguments: &[Option<&Node>],
    ) -> Option<Typed> {
        let mut action = None;
        let mut name = None;
        for (parameter, argument) in function.parameters.iter().zip(arguments) {
            let argument = (*argument)?;
            match parameter.takes {
                Takes::Action => action = self.action_named(argument),
                Takes::Question => name = self.looked_at(function, argument, true),
                _ => name = self.looked_at(function, argument, false),
            }
        }
        let (name, how) = (name?, way.how(action)?);
        let used = Use { symbol: name.symbol, how };
        Some(self.recall(node, way.kind(name.kind), used))
    }

    /// The name that is looked at.
    fn looked_at(
        &mut self,
        function: &Function,
        node: &Node,
        only_questions: bool,
    ) -> Option<NameInfo> {
        let Form::Name(name) = &node.form else {
            let title = format!("`{}` looks back at a name alone", function.name);
            self.report(
                Diagnostic::at(
                    Code::WrongArguments,
                    title,
                    node.span,
                    "the id of one name belongs here",
                )
                .note("what is computed from it stands outside, as in `first(a) - first(b)`"),
            );
            return None;
        };
        let Some(info) = self.names.lookup(name) else {
            let fault = self.unknown_name(name, node.span);
            self.report(fault);
            return None;
        };
        let what = match info.referent {
            Referent::Question => return Some(info),
            _ if !only_questions => return Some(info),
            Referent::Formula => "a formula",
            Referent::Finding => "a finding",
        };
        let title = format!("`{}` looks back at answers, but `{name}` is {what}", function.name);
        let fault = Diagnostic::at(Code::WrongArguments, title, node.span, what)
            .note(format!("only a question has answers; `before` looks back at {what} too"));
        self.report(fault);
        None
    }

    fn action_named(&mut self, node: &Node) -> Option<Symbol> {
        let Form::Name(name) = &node.form else {
            let title = "`before` needs the id of an action";
            self.report(Diagnostic::at(Code::WrongArguments, title, node.span, "not an id"));
            return None;
        };
        let action = self.names.action(name);
        if action.is_none() {
            let near = near_name(name, self.names.all_actions());
            let title = format!("`{name}` is not an action");
            self.report(
                Diagnostic::at(Code::UnknownName, title, node.span, "an action is needed here")
                    .maybe_help(near.map(|near| format!("did you mean `{near}`?"))),
            );
        }
        action
    }
}
