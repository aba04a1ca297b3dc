//! Finding a question by its words.

use super::answering::{Audience, Person};
use super::danger::danger_told;
use super::matching::likeliest_first;
use super::searching::{found, put_right};
use crate::case::{Case, QuestionId, Response};
use crate::terminal::console::Reply;
use crate::terminal::prompt::{Checked, Menu, MenuOption, ValuePrompt};
use crate::terminal::words::Action;
use crate::text::{Line, Role, as_said, count};

/// More questions than this are not listed at once: they are looked for by their words, and then
/// listed page by page (an estimate of what fits on a screen).
const MOST_LISTED: usize = 12;

/// What is said for every answer.
const ALL: [&str; 5] = ["all", "everything", "all of them", "all of it", "all answers"];

impl Person<'_> {
    /// Lets the answer be picked that is to be taken back; whoever wants all of them hears how.
    pub(super) fn pick_answer(
        &mut self,
        case: &Case<'_>,
        ids: &[QuestionId],
        title: &str,
    ) -> Result<QuestionId, Option<Response>> {
        if ids.len() > MOST_LISTED {
            return self.pick(case, ids, title);
        }
        let mut menu = list(case, ids, self.audience, title);
        if ids.len() > 1 {
            let words = ALL.iter().map(|words| (*words).to_owned()).collect();
            menu.options.push(MenuOption::new("All of them").with_words(words));
        }
        match self.console.choose(&menu) {
            Reply::Chosen(place) if place == ids.len() => {
                self.console.show(&[one_by_one(case, ids, self.audience)]);
                Err(None)
            }
            Reply::Chosen(place) => ids.get(place).copied().ok_or(None),
            other => Err(self.left_picking(other)),
        }
    }

    /// Lets one of several questions be picked. Without one, what ends the dialogue, if anything
    /// does.
    pub(super) fn pick(
        &mut self,
        case: &Case<'_>,
        ids: &[QuestionId],
        title: &str,
    ) -> Result<QuestionId, Option<Response>> {
        if ids.len() <= MOST_LISTED {
            return self.pick_listed(case, ids, title);
        }
        let typed = self.words(case, ids, title)?;
        if is_all(&typed) {
            return Err(None);
        }
        if let Some(danger) = danger_told(case, None, &typed).filter(|id| ids.contains(id)) {
            return Ok(danger);
        }
        let mut found = found(case, ids, &typed, self.audience, MOST_LISTED);
        match found[..] {
            [only] => Ok(only),
            ref few if few.len() <= MOST_LISTED => self.pick_listed(case, few, "Which of them?"),
            _ => {
                likeliest_first(case, &mut found, &typed);
                self.pick_paged(case, &found)
            }
        }
    }

    /// Lists questions page by page, the likeliest first.
    fn pick_paged(
        &mut self,
        case: &Case<'_>,
        ids: &[QuestionId],
    ) -> Result<QuestionId, Option<Response>> {
        let labels = labels(case, ids, self.audience);
        let pages = ids.chunks(MOST_LISTED).zip(labels.chunks(MOST_LISTED));
        let mut left = ids.len();
        for (page, labels) in pages {
            left -= page.len();
            let mut options: Vec<MenuOption> = labels.iter().map(MenuOption::new).collect();
            if left > 0 {
                options.push(MenuOption::new(format!("None of these: {left} more")));
            }
            let title = vec![Line::new(), Line::strong("Which of them?")];
            let actions = vec![Action::Back, Action::TakeBack, Action::Stop];
            match self.console.choose(&Menu { title, options, actions, ..Menu::default() }) {
                Reply::Chosen(place) if place < page.len() => return Ok(page[place]),
                Reply::Chosen(_) => {}
                other => return Err(self.left_picking(other)),
            }
        }
        Err(None)
    }

    /// Asks for words that some of the questions hold.
    fn words(
        &mut self,
        case: &Case<'_>,
        ids: &[QuestionId],
        title: &str,
    ) -> Result<String, Option<Response>> {
        let audience = self.audience;
        let is_danger =
            |typed: &str| danger_told(case, None, typed).is_some_and(|id| ids.contains(&id));
        let check = |typed: &str| match found(case, ids, typed, audience, MOST_LISTED).len() {
            _ if is_danger(typed) => Checked::Accepted { echo: Line::new() },
            _ if is_all(typed) => Checked::Accepted { echo: one_by_one(case, ids, audience) },
            0 => Checked::Refused(none_holds(case, ids, typed, audience)),
            many if many > MOST_LISTED => Checked::Accepted {
                echo: Line::plain(format!("{}, the likeliest first.", held(many))),
            },
            some => Checked::Accepted { echo: Line::plain(format!("{}.", held(some))) },
        };
        let prompt = ValuePrompt {
            title: vec![Line::new(), Line::strong(title)],
            hint: "a word of the question, such as oil".to_owned(),
            actions: vec![Action::Back, Action::TakeBack, Action::Stop],
            check: &check,
        };
        match self.console.value(&prompt) {
            Reply::Typed(typed) => Ok(typed),
            other => Err(self.left_picking(other)),
        }
    }

    fn pick_listed(
        &mut self,
        case: &Case<'_>,
        ids: &[QuestionId],
        title: &str,
    ) -> Result<QuestionId, Option<Response>> {
        match self.console.choose(&list(case, ids, self.audience, title)) {
            Reply::Chosen(place) => ids.get(place).copied().ok_or(None),
            other => Err(self.left_picking(other)),
        }
    }

    /// What ends the dialogue where no question was picked, if anything does. Who wants to take
    /// something back is asked what, and is not looked for among the questions.
    fn left_picking(&mut self, reply: Reply) -> Option<Response> {
        if reply == Reply::Act(Action::TakeBack) {
            self.leaving = Some(reply);
            return None;
        }
        ended(&reply)
    }
}

/// Questions in a list.
fn list(case: &Case<'_>, ids: &[QuestionId], audience: Audience, title: &str) -> Menu {
    Menu {
        title: vec![Line::new(), Line::strong(title)],
        options: labels(case, ids, audience).into_iter().map(MenuOption::new).collect(),
        actions: vec![Action::Back, Action::TakeBack, Action::Stop],
        ..Menu::default()
    }
}

/// Whether every answer is meant.
fn is_all(typed: &str) -> bool {
    ALL.contains(&as_said(typed).as_str())
}

/// That answers go one by one and how, with the one that is next, and how to begin without any.
fn one_by_one(case: &Case<'_>, ids: &[QuestionId], audience: Audience) -> Line {
    let order = |id: QuestionId| case.latest_answer(id).map(|given| given.order);
    let last = ids.iter().copied().filter(|id| order(*id).is_some()).max_by_key(|id| order(*id));
    let named = labels(case, last.as_slice(), audience).pop();
    let how = named.map(|named| {
        let before = count(ids.len().saturating_sub(1), "answer");
        format!(
            ", the latest first: type back at a question. Next goes \"{named}\", then {before} \
             before it"
        )
    });
    let for_phone = if audience == Audience::Phone { " --for phone" } else { "" };
    Line::plain(format!(
        "Each answer is taken back by itself{}. A new case begins with: stop, then dryhold \
         diagnose{for_phone}.",
        how.unwrap_or_default()
    ))
}

/// Says that no question holds these words, and which were probably meant.
fn none_holds(case: &Case<'_>, ids: &[QuestionId], typed: &str, audience: Audience) -> Line {
    let line = Line::plain("No question holds these words. ");
    match put_right(case, ids, typed, audience) {
        Some(meant) => {
            line.push(Role::Plain, "Did you mean ").push(Role::Value, meant).push(Role::Plain, "?")
        }
        None => line.push(Role::Plain, "Type fewer of them, or other ones."),
    }
}

/// `1 question holds it`, `3 questions hold it`.
fn held(number: usize) -> String {
    let verb = if number == 1 { "holds" } else { "hold" };
    format!("{} {verb} it", count(number, "question"))
}

/// The response to a reply that ends the dialogue; none for one that only leaves the prompt.
pub(super) fn ended(reply: &Reply) -> Option<Response> {
    match reply {
        Reply::EndOfInput => Some(Response::EndOfInput),
        Reply::Interrupted => Some(Response::Interrupted),
        Reply::Act(Action::Stop) => Some(Response::Leave),
        _ => None,
    }
}

/// What each question asks, as this audience gets it, and how it was answered; with its id where that
/// is not enough to tell it from another.
fn labels(case: &Case<'_>, ids: &[QuestionId], audience: Audience) -> Vec<String> {
    let views: Vec<(String, String)> = ids
        .iter()
        .map(|&id| {
            let view = case.question_view(id);
            let given = case.latest_answer(id).map(|given| format!(" [{}]", given.typed));
            let asked = view.say.filter(|_| audience == Audience::Phone).unwrap_or(view.ask);
            (format!("{}{}", asked.to_text(), given.unwrap_or_default()), view.id)
        })
        .collect();
    let is_shared = |label: &String| views.iter().filter(|(other, _)| other == label).count() > 1;
    views
        .iter()
        .map(|(label, id)| if is_shared(label) { format!("{label} ({id})") } else { label.clone() })
        .collect()
}
