//! Why a case says what it says: the rule, the numbers and their marks behind a finding, a cause, a
//! question or a formula, and what is missing where there is no answer.

mod by_words;
mod cause;
mod finding;
mod next;
mod question;
mod value;

pub(super) use value::told;

use super::marks::mark;
use super::percent::percent;
use crate::case::{ActionId, Case, CauseId, QuestionId, TreeId};
use crate::handbook::{Entry, FindingId, FormulaId, Handbook};
use crate::text::{Line, list_and, near_name};

/// What is asked about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Asked {
    Cause(CauseId),
    Finding(FindingId),
    Question(QuestionId),
    Formula(FormulaId),
    Action(ActionId),
    Tree(TreeId),
}

/// What stands behind an entry of the handbook in this case, named by its id or by words of what people
/// read of it.
///
/// # Errors
/// A name that the handbook does not have, with the nearest ones.
pub fn why(case: &Case<'_>, name: &str) -> Result<Vec<Line>, String> {
    if is_nothing_wrong(name) {
        return Ok(cause::of_nothing(case));
    }
    let wanted = name.trim().to_lowercase().replace([' ', '-'], "_");
    let asked = by_words::whole(case, name.trim()).or_else(|| by_id(case.handbook(), &wanted));
    let asked = match asked {
        Some(asked) => asked,
        None => by_words::in_part(case, name)
            .map_err(|holding| unknown(case, name, &wanted, &holding))?,
    };
    Ok(match asked {
        Asked::Cause(id) => cause::of_cause(case, id),
        Asked::Finding(id) => finding::of_finding(case, id),
        Asked::Question(id) => question::of_question(case, id),
        Asked::Formula(id) => value::of_formula(case, id),
        Asked::Action(id) => next::of_action(case, id),
        Asked::Tree(id) => next::of_tree(case, id),
    })
}

fn by_id(handbook: &Handbook, id: &str) -> Option<Asked> {
    let action = handbook.find_action(id).map(Asked::Action);
    let tree = || handbook.find_tree(id).map(Asked::Tree);
    let cause = || handbook.find_cause(id).map(Asked::Cause);
    let other = || {
        Some(match handbook.entry(handbook.symbol(id)?) {
            Entry::Finding(id) => Asked::Finding(id),
            Entry::Question(id) => Asked::Question(id),
            Entry::Formula(id) => Asked::Formula(id),
        })
    };
    action.or_else(tree).or_else(cause).or_else(other)
}

/// Whether somebody asks why nothing should be wrong, or why not.
fn is_nothing_wrong(name: &str) -> bool {
    let words = name.trim().to_lowercase().replace(['_', '-'], " ");
    words == "nothing wrong" || words == "nothing"
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

fn unknown(case: &Case<'_>, name: &str, wanted: &str, holding: &[String]) -> String {
    let names = askable(case);
    let ids = names.iter().map(String::as_str);
    let called: Vec<String> =
        case.handbook().cause_ids().map(|cause| case.cause_view(cause).name).collect();
    let near = near_name(wanted, ids)
        .or_else(|| near_name(name.trim(), called.iter().map(String::as_str)))
        .map(str::to_owned);
    let title =
        format!("the handbook has no cause, finding, question, formula, action or tree `{name}`");
    let holding: Vec<String> = holding.iter().map(|id| format!("`{id}`")).collect();
    match (near, &holding[..]) {
        (Some(near), _) => format!("{title}; did you mean `{near}`?"),
        (None, [only]) => format!("{title}; did you mean {only}?"),
        (None, [_, _, ..]) => format!("{title}; with such words there are {}", list_and(&holding)),
        (None, []) => format!("{title}; the ids stand in the verdict as JSON and in the rules"),
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
