//! The table of functions: every example runs, every entry is whole.

use super::checked;
use super::names::Case;
use dryhold::formula::{Need, evaluate, find_function, functions};

#[test]
fn every_example_gives_what_it_says() {
    let case = Case::new();
    let mut wrong = Vec::new();
    for function in functions() {
        for example in function.examples {
            let formula = checked(example.text, &case)
                .unwrap_or_else(|faults| panic!("{}: {faults:#?}", example.text));
            let shown = formula.show(&evaluate(&formula, &case), &case);
            if shown != example.gives {
                wrong.push(format!("{} gives {shown}, not {}", example.text, example.gives));
            }
            assert!(example.text.contains(function.name), "{} in {}", function.name, example.text);
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_entry_is_whole() {
    for function in functions() {
        assert_eq!(find_function(function.name).map(|f| f.name), Some(function.name), "twice");
        for text in [function.says, function.formula, function.source] {
            assert!(!text.is_empty() && !text.ends_with('.'), "{}: {text}", function.name);
        }
        assert!(!function.examples.is_empty(), "{} has no example", function.name);
        let needs: Vec<bool> =
            function.parameters.iter().map(|p| p.need == Need::Required).collect();
        assert!(needs.is_sorted_by(|a, b| a >= b), "{}: required ones first", function.name);
    }
}
