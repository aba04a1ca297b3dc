//! Formulas, from text to a value.

use dryhold::diagnostic::{Look, render};
use dryhold::formula::{NoNames, check, evaluate, parse, show_value};
use dryhold::source::{Sources, Span};

use super::{corpus, fuzz, steers};

const FORMULAS: &str = "\
500 micron as Pa
(35 +- 5 micron) - 26 micron
10 L * 12 micron/min as Pa m3/s
saturation_pressure(8 degC) as micron
max(1 micron, 2 Pa, 0.5 mbar)
if 3 > 2 then 1 else 2
1/0
(((1)))
-5 degC to 20 degC
9.5 mm
2 ^ 0.5
not (1 < 2 and 3 >= 4)";

const WORDS: &[&str] = &[
    "(",
    ")",
    "+-",
    " as ",
    "micron",
    "degC",
    " K",
    "^",
    "/",
    "*",
    " to ",
    " and ",
    " or ",
    "not ",
    "1e308",
    "1e-320",
    "0",
    "-",
    "%",
    "max(",
    "min(",
    "previous(",
    "if ",
    " then ",
    " else ",
    ",",
    "\u{1b}[2J",
    "\u{202e}",
    "µ",
    "\0",
    "saturation_pressure(",
    "sqrt(",
    "ln(",
];

#[test]
fn any_formula_is_a_value_or_a_fault() {
    fuzz("formulas", &corpus::lines(FORMULAS), WORDS, |bytes| {
        let text = String::from_utf8_lossy(bytes);
        let mut sources = Sources::default();
        let id = sources.add("<formula>", text.as_ref());
        let place = |range: std::ops::Range<usize>| Span::new(id, range.start, range.end);
        let syntax = parse(&text, &place);
        match syntax.and_then(|syntax| check(&syntax, &NoNames, "eval")) {
            Ok(checked) => {
                let value = evaluate(&checked, &NoNames);
                let _ = checked.working(&NoNames);
                steers(&show_value(&value, checked.kind(), checked.unit()))
            }
            Err(faults) if faults.is_empty() => Some("it is refused without a fault".to_owned()),
            Err(faults) => steers(&render(&faults, &sources, Look::default())),
        }
    });
}
