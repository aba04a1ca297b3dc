//! The golden table: what each text gives, or how it is refused.

use super::names::Case;
use super::{checked, kind_name};
use dryhold::formula::evaluate;

/// A text, its kind or the codes of its faults, and its value or the mends offered.
struct Row {
    line: usize,
    text: &'static str,
    kind: &'static str,
    value: &'static str,
}

fn rows() -> Vec<Row> {
    include_str!("../../data/formulas.tsv")
        .lines()
        .enumerate()
        .filter(|(_, line)| !line.is_empty() && !line.starts_with('#'))
        .map(|(at, line)| {
            let mut cells = line.split('\t');
            let mut cell = || cells.next().unwrap_or("");
            Row { line: at + 1, text: cell(), kind: cell(), value: cell() }
        })
        .collect()
}

/// Kind and value as the table writes them.
fn outcome(text: &str, case: &Case) -> (String, String) {
    match checked(text, case) {
        Ok(formula) => {
            let value = evaluate(&formula, case);
            let shown = match &value {
                dryhold::formula::Value::Unknown(reason) => format!("unknown: {reason}"),
                value => formula.show(value, case),
            };
            (kind_name(formula.kind()), shown)
        }
        Err(faults) => {
            let codes: Vec<&str> = faults.iter().map(|fault| fault.code.number()).collect();
            let helps: Vec<&str> =
                faults.iter().map(|fault| fault.help.as_deref().unwrap_or("-")).collect();
            (codes.join(" "), helps.join(" | "))
        }
    }
}

#[test]
fn every_text_gives_what_the_table_says() {
    let case = Case::new();
    let rows = rows();
    assert!(rows.len() >= 250, "the table has shrunk to {} rows", rows.len());
    let mut wrong = Vec::new();
    for row in &rows {
        let (kind, value) = outcome(row.text, &case);
        if (kind.as_str(), value.as_str()) != (row.kind, row.value) {
            wrong.push(format!("line {}: {}\n\t{kind}\t{value}", row.line, row.text));
        }
    }
    assert!(wrong.is_empty(), "{} rows differ:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn names_are_said_as_words_and_units_stay_as_they_are() {
    let case = Case::new();
    for (text, words) in [
        ("blank_off > 60 micron and wet", "blank off > 60 micron and wet"),
        ("first(blank_off) > 2 kgf_cm2", "first(blank off) > 2 kgf_cm2"),
    ] {
        let said = checked(text, &case).map(|formula| formula.in_words(&case));
        assert_eq!(said.unwrap(), words, "{text}");
    }
}
