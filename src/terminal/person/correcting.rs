//! Words that want an earlier answer changed: `change oil`, `correct the answer about the oil`.

use super::answering::Person;
use super::elsewhere::{Asked, Before, offered};
use super::matching::Match;
use super::searching::words;
use super::weighing::{Known, telling};
use crate::case::{Case, QuestionId, Response};
use crate::terminal::words::folded;
use crate::text::Line;

/// Words that begin such a wish.
const CHANGE: [&str; 5] = ["change", "correct", "alter", "edit", "undo"];

/// Words that stand beside it and tell of no question.
const BESIDE: [&str; 12] =
    ["the", "my", "our", "his", "its", "answer", "answers", "about", "to", "on", "for", "of"];

/// The questions with an answer that words want to be changed, the latest first; none where the words
/// want no such thing, or no answer is told by them.
pub(super) fn change_told(case: &Case<'_>, typed: &str) -> Option<Vec<QuestionId>> {
    let about = wanted(typed)?;
    let order = |id: QuestionId| case.latest_answer(id).map(|given| given.order);
    let mut answered: Vec<QuestionId> =
        case.question_ids().filter(|id| order(*id).is_some()).collect();
    answered.sort_by_key(|id| std::cmp::Reverse(order(*id)));
    let said = telling(&about);
    let known = Known::of(case);
    let is_about = |id: &QuestionId| {
        let texts = known.questions.iter().find(|texts| texts.id == *id);
        let holds = |word: &String| {
            texts.is_some_and(|texts| texts.asked.iter().any(|asked| asked.contains(word)))
        };
        !said.is_empty() && said.iter().all(holds)
    };
    answered.retain(is_about);
    (!answered.is_empty()).then_some(answered)
}

/// What an answer is wanted to be changed about.
fn wanted(typed: &str) -> Option<String> {
    let folded = folded(typed);
    if folded.ends_with('?') {
        return None;
    }
    let mut all = words(&folded);
    all.next().filter(|first| CHANGE.contains(first))?;
    let about: Vec<&str> = all.filter(|word| !BESIDE.contains(word)).collect();
    (!about.is_empty()).then(|| about.join(" "))
}

impl Person<'_> {
    /// Offers to take an answer back that words want changed; it is asked anew then. None where they
    /// want no such thing.
    pub(super) fn told_to_change(
        &mut self,
        case: &Case<'_>,
        typed: &str,
        before: Before,
    ) -> Option<Option<Response>> {
        let ids = change_told(case, typed)?;
        let given = |id: &QuestionId| case.latest_answer(*id).map(|given| given.typed.clone());
        let found: Vec<Match> = ids.iter().map(|id| Match::new(*id, given(id))).collect();
        let title = vec![
            Line::new(),
            Line::plain(format!("\"{typed}\" may want an answer changed.")),
            Line::strong("Which answer do you want to take back? It is asked anew then."),
        ];
        match self.ask_beside(case, (title, None), &offered(case, &found), before) {
            Asked::Chosen(place) => {
                let Some(&id) = ids.get(place) else { return Some(None) };
                match self.which_answer(case, id, "Which of its answers?") {
                    Ok(order) => Some(Some(Response::TakeBack(order))),
                    Err(response) => Some(response),
                }
            }
            Asked::Met(response) => Some(response),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::wanted;

    #[test]
    fn what_is_to_be_changed_is_told_behind_the_wish() {
        for typed in ["change oil", "Correct the oil", "change the answer about the oil"] {
            assert_eq!(wanted(typed).as_deref(), Some("oil"), "{typed}");
        }
        for typed in ["changed the oil", "change", "should I change the oil", "change the oil?"] {
            assert_eq!(wanted(typed), None, "{typed}");
        }
    }
}
