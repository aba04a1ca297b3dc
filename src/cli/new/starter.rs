//! The texts that an author begins with, and what is put into them.

/// A tree that stands on its own questions and finding.
pub(super) const TREE: &str = include_str!("starters/tree.yaml");
/// Its rows that name the gauge.
pub(super) const READ_FROM_GAUGE: &str = include_str!("starters/read_from_gauge.yaml");
/// The vacuum gauge, for a handbook that has none.
pub(super) const GAUGE: &str = include_str!("starters/gauge.yaml");
/// A cause with its repair, question and finding.
pub(super) const CAUSE: &str = include_str!("starters/cause.yaml");
/// A question answered by yes or no.
pub(super) const YES_NO: &str = include_str!("starters/question_yes_no.yaml");
/// A question with choices.
pub(super) const CHOICE: &str = include_str!("starters/question_choice.yaml");
/// A question for a quantity.
pub(super) const QUANTITY: &str = include_str!("starters/question_quantity.yaml");

/// The files of a whole small handbook, by their names; `TREE` in a name is the id of its tree.
pub(super) const HANDBOOK: [(&str, &str); 5] = [
    ("handbook.yaml", include_str!("starters/handbook/handbook.yaml")),
    ("questions.yaml", include_str!("starters/handbook/questions.yaml")),
    ("findings.yaml", include_str!("starters/handbook/findings.yaml")),
    ("causes.yaml", include_str!("starters/handbook/causes.yaml")),
    ("trees/TREE.yaml", include_str!("starters/handbook/tree.yaml")),
];
/// Its scenario.
pub(super) const SCENARIO: &str = include_str!("starters/handbook/scenario.yaml");

/// The text with a value in each place `@name@`.
pub(super) fn fill(text: &str, values: &[(&str, &str)]) -> String {
    let mut filled = text.to_owned();
    for (name, value) in values {
        // A value never brings a place of its own: what a person typed comes last.
        filled = filled.replace(&format!("@{name}@"), value);
    }
    filled
}

/// A kind of quantity that a new question may ask for.
pub(super) struct Asked {
    pub kind: &'static str,
    pub unit: &'static str,
    /// What is possible and what is usual, both an estimate marked so in the starter.
    pub range: &'static str,
    pub usual: &'static str,
}

/// The kinds of quantities, each with the unit and the ranges that its starter begins with. All
/// ranges are an estimate, wide enough for a service van, and marked so in what is written.
pub(super) const ASKED: [Asked; 6] = [
    Asked {
        kind: "pressure",
        unit: "micron",
        range: "0.1 micron to 760000 micron",
        usual: "5 micron to 20000 micron",
    },
    Asked {
        kind: "temperature",
        unit: "degC",
        range: "-60 degC to 150 degC",
        usual: "-10 degC to 50 degC",
    },
    Asked { kind: "time", unit: "min", range: "0 min to 3650 d", usual: "1 min to 10 h" },
    Asked { kind: "length", unit: "m", range: "0 m to 1000 m", usual: "0.1 m to 100 m" },
    Asked { kind: "volume", unit: "L", range: "0.001 L to 10000 L", usual: "0.1 L to 200 L" },
    Asked { kind: "ratio", unit: "%", range: "0 % to 100 %", usual: "1 % to 50 %" },
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rows_about_the_gauge_stand_in_the_tree() {
        assert_eq!(TREE.matches(READ_FROM_GAUGE).count(), 1);
        assert!(READ_FROM_GAUGE.contains("instrument: gauge\n"));
    }

    #[test]
    fn what_is_put_in_brings_no_place_of_its_own() {
        let filled = fill("@id@: @title@", &[("id", "a"), ("title", "@id@ @title@")]);
        assert_eq!(filled, "a: @id@ @title@");
    }
}
