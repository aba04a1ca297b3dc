//! What each line of a verdict may not do: miss a value, say a word twice, stand on the wrong side, or
//! pass judgement off as counts.

use dryhold::case::Now;
use dryhold::evidence::FindingState;
use dryhold::rehearsal::{Rehearsed, Scenario};
use dryhold::text::Line;

use super::verdicts::{Told, unless};

/// What a person stumbles over in what a case says: its end, and every finding as it stands.
pub(super) fn prose_of(scenario: &Scenario, rehearsed: &Rehearsed<'_>) -> Vec<String> {
    let case = &rehearsed.case;
    let mut lines: Vec<Line> =
        case.assessment().witnesses.iter().map(|witness| case.says(witness).text).collect();
    lines.extend(match case.now() {
        Now::Ended { done, .. } => Some(done.clone()),
        _ => None,
    });
    let texts = lines.iter().map(Line::to_text);
    texts.flat_map(|text| stumbles(&text)).map(|f| format!("{}: {f}", scenario.name)).collect()
}

/// A value that is missing within a sentence, or a word said twice over.
pub(super) fn stumbles(text: &str) -> Vec<String> {
    let mut faults = unless(!text.contains("not measured"), format!("a value is missing: {text}"));
    let words: Vec<String> = text.split_whitespace().map(str::to_lowercase).collect();
    let is_word = |word: &str| word.chars().all(char::is_alphabetic);
    let is_doubled = |pair: &[String]| pair[0] == pair[1] && is_word(&pair[0]);
    faults.extend(unless(!words.windows(2).any(is_doubled), format!("a word twice: {text}")));
    faults
}

/// Nothing stands as a reason for an explanation that comes out so less often with it than
/// without any fault.
pub(super) fn sides(told: &Told<'_>) -> Vec<String> {
    let assessment = told.case.assessment();
    let speaks_for = told.under("What speaks for it");
    let Some(leader) = assessment.leader().filter(|_| told.is_weighed()) else { return Vec::new() };
    let standing = assessment.witnesses.iter().filter(|witness| !witness.is_past());
    let speaks_against = standing.filter(|witness| {
        let finding = told.case.handbook().finding(witness.finding);
        let outcome = match witness.judged.state {
            FindingState::False(0.0) => 0,
            FindingState::True(1.0) => 1,
            _ => return false,
        };
        let background = finding.background[outcome];
        let shown = finding.shown_by.iter();
        if assessment.nothing_leads() {
            return outcome == 1 && shown.clone().all(|(_, with)| with[1] > background);
        }
        shown.clone().any(|(cause, with)| *cause == leader.cause && with[outcome] < background)
    });
    speaks_against
        .flat_map(|witness| {
            let text = told.case.says(witness).text.to_text();
            let is_alone = |line: &&&str| line.contains(&text) && !line.contains("Together with");
            let listed: Vec<String> =
                speaks_for.iter().filter(is_alone).map(|l| format!("not for it: {l}")).collect();
            listed
        })
        .collect()
}

/// Judgement is called judgement where the odds are told.
pub(super) fn marks(told: &Told<'_>) -> Vec<String> {
    let is_told = told.line("These odds rest on judgement, not on counts: ").is_some();
    // While readings can't all be, no odds are told either.
    let is_due = told.is_weighed() && !told.is_disputed();
    let mut faults = unless(is_told == is_due, "odds, and not what they rest on");
    let are_left_out = !told.is_disputed() || told.under("Ranking").is_empty();
    faults.extend(unless(are_left_out, "odds beside readings that can't all be"));
    faults
}
