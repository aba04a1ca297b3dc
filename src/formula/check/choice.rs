//! `is`, `is one of` and `includes`.

use super::{Checker, Typed, typed};
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::formula::resolved::{Expression, Resolved};
use crate::formula::syntax::{Form, IsOneOf, Node, Word};
use crate::formula::{ChoiceSet, Draws, Kind, Value};
use crate::quantity::{NAMED_KINDS, QuantityKind};
use crate::source::Span;
use crate::text::list_and;

impl Checker<'_> {
    pub(super) fn is(&mut self, node: &Node, left: &Node, right: &IsOneOf) -> Option<Typed> {
        let side = self.node(left)?;
        let options: Option<Vec<Expression>> = match &side.kind {
            Kind::Choice(set) => {
                let found: Vec<_> =
                    right.options.iter().map(|option| self.choice(left, set, option)).collect();
                found.into_iter().collect()
            }
            Kind::YesNo => {
                let found: Vec<_> =
                    right.options.iter().map(|option| self.truth_option(option)).collect();
                found.into_iter().collect()
            }
            Kind::Quantity(kind) if is_never(*kind, right) => {
                let found: Vec<_> = right.options.iter().map(|option| self.node(option)).collect();
                found.into_iter().map(|typed| typed.map(|typed| typed.expression)).collect()
            }
            kind => {
                let fault = self.no_is(left, kind, right);
                self.report(fault);
                None
            }
        };
        let form = Resolved::Is(Box::new(side.expression), right.is_negated, options?);
        Some(typed(node, Kind::YesNo, form))
    }

    /// One of the choices of the left side: its bare id, or something that gives such a choice.
    fn choice(&mut self, left: &Node, set: &ChoiceSet, option: &Node) -> Option<Expression> {
        let bare = match &option.form {
            Form::Name(name) => Some(name.as_str()),
            Form::Truth(truth) => Some(if *truth { "yes" } else { "no" }),
            _ => None,
        };
        if let Some(place) = bare.and_then(|name| set.position(name)) {
            let place = u16::try_from(place).unwrap_or(u16::MAX);
            let value = Value::Choice(Draws::Same(place));
            let kind = Kind::Choice(set.clone());
            return Some(typed(option, kind, Resolved::Constant(value)).expression);
        }
        let known = bare.is_none_or(|name| self.names.lookup(name).is_some());
        if let Some(name) = bare.filter(|_| !known) {
            let fault = self.unknown_choice(left, set, name, option.span);
            self.report(fault);
            return None;
        }
        let side = self.node(option)?;
        if side.kind == Kind::Choice(set.clone()) {
            return Some(side.expression);
        }
        let title = format!(
            "{} is {}, but it is compared with {}",
            self.subject(left),
            Kind::Choice(set.clone()).with_article(),
            side.kind.with_article()
        );
        let fault = Diagnostic::nowhere(Code::KindsDiffer, title);
        let fault = self.side(fault, option, &side.kind);
        let fault = self.side(fault, left, &Kind::Choice(set.clone()));
        self.report(fault);
        None
    }

    fn unknown_choice(&self, left: &Node, set: &ChoiceSet, name: &str, span: Span) -> Diagnostic {
        let title = format!("`{name}` is not a choice of {}", self.subject(left));
        let fault = Diagnostic::at(Code::UnknownChoice, title, span, "not among the choices");
        let fault = match self.declared(left) {
            Some(place) => fault.and_at(place, "the choices are declared here"),
            None => fault,
        };
        let ids: Vec<String> = set.ids().iter().map(|id| format!("`{id}`")).collect();
        let near = near_name(name, set.ids().iter().map(String::as_str));
        fault.note(format!("the choices are {}", list_and(&ids))).help(match near {
            Some(near) => format!("did you mean `{near}`?"),
            None => "write one of these ids, not the words that people read".to_owned(),
        })
    }

    fn truth_option(&mut self, option: &Node) -> Option<Expression> {
        let side = self.node(option)?;
        if side.kind == Kind::YesNo {
            return Some(side.expression);
        }
        let fault = self.unfit(option, &side.kind, &Kind::YesNo.with_article());
        self.report(fault);
        None
    }

    /// What is said where `is` can't compare.
    fn no_is(&self, left: &Node, kind: &Kind, right: &IsOneOf) -> Diagnostic {
        let title = format!(
            "{} is {} and can't be compared with `is`",
            self.subject(left),
            kind.with_article()
        );
        let fault = self.side(Diagnostic::nowhere(Code::WrongKind, title), left, kind);
        match (kind, right.options.as_slice()) {
            (Kind::Choices(_), [one]) if !right.is_list && !right.is_negated => {
                fault.help(format!("write `{} includes {}`", self.written(left), self.written(one)))
            }
            (Kind::Choices(_), _) => fault.note("`includes` asks whether a choice is among them"),
            (Kind::Quantity(kind), options) => fault
                .note("measured values are never exactly equal; `<`, `<=`, `>` and `>=` order them")
                .maybe_help(self.in_order_instead(left, *kind, options)),
            (Kind::Text, _) => fault.note(self.only_shown(left)),
            _ => fault,
        }
    }

    /// What to write for `is` and a number.
    fn in_order_instead(
        &self,
        left: &Node,
        kind: QuantityKind,
        options: &[Node],
    ) -> Option<String> {
        let [Node { form: Form::Literal(literal), .. }] = options else { return None };
        let written = self.written(&options[0]);
        let unit = NAMED_KINDS.iter().find(|named| named.kind == kind).map(|named| named.unit);
        let unit = unit.filter(|unit| literal.unit.is_none() && *unit != "1");
        let limit = unit.map_or_else(|| written.clone(), |unit| format!("{written} {unit}"));
        Some(format!("write `{} >= {limit}`, or with another of the signs", self.written(left)))
    }

    pub(super) fn includes(&mut self, node: &Node, left: &Node, choice: &Word) -> Option<Typed> {
        let side = self.node(left)?;
        let set = match &side.kind {
            Kind::Choices(set) => set,
            kind => {
                let is = kind.with_article();
                let title = format!("{} is {is}, which includes nothing", self.subject(left));
                let fault = self.side(Diagnostic::nowhere(Code::WrongKind, title), left, kind);
                let mend =
                    matches!(kind, Kind::Choice(set) if set.position(&choice.text).is_some())
                        .then(|| format!("write `{} is {}`", self.written(left), choice.text));
                self.report(fault.maybe_help(mend));
                return None;
            }
        };
        let Some(place) = set.position(&choice.text) else {
            let fault = self.unknown_choice(left, set, &choice.text, choice.span);
            self.report(fault);
            return None;
        };
        Some(typed(node, Kind::YesNo, Resolved::Includes(Box::new(side.expression), place)))
    }
}

/// Whether a time is compared with `never` alone.
fn is_never(kind: QuantityKind, right: &IsOneOf) -> bool {
    kind == QuantityKind::TIME
        && right.options.iter().all(|option| matches!(option.form, Form::Never))
}
