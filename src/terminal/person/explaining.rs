//! What stands behind a cause, a finding or an answer, asked for at a prompt.

use super::answering::{Person, sentence};
use super::picking::ended;
use crate::case::{Case, Response};
use crate::report::why;
use crate::terminal::console::Reply;
use crate::terminal::prompt::{Checked, ValuePrompt};
use crate::terminal::words::Action;
use crate::text::{Line, list_and};

/// How many of the likeliest causes are named as examples (limit of ours).
const MOST_NAMED: usize = 3;

impl Person<'_> {
    /// Asks what is to be explained, and shows it.
    pub(super) fn explain(&mut self, case: &Case<'_>) -> Option<Response> {
        let check = |typed: &str| match why(case, typed) {
            Ok(_) => Checked::Accepted { echo: Line::new() },
            Err(_) if typed.is_empty() => Checked::Refused(Line::plain("Nothing was typed.")),
            Err(message) => Checked::Refused(Line::plain(sentence(&message))),
        };
        let ranking = case.assessment().ranking.iter().take(MOST_NAMED);
        let likely: Vec<String> =
            ranking.map(|ranked| case.cause_view(ranked.cause).name).collect();
        let prompt = ValuePrompt {
            title: vec![
                Line::new(),
                Line::plain(format!("Likeliest so far: {}.", list_and(&likely))),
                Line::strong("What do you want explained?"),
            ],
            hint: "the name of a cause, or the id of a finding, question or formula".to_owned(),
            actions: vec![Action::Back],
            check: &check,
        };
        match self.console.value(&prompt) {
            Reply::Typed(name) => {
                if let Ok(lines) = why(case, &name) {
                    self.console.show(&lines);
                }
                None
            }
            other => ended(&other),
        }
    }
}
