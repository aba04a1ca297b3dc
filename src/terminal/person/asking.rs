//! Putting a question, in turn or out of it.

use super::answer_told::value_in_words;
use super::answering::{ALWAYS, Audience, Person, sentence};
use super::choosing::choice_told;
use super::correcting::change_told;
use super::danger::{danger_told, dangers_hinted, points_to_danger};
use super::facts::several;
use super::given_before::put_right_told;
use super::matching::likely;
use super::searching::says_enough;
use crate::case::{
    Case, Now, QuestionId, QuestionView, ReadAnswer, Response, ends_rounds, is_reading,
};
use crate::terminal::console::{ROUNDS, Reply};
use crate::terminal::prompt::{Checked, Menu, MenuOption, ValuePrompt};
use crate::terminal::words::{Action, is_bare_figure};
use crate::text::{Line, Role, also_said, as_said, is_prompt_word, says_not_sure};

impl Person<'_> {
    /// Puts the question that the case asks now.
    pub(super) fn ask(
        &mut self,
        case: &Case<'_>,
        id: QuestionId,
        names_a_round: bool,
    ) -> Option<Response> {
        if let Some(response) = self.passed_over(case, id) {
            return Some(response);
        }
        let mut title = vec![Line::new()];
        title.extend(self.cautions_here(case));
        title.extend(time_here(case));
        title.push(self.wording(case, id));
        title.extend(self.listening(case, id));
        title.extend(self.told_before(case, id));
        if names_a_round {
            title.push(Line::plain("Type `no more` when none is left."));
        }
        let mut actions = vec![Action::NotSure, Action::Skip, Action::Why];
        // Nobody can judge what they can't name.
        actions.retain(|action| !(names_a_round && *action == Action::NotSure));
        actions.extend(ALWAYS);
        match self.put_question(case, id, title, actions, names_a_round) {
            Reply::Typed(text) if names_a_round && ends_rounds(&text) => Some(Response::NoMore),
            Reply::Typed(text) => {
                self.told_again(&text);
                Some(Response::Answer(text))
            }
            Reply::Chosen(place) => Some(Response::Answer(choice(case, id, place))),
            other => self.other(case, &other, Some(id)),
        }
    }

    /// The answer that another one gives, said so; none where it is to be asked for all the same.
    fn passed_over(&mut self, case: &Case<'_>, id: QuestionId) -> Option<Response> {
        let known = case.known_by_another(id).filter(|_| !self.by_hand.contains(&id))?;
        let asked = match (self.audience, case.question_view(id).say) {
            (Audience::Phone, Some(say)) => say,
            _ => case.ask(id),
        };
        let told = Line::new()
            .push(Role::Quiet, "Not asked, since ")
            .push(Role::Value, known.by.as_str())
            .push(Role::Quiet, " tells it: ")
            .join(asked)
            .push(Role::Quiet, format!(" [{}]", known.label));
        self.console.show(&[Line::new(), told]);
        Some(Response::Answer(known.answer))
    }

    /// Goes back; what another answer gave is asked for then.
    pub(super) fn back(&mut self, case: &Case<'_>) -> Response {
        let last = case.given_last();
        let given = case.record().given.iter().find(|given| Some(given.order) == last);
        let by_another = given.map(|given| given.question);
        self.by_hand.extend(by_another.filter(|id| case.known_by_another(*id).is_some()));
        Response::Back
    }

    /// The question as this audience gets it, and how long it takes.
    pub(super) fn wording(&self, case: &Case<'_>, id: QuestionId) -> Line {
        let view = case.question_view(id);
        let line = match (self.audience, view.say) {
            (Audience::Phone, Some(say)) => {
                Line::new().push(Role::Quiet, "Say: ").push(Role::Strong, say.to_text())
            }
            _ => Line::strong(view.ask.to_text()),
        };
        match view.takes.filter(|&seconds| seconds >= 60.0) {
            Some(seconds) => line.push(Role::Quiet, format!(" (about {:.0} min)", seconds / 60.0)),
            None => line,
        }
    }

    /// What to listen for in the answer of a caller.
    pub(super) fn listening(&self, case: &Case<'_>, id: QuestionId) -> Option<Line> {
        let listen = case.question_view(id).listen.filter(|_| self.audience == Audience::Phone)?;
        Some(Line::new().push(Role::Quiet, format!("Listen for: {}", listen.to_text())))
    }

    /// The words that were taken for the yes or no that takes a danger away; none where it was
    /// answered by itself.
    fn away_from_danger(&self, case: &Case<'_>, id: QuestionId, reply: &Reply) -> Option<String> {
        let Reply::Chosen(place) = reply else { return None };
        let said = self.said_before.clone()?;
        let chosen = choice(case, id, *place);
        let is_safe = case.dangerous_choice(id).is_some_and(|danger| danger != chosen);
        let is_word =
            |known: &(String, String)| known.1 == chosen && as_said(&known.0) == as_said(&said);
        let is_yes_no = matches!(chosen.as_str(), "yes" | "no");
        let is_in_words = case.question_view(id).in_words.iter().any(is_word);
        (is_safe && is_yes_no && is_in_words).then_some(said)
    }

    /// A bare no that was taken for an answer which says more than no; none where that answer begins
    /// with no, or the handbook has it for that answer.
    fn vague_no(&self, view: &QuestionView, reply: &Reply) -> Option<String> {
        let Reply::Chosen(place) = reply else { return None };
        let said = self.said_before.clone().filter(|said| is_bare_no(said))?;
        let (choice, label) = view.options.get(*place)?;
        let begins = label.split(|c: char| !c.is_alphanumeric()).next().unwrap_or_default();
        let is_meant =
            |known: &(String, String)| known.1 == *choice && as_said(&known.0) == as_said(&said);
        let is_plain = choice == "no"
            || begins.eq_ignore_ascii_case("no")
            || view.in_words.iter().any(is_meant);
        (!is_plain).then_some(said)
    }

    /// Asks back whether words were meant as the answer that they were taken for. The safe way, to ask
    /// again, stands first.
    fn is_so(&mut self, view: &QuestionView, said: &str, reply: &Reply) -> Reply {
        let place = match reply {
            Reply::Chosen(place) => *place,
            _ => 0,
        };
        let label = view.options.get(place).map(|(_, label)| label.as_str()).unwrap_or_default();
        let told = format!("\"{said}\" is taken as {label}: {}", view.ask.to_text());
        let title = vec![Line::new(), Line::plain(told), Line::strong("Is that so?")];
        let options = vec![
            MenuOption::new("No, ask it again"),
            MenuOption::new(format!("Yes, the answer is {label}")),
        ];
        self.console.choose(&Menu { title, options, ..Menu::default() })
    }

    /// Puts a question by a menu or a prompt for a value.
    pub(super) fn put_question(
        &mut self,
        case: &Case<'_>,
        id: QuestionId,
        title: Vec<Line>,
        actions: Vec<Action>,
        names_a_round: bool,
    ) -> Reply {
        // A yes or no to the question before names nothing here.
        let before = self.said_before.take().filter(|said| !is_prompt_word(said) && !is_nod(said));
        if let Some(reply) = self.answered.take() {
            return reply;
        }
        let view = case.question_view(id);
        if !view.options.is_empty() {
            let told =
                self.value_for(id).or_else(|| before.and_then(|said| choice_told(case, id, &said)));
            let preset = view.options.iter().position(|(choice, _)| Some(choice) == told.as_ref());
            let options = options(&view);
            let menu = Menu { title, options, actions, preset, ..Menu::default() };
            for _ in 0..ROUNDS {
                let reply = self.console.choose(&menu);
                self.said_before = self.console.words_of_choice();
                let vague = || self.vague_no(&view, &reply);
                match self.away_from_danger(case, id, &reply).or_else(vague) {
                    None => return reply,
                    Some(said) => match self.is_so(&view, &said, &reply) {
                        Reply::Chosen(1) => return reply,
                        Reply::Chosen(_) => {}
                        ended => return ended,
                    },
                }
            }
            return Reply::EndOfInput;
        }
        if view.takes_readings {
            return self.put_hold(case, id, title, actions, view.hint);
        }
        let denied = self.denied.clone();
        let check = |typed: &str| {
            let is_offered = actions.contains(&Action::Another);
            if is_offered && danger_told(case, Some(id), typed).is_some() {
                return Checked::Elsewhere;
            }
            // A name is a text like any other: what points to a danger in it is asked first.
            let is_name = names_a_round || case.names_rounds(id);
            if is_offered && is_name && points_to_danger(case, denied.as_deref(), typed) {
                return Checked::Elsewhere;
            }
            if names_a_round && ends_rounds(typed) {
                return Checked::Accepted { echo: Line::plain("No more.") };
            }
            if let Some(refusal) = no_name(typed).filter(|_| names_a_round) {
                return Checked::Refused(refusal);
            }
            let checked = check_typed(case, id, typed);
            if matches!(checked, Checked::Refused(_)) && is_offered {
                // What puts the reading before right is no answer here.
                if put_right_told(case, typed).is_some() {
                    return Checked::Elsewhere;
                }
            }
            if let (Checked::Refused(_), Some(answer)) = (&checked, value_in_words(case, id, typed))
            {
                return is_it(typed, &answer);
            }
            match checked {
                // What names a part is no place for readings, whether it is asked for now or not.
                Checked::Refused(_) if !names_a_round && case.names_rounds(id) => checked,
                Checked::Refused(_) if is_offered && is_of_another(case, id, typed) => {
                    Checked::Elsewhere
                }
                checked => checked,
            }
        };
        let actions = actions.clone();
        match self.console.value(&ValuePrompt { title, hint: view.hint, actions, check: &check }) {
            Reply::Typed(text) => Reply::Typed(in_figures(case, id, text)),
            other => other,
        }
    }
}

/// Whether no was said and nothing else.
fn is_bare_no(said: &str) -> bool {
    let said = as_said(said);
    matches!(said.as_str(), "no" | "n") || also_said(false).contains(&said.as_str())
}

/// Whether words say yes or no in another way.
fn is_nod(said: &str) -> bool {
    [true, false].iter().any(|yes| also_said(*yes).contains(&as_said(said).as_str()))
}

/// The answers of a question of choices, with all that may be typed for each.
pub(super) fn options(view: &QuestionView) -> Vec<MenuOption> {
    let words = |choice: &String| {
        let own = view.in_words.iter().filter(|(_, answer)| answer == choice);
        let also = match choice.as_str() {
            "yes" => also_said(true),
            "no" => also_said(false),
            _ => &[],
        };
        let also = also.iter().map(|word| (*word).to_owned());
        own.map(|(words, _)| words.clone()).chain(also).collect()
    };
    let option = |(choice, label): &(String, String)| {
        MenuOption::new(label).with_id(choice).with_words(words(choice))
    };
    view.options.iter().map(option).collect()
}

/// Whether words typed where a value is wanted belong to another question, or tell several things:
/// with a figure only where that answers the other one.
fn is_of_another(case: &Case<'_>, id: QuestionId, typed: &str) -> bool {
    let has_figure = typed.chars().any(char::is_numeric);
    if !dangers_hinted(case, Some(id), typed).is_empty() {
        return true;
    }
    if change_told(case, typed).is_some() {
        return true;
    }
    if !has_figure && !says_enough(typed) || is_bare_figure(typed) {
        return false;
    }
    several(case, Some(id), typed).is_some()
        || likely(case, Some(id), typed).iter().any(|found| !has_figure || found.value.is_some())
}

/// What time it is that this comes or belongs to, where that isn't plain: for the second time of
/// three, or in the place of an answer that was taken back.
pub(super) fn time_here(case: &Case<'_>) -> Option<Line> {
    if matches!(case.now(), Now::Ask { in_place_of: Some(_), .. }) {
        return Some(Line::plain(
            "This takes the place of the answer that was taken back: say what it was then, \
             before what has been done since.",
        ));
    }
    let (time, most) = case.times_here().filter(|(time, _)| *time > 1)?;
    let what = match case.now() {
        Now::Ask { .. } => "asked",
        _ => "to be done",
    };
    Some(Line::plain(format!("This is {what} for the {}.", nth_time(time, most))))
}

/// `second and last time`, `second time; it comes up to twice more`.
fn nth_time(time: u32, most: u32) -> String {
    let nth = ordinal(time);
    match most.saturating_sub(time) {
        0 => format!("{nth} and last time"),
        1 => format!("{nth} time; it may come once more"),
        2 => format!("{nth} time; it may come twice more"),
        more => format!("{nth} time; it may come {more} times more"),
    }
}

/// `second`, `third`, ..., `11th`.
fn ordinal(number: u32) -> String {
    const IN_WORDS: [&str; 9] =
        ["second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"];
    let place = usize::try_from(number).ok().and_then(|number| number.checked_sub(2));
    let in_words = place.and_then(|place| IN_WORDS.get(place));
    in_words.map_or_else(|| format!("{number}th"), |words| (*words).to_owned())
}

/// The id of a choice, by its place in the menu.
pub(super) fn choice(case: &Case<'_>, id: QuestionId, place: usize) -> String {
    let options = case.question_view(id).options;
    options.get(place).map(|(choice, _)| choice.clone()).unwrap_or_default()
}

pub(super) fn check_typed(case: &Case<'_>, id: QuestionId, typed: &str) -> Checked {
    match case.read(id, typed) {
        Err(misunderstood) => Checked::Refused(Line::plain(sentence(&misunderstood.message))),
        Ok(read) if is_of_unknown_unit(case, id, &read) => Checked::Refused(Line::plain(format!(
            "\"{}\" is a number alone, and nobody knows which unit the gauge shows. Type it with the \
             unit that its display shows beside it.",
            typed.trim()
        ))),
        Ok(read) => match read.slip {
            Some(slip) => Checked::Doubtful {
                message: Line::plain(sentence(&slip.message)),
                read: read.echo,
                suggestion: slip.suggestion.map(|(text, _)| text),
            },
            None => match case.rate_or_rise(id, typed) {
                Some((rate, rise)) => in_which_time(typed, &rate, rise, read.echo),
                None => Checked::Accepted { echo: read_as(case, id, typed, read.echo) },
            },
        },
    }
}

/// Whether a number without a unit was read from a gauge of which nobody knows what it shows.
fn is_of_unknown_unit(case: &Case<'_>, id: QuestionId, read: &ReadAnswer) -> bool {
    read.bare_in.is_some() && case.takes_a_quantity(id) && case.is_unit_unknown(id)
}

/// The value that words for one of this question's mean, where it can't take them as they stand.
fn in_figures(case: &Case<'_>, id: QuestionId, typed: String) -> String {
    match check_typed(case, id, &typed) {
        Checked::Refused(_) => value_in_words(case, id, &typed).unwrap_or(typed),
        _ => typed,
    }
}

/// Asks back whether words mean the value that they hold words for.
fn is_it(typed: &str, answer: &str) -> Checked {
    Checked::Doubtful {
        message: Line::plain(format!("\"{}\": is that {answer}?", typed.trim())),
        read: answer.to_owned(),
        suggestion: None,
    }
}

/// A bare number for a rate: what rose in ten minutes is often told so, and is a tenth of it.
fn in_which_time(typed: &str, rate: &str, rise: String, read: String) -> Checked {
    Checked::Doubtful {
        message: Line::plain(format!(
            "{} alone doesn't say in which time: {rate}, or in how many minutes, such as {rise}?",
            typed.trim()
        )),
        read,
        suggestion: Some(rise),
    }
}

/// How an answer was understood; nothing of a text, which is kept as it stands.
fn read_as(case: &Case<'_>, id: QuestionId, typed: &str, echo: String) -> Line {
    if case.question_view(id).takes_words {
        return Line::new();
    }
    let lead = match case.handbook().question(id).answer_in_words(typed) {
        Some(_) => format!("\"{}\" counts as ", typed.trim()),
        None => "Read as ".to_owned(),
    };
    Line::plain(lead).push(Role::Value, echo).push(Role::Plain, ".")
}

/// What is said to a word that names no part, thing or place; none for a name.
fn no_name(typed: &str) -> Option<Line> {
    let has_letters = typed.chars().filter(|character| character.is_alphabetic()).count() > 1;
    let is_nod = matches!(typed.trim().to_lowercase().as_str(), "yes" | "yep" | "ok" | "okay");
    let is_name = has_letters && !is_nod && !says_not_sure(typed);
    let is_read = is_reading(typed);
    (!is_name || is_read).then(|| {
        let told = format!(
            "\"{}\" is no name. Type what you call it, in letters, or `no more` when none is left.",
            typed.trim()
        );
        let next = if is_read { " Its readings are asked for next." } else { "" };
        Line::plain(told).push(Role::Plain, next)
    })
}

#[cfg(test)]
mod tests {
    use super::nth_time;

    #[test]
    fn a_time_is_told_with_how_many_may_follow() {
        for (time, most, told) in [
            (2, 2, "second and last time"),
            (2, 3, "second time; it may come once more"),
            (2, 4, "second time; it may come twice more"),
            (3, 12, "third time; it may come 9 times more"),
            (12, 12, "12th and last time"),
        ] {
            assert_eq!(nth_time(time, most), told);
        }
    }
}
