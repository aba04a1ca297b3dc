//! Parameters of every sort, on a function made for it.

use super::*;
use crate::formula::functions::{Example, Given, Gives, Never, Parameter, Refusal, Takes};
use crate::formula::syntax::Form;
use crate::formula::{Checked, Draws, NoNames, Summary, Value, evaluate, parse, stream};
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
    ..Function::PLAIN
};

/// A law that draws, gives a word, and says where it stops.
static FATE: Function = Function {
    name: "fate",
    says: "a sample",
    parameters: &[Parameter::required("floor", "", Takes::Quantity(QuantityKind::PRESSURE))],
    gives: Gives::Word(&[("dry", "no water left"), ("wet", "water left")]),
    formula: "wet above 10 Pa, give or take 5 Pa",
    source: "invented",
    examples: &[],
    body: Body::Each(|given| match given.at(0) {
        floor if floor < 0.0 => Err(Refusal::Impossible("less than nothing".to_owned())),
        floor => Ok(if floor > 5.0 + 10.0 * given.drawn(0) { 1.0 } else { 0.0 }),
    }),
    holds: "in this test",
    drawn: &["test.fate"],
    never: Some(Never {
        says: "it stops at",
        kind: QuantityKind::PRESSURE,
        law: |given| 2.0 * given.at(0) + given.drawn(0),
    }),
};

/// What the sample gives for a call of it, or the title of the fault.
fn sample(text: &str) -> Result<Value, String> {
    called(&SAMPLE, text).map(|checked| evaluate(&checked, &NoNames))
}

/// A call of a function that need not be in the table, or the title of the fault.
fn called(function: &'static Function, text: &str) -> Result<Checked, String> {
    let mut sources = Sources::default();
    let id = sources.add("<formula>", text);
    let syntax = parse(text, &|range| sources.span(id, range.start, range.end)).unwrap();
    let mut checker = Checker::new(&syntax, &NoNames, "test");
    let Form::Call(call) = &syntax.root.form else { panic!("{text} is no call") };
    let typed = checker
        .in_order(call, function)
        .and_then(|arguments| checker.apply(&syntax.root, function, &arguments));
    let Some(typed) = typed else { return Err(checker.faults[0].title.clone()) };
    Ok(Checked {
        text: syntax.text.clone(),
        root: Box::new(typed.expression),
        kind: typed.kind,
        uses: Vec::new(),
        unit: None,
    })
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
    let why = "`sample` is known for `length` from 0 m to 10 m, and 11 m was given";
    assert_eq!(unknown("sample(5 m + 6 m)"), why);
    // One draw out of range is enough; which one is told depends on the draws.
    assert!(unknown("sample(9.9 +- 0.2 m)").starts_with("`sample` is known for `length`"));
    // A literal is refused before anything is evaluated.
    assert_eq!(sample("sample(11 m)"), Err(why.to_owned()));
}

#[test]
fn a_word_is_a_choice_that_draws_may_disagree_on() {
    for (text, shown) in
        [("fate(4 Pa)", "dry"), ("fate(14.9 Pa)", "wet"), ("fate(10 Pa)", "too close to tell")]
    {
        let checked = called(&FATE, text).unwrap();
        assert_eq!(checked.kind().with_article(), "a choice (dry, wet)");
        assert_eq!(checked.show(&evaluate(&checked, &NoNames), &NoNames), shown, "{text}");
    }
}

#[test]
fn what_is_known_within_bounds_is_drawn_from_its_stream() {
    let chance = stream("law:test.fate");
    let Value::Choice(draws) = evaluate(&called(&FATE, "fate(8 Pa)").unwrap(), &NoNames) else {
        panic!("no choice")
    };
    let wet: Vec<u16> = chance.iter().map(|u| u16::from(8.0 > 5.0 + 10.0 * u)).collect();
    assert_eq!(draws.values(), wet);
}

#[test]
fn values_that_do_not_go_together_are_refused_in_a_sentence() {
    let value = evaluate(&called(&FATE, "fate(1 Pa - 2 Pa)").unwrap(), &NoNames);
    let Value::Unknown(why) = value else { panic!("{value:?}") };
    assert_eq!(why.to_string(), "`fate` has no answer: less than nothing");
}

#[test]
fn a_call_says_where_it_stops() {
    let stops = called(&FATE, "fate(3 Pa)").unwrap().stops_at(&NoNames).unwrap();
    let Value::Quantity(place) = &stops.place else { panic!("{stops:?}") };
    let summary = Summary::of(place);
    assert!((summary.middle - 6.5).abs() < 1e-3 && summary.low > 6.02, "{summary:?}");
    assert_eq!((stops.says, stops.kind), ("it stops at", QuantityKind::PRESSURE));
    assert_eq!(called(&SAMPLE, "sample(1 m)").unwrap().stops_at(&NoNames), None);
}
