//! Where a case stands at a glance, for somebody who picks it up in the middle: what is known, what
//! is open, what is likely, and what to ask next.

use super::ranking::ranking_line;
use crate::case::{Case, Now, QuestionId};
use crate::evidence::{FindingState, Given, NextTest, Reply};
use crate::text::{Line, Role, spoken};

/// The most answers, and open questions, that are named (limit of ours): a glance takes no more.
const MOST_KNOWN: usize = 10;
const MOST_OPEN: usize = 3;

/// The board; with `aloud` the next question comes as it is read to a caller.
#[must_use]
pub fn board(case: &Case<'_>, aloud: bool) -> Vec<Line> {
    let mut lines = vec![Line::strong("Where the case stands")];
    lines.push(labelled("Known", &known(case)));
    // A danger stands alone: nothing is likely, and no question is worth asking, beside it.
    if matches!(case.now(), Now::Stopped { .. }) {
        return lines;
    }
    let tests = case.insight().tests;
    let next = next(case, &tests);
    lines.extend(close(case));
    let open = open(case, &tests, next);
    lines.extend((!open.is_empty()).then(|| labelled("Open", &open)));
    lines.push(ranking_line(case));
    lines.extend(next.map(|question| asked(case, question, aloud)));
    lines
}

fn labelled(label: &str, said: &str) -> Line {
    Line::new().push(Role::Strong, format!("{label}: ")).push(Role::Plain, said.to_owned())
}

/// The latest answer to each question but those of safety, which were asked before anything else;
/// the newest of them, in the order in which they were given.
fn known(case: &Case<'_>) -> String {
    let sheet = case.worksheet();
    let is_latest = |given: &Given| {
        case.latest_answer(given.question).is_some_and(|latest| latest.order == given.order)
    };
    let is_told = |given: &&Given| {
        case.handbook().question(given.question).hazard.is_none() && is_latest(given)
    };
    let all: Vec<&Given> = case.record().given.iter().filter(is_told).collect();
    let earlier = all.len().saturating_sub(MOST_KNOWN);
    let mut said: Vec<String> = Vec::new();
    if earlier > 0 {
        said.push(format!("{earlier} earlier"));
    }
    said.extend(all[earlier..].iter().map(|given| {
        let id = &case.handbook().question(given.question).id;
        let since = sheet.latest_is_outdated(given.question);
        let stale = since.map(|_| " (from before)").unwrap_or_default();
        format!("{}: {}{stale}", spoken(id), short(case, given))
    }));
    match said.is_empty() {
        true => "nothing yet.".to_owned(),
        false => format!("{}.", said.join("; ")),
    }
}

/// A choice as it was offered.
fn label(case: &Case<'_>, given: &Given, id: &str) -> String {
    let choices = &case.handbook().question(given.question).choices;
    let offered = choices.iter().find(|choice| choice.id == id);
    offered.map_or_else(|| spoken(id), |choice| choice.label.clone())
}

/// An answer in the fewest words: a choice as it was offered, a number with the unit it was taken in.
fn short(case: &Case<'_>, given: &Given) -> String {
    match &given.reply {
        Reply::Choice(id) => label(case, given, id),
        Reply::Choices(ids) => {
            ids.iter().map(|id| label(case, given, id)).collect::<Vec<_>>().join(", ")
        }
        Reply::Readings { .. } => "taken down".to_owned(),
        Reply::Quantity { .. } if given.typed.trim().parse::<f64>().is_ok() => {
            let own = || {
                case.handbook()
                    .question(given.question)
                    .unit
                    .as_ref()
                    .map(|unit| unit.symbol.clone())
            };
            let unit = given.bare_in.clone().or_else(own).unwrap_or_default();
            format!("{} {unit}", given.typed.trim()).trim_end().to_owned()
        }
        _ => given.typed.clone(),
    }
}

/// Findings that the readings leave open.
fn close(case: &Case<'_>) -> Option<Line> {
    let standing = case.assessment().witnesses.iter().filter(|witness| !witness.is_past());
    let close =
        standing.filter(|witness| matches!(witness.judged.state, FindingState::TooClose(_)));
    let names: Vec<String> = close
        .map(|witness| {
            let finding = case.handbook().finding(witness.finding);
            finding.name.clone().unwrap_or_else(|| spoken(&finding.id))
        })
        .collect();
    (!names.is_empty()).then(|| labelled("Too close to tell", &format!("{}.", names.join("; "))))
}

/// The question worth asking next: one that is in dispute, or the first of the best test.
fn next(case: &Case<'_>, tests: &[NextTest]) -> Option<QuestionId> {
    let disputed = case.assessment().disputed.first().copied();
    disputed.or_else(|| tests.iter().flat_map(|test| &test.questions).next().copied())
}

/// The questions that could still tell most, the best first.
fn open(case: &Case<'_>, tests: &[NextTest], next: Option<QuestionId>) -> String {
    let mut open: Vec<QuestionId> = Vec::new();
    for question in tests.iter().flat_map(|test| &test.questions) {
        let is_of_safety = case.handbook().question(*question).hazard.is_some();
        if Some(*question) != next && !is_of_safety && !open.contains(question) {
            open.push(*question);
        }
    }
    let said: Vec<String> = open.iter().take(MOST_OPEN).map(|id| case.ask(*id).to_text()).collect();
    said.join(" ")
}

fn asked(case: &Case<'_>, question: QuestionId, aloud: bool) -> Line {
    let view = case.question_view(question);
    let label = Line::new().push(Role::Strong, "Best next: ");
    match view.say.filter(|_| aloud) {
        Some(say) => label.push(Role::Quiet, "Say: ").join(say),
        None => label.join(view.ask),
    }
}
