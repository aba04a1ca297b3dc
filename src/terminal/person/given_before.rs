//! A figure told with words that put the reading just given right: `no, fifteen thousand`.

use super::answering::Person;
use super::asking::check_typed;
use super::elsewhere::{Asked, Before};
use super::paired::tells_a_span;
use crate::case::{Case, Given, Response};
use crate::terminal::prompt::{Checked, MenuOption};
use crate::text::{Line, as_said};

/// Words by which somebody takes back what was just said.
const TAKES_BACK: [&str; 9] =
    ["no", "nope", "sorry", "wait", "correction", "meant", "mean", "rather", "actually"];

/// Words that stand beside them before the figure.
const BESIDE: [&str; 11] =
    ["i", "it", "its", "it's", "that", "is", "was", "reads", "read", "make", "not"];

/// The reading given last and the figure that takes its place, where words put it right; where they tell
/// of two readings, the readings told last of all.
pub(super) fn put_right_told<'c>(case: &'c Case<'_>, typed: &str) -> Option<(&'c Given, String)> {
    let figure = figure_behind(typed)?;
    let last = case.given_last()?;
    let is_span = tells_a_span(&figure);
    let is_meant = |given: &&Given| match is_span {
        true => case.question_view(given.question).takes_readings,
        false => given.order == last,
    };
    let given = case.record().given.iter().rev().find(is_meant)?;
    let is_measured = is_span || case.takes_a_quantity(given.question);
    let is_read = is_measured
        && matches!(
            check_typed(case, given.question, &figure),
            Checked::Accepted { .. } | Checked::Doubtful { .. }
        );
    is_read.then_some((given, figure))
}

/// What stands behind the words that take something back.
fn figure_behind(typed: &str) -> Option<String> {
    let mut takes_back = false;
    let mut rest = typed.trim();
    while let Some((word, behind)) = rest.split_once([' ', ',']) {
        let said = as_said(word);
        if TAKES_BACK.contains(&said.as_str()) {
            takes_back = true;
        } else if !said.is_empty() && !BESIDE.contains(&said.as_str()) {
            break;
        }
        rest = behind.trim_start_matches([' ', ',']);
    }
    (takes_back && !rest.is_empty()).then(|| rest.to_owned())
}

impl Person<'_> {
    /// Offers a figure as a correction of the reading given last; none where the words put nothing right.
    pub(super) fn told_to_put_right(
        &mut self,
        case: &Case<'_>,
        typed: &str,
        before: Before,
    ) -> Option<Option<Response>> {
        let (given, figure) = put_right_told(case, typed)?;
        let (id, order) = (given.question, given.order);
        let mut title =
            vec![Line::new(), Line::plain(format!("\"{typed}\" may put the answer before right."))];
        let read = match check_typed(case, id, &figure) {
            Checked::Doubtful { message, read, .. } => {
                title.push(message);
                read
            }
            _ => case.read(id, &figure).ok()?.echo,
        };
        let ask = case.ask(id).to_text();
        title.push(Line::strong(format!("Was this wrong: {ask} [{}]", given.typed)));
        let options = [
            MenuOption::new(format!("A correction: it is {read}, and {} was wrong", given.typed)),
            MenuOption::new("No: back to what was asked"),
        ];
        match self.ask_beside(case, (title, None), &options, before) {
            Asked::Chosen(0) => Some(Some(Response::Correct(id, order, figure))),
            Asked::Chosen(_) => Some(None),
            Asked::Met(response) => Some(response),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::figure_behind;

    #[test]
    fn a_figure_stands_behind_words_that_take_something_back() {
        for (typed, figure) in [
            ("no, fifteen thousand", "fifteen thousand"),
            ("No it was 15000 micron", "15000 micron"),
            ("sorry, I meant 300", "300"),
        ] {
            assert_eq!(figure_behind(typed).as_deref(), Some(figure), "{typed}");
        }
        for typed in ["fifteen thousand", "no", "it is 300", "20 min", "not sure"] {
            assert_eq!(figure_behind(typed), None, "{typed}");
        }
    }
}
