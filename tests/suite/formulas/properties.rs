//! What holds for every formula: random texts and random trees.

use dryhold::formula::{Draws, Value, check, evaluate, parse};
use dryhold::source::Sources;
use proptest::prelude::*;

use super::checked;
use super::names::Case;

/// A tree of numbers whose value plain arithmetic gives.
#[derive(Clone, Debug)]
enum Tree {
    Number(f64),
    Negate(Box<Tree>),
    Binary(Box<Tree>, char, Box<Tree>),
    Power(Box<Tree>, i8),
    /// `if a < b then c else d`
    If(Box<[Tree; 4]>),
    Max(Vec<Tree>),
}

fn tree() -> impl Strategy<Value = Tree> {
    let leaf = prop_oneof![
        (0..100u8).prop_map(|n| Tree::Number(n.into())),
        (0.01..1000.0f64).prop_map(Tree::Number),
        (-50..0i8).prop_map(|n| Tree::Number(n.into())),
    ];
    leaf.prop_recursive(5, 48, 4, |inner| {
        let boxed = inner.clone().prop_map(Box::new);
        let operator = prop_oneof![Just('+'), Just('-'), Just('*'), Just('/')];
        prop_oneof![
            boxed.clone().prop_map(Tree::Negate),
            (boxed.clone(), operator, boxed.clone()).prop_map(|(a, o, b)| Tree::Binary(a, o, b)),
            (boxed, -3..4i8).prop_map(|(a, n)| Tree::Power(a, n)),
            [inner.clone(), inner.clone(), inner.clone(), inner.clone()]
                .prop_map(|parts| Tree::If(Box::new(parts))),
            prop::collection::vec(inner, 2..4).prop_map(Tree::Max),
        ]
    })
}

/// The value by the arithmetic of the machine.
fn plain(tree: &Tree) -> f64 {
    match tree {
        Tree::Number(n) => *n,
        Tree::Negate(a) => -plain(a),
        Tree::Binary(a, operator, b) => {
            let (a, b) = (plain(a), plain(b));
            match operator {
                '+' => a + b,
                '-' => a - b,
                '*' => a * b,
                _ => a / b,
            }
        }
        Tree::Power(a, n) => {
            let size = (0..n.unsigned_abs()).fold(1.0, |product, _| product * plain(a));
            if *n < 0 { 1.0 / size } else { size }
        }
        Tree::If(parts) => {
            let [a, b, then, otherwise] = parts.as_ref();
            if plain(a) < plain(b) { plain(then) } else { plain(otherwise) }
        }
        Tree::Max(parts) => parts.iter().map(plain).fold(f64::NEG_INFINITY, f64::max),
    }
}

/// Whether every number on the way is finite.
fn is_finite_throughout(tree: &Tree) -> bool {
    plain(tree).is_finite()
        && match tree {
            Tree::Number(_) => true,
            Tree::Negate(a) | Tree::Power(a, _) => is_finite_throughout(a),
            Tree::Binary(a, _, b) => is_finite_throughout(a) && is_finite_throughout(b),
            Tree::If(parts) => parts.iter().all(is_finite_throughout),
            Tree::Max(parts) => parts.iter().all(is_finite_throughout),
        }
}

/// How tightly the outermost operator of the text holds, from 1 (`if`) to 6 (nothing to split).
fn level(tree: &Tree) -> u8 {
    match tree {
        Tree::If(_) => 1,
        Tree::Binary(_, '+' | '-', _) => 2,
        Tree::Binary(..) => 3,
        Tree::Negate(_) => 4,
        Tree::Number(n) if *n < 0.0 => 4,
        Tree::Power(..) => 5,
        Tree::Number(_) | Tree::Max(_) => 6,
    }
}

/// The text of a tree with brackets only where the precedence needs them.
fn text(tree: &Tree) -> String {
    let at_least = |inner: &Tree, lowest: u8| {
        let text = text(inner);
        if level(inner) < lowest { format!("({text})") } else { text }
    };
    match tree {
        Tree::Number(n) => n.to_string(),
        Tree::Negate(a) => format!("- {}", at_least(a, 4)),
        Tree::Binary(a, operator, b) => {
            let own = level(tree);
            format!("{} {operator} {}", at_least(a, own), at_least(b, own + 1))
        }
        Tree::Power(a, n) => format!("{}^{n}", at_least(a, 6)),
        Tree::If(parts) => {
            let [a, b, then, otherwise] = parts.as_ref();
            let (a, b) = (at_least(a, 2), at_least(b, 2));
            format!("if {a} < {b} then {} else {}", text(then), text(otherwise))
        }
        Tree::Max(parts) => {
            let parts: Vec<String> = parts.iter().map(text).collect();
            format!("max({})", parts.join(", "))
        }
    }
}

fn certain(text: &str, case: &Case) -> Option<f64> {
    let formula = checked(text, case).unwrap_or_else(|faults| panic!("{text}\n{faults:#?}"));
    match evaluate(&formula, case) {
        Value::Quantity(Draws::Same(value)) => Some(value),
        Value::Unknown(_) => None,
        other => panic!("{text} gives {other:?}"),
    }
}

/// Near enough for powers, which may be multiplied in another order.
fn is_near(a: f64, b: f64) -> bool {
    a == b || (a - b).abs() <= 1e-12 * a.abs().max(b.abs())
}

/// Words that make random texts look like formulas.
fn fragment() -> impl Strategy<Value = String> {
    let words = [
        "p",
        "q",
        "look",
        "wet",
        "min",
        "(",
        ")",
        ",",
        "+",
        "-",
        "*",
        "/",
        "^",
        "+-",
        "%",
        "<",
        ">=",
        "is",
        "not",
        "one of",
        "and",
        "or",
        "if",
        "then",
        "else",
        "as",
        "includes",
        "1/8",
        "5 micron",
        "3",
        "1-1/8 in",
        "degC",
        "==",
        "&&",
        "\"",
        "in",
        "{",
        "}",
        ".",
        "e",
        "1,000",
        "never",
        "yes",
        "=",
        "first",
        "before",
        "change_oil",
        "every",
        "µ",
        "²",
        "\u{202e}",
    ];
    prop_oneof![
        9 => prop::sample::select(words.to_vec()).prop_map(str::to_owned),
        1 => any::<char>().prop_map(|c| c.to_string()),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn certain_numbers_follow_plain_arithmetic(tree in tree()) {
        let case = Case::new();
        let text = text(&tree);
        prop_assume!(is_finite_throughout(&tree));
        let value = certain(&text, &case);
        prop_assert!(value.is_some_and(|value| is_near(value, plain(&tree))), "{} {:?}", text, value);
    }

    #[test]
    fn brackets_round_everything_change_nothing(tree in tree()) {
        let case = Case::new();
        let text = text(&tree);
        let mut sources = Sources::default();
        let id = sources.add("<formula>", &*text);
        let syntax = parse(&text, &|range| sources.span(id, range.start, range.end)).unwrap();
        let bracketed = syntax.bracketed();
        prop_assert_eq!(certain(&text, &case), certain(&bracketed, &case), "{} {}", text, bracketed);
    }

    #[test]
    fn no_text_makes_the_language_panic(
        parts in prop::collection::vec(fragment(), 0..24),
        between in prop_oneof![Just(" "), Just("")],
    ) {
        let case = Case::new();
        let text = parts.join(between);
        let mut sources = Sources::default();
        let id = sources.add("<formula>", &*text);
        let place = |range: std::ops::Range<usize>| {
            assert!(text.get(range.clone()).is_some(), "{range:?} splits a character");
            sources.span(id, range.start, range.end)
        };
        match parse(&text, &place) {
            Err(faults) => prop_assert!(!faults.is_empty()),
            Ok(syntax) => match check(&syntax, &case, "test") {
                Err(faults) => prop_assert!(!faults.is_empty()),
                Ok(formula) => {
                    if let Value::Quantity(draws) = evaluate(&formula, &case) {
                        prop_assert!(!draws.values().iter().any(|x| x.is_nan()), "{}", text);
                    }
                }
            },
        }
    }

    #[test]
    fn random_characters_never_panic(text in "\\PC{0,60}") {
        let mut sources = Sources::default();
        let id = sources.add("<formula>", &*text);
        let _ = parse(&text, &|range| sources.span(id, range.start, range.end));
    }
}
