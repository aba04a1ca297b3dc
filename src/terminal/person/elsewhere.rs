//! What was typed belongs to no answer here: it may to another question, such as a danger that has
//! come up.

use super::answering::Person;
use super::doing::at_a_step;
use super::picking::ended;
use super::searching::likely;
use crate::case::{Case, QuestionId, Response};
use crate::terminal::console::Reply;
use crate::terminal::prompt::{Menu, MenuOption};
use crate::terminal::words::not_done;
use crate::text::Line;

impl Person<'_> {
    /// Offers the questions that these words may belong to; where there is none, says how others
    /// are reached.
    pub(super) fn elsewhere(
        &mut self,
        case: &Case<'_>,
        typed: &str,
        asked: Option<QuestionId>,
    ) -> Option<Response> {
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
        let asks = found.iter().map(|id| case.question_view(*id).ask.to_text());
        let mut options: Vec<MenuOption> = asks.map(MenuOption::new).collect();
        options.push(MenuOption::new("None of these: back to what was asked"));
        let title = vec![Line::new(), refused, Line::strong("Does it belong to this question?")];
        match self.console.choose(&Menu { title, options, actions: Vec::new() }) {
            Reply::Chosen(place) => match found.get(place) {
                Some(id) => self.answer_out_of_turn(case, *id),
                None => None,
            },
            other => ended(&other),
        }
    }
}
