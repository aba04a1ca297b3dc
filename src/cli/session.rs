//! What a command has to work with: where results and talk go.

use std::io::Write;

use anyhow::{Context, Result, bail};

use super::arguments::Arguments;
use super::config::Settings;
use crate::terminal::{Console, Facts, Paper, Stream, open};
use crate::text::{Line, Role};

/// A reader such as `head` that has seen enough is no fault: the command goes on, so that its
/// exit status stays true.
fn unless_closed(written: std::io::Result<()>) -> std::io::Result<()> {
    match written {
        Err(error) if error.kind() == std::io::ErrorKind::BrokenPipe => Ok(()),
        written => written,
    }
}

/// The streams of one run.
pub(super) struct Session<'a> {
    pub arguments: &'a Arguments,
    pub settings: Settings,
    pub out: &'a mut dyn Write,
    pub err: &'a mut dyn Write,
    pub facts: Facts,
    /// The console once it is open; a process opens it once.
    pub console: Option<Box<dyn Console>>,
}

impl Session<'_> {
    /// Prints a result.
    pub fn result(&mut self, text: &str) -> Result<()> {
        unless_closed(writeln!(self.out, "{text}")).context("the result can't be written")
    }

    /// Lets a result be seen at once, by whoever reads it as it comes.
    pub fn flush(&mut self) -> Result<()> {
        unless_closed(self.out.flush()).context("the result can't be written")
    }

    /// Prints lines of a result, wrapped and coloured as standard output takes it.
    pub fn result_lines(&mut self, lines: &[Line]) -> Result<()> {
        if lines.is_empty() {
            return Ok(());
        }
        let painted = painted(&self.result_paper(), lines);
        self.result(&painted)
    }

    /// What results are laid out for.
    pub fn result_paper(&self) -> Paper {
        if self.facts.stdout_is_terminal {
            Paper::of_terminal(self.facts.is_coloured(Stream::Results))
        } else {
            Paper::new(80, self.facts.is_coloured(Stream::Results))
        }
    }

    /// Says something that is not a result.
    pub fn say(&mut self, text: &str) -> Result<()> {
        unless_closed(writeln!(self.err, "{text}")).context("standard error can't be written")
    }

    /// Says something for people, wrapped to the width of the terminal.
    pub fn tell(&mut self, text: &str) -> Result<()> {
        let paper = Paper::of_terminal(self.is_talk_coloured());
        self.say(&paper.paint(&Line::plain(text)))
    }

    /// Says lines that are not a result, wrapped and coloured as standard error takes it.
    pub fn tell_lines(&mut self, lines: &[Line]) -> Result<()> {
        let paper = Paper::of_terminal(self.is_talk_coloured());
        for (place, line) in lines.iter().enumerate() {
            let gap = if place > 0 && is_heading(line) { "\n" } else { "" };
            self.say(&format!("{gap}{}", paint_item(&paper, line)))?;
        }
        Ok(())
    }

    /// Says something that waits for an answer behind it.
    pub fn ask(&mut self, prompt: &str) -> Result<()> {
        let asked = write!(self.err, "{prompt}").and_then(|()| self.err.flush());
        unless_closed(asked).context("standard error can't be written")
    }

    /// Takes the console, opening it the first time; to be put back into `console`.
    pub fn take_console(&mut self) -> Result<Box<dyn Console>> {
        if let Some(console) = self.console.take() {
            return Ok(console);
        }
        let Some(dialogue) = self.facts.dialogue() else {
            bail!(
                "nobody can answer here, since standard input or standard error is not a terminal; \
                 give answers with --set QUESTION=ANSWER or --answers FILE"
            );
        };
        open(dialogue, self.is_talk_coloured()).context("the terminal can't be used")
    }

    /// Whether talk may be coloured.
    pub fn is_talk_coloured(&self) -> bool {
        self.facts.is_coloured(Stream::Talk)
    }
}

/// Lines as they are laid out on a paper, without a line break behind the last.
pub(super) fn painted(paper: &Paper, lines: &[Line]) -> String {
    let mut text = String::new();
    for (place, line) in lines.iter().enumerate() {
        let gap = if is_heading(line) { "\n\n" } else { "\n" };
        text.push_str(if place > 0 { gap } else { "" });
        text.push_str(&paint_item(paper, line));
    }
    text
}

/// A heading is one strong piece and nothing else.
fn is_heading(line: &Line) -> bool {
    matches!(&line.pieces[..], [piece] if piece.role == Role::Strong)
}

/// The rows of an item of a list hang behind its dash.
pub(super) fn paint_item(paper: &Paper, line: &Line) -> String {
    let is_item = line.pieces.first().is_some_and(|piece| piece.text.starts_with(ITEM));
    if !is_item {
        return paper.paint(line);
    }
    let mut text = line.clone();
    text.pieces[0].text.drain(..ITEM.len());
    paper.paint_after(ITEM, &text)
}

/// What an item of a list begins with.
const ITEM: &str = "- ";
