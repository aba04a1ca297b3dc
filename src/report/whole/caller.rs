//! What a caller can read or look at next, as it is said on the phone.

use crate::case::{Case, QuestionId, TreeId};
use crate::formula::Kind;
use crate::report::next_step::{NextStep, about_this, is_reading, next_step, reading_of};

/// Something to be read or looked at, with what has to be safe before.
pub(super) struct ToTell {
    /// What it is, such as `Next, read and tell: What does the gauge show now?`
    pub instruction: String,
    /// The question behind it; none where nothing of it is read or seen.
    pub question: Option<QuestionId>,
    /// The safety questions that come before it, first things first.
    pub safety: Vec<QuestionId>,
}

/// The next step as a caller hears it: what the screen names, and of a whole tree behind its title
/// what is read or looked at first in it.
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
        NextStep::Test(test, question) => match test.tree {
            Some(tree) => Some(named(case, tree, Some(question), test.safety.clone())),
            None => {
                let lead = if is_reading(case, question) { READ } else { LOOK };
                Some(told(case, lead, question, test.safety.clone()))
            }
        },
        NextStep::Due(tree) | NextStep::GoOn(tree) => {
            Some(named(case, tree, reading_of(case, tree), Vec::new()))
        }
    }
}

/// A tree by its title, and what is read or looked at first in it.
fn named(
    case: &Case<'_>,
    tree: TreeId,
    first: Option<QuestionId>,
    safety: Vec<QuestionId>,
) -> ToTell {
    let title = case.tree_view(tree).1;
    // Whoever is told how it begins does that first, and reads nothing before.
    if let Some(say) = &case.handbook().tree(tree).say {
        let instruction = format!("Next: \"{title}\". {say}");
        return ToTell { instruction, question: first, safety };
    }
    let mut instruction = format!("Next: \"{title}\". Have it read out how.");
    // A row of readings is the end of the work that it is taken in, and nothing that is told first.
    let is_row = |id: QuestionId| matches!(case.handbook().question(id).kind, Kind::Readings(_));
    if let Some(id) = first.filter(|id| !is_row(*id)) {
        let lead = if is_reading(case, id) { READ_FIRST } else { LOOK_FIRST };
        instruction = format!("{instruction} {lead}{}", said(case, id));
    }
    ToTell { instruction, question: first, safety }
}

const READ: &str = "Next, read and tell: ";
const LOOK: &str = "Next, look and tell: ";
const READ_FIRST: &str = "Read and tell first: ";
const LOOK_FIRST: &str = "Look and tell first: ";

fn told(case: &Case<'_>, lead: &str, question: QuestionId, safety: Vec<QuestionId>) -> ToTell {
    let instruction = format!("{lead}{}", said(case, question));
    ToTell { instruction, question: Some(question), safety }
}

/// A question as a caller hears it.
pub(super) fn said(case: &Case<'_>, id: QuestionId) -> String {
    let view = case.question_view(id);
    view.say.unwrap_or(view.ask).to_text()
}
