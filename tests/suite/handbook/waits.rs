//! The waits of the built-in handbook against the minutes that its instructions name.

use dryhold::handbook::StepKind;

use crate::commands::built_in;

const NUMBERS: [(&str, f64); 10] = [
    ("a", 1.0),
    ("one", 1.0),
    ("two", 2.0),
    ("three", 3.0),
    ("five", 5.0),
    ("ten", 10.0),
    ("fifteen", 15.0),
    ("twenty", 20.0),
    ("thirty", 30.0),
    ("sixty", 60.0),
];

/// The minutes that a text names, as a word or a figure.
fn named(text: &str) -> Vec<f64> {
    let mut text = text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    let mut minutes = Vec::new();
    for (phrase, found) in [
        ("quarter of an hour", 15.0),
        ("half an hour", 30.0),
        ("an hour", 60.0),
        ("another hour", 60.0),
    ] {
        minutes.extend(text.contains(phrase).then_some(found));
        text = text.replace(phrase, "");
    }
    let words: Vec<&str> = text.split(' ').map(|word| word.trim_matches([',', '.', ':'])).collect();
    for pair in words.windows(2).filter(|pair| matches!(pair[1], "minute" | "minutes" | "min")) {
        let spelled = NUMBERS.iter().find(|(word, _)| *word == pair[0]).map(|(_, number)| *number);
        minutes.extend(spelled.or_else(|| pair[0].parse().ok()));
    }
    minutes
}

#[test]
fn minutes_are_found_in_words_and_figures() {
    let text = "Wait five minutes, 10 min or half an hour; another hour, a quarter of an hour.";
    assert_eq!(named(text), [15.0, 30.0, 60.0, 5.0, 10.0]);
    assert_eq!(named("Read as before."), [0.0; 0]);
}

#[test]
fn no_instruction_names_other_minutes_than_its_wait() {
    let (book, _) = built_in();
    let mut read = 0;
    for tree in book.trees() {
        for step in &tree.steps {
            let StepKind::Do { text, wait: Some(seconds) } = &step.kind else { continue };
            let (text, wait) = (text.spelled(), seconds / 60.0);
            let named = named(&text);
            read += usize::from(!named.is_empty());
            let is_named = named.iter().any(|minutes| (minutes - wait).abs() < 1e-9);
            assert!(named.is_empty() || is_named, "{}.{}: {wait} min, {text}", tree.id, step.id);
            let leaves_open = ["as long as before", "as long again"];
            let leaves_open = leaves_open.iter().any(|words| text.contains(words));
            assert!(!leaves_open, "{}.{}: {text}", tree.id, step.id);
        }
    }
    assert!(read > 15, "{read} instructions with a wait name their minutes");
}
