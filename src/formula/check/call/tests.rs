//! Parameters of every sort, on a function made for it.

use super::*;
use crate::formula::functions::{Example, Given, Gives, Parameter, Takes};
use crate::formula::syntax::Form;
use crate::formula::{Draws, NoNames, Value, parse};
use crate::quantity::QuantityKind;
use crate::source::Sources;

const WORDS: &[(&str, &str)] = &[("soft", "annealed"), ("hard", "drawn")];

/// A function with every sort of parameter that a law of physics may have.
static SAMPLE: Function = Function {
    name: "sample",
    says: "a sample",
    parameters: &[
        Parameter {
            range: Some((0.0, 10.0)),
            ..Parameter::required("length", "", Takes::Quantity(QuantityKind::LENGTH))
        },
        Parameter {
            need: Need::Default(1.0),
            ..Parameter::required("temper", "", Takes::Word(WORDS))
        },
        Parameter {
            need: Need::Optional,
            ..Parameter::required("times", "", Takes::Quantity(QuantityKind::NUMBER))
        },
    ],
    gives: Gives::Kind(QuantityKind::LENGTH),
    formula: "length + 100 m if hard, times as often",
    source: "invented",
    examples: &[Example { text: "sample(1 m)", gives: "101 m" }],
    body: Body::Each(|given: &Given<'_>| {
        let hard = if given.word(1) == 1 { 100.0 } else { 0.0 };
        Ok((given.at(0) + hard) * given.optional(2).unwrap_or(1.0))
    }),
};

/// What the sample gives for a call of it, or the title of the fault.
fn sample(text: &str) -> Result<Value, String> {
    let mut sources = Sources::default();
    let id = sources.add("<formula>", text);
    let syntax = parse(text, &|range| sources.span(id, range.start, range.end)).unwrap();
    let mut checker = Checker::new(&syntax, &NoNames, "test");
    let Form::Call(call) = &syntax.root.form else { panic!("{text} is no call") };
    let typed = checker
        .in_order(call, &SAMPLE)
        .and_then(|arguments| checker.apply(&syntax.root, &SAMPLE, &arguments));
    let Some(typed) = typed else { return Err(checker.faults[0].title.clone()) };
    let checked = crate::formula::Checked {
        text: syntax.text.clone(),
        root: typed.expression,
        kind: typed.kind,
        uses: Vec::new(),
        unit: None,
    };
    Ok(crate::formula::evaluate(&checked, &NoNames))
}

#[test]
fn arguments_come_by_place_by_name_and_by_default() {
    for (text, metres) in [
        ("sample(1 m)", 101.0),
        ("sample(1 m, soft)", 1.0),
        ("sample(temper = soft, length = 2 m)", 2.0),
        ("sample(1 m, times = 2)", 202.0),
    ] {
        assert_eq!(sample(text), Ok(Value::Quantity(Draws::Same(metres))), "{text}");
    }
}

#[test]
fn what_a_function_does_not_take_is_named() {
    for (text, title) in [
        ("sample(1 s)", "`sample` takes a length for `length`, and `1 s` is a time"),
        ("sample(1 m, sotf)", "`sotf` is not a word that `sample` takes for `temper`"),
        ("sample(temper = soft)", "`sample` is called without `length`"),
        ("sample(1 m, tempre = soft)", "`sample` has no argument `tempre`"),
    ] {
        assert_eq!(sample(text), Err(title.to_owned()), "{text}");
    }
}

#[test]
fn a_value_out_of_range_makes_it_unknown_and_says_why() {
    let unknown = |text| match sample(text) {
        Ok(Value::Unknown(reason)) => reason.to_string(),
        other => panic!("{text} gives {other:?}"),
    };
    let why = "`sample` is known for a length from 0 m to 10 m, and 11 m was given";
    assert_eq!(unknown("sample(11 m)"), why);
    // One draw out of range is enough; which one is told depends on the draws.
    assert!(unknown("sample(9.9 +- 0.2 m)").starts_with("`sample` is known for a length"));
}
