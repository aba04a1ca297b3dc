//! A formula as it was read, with brackets round every operation.

use std::fmt::Write;

use super::Syntax;
use super::syntax::{Call, Form, IsOneOf, Literal, Node};

impl Syntax {
    /// The formula as it was read, with brackets round every operation, so that its author sees
    /// what belongs together. It reads back as the same formula.
    ///
    /// ```
    /// use dryhold::formula::parse;
    /// use dryhold::source::Sources;
    /// let mut sources = Sources::default();
    /// let text = "not a and b > 2 * 3^2";
    /// let id = sources.add("<formula>", text);
    /// let syntax = parse(text, &|range| sources.span(id, range.start, range.end)).unwrap();
    /// assert_eq!(syntax.bracketed(), "((not a) and (b > (2 * (3^2))))");
    /// ```
    #[must_use]
    pub fn bracketed(&self) -> String {
        let mut text = String::new();
        write_node(&mut text, &self.root);
        if let Some(shown) = &self.unit {
            let _ = write!(text, " as {}", shown.unit.symbol);
        }
        text
    }
}

fn write_node(text: &mut String, node: &Node) {
    match &node.form {
        Form::Literal(literal) => write_literal(text, literal),
        Form::Truth(truth) => text.push_str(if *truth { "yes" } else { "no" }),
        Form::Never => text.push_str("never"),
        Form::Name(name) => text.push_str(name),
        Form::Call(call) => write_call(text, call),
        _ => {
            text.push('(');
            write_operation(text, node);
            text.push(')');
        }
    }
}

fn write_operation(text: &mut String, node: &Node) {
    match &node.form {
        Form::Negate(inner) => write_behind(text, "-", inner),
        Form::Not(inner) => write_behind(text, "not ", inner),
        Form::Sum(first, terms) => {
            write_node(text, first);
            for term in terms {
                write_behind(text, if term.is_taken_away { " - " } else { " + " }, &term.node);
            }
        }
        Form::Product(first, factors) => {
            write_node(text, first);
            for factor in factors {
                write_behind(text, if factor.is_divisor { " / " } else { " * " }, &factor.node);
            }
        }
        Form::Power(base, exponent) => {
            write_node(text, base);
            let _ = write!(text, "^{exponent}");
        }
        Form::Compare(first, links) => {
            write_node(text, first);
            for link in links {
                let _ = write!(text, " {} ", link.order.symbol());
                write_node(text, &link.node);
            }
        }
        Form::Is(left, right) => write_is(text, left, right),
        Form::Includes(left, choice) => {
            write_node(text, left);
            let _ = write!(text, " includes {}", choice.text);
        }
        Form::And(parts) => write_joined(text, parts, " and "),
        Form::Or(parts) => write_joined(text, parts, " or "),
        Form::If(branches) => {
            write_behind(text, "if ", &branches.condition);
            write_behind(text, " then ", &branches.then);
            write_behind(text, " else ", &branches.otherwise);
        }
        Form::Literal(_) | Form::Truth(_) | Form::Never | Form::Name(_) | Form::Call(_) => {}
    }
}

fn write_behind(text: &mut String, before: &str, node: &Node) {
    text.push_str(before);
    write_node(text, node);
}

fn write_joined(text: &mut String, parts: &[Node], between: &str) {
    for (place, part) in parts.iter().enumerate() {
        write_behind(text, if place == 0 { "" } else { between }, part);
    }
}

fn write_is(text: &mut String, left: &Node, right: &IsOneOf) {
    write_node(text, left);
    text.push_str(if right.is_negated { " is not " } else { " is " });
    if right.is_list {
        text.push_str("one of (");
        write_joined(text, &right.options, ", ");
        text.push(')');
    } else {
        write_joined(text, &right.options, "");
    }
}

/// A negative number without a unit is bracketed, so that a power behind it stays outside.
fn write_literal(text: &mut String, literal: &Literal) {
    let (number, unit) = (literal.number, literal.unit.as_ref());
    let _ = match unit {
        Some(unit) => write!(text, "{number} {}", unit.symbol),
        None if number.is_sign_negative() => write!(text, "({number})"),
        None => write!(text, "{number}"),
    };
    if literal.half_width > 0.0 {
        let size = unit.map_or(1.0, |unit| unit.factor.abs());
        let _ = write!(text, " +- {}", literal.half_width / size);
    }
}

fn write_call(text: &mut String, call: &Call) {
    text.push_str(&call.function.text);
    text.push('(');
    for (place, argument) in call.arguments.iter().enumerate() {
        text.push_str(if place == 0 { "" } else { ", " });
        if let Some(name) = &argument.name {
            let _ = write!(text, "{} = ", name.text);
        }
        write_node(text, &argument.value);
    }
    text.push(')');
}
