//! What was typed belongs to no answer here: it may to another question, such as a danger that has
//! come up.

use super::answer_told::is_named_by;
use super::answering::Person;
use super::asking::{check_typed, options};
use super::danger::{danger_told, dangers_hinted};
use super::doing::at_a_step;
use super::facts::several;
use super::matching::{Match, is_of_itself, left_of, likely};
use super::picking::ended;
use crate::case::{Case, QuestionId, Response};
use crate::terminal::console::{ROUNDS, Reply};
use crate::terminal::prompt::{Checked, Menu, MenuOption};
use crate::terminal::understanding::{Understood, understand_option};
use crate::terminal::words::{Action, is_bare_figure, is_done, not_done};
use crate::text::{Line, Role, also_said, as_said, is_prompt_word, list_or};

/// What came of offering questions, or to keep a note.
pub(super) enum Offered {
    /// One was answered, or what was asked before; or the dialogue ends.
    Met(Option<Response>),
    /// It belongs to none of them.
    Left,
}

/// What was asked before a list is put, to which words may belong that answer nothing in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Before {
    /// This question.
    Question(QuestionId),
    /// A step to be done.
    Step,
    /// Nothing that words may still be taken for.
    Nothing,
}

impl Before {
    fn question(self) -> Option<QuestionId> {
        match self {
            Self::Question(id) => Some(id),
            Self::Step | Self::Nothing => None,
        }
    }
}

/// What came of a list that is put beside something else.
pub(super) enum Asked {
    /// The option of this place.
    Chosen(usize),
    /// What was asked before was answered, or the dialogue ends.
    Met(Option<Response>),
}

impl Person<'_> {
    /// Puts the question of a danger that these words tell of; else offers those that they may belong
    /// to, one after the other where they tell several things. What belongs to none is kept as a note.
    pub(super) fn elsewhere(
        &mut self,
        case: &Case<'_>,
        typed: &str,
        asked: Option<QuestionId>,
    ) -> Option<Response> {
        if let Some(danger) = danger_told(case, asked, typed) {
            return self.danger(case, typed, danger);
        }
        let before = asked.map_or(Before::Step, Before::Question);
        if let Some(changed) = self.told_to_change(case, typed, before) {
            return changed;
        }
        if let Some(changed) = self.told_to_put_right(case, typed, before) {
            return changed;
        }
        if let Some(worked) = self.told_work(case, typed, before) {
            return worked;
        }
        let refused = match is_bare_figure(typed) && asked.is_some() {
            true => Line::plain(format!("{typed} what? There is no {typed} in the list.")),
            false => Line::plain(format!("\"{typed}\" is not one of the answers here.")),
        };
        if let Some(id) = asked
            && let Some(answered) = self.answers_with_a_figure(case, id, typed)
        {
            return answered;
        }
        if let Some(id) = asked.filter(|id| is_of_itself(case, *id, typed)) {
            self.console.show(&[of_itself(case, id, typed)]);
            return None;
        }
        if let Some(parts) = several(case, asked, typed) {
            self.console.show(&[refused, Line::plain(ONE_BY_ONE)]);
            self.facts.extend(parts);
            return None;
        }
        let is_word = is_prompt_word(typed) || is_done(typed);
        let found = if is_word { Vec::new() } else { likely(case, asked, typed) };
        // A number that is none of the list, nor a value of any question, is a slip.
        if found.is_empty() && is_bare_figure(typed) && asked.is_some() {
            self.console.show(&[refused]);
            return None;
        }
        if found.is_empty() {
            let line = if asked.is_some() { refused } else { not_done(&at_a_step()) };
            self.console.show(&[line, Line::plain(OTHER_WAYS)]);
            return if is_word { None } else { self.nothing_found(case, typed, before) };
        }
        match self.offer(case, (refused, typed), &found, before) {
            Offered::Met(response) => response,
            Offered::Left => Some(self.kept(typed)),
        }
    }

    /// Asks whether what belongs to no question is kept.
    pub(super) fn nothing_found(
        &mut self,
        case: &Case<'_>,
        typed: &str,
        before: Before,
    ) -> Option<Response> {
        let told = Line::plain(format!("No question was found for \"{typed}\"."));
        match self.ask_to_keep(case, typed, told, before) {
            Offered::Met(response) => response,
            Offered::Left => None,
        }
    }

    /// Offers the questions that words typed beside a wait may belong to; what belongs to none is
    /// kept as a note, since a wait has no answer that they could be.
    pub(super) fn told_in_a_wait(&mut self, case: &Case<'_>, typed: &str) -> Option<Response> {
        if let Some(danger) = danger_told(case, None, typed) {
            return self.danger(case, typed, danger);
        }
        if let Some(changed) = self.told_to_change(case, typed, Before::Step) {
            return changed;
        }
        if let Some(worked) = self.told_work(case, typed, Before::Step) {
            return worked;
        }
        let told = Line::plain(format!("\"{typed}\" is no word of the wait."));
        if let Some(parts) = several(case, None, typed) {
            self.console.show(&[told, Line::plain(ONE_BY_ONE)]);
            self.facts.extend(parts);
            return None;
        }
        let found = likely(case, None, typed);
        if !found.is_empty()
            && let Offered::Met(response) = self.offer(case, (told, typed), &found, Before::Step)
        {
            return response;
        }
        self.console.show(&[Line::plain(format!(
            "\"{typed}\" is kept as a note, and the wait goes on. What answers the next question is \
             typed there."
        ))]);
        Some(Response::Note(typed.to_owned()))
    }

    /// Offers the questions that words may belong to, each with the value that it would get.
    pub(super) fn offer(
        &mut self,
        case: &Case<'_>,
        (told, typed): (Line, &str),
        found: &[Match],
        before: Before,
    ) -> Offered {
        let question = if found.len() == 1 { "this question?" } else { "one of these questions?" };
        let question = Line::strong(format!("Does it belong to {question}"));
        let title = vec![Line::new(), told, question];
        // A value of a question that nobody named is never ready for Enter.
        let options = offered(case, found);
        let is_ready = found.first().is_none_or(|first| is_meant(case, first, typed));
        let preset = (!is_ready).then(|| options.len().saturating_sub(1));
        match self.ask_beside(case, (title, preset), &options, before) {
            Asked::Chosen(place) => match found.get(place) {
                Some(chosen) => {
                    self.past_hints(case, typed, found, chosen.id);
                    Offered::Met(self.belongs_to(case, chosen, typed))
                }
                None => self.past_dangers(case, (typed, found), Offered::Left),
            },
            Asked::Met(response) => self.past_dangers(case, (typed, found), Offered::Met(response)),
        }
    }

    /// Puts the question that words belong to, with what they tell of it.
    fn belongs_to(&mut self, case: &Case<'_>, found: &Match, typed: &str) -> Option<Response> {
        self.asks_for(found.id, typed);
        self.left_over = left_of(case, found, typed);
        self.chosen_value = found.value.clone().map(|value| (found.id, value));
        if let Some((naming, name)) = found.part.clone() {
            self.chosen = Some(found.id);
            return Some(Response::Volunteer(naming, name));
        }
        if dangers_hinted(case, None, typed).contains(&found.id) {
            return self.ask_for_danger(case, found.id, typed);
        }
        self.answer_out_of_turn(case, found.id)
    }

    /// Puts a list beside what was asked before, with the place that stands ready. Words that answer
    /// nothing in it may answer that.
    pub(super) fn ask_beside(
        &mut self,
        case: &Case<'_>,
        (title, preset): (Vec<Line>, Option<usize>),
        options: &[MenuOption],
        asked: Before,
    ) -> Asked {
        let mut title = title;
        let last = options.len().saturating_sub(1);
        for _ in 0..ROUNDS {
            let menu = Menu {
                title,
                options: options.to_vec(),
                hands_back: true,
                preset,
                ..Menu::default()
            };
            let typed = match self.console.choose(&menu) {
                Reply::Chosen(place) => return Asked::Chosen(place),
                Reply::Elsewhere(typed) => typed,
                other => {
                    return ended(&other).map_or(Asked::Chosen(last), |end| Asked::Met(Some(end)));
                }
            };
            if let Some(danger) = danger_told(case, asked.question(), &typed) {
                return Asked::Met(self.danger(case, &typed, danger));
            }
            // A nod is for what stands here: it must never be taken for a safety question before.
            if is_nod(&typed) {
                title = vec![Line::plain("Yes to which of these? Type its number, or no.")];
                continue;
            }
            match (Action::from_word(&typed), asked) {
                (Some(Action::Stop), _) => return Asked::Met(Some(Response::Leave)),
                (Some(Action::Back | Action::TakeBack), _) => return Asked::Chosen(last),
                (Some(Action::Another), _) => {
                    self.leaving = Some(Reply::Act(Action::Another));
                    return Asked::Chosen(last);
                }
                (Some(action @ (Action::NotSure | Action::Skip)), Before::Question(_)) => {
                    self.answered = Some(Reply::Act(action));
                    return Asked::Met(None);
                }
                _ => {}
            }
            if let Some((reply, echo)) = before(case, &typed, asked) {
                self.console.show(&[echo]);
                self.answered = Some(reply);
                return Asked::Met(None);
            }
            if let Some(odd) = odd_before(case, &typed, asked) {
                self.console.show(&odd);
                return Asked::Met(None);
            }
            title = vec![Line::plain(format!(
                "\"{typed}\" answers neither this nor what was asked before."
            ))];
        }
        Asked::Met(Some(Response::EndOfInput))
    }
}

/// What is said to words for which no question is found.
const OTHER_WAYS: &str = "For another question, or a danger that has come up, type other.";

/// What is said before several things that were told at once are offered in turn.
const ONE_BY_ONE: &str = "It tells several things: they come one after the other.";

/// What is said of words that speak of the question that is asked, and not of an answer to it.
fn of_itself(case: &Case<'_>, id: QuestionId, typed: &str) -> Line {
    let labels: Vec<String> =
        case.question_view(id).options.into_iter().map(|(_, label)| label).collect();
    let which = match labels.is_empty() {
        true => "Type its answer.".to_owned(),
        false => format!("Which is it: {}?", list_or(&labels)),
    };
    Line::plain(format!(
        "\"{typed}\" speaks of this very question, and may be meant either way. {which}"
    ))
}

/// Whether the words typed name a question, and don't only fit it by the kind of their value.
fn is_meant(case: &Case<'_>, found: &Match, typed: &str) -> bool {
    let takes_a_value = case.takes_a_quantity(found.id) && found.value.is_some();
    !takes_a_value || found.part.is_some() || is_named_by(case, found.id, typed)
}

/// The questions found, and the way back.
pub(super) fn offered(case: &Case<'_>, found: &[Match]) -> Vec<MenuOption> {
    let option = |found: &Match| {
        let ask = case.ask(found.id).to_text();
        let shown = |value: &String| {
            let options = case.question_view(found.id).options;
            let label = options.into_iter().find(|(choice, _)| choice == value);
            format!(" [{}]", label.map_or_else(|| value.clone(), |(_, label)| label))
        };
        let part = found.part.as_ref().map(|(_, name)| format!(" {name}:")).unwrap_or_default();
        let value = found.value.as_ref().map(shown).map(|value| format!("{part}{value}"));
        MenuOption::new(format!("{ask}{}", value.unwrap_or_default()))
    };
    let mut options: Vec<MenuOption> = found.iter().map(option).collect();
    options.push(MenuOption::new(BACK).with_words(vec!["no".to_owned(), "none".to_owned()]));
    if let [only, _] = &mut options[..] {
        only.words.extend(["yes", "y", "ok", "okay"].map(str::to_owned));
        only.words.extend(also_said(true).iter().map(|yes| (*yes).to_owned()));
    }
    options
}

/// Whether what was typed says yes and nothing else.
fn is_nod(typed: &str) -> bool {
    let said = as_said(typed);
    ["yes", "y", "ok", "okay"].iter().chain(also_said(true)).any(|yes| said == *yes)
}

/// What leads back to what was asked.
const BACK: &str = "None of these: back to what was asked";

/// What was typed as the reply to what was put before, with how it is understood; none where it is
/// none. A number of that list is not taken: it may be meant for the list below it.
fn before(case: &Case<'_>, typed: &str, asked: Before) -> Option<(Reply, Line)> {
    let id = match asked {
        Before::Question(id) => id,
        Before::Step => {
            let echo = Line::plain("Taken for the step before: it is done.");
            return is_done(typed).then_some((Reply::Done, echo));
        }
        Before::Nothing => return None,
    };
    let options = options(&case.question_view(id));
    let lead = Line::plain("Taken for the question before: ");
    if options.is_empty() {
        let Checked::Accepted { echo } = check_typed(case, id, typed) else { return None };
        return Some((Reply::Typed(typed.to_owned()), lead.join(echo)));
    }
    let is_number = typed.trim_end_matches(['.', ')']).bytes().all(|b| b.is_ascii_digit());
    match understand_option(typed, &options, &[]) {
        Understood::Option(place) if !is_number => {
            let label = options.get(place)?.label.as_str();
            let echo = lead.push(Role::Name, label).push(Role::Plain, ".");
            Some((Reply::Chosen(place), echo))
        }
        _ => None,
    }
}

/// What is odd about a value for the question before, which is put again.
fn odd_before(case: &Case<'_>, typed: &str, asked: Before) -> Option<[Line; 2]> {
    let Before::Question(id) = asked else { return None };
    if !case.question_view(id).options.is_empty() {
        return None;
    }
    match check_typed(case, id, typed) {
        Checked::Doubtful { message, .. } => {
            Some([message, Line::plain("If that is so all the same, type it again.")])
        }
        _ => None,
    }
}
