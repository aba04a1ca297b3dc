//! What is left open, and why: findings too close to tell, and findings that what was answered does
//! not count for.

use std::collections::BTreeSet;

use super::rounded::rounding;
use crate::case::{Case, FindingId, QuestionId};
use crate::evidence::{FindingState, Saying, Witness, speaks};
use crate::handbook::{Entry, Observes};
use crate::text::{Line, Role, capital, list_and, spoken};

/// The most reasons that are told why findings don't count (limit of ours).
const MOST_NOT_COUNTED: usize = 3;

/// Findings that are too close to tell, and by how much.
pub(super) fn not_settled(case: &Case<'_>) -> Vec<Line> {
    let mut told: Vec<String> = Vec::new();
    let mut lines: Vec<Line> = Vec::new();
    for witness in too_close_findings(case) {
        let line = too_close(case.says(witness));
        // Once for all that rest on the same readings.
        let rounding = rounding(case, witness.finding).filter(|said| !told.contains(said));
        told.extend(rounding.clone());
        lines.push(line.push(Role::Plain, rounding.unwrap_or_default()));
    }
    if !lines.is_empty() {
        lines.insert(0, Line::strong("What is not settled"));
    }
    lines
}

fn too_close_findings<'a>(case: &'a Case<'_>) -> impl Iterator<Item = &'a Witness> {
    let standing = case.assessment().witnesses.iter().filter(|witness| !witness.is_past());
    standing.filter(|witness| matches!(witness.judged.state, FindingState::TooClose(_)))
}

fn too_close(said: Saying) -> Line {
    let line = Line::plain("- ").join(said.text);
    match said.margin {
        Some(margin) => line
            .push(Role::Plain, " It is ")
            .join(margin)
            .push(Role::Plain, ", within the doubt of what was read."),
        None => line.push(Role::Plain, " What was read, with its doubt, allows both."),
    }
}

/// Findings for which everything was answered and that do not apply all the same, with the reason.
pub(super) fn not_counted(case: &Case<'_>) -> Vec<Line> {
    let sheet = case.worksheet();
    let handbook = case.handbook();
    // What is not settled has told of these already.
    let told_before: Vec<String> =
        too_close_findings(case).filter_map(|witness| rounding(case, witness.finding)).collect();
    let is_answered = |finding: FindingId| {
        let questions = handbook.questions_under(handbook.finding(finding).symbol);
        !questions.is_empty() && questions.iter().all(|&id| !sheet.is_unanswered(id))
    };
    let told = |finding: FindingId| {
        if case.assessment().finding(finding).state != FindingState::NotApplicable
            || !is_answered(finding)
        {
            return None;
        }
        let why = &case.finding_says(finding).lacks?;
        // What is missing is told by the next checks, and a condition with a calculation in it is
        // no sentence; both stand behind `why`.
        let is_sentence = why.starts_with("it ") && !why.contains('(');
        let entry = handbook.finding(finding);
        let name = entry.name.clone().unwrap_or_else(|| spoken(&entry.id));
        let name = match entry.observes {
            Observes::When(_) => format!("whether {name}"),
            Observes::Of(_) => name,
        };
        let is_told = is_sentence
            && !follows(case, finding)
            && !leaves_another(case, finding)
            // What speaks of no cause, as what was told without counting yet does, needs no words
            // where it isn't so.
            && (!case.is_apart(finding) || why.starts_with("it is too close"))
            && entry.read_again.is_empty();
        let rounding = rounding(case, finding)
            .filter(|said| why.starts_with("it is too close") && !told_before.contains(said));
        is_told.then(|| {
            (name, format!("{}.{}", told_to_people(case, why), rounding.unwrap_or_default()))
        })
    };
    let mut by_reason: Vec<(String, Vec<String>)> = Vec::new();
    for (name, reason) in case.finding_ids().filter_map(told) {
        match by_reason.iter_mut().find(|(told, _)| *told == reason) {
            Some((_, names)) => names.push(name),
            None => by_reason.push((reason, vec![name])),
        }
    }
    let line = |(reason, names): (String, Vec<String>)| {
        Line::plain(format!("- {}: {reason}", capital(&list_and(&names))))
    };
    let mut lines: Vec<Line> = by_reason.into_iter().map(line).take(MOST_NOT_COUNTED).collect();
    lines.extend(outdated(case).take(MOST_NOT_COUNTED));
    if !lines.is_empty() {
        lines.insert(0, Line::strong("What was answered and does not count"));
    }
    lines
}

/// Answers that are older than what changed since and are missing for a finding, with what did.
fn outdated<'c>(case: &'c Case<'_>) -> impl Iterator<Item = Line> + use<'c> {
    let (sheet, handbook) = (case.worksheet(), case.handbook());
    let is_open = |finding: &FindingId| {
        let state = &case.assessment().finding(*finding).state;
        !speaks(state) && sheet.judges_here(*finding)
    };
    let needed = |finding: FindingId| handbook.questions_under(handbook.finding(finding).symbol);
    let missing: BTreeSet<QuestionId> =
        case.finding_ids().filter(is_open).flat_map(needed).copied().collect();
    let told = missing.into_iter().filter_map(|id| {
        let since = sheet.latest_is_outdated(id)?.in_words(handbook);
        let line = Line::plain("- ").join(case.ask(id));
        let typed = &case.latest_answer(id)?.typed;
        let since = without_ids(&since);
        Some(line.push(Role::Plain, format!(" [{typed}]: taken before {since}.")))
    });
    told.collect::<Vec<_>>().into_iter()
}

/// Whether it doesn't apply because of what another finding says, which is told there.
fn follows(case: &Case<'_>, finding: FindingId) -> bool {
    let handbook = case.handbook();
    let uses = handbook.finding(finding).only_if.iter().flat_map(|condition| condition.uses());
    let is_met = |id| matches!(case.assessment().finding(id).state, FindingState::True(_));
    uses.into_iter().any(|used| match handbook.entry(used.symbol) {
        Entry::Finding(id) => !is_met(id),
        Entry::Question(_) | Entry::Formula(_) => false,
    })
}

/// Whether the finding whose place it would take stands and says what there is to say.
fn leaves_another(case: &Case<'_>, finding: FindingId) -> bool {
    let other = case.handbook().finding(finding).replaces;
    other.is_some_and(|other| speaks(&case.assessment().finding(other).state))
}

/// A reason as people read it: questions by what they ask, functions not at all, other ids as words.
fn told_to_people(case: &Case<'_>, why: &str) -> String {
    let handbook = case.handbook();
    let parts: Vec<&str> = why.split('`').collect();
    let mut told = String::new();
    let mut refused = false;
    for (place, part) in parts.iter().enumerate() {
        let is_id = place % 2 == 1;
        match handbook.find_question(part).filter(|_| is_id) {
            Some(id) => told.push_str(&format!("\"{}\"", case.ask(id).to_text())),
            None if is_id && parts.get(place + 1).is_some_and(|p| p.starts_with(REFUSES)) => {
                refused = true;
            }
            None if refused => {
                told.push_str(part.strip_prefix(REFUSES).unwrap_or(part));
                refused = false;
            }
            None => told.push_str(part),
        }
    }
    without_ids(&told)
}

/// What stands between a function and why it can't be told.
const REFUSES: &str = " has no answer: ";

/// A reason with the ids in it as words.
fn without_ids(reason: &str) -> String {
    let words: Vec<&str> = reason.split_whitespace().collect();
    spoken(&words.join(" ")).replace('`', "")
}
