//! Answering out of turn, correcting, and taking back.

use super::answering::Person;
use super::asking::{check_typed, choice};
use super::picking::ended;
use crate::case::{Case, CautionView, Given, QuestionId, Reply as Answer, Response};
use crate::terminal::console::Reply;
use crate::terminal::prompt::{Checked, Menu, MenuOption};
use crate::terminal::words::Action;
use crate::text::Line;

impl Person<'_> {
    /// Another question, chosen by its words.
    pub(super) fn another(&mut self, case: &Case<'_>) -> Option<Response> {
        let questions: Vec<QuestionId> = case.question_ids().collect();
        match self.pick(case, &questions, "Which question do you want to answer?") {
            Ok(id) => self.answer_out_of_turn(case, id),
            Err(response) => response,
        }
    }

    /// Puts a question out of turn, after the stop cautions that bar it.
    pub(super) fn answer_out_of_turn(
        &mut self,
        case: &Case<'_>,
        id: QuestionId,
    ) -> Option<Response> {
        let cautions = case.cautions_of_question(id);
        if let Some(&caution) = cautions.iter().find(|&&caution| case.is_barred_by(caution)) {
            let response = self.acknowledge(case, caution);
            match response {
                Some(Response::Acknowledge(..)) => self.chosen = Some(id),
                _ => self.chosen_value = None,
            }
            return response;
        }
        let views: Vec<CautionView> =
            cautions.into_iter().map(|caution| case.caution_view(caution)).collect();
        let mut title = vec![Line::new()];
        title.extend(self.reminders.of(&views));
        title.push(self.wording(case, id));
        title.extend(self.listening(case, id));
        let is_listed = !case.question_view(id).options.is_empty();
        let value = if is_listed { None } else { self.value_for(id) };
        if let Some(value) = value {
            match check_typed(case, id, &value) {
                Checked::Accepted { echo } => {
                    title.push(echo);
                    self.console.show(&title);
                    return self.taken(case, id, value);
                }
                Checked::Doubtful { message, .. } => title.insert(1, message),
                Checked::Refused(_) | Checked::Elsewhere => {}
            }
        }
        title.extend(self.told_before(case, id));
        let actions = vec![
            Action::NotSure,
            Action::Why,
            Action::Back,
            Action::Another,
            Action::TakeBack,
            Action::Stop,
        ];
        match self.put_question(case, id, title, actions, false) {
            Reply::Typed(text) => {
                self.told_again(&text);
                self.taken(case, id, text)
            }
            Reply::Chosen(place) => self.taken(case, id, choice(case, id, place)),
            Reply::Act(Action::NotSure) => self.taken(case, id, "not sure".to_owned()),
            Reply::Act(Action::Why) => {
                self.chosen = Some(id);
                self.other(case, &Reply::Act(Action::Why), Some(id))
            }
            // Nothing was answered here yet, so there is nothing here to take back.
            Reply::Act(Action::TakeBack) => self.take_back(case),
            reply @ (Reply::Act(Action::Another) | Reply::Elsewhere(_)) => {
                // It comes back to this question, also with what was typed for it meanwhile.
                let response = self.other(case, &reply, Some(id));
                if self.chosen.is_none() && !ends(response.as_ref()) {
                    self.chosen = Some(id);
                }
                response
            }
            other => ended(&other),
        }
    }

    /// The value that was told with the words by which a question was found.
    pub(super) fn value_for(&mut self, id: QuestionId) -> Option<String> {
        self.chosen_value.take().filter(|(of, _)| *of == id).map(|(_, value)| value)
    }

    /// An answered question gets a second answer: is the first one wrong, or is this a new one?
    fn taken(&mut self, case: &Case<'_>, id: QuestionId, typed: String) -> Option<Response> {
        let Some(was) = case.latest_answer(id) else {
            if case.decides_ways(id) {
                let (_, title) = case.tree_view(case.tree());
                self.console.show(&[Line::plain(format!(
                    "That is kept, and this case goes on as it was begun: {title}. Another way begins \
                     where this one ends, or with a new case."
                ))]);
            }
            return Some(Response::Volunteer(id, typed));
        };
        // A danger stops the work before anything else is asked, however often it was answered before.
        if case.is_danger_told(id, &typed) {
            return Some(Response::Volunteer(id, typed));
        }
        if case.leads_the_way(id) {
            return self.another_way(case, id, was, typed);
        }
        let (asked, options) = corrects_or_comes_beside(case, id, was, &typed);
        let title = vec![Line::new(), Line::strong(asked)];
        // What is measured is measured again more often than it was told wrong, and a reading
        // that is put right is gone.
        let is_measured = case.handbook().question(id).instrument.is_some();
        // But a number of an unknown unit, or one that a nought alone tells apart, was a slip.
        let is_slip = was.bare_in.is_some() && case.is_unit_unknown(id)
            || is_a_nought_apart(case, id, was, &typed);
        match self.console.choose(&Menu {
            title,
            options,
            actions: vec![Action::Back, Action::Stop],
            preset: is_measured.then_some(usize::from(!is_slip)),
            ..Menu::default()
        }) {
            Reply::Chosen(0) => match self.which_answer(case, id, "Which answer was wrong?") {
                Ok(order) => Some(Response::Correct(id, order, typed)),
                Err(response) => response,
            },
            Reply::Chosen(_) => Some(Response::Volunteer(id, typed)),
            other => ended(&other),
        }
    }

    /// The way follows from this answer: another one changes it, and what else was answered stays.
    fn another_way(
        &mut self,
        case: &Case<'_>,
        id: QuestionId,
        was: &Given,
        typed: String,
    ) -> Option<Response> {
        let options = case.question_view(id).options;
        let called = |choice: &str| {
            let label = options.iter().find(|(known, label)| known == choice || label == choice);
            label.map_or_else(|| choice.to_owned(), |(_, label)| label.clone())
        };
        let (before, now) = (called(&was.typed), called(&typed));
        if before == now {
            self.console.show(&[Line::plain(format!("That is the way already: {now}."))]);
            return None;
        }
        let change = MenuOption::new(format!("Go the other way now: {now}"));
        let stay = MenuOption::new(format!("Stay on this way: {before}"));
        let asked = "This decides the way. Do you want to change it? What was answered stays.";
        let menu = Menu {
            title: vec![Line::new(), Line::strong(asked)],
            options: vec![change, stay],
            actions: vec![Action::Back, Action::Stop],
            ..Menu::default()
        };
        match self.console.choose(&menu) {
            Reply::Chosen(0) => {
                self.console.show(&[Line::plain(format!("The way is another one now: {now}."))]);
                Some(Response::Correct(id, was.order, typed))
            }
            Reply::Chosen(_) => {
                self.console.show(&[Line::plain(format!("It stays as it was: {before}."))]);
                None
            }
            other => ended(&other),
        }
    }

    /// An answer given earlier, the latest first.
    pub(super) fn take_back(&mut self, case: &Case<'_>) -> Option<Response> {
        let order = |id: QuestionId| case.latest_answer(id).map(|given| given.order);
        let mut answered: Vec<QuestionId> =
            case.question_ids().filter(|&id| order(id).is_some()).collect();
        answered.sort_by_key(|&id| std::cmp::Reverse(order(id)));
        if answered.is_empty() {
            self.console.show(&[Line::plain("Nothing is answered yet.")]);
            return None;
        }
        let picked = self.pick_answer(case, &answered, "Which answer do you want to take back?");
        // Said once more, it means what was answered last.
        if self.leaving.take_if(|reply| *reply == Reply::Act(Action::TakeBack)).is_some() {
            return Some(self.back(case));
        }
        match picked.and_then(|id| self.which_answer(case, id, "Which of its answers?")) {
            Ok(order) => Some(Response::TakeBack(order)),
            Err(response) => response,
        }
    }

    /// One of a question's answers by its place in the order; the only one without asking.
    pub(super) fn which_answer(
        &mut self,
        case: &Case<'_>,
        id: QuestionId,
        title: &str,
    ) -> Result<usize, Option<Response>> {
        let answers: Vec<_> = case.answers(id).collect();
        if let [only] = answers[..] {
            return Ok(only.order);
        }
        let of = answers.len();
        let label = |(nth, given): (usize, &&Given)| {
            MenuOption::new(format!("{} (answer {} of {of})", given.typed, nth + 1))
        };
        let options = answers.iter().enumerate().map(label).rev().collect();
        let title = vec![Line::new(), Line::strong(title)];
        match self.console.choose(&Menu {
            title,
            options,
            actions: vec![Action::Back, Action::Stop],
            ..Menu::default()
        }) {
            Reply::Chosen(place) => answers.iter().rev().nth(place).map(|g| g.order).ok_or(None),
            other => Err(ended(&other)),
        }
    }
}

/// Whether a second answer corrects the first one or comes beside it, with the parts that they were read
/// of.
fn corrects_or_comes_beside(
    case: &Case<'_>,
    id: QuestionId,
    was: &Given,
    typed: &str,
) -> (String, Vec<MenuOption>) {
    let option = |text: String| MenuOption::new(text);
    let namings = case.parts_and_readings().find(|(_, reading)| *reading == id);
    let named = namings.and_then(|(naming, _)| case.latest_answer(naming));
    let before = &was.typed;
    if let (Some(part), Some(named)) = (case.part_of(was), named) {
        let now = named.typed.as_str();
        let (asked, other) = match part == now {
            true => (
                format!(
                    "The {part} was read at {before} before. Does {typed} correct that, or come \
                         beside it?"
                ),
                format!("A new reading of the {part}: keep the earlier one as well"),
            ),
            false => (
                format!(
                    "The {part} was read at {before} before. Is {typed} a correction of the \
                         {part}'s {before}, or the {now}'s?"
                ),
                format!("Another part's: the {now}"),
            ),
        };
        return (
            asked,
            vec![option(format!("A correction: the {part}'s {before} was wrong")), option(other)],
        );
    }
    let asked = format!(
        "This was answered before: {before}. Does the new answer correct that, or come beside it?"
    );
    let options = vec![
        option("A correction: the earlier answer was wrong".to_owned()),
        option("A new answer: keep the earlier one as well".to_owned()),
    ];
    (asked, options)
}

/// Whether two figures differ by a nought and nothing else: 1500 and 15000.
fn is_a_nought_apart(case: &Case<'_>, id: QuestionId, was: &Given, typed: &str) -> bool {
    let si = |reply: &Answer| match reply {
        Answer::Quantity { si, .. } => Some(*si),
        _ => None,
    };
    let now = case.read(id, typed).ok().and_then(|read| si(&read.reply));
    let ratio = si(&was.reply).zip(now).map(|(was, now)| now / was);
    ratio.is_some_and(|ratio| (ratio - 10.0).abs() < 1e-6 || (ratio - 0.1).abs() < 1e-8)
}

/// Whether a response ends the dialogue.
fn ends(response: Option<&Response>) -> bool {
    matches!(response, Some(Response::Leave | Response::EndOfInput | Response::Interrupted))
}
