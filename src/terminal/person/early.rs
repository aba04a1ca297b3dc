//! A figure that is told before anything asks for it: beside the answer of a list, or where no question
//! near takes it. It is kept, and told again where a reading like it is asked for.

use super::answering::Person;
use super::choosing::choice_told;
use super::elsewhere::{Asked, Before};
use super::measured::Measured;
use super::weighing::telling;
use crate::case::{Case, Event, Now, QuestionId, Response};
use crate::terminal::prompt::MenuOption;
use crate::text::{Line, also_said};

/// At how many questions a figure is told again (limit of ours: what was not taken by then belongs to
/// none of them).
const MOST_TIMES: u32 = 3;

/// A figure that was told early.
#[derive(Clone, Debug)]
pub(super) struct Early {
    figure: String,
    /// At how many questions it was told again.
    times: u32,
}

/// What stands behind the figure in its note.
const IN_ITS_NOTE: &str = ", told before it was asked for";

impl Person<'_> {
    /// Takes up the figures that a case keeps as notes and that no answer has taken since.
    #[must_use]
    pub fn with_figures_of(mut self, case: &Case<'_>) -> Self {
        let events = case.events();
        for (place, event) in events.iter().enumerate() {
            let Event::Noted { text } = event else { continue };
            let Some(figure) = text.strip_suffix(IN_ITS_NOTE) else { continue };
            let is_taken = events.iter().skip(place).any(
                |later| matches!(later, Event::Answered { typed, .. } if typed.contains(figure)),
            );
            if !is_taken {
                self.early.push(Early { figure: figure.to_owned(), times: 0 });
            }
        }
        self
    }

    /// Keeps a figure that no question near takes, in the case as well.
    pub(super) fn told_early(&mut self, figure: String) -> Response {
        self.console.show(&[Line::plain(format!(
            "\"{figure}\" is kept as a note, and told again where a reading like it is asked for."
        ))]);
        let note = format!("{figure}{IN_ITS_NOTE}");
        self.early.push(Early { figure, times: 0 });
        Response::Note(note)
    }

    /// Asks whether words with a figure are an answer of the list that is asked: `won't go below 2000`.
    /// The figure is dealt with next. None where they name none, or it is none, or safety hangs on it.
    pub(super) fn answers_with_a_figure(
        &mut self,
        case: &Case<'_>,
        id: QuestionId,
        typed: &str,
    ) -> Option<Option<Response>> {
        let is_asked = matches!(case.now(), Now::Ask { question, .. } if *question == id);
        let Measured { words, .. } = &Measured::of(case, typed);
        let value = Measured::of(case, typed).text()?;
        if !is_asked || telling(words).is_empty() || case.is_of_safety(id) {
            return None;
        }
        let view = case.question_view(id);
        let choice = choice_told(case, id, words)?;
        let (_, label) = view.options.iter().find(|(known, _)| *known == choice)?;
        let title = vec![
            Line::new(),
            Line::plain(format!("\"{typed}\" may be this answer: {label}.")),
            Line::strong("Is it?"),
        ];
        let words = |is_yes: bool| -> Vec<String> {
            also_said(is_yes).iter().map(|word| (*word).to_owned()).collect()
        };
        let options = [
            MenuOption::new("Yes").with_words(words(true)),
            MenuOption::new("No").with_words(words(false)),
        ];
        match self.ask_beside(case, (title, None), &options, Before::Question(id)) {
            Asked::Chosen(0) => {
                self.left_over = Some(value);
                Some(Some(Response::Answer(choice)))
            }
            Asked::Chosen(_) => None,
            Asked::Met(response) => Some(response),
        }
    }

    /// The figures that were told before this reading was asked for, and that it may be.
    pub(super) fn told_before(&mut self, case: &Case<'_>, id: QuestionId) -> Option<Line> {
        case.handbook().question(id).instrument?;
        let fits = |early: &&mut Early| Measured::of(case, &early.figure).fits(id) == Some(true);
        let mut figures = Vec::new();
        for early in self.early.iter_mut().filter(fits) {
            early.times += 1;
            figures.push(early.figure.clone());
        }
        self.early.retain(|early| early.times < MOST_TIMES);
        let told = figures.join(", ");
        (!figures.is_empty()).then(|| {
            Line::plain(format!(
                "You told this before: {told}. Type it again if it was read of this."
            ))
        })
    }

    /// A figure that was typed where it was asked for is not told again.
    pub(super) fn told_again(&mut self, typed: &str) {
        self.early.retain(|early| !typed.contains(&early.figure));
    }
}
