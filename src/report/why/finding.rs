//! Why a finding stands as it does.

use super::value::working;
use super::{mark, percent};
use crate::case::{Case, CauseId, FindingId};
use crate::evidence::FindingState;
use crate::handbook::{Finding, Observes};
use crate::text::{Line, Role, capital, list_and};

/// The rule, the values on the way, and what the handbook says that it shows.
pub(super) fn of_finding(case: &Case<'_>, id: FindingId) -> Vec<Line> {
    let finding = case.handbook().finding(id);
    let (judged, said) = (case.assessment().finding(id), case.finding_says(id));
    let lacks = said.lacks.unwrap_or_default();
    let mut lines = vec![
        Line::strong(format!("`{}`: {}", finding.id, state(case, id, &judged.state, &lacks))),
        said.text,
    ];
    if let Some(margin) = said.margin {
        lines.push(Line::plain("By how much: ").join(margin).push(Role::Plain, "."));
    }
    lines.push(Line::strong("The rule"));
    lines.extend(rule(case, finding));
    lines.extend(same_measurement(case, finding));
    lines.push(Line::strong("What it shows"));
    lines.extend(shows(case, finding));
    lines
}

fn state(case: &Case<'_>, id: FindingId, state: &FindingState, lacks: &str) -> String {
    match state {
        FindingState::True(share) => format!("yes, in {} of the draws", percent(*share)),
        FindingState::False(share) => format!("no, in {} of the draws", percent(1.0 - share)),
        FindingState::TooClose(share) => {
            format!("too close to tell, yes in {} of the draws", percent(*share))
        }
        FindingState::Seen(choice) => format!("seen, `{}`", case.choice_id(id, *choice)),
        FindingState::NotApplicable => format!("does not apply: {lacks}"),
        FindingState::Unknown => format!("not known: {lacks}"),
    }
}

fn rule(case: &Case<'_>, finding: &Finding) -> Vec<Line> {
    let mut lines = Vec::new();
    match &finding.observes {
        Observes::When(condition) => {
            lines.push(Line::plain(format!("- Yes when: {}", one_line(condition.text()))));
            lines.extend(working(case, condition));
        }
        Observes::Of(question) => {
            let question = &case.handbook().question(*question).id;
            lines.push(Line::plain(format!("- The answer to `{question}`, as it was given.")));
        }
    }
    if let Some(condition) = &finding.only_if {
        lines.push(Line::plain(format!("- Only if: {}", one_line(condition.text()))));
        lines.extend(working(case, condition));
    }
    lines
}

fn same_measurement(case: &Case<'_>, finding: &Finding) -> Option<Line> {
    let others: Vec<String> = finding
        .same_measurement
        .iter()
        .map(|id| format!("`{}`", case.handbook().finding(*id).id))
        .collect();
    (!others.is_empty())
        .then(|| Line::plain(format!("- It rests on the same reading as {}.", list_and(&others))))
}

fn shows(case: &Case<'_>, finding: &Finding) -> Vec<Line> {
    let anyway = format!(
        "- With no fault at all: {} ({}).",
        shares(case, finding, &finding.background),
        mark(case, &finding.basis, "anyway")
    );
    let mut lines = vec![Line::plain(anyway)];
    let name = |cause: &CauseId| case.cause_view(*cause).in_short;
    lines.extend(finding.shown_by.iter().map(|(cause, shown)| {
        let mark = mark(case, &finding.basis, "shown_by");
        Line::plain(format!(
            "- With {} alone: {} ({mark}).",
            name(cause),
            shares(case, finding, shown)
        ))
    }));
    lines.extend(finding.hidden_by.iter().map(|(cause, share)| {
        let mark = mark(case, &finding.basis, "hidden_by");
        Line::plain(format!(
            "- {} hides it in {} ({mark}).",
            capital(&name(cause)),
            percent(*share)
        ))
    }));
    lines
}

/// `yes in 85 %`, or each choice with its share.
fn shares(case: &Case<'_>, finding: &Finding, shares: &[f64]) -> String {
    match &finding.observes {
        Observes::When(_) => format!("yes in {}", percent(shares.last().copied().unwrap_or(0.0))),
        Observes::Of(question) => {
            let choices = &case.handbook().question(*question).choices;
            let told = choices.iter().zip(shares);
            let told: Vec<String> =
                told.map(|(choice, share)| format!("{} {}", choice.id, percent(*share))).collect();
            told.join(", ")
        }
    }
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
