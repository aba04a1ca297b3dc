//! Why a question is asked, what was answered, and what hangs on it.

use super::value::told;
use super::{mark, on_odds, percent};
use crate::case::{Case, FindingId, QuestionId};
use crate::evidence::FindingState;
use crate::formula::{Facts, Value};
use crate::handbook::{Observes, Question};
use crate::text::{Line, Role, list_and};

/// The question, its answers with their doubt, and the findings that need it.
pub(super) fn of_question(case: &Case<'_>, id: QuestionId) -> Vec<Line> {
    let question = case.handbook().question(id);
    let view = case.question_view(id);
    let mut lines = vec![Line::strong(format!("`{}`: ", question.id)).join(view.ask)];
    lines.extend(view.why.map(|why| Line::plain("- Why it is asked: ").join(why)));
    lines.extend(answers(case, id, question));
    lines.extend(history(case, question));
    lines.extend(hangs_on_it(case, id));
    if case.worksheet().is_unanswered(id) {
        lines.extend(super::next::as_next_check(case, id));
        lines.extend(safety(question));
    }
    lines
}

/// How long a question of safety takes, which is no check and is weighed by nothing.
fn safety(question: &Question) -> Option<Line> {
    let minutes = question.takes.filter(|_| question.hazard.is_some())? / 60.0;
    Some(Line::plain(format!(
        "- It is asked for safety, whatever it tells of the vacuum; it takes {minutes:.0} min, as \
         the handbook says."
    )))
}

fn answers(case: &Case<'_>, id: QuestionId, question: &Question) -> Vec<Line> {
    let given: Vec<String> =
        case.record().answers(id).map(|(_, given)| format!("[{}]", given.typed)).collect();
    let mut lines = vec![Line::plain(if given.is_empty() {
        "- It has no answer yet.".to_owned()
    } else {
        format!("- Answered: {}.", list_and(&given))
    })];
    let value = case.worksheet().latest(question.symbol);
    if let Value::Quantity(_) = value {
        let shown = told(&value, &question.kind, question.unit.as_ref());
        lines.push(Line::plain(format!("- What it stands for, with its doubt: {shown}.")));
    }
    if let Some(id) = question.instrument {
        let instrument = case.handbook().instrument(id);
        let text = format!(
            "- Read by {} ({}); its own error is the same in all its readings.",
            instrument.name,
            mark(case, &instrument.basis, "scale")
        );
        lines.push(Line::plain(text));
    }
    if question.not_sure.is_some() {
        let mark = mark(case, &question.basis, "not_sure");
        lines.push(Line::plain(format!("- \"Not sure\" stands for a range ({mark}).")));
    }
    lines
}

/// The causes that a yes makes likelier or not.
fn history(case: &Case<'_>, question: &Question) -> Vec<Line> {
    let mut lines = Vec::new();
    for cause in case.handbook().causes() {
        for past in cause.history.iter().filter(|past| past.when == question.symbol) {
            let key = if past.factor < 1.0 { "less_if" } else { "more_if" };
            let mark = mark(case, &cause.basis, key);
            let odds = on_odds(libm::log(past.factor));
            lines.push(Line::plain(format!("- After a yes, {}: {odds} ({mark}).", cause.in_short)));
        }
    }
    lines
}

fn hangs_on_it(case: &Case<'_>, id: QuestionId) -> Vec<Line> {
    let handbook = case.handbook();
    let needs = |finding: &crate::case::FindingId| {
        handbook.questions_under(handbook.finding(*finding).symbol).contains(&id)
    };
    let mut lines: Vec<Line> = case
        .finding_ids()
        .filter(needs)
        .map(|finding| {
            let state = match &case.assessment().finding(finding).state {
                FindingState::True(_) => "yes".to_owned(),
                FindingState::False(_) => "no".to_owned(),
                FindingState::TooClose(share) => format!("too close, yes in {}", percent(*share)),
                FindingState::Seen(choice) => case.choice_id(finding, *choice),
                FindingState::NotApplicable | FindingState::Unknown => {
                    case.finding_says(finding).lacks.unwrap_or_default()
                }
            };
            let shown = shown_most(case, finding).map(|most| format!(" ({most})"));
            Line::plain(format!("- `{}`", case.finding_name(finding)))
                .push(Role::Quiet, format!(": {state}{}", shown.unwrap_or_default()))
        })
        .collect();
    if !lines.is_empty() {
        lines.insert(0, Line::strong("What hangs on it"));
    }
    lines
}

/// The cause that a finding shows most, against what is seen with no fault: `yes in 85 % with Worn
/// pump, else in 8 %`; of a choice, its last one.
fn shown_most(case: &Case<'_>, id: FindingId) -> Option<String> {
    let finding = case.handbook().finding(id);
    let last = |shares: &[f64]| shares.last().copied();
    let shown = finding.shown_by.iter().filter_map(|(by, shares)| Some((*by, last(shares)?)));
    let (cause, share) = shown.max_by(|a, b| a.1.total_cmp(&b.1))?;
    let outcome = match finding.observes {
        Observes::When(_) => "yes",
        Observes::Of(question) => &case.handbook().question(question).choices.last()?.id,
    };
    let (name, anyway) = (case.cause_view(cause).in_short, last(&finding.background)?);
    Some(format!("{outcome} in {} with {name}, else in {}", percent(share), percent(anyway)))
}
