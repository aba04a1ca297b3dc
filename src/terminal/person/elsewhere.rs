//! What was typed belongs to no answer here: it may to another question, such as a danger that has
//! come up.

use super::answering::Person;
use super::asking::{check_typed, options};
use super::danger::danger_told;
use super::doing::at_a_step;
use super::picking::ended;
use super::searching::likely;
use crate::case::{Case, QuestionId, Response};
use crate::terminal::console::{ROUNDS, Reply};
use crate::terminal::prompt::{Checked, Menu, MenuOption};
use crate::terminal::understanding::{Understood, understand_option};
use crate::terminal::words::{is_done, not_done};
use crate::text::{Line, Role, also_said, as_said};

/// What came of offering questions.
enum Offered {
    /// One was answered, or what was asked before; or the dialogue ends.
    Met(Option<Response>),
    /// It belongs to none of them.
    Left,
}

impl Person<'_> {
    /// Puts the question of a danger that these words tell of; else offers those that they may belong
    /// to, and notes what belongs to none of them; where there is none, says how others are reached.
    pub(super) fn elsewhere(
        &mut self,
        case: &Case<'_>,
        typed: &str,
        asked: Option<QuestionId>,
    ) -> Option<Response> {
        if let Some(danger) = danger_told(case, asked, typed) {
            return self.danger(case, typed, danger);
        }
        let refused = Line::plain(format!("\"{typed}\" is not one of the answers here."));
        let found = likely(case, asked, typed);
        if found.is_empty() {
            let way = "For another question, or a danger that has come up, type other.";
            let line = match asked {
                Some(_) => refused,
                None => not_done(&at_a_step()),
            };
            self.console.show(&[line, Line::plain(way)]);
            return None;
        }
        match self.offer(case, refused, &found, asked) {
            Offered::Met(response) => response,
            Offered::Left => {
                let noted = format!("\"{typed}\" is kept as a note.");
                self.console.show(&[Line::plain(noted)]);
                Some(Response::Note(typed.to_owned()))
            }
        }
    }

    /// Offers the questions that words typed beside a wait may belong to; what belongs to none is
    /// kept as a note, since a wait has no answer that they could be.
    pub(super) fn told_in_a_wait(&mut self, case: &Case<'_>, typed: &str) -> Option<Response> {
        if let Some(danger) = danger_told(case, None, typed) {
            return self.danger(case, typed, danger);
        }
        let found = likely(case, None, typed);
        if !found.is_empty() {
            let told = Line::plain(format!("\"{typed}\" is no word of the wait."));
            if let Offered::Met(response) = self.offer(case, told, &found, None) {
                return response;
            }
        }
        self.console.show(&[Line::plain(format!(
            "\"{typed}\" is kept as a note, and the wait goes on. What answers the next question is \
             typed there."
        ))]);
        Some(Response::Note(typed.to_owned()))
    }

    fn offer(
        &mut self,
        case: &Case<'_>,
        told: Line,
        found: &[QuestionId],
        asked: Option<QuestionId>,
    ) -> Offered {
        let options = offered(case, found);
        let is_one = found.len() == 1;
        let question = if is_one { "this question?" } else { "one of these questions?" };
        let question = Line::strong(format!("Does it belong to {question}"));
        let mut title = vec![Line::new(), told, question];
        for _ in 0..ROUNDS {
            let menu =
                Menu { title, options: options.clone(), hands_back: true, ..Menu::default() };
            let typed = match self.console.choose(&menu) {
                Reply::Chosen(place) => {
                    return match found.get(place) {
                        Some(id) => Offered::Met(self.answer_out_of_turn(case, *id)),
                        None => Offered::Left,
                    };
                }
                Reply::Elsewhere(typed) => typed,
                other => return ended(&other).map_or(Offered::Left, |end| Offered::Met(Some(end))),
            };
            // A nod is for what stands here: it must never be taken for a safety question before.
            if is_nod(&typed) {
                title = vec![Line::plain("Yes to which of these? Type its number, or no.")];
                continue;
            }
            if let Some((reply, echo)) = before(case, &typed, asked) {
                self.console.show(&[echo]);
                self.answered = Some(reply);
                return Offered::Met(None);
            }
            if let Some(odd) = odd_before(case, &typed, asked) {
                self.console.show(&odd);
                return Offered::Met(None);
            }
            title = vec![Line::plain(format!(
                "\"{typed}\" answers neither this nor what was asked before."
            ))];
        }
        Offered::Met(Some(Response::EndOfInput))
    }
}

/// The questions found, and the way back.
fn offered(case: &Case<'_>, found: &[QuestionId]) -> Vec<MenuOption> {
    let asks = found.iter().map(|id| case.question_view(*id).ask.to_text());
    let mut options: Vec<MenuOption> = asks.map(MenuOption::new).collect();
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
fn before(case: &Case<'_>, typed: &str, asked: Option<QuestionId>) -> Option<(Reply, Line)> {
    let Some(id) = asked else {
        let echo = Line::plain("Taken for the step before: it is done.");
        return is_done(typed).then_some((Reply::Done, echo));
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
fn odd_before(case: &Case<'_>, typed: &str, asked: Option<QuestionId>) -> Option<[Line; 2]> {
    let id = asked.filter(|id| case.question_view(*id).options.is_empty())?;
    match check_typed(case, id, typed) {
        Checked::Doubtful { message, .. } => {
            Some([message, Line::plain("If that is so all the same, type it again.")])
        }
        _ => None,
    }
}
