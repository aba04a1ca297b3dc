//! Text with values in it: `The pump stops at {blank_off}, {blank_off as Pa}.`
//!
//! Braces hold a formula; `{{` and `}}` are braces. A value that stands on a setting which nobody
//! knows is told as assumed, and a word that nobody has given by what it is called.

use std::ops::Range;

use serde::{Deserialize, Serialize};

use super::filling::{Told, ends_in_article, sentences, without_article};
use super::show::NOT_KNOWN;
use super::{Checked, Facts, Names, Syntax, Use, check, parse};
use crate::diagnostic::{Code, Diagnostic, sort_in_file_order};
use crate::source::Span;
use crate::text::{Line, Role, spoken};

/// What is said where braces hold no formula.
const HOLDS: &str = "braces hold a formula, most often the id of a question, formula or finding";

/// A text whose formulas have been read but not checked.
#[derive(Clone, Debug)]
pub struct Template {
    parts: Vec<Part<Syntax>>,
}

/// A text that can be filled.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct CheckedTemplate {
    parts: Vec<Part<Checked>>,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
enum Part<F> {
    Text(String),
    Formula(Box<F>),
}

impl Template {
    /// Reads a text. `place` says where a range of its bytes stands.
    ///
    /// # Errors
    /// All braces that don't fit, and the faults of each formula.
    ///
    /// ```
    /// use dryhold::formula::Template;
    /// use dryhold::source::Sources;
    /// let mut sources = Sources::default();
    /// let text = "It reads {p}.";
    /// let id = sources.add("<text>", text);
    /// assert!(Template::parse(text, &|range| sources.span(id, range.start, range.end)).is_ok());
    /// ```
    pub fn parse(
        text: &str,
        place: &dyn Fn(Range<usize>) -> Span,
    ) -> Result<Self, Vec<Diagnostic>> {
        let mut reader = Reader { text, place, parts: Vec::new(), faults: Vec::new() };
        reader.run();
        if reader.faults.is_empty() {
            Ok(Self { parts: reader.parts })
        } else {
            sort_in_file_order(&mut reader.faults);
            Err(reader.faults)
        }
    }

    /// Whether the text holds no formula.
    #[must_use]
    pub fn is_plain(&self) -> bool {
        !self.parts.iter().any(|part| matches!(part, Part::Formula(_)))
    }

    /// Checks every formula in the text; see [`check`](super::check).
    ///
    /// # Errors
    /// All faults in the order of the text.
    pub fn check(
        &self,
        names: &dyn Names,
        origin: &str,
    ) -> Result<CheckedTemplate, Vec<Diagnostic>> {
        let mut parts = Vec::new();
        let mut faults = Vec::new();
        for (number, part) in self.parts.iter().enumerate() {
            match part {
                Part::Text(text) => parts.push(Part::Text(text.clone())),
                Part::Formula(syntax) => {
                    match check(syntax, names, &format!("{origin}:{number}")) {
                        Ok(checked) => parts.push(Part::Formula(Box::new(checked))),
                        Err(found) => faults.extend(found),
                    }
                }
            }
        }
        if faults.is_empty() {
            Ok(CheckedTemplate { parts })
        } else {
            sort_in_file_order(&mut faults);
            Err(faults)
        }
    }
}

impl CheckedTemplate {
    /// The text with the values in it. A value that nobody knows is told as such: what warns or
    /// instructs must not lose a sentence.
    #[must_use]
    pub fn fill(&self, facts: &dyn Facts) -> Line {
        line_of(self.told(facts).map(|(piece, _)| piece))
    }

    /// The same without the sentences that tell of a value nobody knows, where others are left: for
    /// what was found, how it ended, and why something is asked or stopped. A text that nobody has
    /// given is told by its question's name where an article stands before it, as in `the {part}`;
    /// without one it counts as a value nobody knows.
    #[must_use]
    pub fn fill_what_is_known(&self, facts: &dyn Facts) -> Line {
        let sentences = sentences(self.told(facts).map(|(piece, is_unnamed)| match piece {
            Told::Value(told) if is_unnamed => Told::Missing(told),
            piece => piece,
        }));
        let is_whole =
            |sentence: &[Told<'_>]| !sentence.iter().any(|piece| matches!(piece, Told::Missing(_)));
        let is_any_whole = sentences.iter().any(|sentence| is_whole(sentence));
        let left = sentences.into_iter().filter(|sentence| !is_any_whole || is_whole(sentence));
        let mut line = line_of(left.flatten());
        if let Some(last) = line.pieces.last_mut() {
            last.text.truncate(last.text.trim_end().len());
        }
        line
    }

    /// Each part with its value, and whether it is a text that nobody has given and that no article
    /// stands before.
    fn told<'a>(&'a self, facts: &'a dyn Facts) -> impl Iterator<Item = (Told<'a>, bool)> {
        let before = std::iter::once(None).chain(self.parts.iter().map(Some));
        self.parts.iter().zip(before).map(|(part, before)| match part {
            Part::Text(text) => (Told::Text(text), false),
            Part::Formula(formula) => match formula.tell(facts) {
                told if told.contains(NOT_KNOWN) => (Told::Missing(told), false),
                told => {
                    let is_named =
                        matches!(before, Some(Part::Text(text)) if ends_in_article(text));
                    (Told::Value(told), !is_named && formula.is_text_not_given(facts))
                }
            },
        })
    }

    /// The text without any values: each formula in brackets, as people say it.
    ///
    /// `It reads {blank_off}.` gives `It reads [blank off].`
    #[must_use]
    pub fn spelled(&self) -> String {
        self.parts
            .iter()
            .map(|part| match part {
                Part::Text(text) => text.clone(),
                Part::Formula(formula) => format!("[{}]", spoken(formula.text().trim())),
            })
            .collect()
    }

    /// The formulas in the text, in its order.
    pub fn formulas(&self) -> impl Iterator<Item = &Checked> {
        self.parts.iter().filter_map(|part| match part {
            Part::Formula(formula) => Some(formula.as_ref()),
            Part::Text(_) => None,
        })
    }

    /// What the text needs, each name once.
    #[must_use]
    pub fn uses(&self) -> Vec<Use> {
        let mut uses = Vec::new();
        for part in &self.parts {
            if let Part::Formula(formula) = part {
                for used in formula.uses() {
                    if !uses.contains(used) {
                        uses.push(*used);
                    }
                }
            }
        }
        uses
    }
}

struct Reader<'a> {
    text: &'a str,
    place: &'a dyn Fn(Range<usize>) -> Span,
    parts: Vec<Part<Syntax>>,
    faults: Vec<Diagnostic>,
}

impl Reader<'_> {
    fn run(&mut self) {
        // The line break at the end of a block is no part of the sentence.
        self.text = self.text.trim_end();
        let mut at = 0;
        let mut plain = String::new();
        while let Some(brace) = self.text[at..].find(['{', '}']).map(|found| at + found) {
            plain.push_str(&self.text[at..brace]);
            let rest = &self.text[brace..];
            if rest.starts_with("{{") || rest.starts_with("}}") {
                plain.push_str(&rest[..1]);
                at = brace + 2;
            } else if rest.starts_with('}') {
                self.stray(brace);
                at = brace + 1;
            } else {
                self.flush(&mut plain);
                at = self.formula(brace);
            }
        }
        plain.push_str(&self.text[at..]);
        self.flush(&mut plain);
    }

    /// Puts the text so far aside on one line.
    fn flush(&mut self, plain: &mut String) {
        if !plain.is_empty() {
            let text = std::mem::take(plain).replace(['\n', '\r'], " ");
            self.parts.push(Part::Text(text));
        }
    }

    /// Reads the formula whose brace opens here, and gives the place behind it.
    fn formula(&mut self, open: usize) -> usize {
        let inside = &self.text[open + 1..];
        let Some(close) = inside.find(['{', '}']).filter(|&at| inside[at..].starts_with('}'))
        else {
            let span = (self.place)(open..open + 1);
            self.faults.push(
                Diagnostic::at(Code::BadPlaceholder, "a brace is not closed", span, "opened here")
                    .note(HOLDS)
                    .help("write `}` behind the name, or `{{` for a brace that is only shown"),
            );
            return open + 1;
        };
        let (start, end) = (open + 1, open + 1 + close);
        let written = &self.text[start..end];
        if written.trim().is_empty() {
            let span = (self.place)(open..end + 1);
            self.faults.push(
                Diagnostic::at(Code::BadPlaceholder, "nothing stands in these braces", span, "")
                    .note(HOLDS),
            );
            return end + 1;
        }
        let place = |range: Range<usize>| (self.place)(start + range.start..start + range.end);
        match parse(written, &place) {
            Ok(syntax) => self.parts.push(Part::Formula(Box::new(syntax))),
            Err(faults) => self.faults.extend(faults),
        }
        end + 1
    }

    fn stray(&mut self, brace: usize) {
        let span = (self.place)(brace..brace + 1);
        self.faults.push(
            Diagnostic::at(
                Code::BadPlaceholder,
                "a brace closes nothing",
                span,
                "no `{` before it",
            )
            .help("write `}}` for a brace that is only shown"),
        );
    }
}

fn line_of<'a>(pieces: impl Iterator<Item = Told<'a>>) -> Line {
    pieces.fold(Line::new(), |line, piece| match piece {
        Told::Text(text) => line.push(Role::Plain, text),
        Told::Value(told) | Told::Missing(told) => {
            let told = without_article(&line, told);
            line.push(Role::Value, told)
        }
    })
}
