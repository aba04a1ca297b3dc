//! What a caller can read or look at next, as it is said on the phone.

use crate::case::{Case, Now, QuestionId, TreeId};
use crate::evidence::NextTest;
use crate::formula::Kind;
use crate::handbook::{FindingId, Observes};
use crate::report::next::{going_on, is_due, worth_naming};

/// Something to be read or looked at, with what has to be safe before.
pub(super) struct ToTell {
    /// What it is, such as `Next, read and tell: What does the gauge show now?`
    pub instruction: String,
    /// The question behind it.
    pub question: QuestionId,
    /// The safety questions that come before it, first things first.
    pub safety: Vec<QuestionId>,
}

/// The reading or the look that comes next in the verdict and that a caller can make by himself;
/// none where all that it names is told and not seen.
pub(super) fn to_tell(case: &Case<'_>) -> Option<ToTell> {
    if let Some(&question) = case.assessment().disputed.first() {
        return Some(told(case, "Next, read again, before anything else: ", question, Vec::new()));
    }
    if let Now::Ask { question, .. } = case.now()
        && is_reading(case, *question)
    {
        return Some(told(case, READ, *question, Vec::new()));
    }
    let insight = case.insight();
    let of_test = |test: &NextTest| {
        let question = seen_first(case, test)?;
        let lead = if is_reading(case, question) { READ } else { LOOK };
        Some(told(case, lead, question, test.safety.clone()))
    };
    let going = going_on(case, Some(&insight));
    let of_going = || Some(told(case, READ, reading_of(case, going?)?, Vec::new()));
    let due = going.filter(|tree| is_due(case, *tree)).and_then(|_| of_going());
    due.or_else(|| worth_naming(&insight, going).into_iter().find_map(of_test)).or_else(of_going)
}

const READ: &str = "Next, read and tell: ";
const LOOK: &str = "Next, look and tell: ";

fn told(case: &Case<'_>, lead: &str, question: QuestionId, safety: Vec<QuestionId>) -> ToTell {
    ToTell { instruction: format!("{lead}{}", said(case, question)), question, safety }
}

/// A question as a caller hears it.
pub(super) fn said(case: &Case<'_>, id: QuestionId) -> String {
    let view = case.question_view(id);
    view.say.unwrap_or(view.ask).to_text()
}

/// Whether a question is answered from an instrument.
fn is_reading(case: &Case<'_>, id: QuestionId) -> bool {
    let question = case.handbook().question(id);
    let is_read = question.instrument.is_some() || matches!(question.kind, Kind::Readings(_));
    is_read && !question.is_setting()
}

/// The first of a test's questions that is read, or else looked at, in the order in which its tree
/// asks them.
fn seen_first(case: &Case<'_>, test: &NextTest) -> Option<QuestionId> {
    let asked: Vec<QuestionId> = match test.tree {
        Some(tree) => case.handbook().tree(tree).questions().collect(),
        None => test.questions.clone(),
    };
    let mut open = asked.into_iter().filter(|id| test.questions.contains(id));
    let is_seen = |id: &QuestionId| is_reading(case, *id) || is_look(case, test, *id);
    open.find(is_seen)
}

/// Whether a question is answered by a look or a touch: one of the choices that a finding of the
/// test tells apart, and no setting. What was seen first is told and not looked at: a finding that
/// others replace speaks of it.
fn is_look(case: &Case<'_>, test: &NextTest, id: QuestionId) -> bool {
    let question = case.handbook().question(id);
    let is_chosen = matches!(question.kind, Kind::YesNo | Kind::Choice(_) | Kind::Choices(_));
    let tells = |finding: &FindingId| is_tested(case, *finding, id);
    let is_hearsay = |finding: FindingId| {
        let mut findings = case.handbook().findings().iter();
        findings.any(|other| other.replaces == Some(finding)) && is_tested(case, finding, id)
    };
    is_chosen
        && !question.is_setting()
        && test.findings.iter().any(tells)
        && !case.finding_ids().any(is_hearsay)
}

/// Whether the test of a finding can be traced to a question.
fn is_tested(case: &Case<'_>, finding: FindingId, id: QuestionId) -> bool {
    let handbook = case.handbook();
    match &handbook.finding(finding).observes {
        Observes::Of(question) => *question == id,
        Observes::When(condition) => {
            let mut used = condition.uses().iter();
            used.any(|used| handbook.questions_under(used.symbol).contains(&id))
        }
    }
}

/// The first reading that a tree asks for and that is open.
fn reading_of(case: &Case<'_>, tree: TreeId) -> Option<QuestionId> {
    let sheet = case.worksheet();
    let mut asked = case.handbook().tree(tree).questions();
    asked.find(|id| is_reading(case, *id) && sheet.is_unanswered(*id))
}
