//! What a caller can read or look at next, as it is said on the phone.

use crate::case::{Case, QuestionId};
use crate::formula::Kind;
use crate::report::next_step::{NextStep, about_this, is_reading, next_step, reading_of};

/// Something to be read or looked at, with what has to be safe before.
pub(super) struct ToTell {
    /// What it is, such as `Next, read and tell: What does the gauge show now?`
    pub instruction: String,
    /// The question behind it.
    pub question: QuestionId,
    /// The safety questions that come before it, first things first.
    pub safety: Vec<QuestionId>,
}

/// The next step as a caller can make it by himself; none where nothing of it is read or seen.
pub(super) fn to_tell(case: &Case<'_>) -> Option<ToTell> {
    let insight = case.insight();
    match next_step(case, &insight)? {
        NextStep::ReadAgain(question) => {
            Some(told(case, "Next, read again, before anything else: ", question, Vec::new()))
        }
        NextStep::Asked(question) => {
            let mut told = told(case, READ, question, Vec::new());
            if let Some(part) = about_this(case) {
                told.instruction = format!("{} {part}", told.instruction);
            }
            Some(told)
        }
        NextStep::Test(test, question) => {
            let lead = if is_reading(case, question) { READ } else { LOOK };
            Some(told(case, lead, question, test.safety.clone()))
        }
        NextStep::Due(tree) | NextStep::GoOn(tree) => {
            let question = reading_of(case, tree)?;
            let mut told = told(case, READ, question, Vec::new());
            // A row of readings is the end of the work that it is taken in.
            if matches!(case.handbook().question(question).kind, Kind::Readings(_)) {
                let title = case.tree_view(tree).1;
                told.instruction = format!("Next: \"{title}\". Have it read out how.");
            }
            Some(told)
        }
    }
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
