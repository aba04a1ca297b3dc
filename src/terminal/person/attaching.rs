//! Naming a photo or another file that goes with a case.

use super::answering::Person;
use crate::case::{NamedFile, Response};
use crate::terminal::console::Reply;
use crate::terminal::prompt::{Checked, ValuePrompt};
use crate::terminal::words::Action;
use crate::text::Line;

/// Looks at a file by its name or path; one that isn't here is somewhere else. Why it can't go
/// with a case, as in `it is a folder`.
pub type LookAt<'a> = &'a dyn Fn(&str) -> Result<NamedFile, String>;

/// The most characters of a file's name (limit of ours: longer than the longest path of most
/// systems is never typed).
const LONGEST_NAME: usize = 1_000;

/// No file is looked at.
#[expect(clippy::unnecessary_wraps, reason = "one way to look at files among others")]
pub(super) fn elsewhere(name: &str) -> Result<NamedFile, String> {
    Ok(NamedFile::elsewhere(name))
}

impl Person<'_> {
    /// Asks for a file's name.
    pub(super) fn file(&mut self) -> Option<Response> {
        let look_at = self.look_at;
        let accept = |typed: &str| match typed {
            "" => Checked::Refused(Line::plain("Nothing was typed.")),
            _ if typed.chars().count() > LONGEST_NAME => Checked::Refused(Line::plain(format!(
                "A file's name holds up to {LONGEST_NAME} characters."
            ))),
            _ => match look_at(typed) {
                Ok(file) => Checked::Accepted { echo: echo(&file) },
                Err(why) => {
                    Checked::Refused(Line::plain(format!("`{typed}` can't be named: {why}.")))
                }
            },
        };
        let prompt = ValuePrompt {
            title: vec![Line::new(), Line::strong("Which photo or file goes with the case?")],
            hint: "its name or path; it stays where it is".to_owned(),
            actions: vec![Action::Back],
            check: &accept,
        };
        match self.console.value(&prompt) {
            Reply::Typed(name) => look_at(&name).ok().map(Response::Attach),
            Reply::EndOfInput => Some(Response::EndOfInput),
            Reply::Interrupted => Some(Response::Interrupted),
            _ => None,
        }
    }
}

fn echo(file: &NamedFile) -> Line {
    Line::plain(match file.bytes {
        Some(_) => format!("Named in the record: {}.", file.facts()),
        None => "Named in the record; there is no such file here to look at.".to_owned(),
    })
}
