//! Why a case says what it says: the rule, the numbers and their marks behind a finding, a cause, a
//! question or a formula, and what is missing where there is no answer.

mod cause;
mod finding;
mod next;
mod question;
mod value;

pub(super) use value::told;

use super::marks::mark;
use super::percent::percent;
use crate::case::{ActionId, Case, CauseId, QuestionId, TreeId};
use crate::handbook::Entry;
use crate::text::{Line, near_name};

/// What stands behind an entry of the handbook in this case.
///
/// # Errors
/// A name that the handbook does not have, with the nearest one.
pub fn why(case: &Case<'_>, name: &str) -> Result<Vec<Line>, String> {
    let handbook = case.handbook();
    let called = |cause: &CauseId| {
        let view = case.cause_view(*cause);
        let mut names = [view.name, view.in_short].into_iter();
        names.any(|said| said.eq_ignore_ascii_case(name.trim()))
    };
    if is_nothing_wrong(name) {
        return Ok(cause::of_nothing(case));
    }
    if let Some(cause) = handbook.cause_ids().find(called) {
        return Ok(cause::of_cause(case, cause));
    }
    if let Some(lines) = by_words(case, name.trim()) {
        return Ok(lines);
    }
    let wanted = name.trim().to_lowercase().replace([' ', '-'], "_");
    if let Some(action) = handbook.find_action(&wanted) {
        return Ok(next::of_action(case, action));
    }
    if let Some(tree) = handbook.find_tree(&wanted) {
        return Ok(next::of_tree(case, tree));
    }
    if let Some(cause) = handbook.find_cause(&wanted) {
        return Ok(cause::of_cause(case, cause));
    }
    match handbook.symbol(&wanted).map(|symbol| handbook.entry(symbol)) {
        Some(Entry::Finding(id)) => Ok(finding::of_finding(case, id)),
        Some(Entry::Question(id)) => Ok(question::of_question(case, id)),
        Some(Entry::Formula(id)) => Ok(value::of_formula(case, id)),
        None => Err(unknown(case, name, &wanted)),
    }
}

/// Whether somebody asks why nothing should be wrong, or why not.
fn is_nothing_wrong(name: &str) -> bool {
    let words = name.trim().to_lowercase().replace(['_', '-'], " ");
    words == "nothing wrong" || words == "nothing"
}

/// What the verdict calls by other words than an id: findings by their names, questions by what
/// they ask, trees by their titles.
fn by_words(case: &Case<'_>, words: &str) -> Option<Vec<Line>> {
    let handbook = case.handbook();
    let is_meant = |said: &str| said.trim().eq_ignore_ascii_case(words);
    let finding = case.finding_ids().find(|id| {
        let finding = handbook.finding(*id);
        finding.name.as_deref().is_some_and(is_meant)
            || finding.name_not.as_deref().is_some_and(is_meant)
    });
    if let Some(id) = finding {
        return Some(finding::of_finding(case, id));
    }
    let asks = |id: &QuestionId| is_meant(&case.question_view(*id).ask.to_text());
    if let Some(id) = case.question_ids().find(asks) {
        return Some(question::of_question(case, id));
    }
    if let Some(tree) = handbook.trees().iter().position(|tree| is_meant(&tree.title)) {
        return Some(next::of_tree(case, TreeId::at(tree)));
    }
    let begins = |action: &ActionId| {
        let instruction = case.action_view(*action).instruction.to_text().to_lowercase();
        instruction.starts_with(&words.trim_end_matches('.').to_lowercase())
    };
    let mut meant = handbook.action_ids().filter(begins);
    // A word or two may begin several instructions; then none of them is meant.
    let action = meant.next().filter(|_| meant.next().is_none())?;
    Some(next::of_action(case, action))
}

/// Everything that can be asked about, by its id.
fn askable(case: &Case<'_>) -> Vec<String> {
    let handbook = case.handbook();
    let causes = handbook.causes().iter().map(|cause| cause.id.clone());
    let findings = handbook.findings().iter().map(|finding| finding.id.clone());
    let questions = handbook.questions().iter().map(|question| question.id.clone());
    let formulas = handbook.formulas().iter().map(|formula| formula.id.clone());
    let actions = handbook.actions().iter().map(|action| action.id.clone());
    let trees = handbook.trees().iter().map(|tree| tree.id.clone());
    causes.chain(findings).chain(questions).chain(formulas).chain(actions).chain(trees).collect()
}

fn unknown(case: &Case<'_>, name: &str, wanted: &str) -> String {
    let names = askable(case);
    let ids = names.iter().map(String::as_str);
    let called: Vec<String> =
        case.handbook().cause_ids().map(|cause| case.cause_view(cause).name).collect();
    let near = near_name(wanted, ids)
        .or_else(|| near_name(name.trim(), called.iter().map(String::as_str)))
        .map(str::to_owned);
    let title =
        format!("the handbook has no cause, finding, question, formula, action or tree `{name}`");
    match near {
        Some(near) => format!("{title}; did you mean `{near}`?"),
        None => format!("{title}; the ids stand in the verdict as JSON and in the rules"),
    }
}

/// `odds 3.2 times` or `odds 1/3.2`.
fn on_odds(nats: f64) -> String {
    let factor = libm::exp(nats.abs());
    let factor = if factor >= 10.0 { format!("{factor:.0}") } else { format!("{factor:.1}") };
    match nats {
        nats if nats.abs() < 0.005 => "odds as before".to_owned(),
        nats if nats.abs() < 0.05 => "odds hardly changed".to_owned(),
        nats if nats > 0.0 => format!("odds {factor} times as high"),
        _ => format!("odds {factor} times as low"),
    }
}

/// The probability behind the logarithm of odds.
fn of_log_odds(nats: f64) -> f64 {
    1.0 / (1.0 + libm::exp(-nats))
}
