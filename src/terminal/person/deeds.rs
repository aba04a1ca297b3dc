//! Work that is told in passing: `changed the oil` counts as done once that is asked back.

use super::answering::Person;
use super::danger::{dangers_first, dangers_hinted};
use super::elsewhere::{Asked, Before};
use super::facts::parts;
use super::searching::{is_same, tells, words};
use crate::case::{ActionId, Case, Response};
use crate::terminal::prompt::MenuOption;
use crate::terminal::words::folded;
use crate::text::{Line, also_said, is_in_doubt};

/// Words of somebody who plans work, wants it, has left it, or did it before this case.
const NOT_DONE_NOW: [&str; 47] = [
    "not",
    "never",
    "no",
    "nobody",
    "none",
    "without",
    "cannot",
    "cant",
    "didnt",
    "hasnt",
    "havent",
    "isnt",
    "wasnt",
    "if",
    "when",
    "unless",
    "before",
    "until",
    "shall",
    "will",
    "would",
    "may",
    "must",
    "need",
    "needs",
    "needed",
    "want",
    "wants",
    "wanted",
    "going",
    "gonna",
    "let",
    "lets",
    "be",
    "being",
    "to",
    "yet",
    "plan",
    "planned",
    "tomorrow",
    "later",
    "last",
    "ago",
    "yesterday",
    "earlier",
    "since",
    "once",
];

/// Words with which a question begins, though nobody types its mark.
const ASKS: [&str; 10] = ["did", "do", "does", "is", "are", "was", "were", "has", "who", "why"];

/// What may stand behind *have* and *had* in a question.
const ASKED_OF: [&str; 8] = ["you", "they", "we", "i", "he", "she", "the", "it"];

/// The action that words tell of as done: they hold all words of something that people say who have done
/// it, and none of doubt, of a plan or of another day.
pub(super) fn deed_told(case: &Case<'_>, typed: &str) -> Option<ActionId> {
    let typed = folded(typed).replace(['\'', '’'], "");
    let said: Vec<&str> = words(&typed).collect();
    if is_in_doubt(&typed) || asks(&said) || said.iter().any(|word| NOT_DONE_NOW.contains(word)) {
        return None;
    }
    // How many words of it were said, if all were.
    let held = |known: &String| {
        let known = folded(known);
        let telling: Vec<&str> = words(&known).filter(|word| tells(word)).collect();
        let is_held = telling.iter().all(|word| said.iter().any(|heard| is_told(word, heard)));
        if is_held { telling.len() } else { 0 }
    };
    let handbook = case.handbook();
    let best = |id: ActionId| handbook.action(id).told_as.iter().map(held).max().unwrap_or(0);
    let told: Vec<(usize, ActionId)> =
        handbook.action_ids().map(|id| (best(id), id)).filter(|(held, _)| *held > 0).collect();
    told.into_iter().rev().max_by_key(|(held, _)| *held).map(|(_, id)| id)
}

/// Whether a word of a deed was said: one that tells that it is done as it stands, another in any of its
/// forms.
fn is_told(word: &str, heard: &str) -> bool {
    word == heard || !word.ends_with("ed") && !heard.ends_with("ed") && is_same(word, heard)
}

fn asks(said: &[&str]) -> bool {
    let is_asked_of = || said.get(1).is_some_and(|word| ASKED_OF.contains(word));
    match said.first() {
        Some(&"have" | &"had") => is_asked_of(),
        Some(first) => ASKS.contains(first),
        None => true,
    }
}

impl Person<'_> {
    /// Asks whether work that was told counts as done now, and keeps what else was told with it. None
    /// where no work was told, or it doesn't count.
    pub(super) fn told_work(
        &mut self,
        case: &Case<'_>,
        typed: &str,
        before: Before,
    ) -> Option<Option<Response>> {
        let parts = parts(typed);
        let (place, action) = parts
            .iter()
            .enumerate()
            .find_map(|(place, part)| Some((place, deed_told(case, part)?)))?;
        // A danger that is told with it comes first, and the work in its turn.
        let hints = |part: &String| !dangers_hinted(case, None, part).is_empty();
        if parts.iter().enumerate().any(|(other, part)| other != place && hints(part)) {
            self.facts.extend(dangers_first(case, parts));
            return Some(None);
        }
        let options = [
            MenuOption::new("Yes, it is done now").with_words(nods(true)),
            MenuOption::new("No").with_words(nods(false)),
        ];
        let done = case.handbook().action(action).once_done.clone().unwrap_or_default();
        let told = Line::plain(format!("\"{}\" tells of work.", parts[place]));
        let asked = Line::strong(format!("Count this as done now: {done}?"));
        let view = case.action_view(action);
        let title = vec![Line::new(), told, asked, Line::plain("In full: ").join(view.instruction)];
        match self.ask_beside(case, (title, None), &options, before) {
            Asked::Chosen(0) => {
                let others = parts.into_iter().enumerate().filter(|(other, _)| *other != place);
                self.facts.extend(others.map(|(_, part)| part));
                Some(self.work(case, action))
            }
            Asked::Chosen(_) => None,
            Asked::Met(response) => Some(response),
        }
    }

    /// Counts an action as done, after the cautions before it.
    pub(super) fn work(&mut self, case: &Case<'_>, action: ActionId) -> Option<Response> {
        let bars = |id: &&_| case.is_barred_by(**id);
        if let Some(&caution) = case.handbook().action(action).cautions.iter().find(bars) {
            let response = self.acknowledge(case, caution);
            if matches!(response, Some(Response::Acknowledge(..)) | None) {
                self.worked = Some(action);
            }
            return response;
        }
        let cautions = self.reminders.of(&case.action_view(action).cautions);
        let mut lines: Vec<Line> =
            cautions.into_iter().map(|line| self.audience.told(line)).collect();
        let done = case.handbook().action(action).once_done.clone().unwrap_or_default();
        lines.push(Line::plain(format!(
            "Counted as done: {done}. What it changes is read again. back takes it back."
        )));
        self.console.show(&lines);
        Some(Response::Worked(action))
    }
}

fn nods(is_yes: bool) -> Vec<String> {
    let also = also_said(is_yes).iter().map(|word| (*word).to_owned());
    also.chain(if is_yes {
        ["ok".to_owned(), "done".to_owned()]
    } else {
        ["none".to_owned(), "not yet".to_owned()]
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn who_asks_tells_of_no_work() {
        let said = |typed: &'static str| typed.split(' ').collect::<Vec<_>>();
        assert!(asks(&said("did he change it")) && asks(&said("have you changed it")));
        assert!(!asks(&said("have changed it")) && !asks(&said("he changed it")));
    }

    #[test]
    fn a_past_form_is_no_plan() {
        assert!(is_told("changed", "changed") && !is_told("changed", "change"));
        assert!(is_told("hose", "hoses") && !is_told("flare", "flared"));
    }
}
