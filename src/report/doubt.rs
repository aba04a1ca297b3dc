//! What would change a verdict, said in sentences: open findings, answers it rests on, and how far
//! the handbook's own numbers may be off.

use super::percent::percent;
use crate::case::{Case, CauseId, FindingId};
use crate::evidence::wording::in_words;
use crate::evidence::{Change, Decided, HoldsWhile, Insight, RestsOn};
use crate::handbook::Observes;
use crate::text::{Line, Role, list_or, spoken};

/// Below this a change is not worth a sentence (`estimate`).
const WORTH_FEARING: f64 = 0.05;

/// The lines under "What would change this"; none where nothing worth a sentence would.
pub(super) fn what_would_change(case: &Case<'_>, insight: &Insight) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    let likely = insight.changes.iter().filter(|change| change.probability >= WORTH_FEARING);
    lines.extend(likely.take(2).map(|change| changed(case, change)));
    lines.extend(insight.rests_on.first().map(|rest| rests_on(case, rest)));
    lines.extend(insight.holds_while.first().map(|holds| holds_while(case, holds)));
    if lines.is_empty() && !insight.tests.is_empty() {
        lines.push(Line::plain(
            "- No single answer that is still open, nor two of them, would put something else first.",
        ));
    }
    if !lines.is_empty() {
        lines.insert(0, Line::strong("What would change this"));
    }
    lines
}

fn changed(case: &Case<'_>, change: &Change) -> Line {
    let outcomes: Vec<String> =
        change.outcomes.iter().map(|(finding, outcome)| told(case, *finding, *outcome)).collect();
    let text = format!(
        "- If {}, {} would come first. That is {}.",
        outcomes.join(" and "),
        decided(case, &change.to),
        in_words(change.probability)
    );
    Line::plain(text)
}

/// `"pump floor high" comes out yes`, `"Look at the oil" comes out "Milky"`
fn told(case: &Case<'_>, finding: FindingId, outcome: usize) -> String {
    let observes = &case.handbook().finding(finding).observes;
    let name = spoken(case.finding_name(finding));
    match observes {
        Observes::When(_) if outcome == 0 => format!("\"{name}\" comes out no"),
        Observes::When(_) => format!("\"{name}\" comes out yes"),
        Observes::Of(question) => {
            let question = case.handbook().question(*question);
            format!("\"{name}\" comes out \"{}\"", question.choice_label(outcome))
        }
    }
}

fn decided(case: &Case<'_>, to: &Decided) -> String {
    match to {
        Decided::NothingWrong => "nothing wrong".to_owned(),
        Decided::Causes(causes) => {
            let name = |cause: &CauseId| case.cause_view(*cause).name;
            list_or(&causes.iter().take(2).map(name).collect::<Vec<_>>())
        }
    }
}

fn rests_on(case: &Case<'_>, rest: &RestsOn) -> Line {
    let witnesses = &case.assessment().witnesses;
    let mut line = Line::plain("- It rests on this: ");
    for place in &rest.witnesses {
        line = line.join(witnesses[*place].judged.text.clone()).push(Role::Plain, " ");
    }
    let text = format!(
        "Without it {} would come first, so check this answer again before all others.",
        decided(case, &rest.to)
    );
    line.push(Role::Plain, text)
}

/// `"pump floor high"`, `"Milky" as "oil look"`
fn shown(case: &Case<'_>, finding: FindingId, outcome: Option<usize>) -> String {
    let name = spoken(case.finding_name(finding));
    match (outcome, &case.handbook().finding(finding).observes) {
        (Some(outcome), Observes::Of(question)) => {
            let label = case.handbook().question(*question).choice_label(outcome);
            format!("\"{label}\" as \"{name}\"")
        }
        _ => format!("\"{name}\""),
    }
}

fn holds_while(case: &Case<'_>, holds: &HoldsWhile) -> Line {
    let name = case.cause_view(holds.cause).name;
    let side = if holds.at < holds.stated { "more" } else { "fewer" };
    let (at, stated) = (percent(holds.at), percent(holds.stated));
    let text = match holds.finding {
        Some(finding) => format!(
            "- It holds as long as {side} than {at} of such cases show {}: {name}. The handbook \
             says {stated}.",
            shown(case, finding, holds.outcome)
        ),
        None => format!(
            "- It holds as long as {side} than {at} of all jobs begin with this: {name}. The \
             handbook says {stated}."
        ),
    };
    Line::new().push(Role::Quiet, text)
}
