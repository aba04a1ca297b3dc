//! Syntax faults that end the reading of a file, in words for its author.

use super::build::{Stopped, too_deep};
use super::misplaced::misplaced;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::quote::put_in_quotes;
use crate::document::shape::is_id;
use crate::source::{SourceId, Span};
use crate::text::count;

/// A part of the parser's reason, and what it means to an author: headline, label, note.
type Meaning = (&'static str, &'static str, &'static str, &'static str);

const MEANINGS: &[Meaning] = &[
    (
        "quoted scalar, found unexpected",
        "a quote is opened and not closed",
        "opened here",
        "a quote inside a text in single quotes is written twice: `it''s`",
    ),
    (
        "in quoted scalar",
        "a quote is opened and not closed",
        "opened here",
        "a quote that opens a text also closes it; a text that goes on in the next line is indented \
         there",
    ),
    (
        "unknown escape character",
        "a backslash in double quotes starts nothing that YAML knows",
        "in these quotes",
        "in single quotes a backslash is a character like any other",
    ),
    (
        "trailing content",
        "a text goes on after its closing quote",
        "after the quote",
        "quotes go around the whole text",
    ),
    (
        "block sequence entries",
        "a list starts on the line of its key",
        "an item of a list",
        "the items stand below the key, a line each; a text that starts with `- ` needs quotes",
    ),
    (
        "mapping values are not allowed",
        "a key stands where YAML reads on in the text above",
        "this colon can't start a value here",
        "keys of one map stand in one column, under each other",
    ),
    (
        "did not find expected '-'",
        "a line stands in no column of the lines above",
        "neither an item of the list above nor a key",
        "keys of one map, and items of one list, stand in one column",
    ),
    (
        "did not find expected key",
        "a line stands in no column of the lines above",
        "not a key of the map above",
        "keys of one map stand in one column, under each other",
    ),
    (
        "misplaced bracket",
        "a bracket is closed that was not opened",
        "nothing to close here",
        "a text that starts with a bracket needs quotes",
    ),
    (
        "comments must be separated",
        "a comment starts right after a quote or a bracket",
        "a space belongs before this",
        "a space and `#` start a comment",
    ),
    (
        "<document start>",
        "something follows after the end of what the file holds",
        "more than one thing",
        "a file is one map of keys, each at the start of a line",
    ),
    (
        "indent",
        "a line stands in no column of the lines above",
        "indented otherwise than the lines before",
        "keys of one map stand in one column, and texts deeper than their key",
    ),
];

/// The fault after which nothing of the file is read, which it says.
pub(super) fn fault(text: &str, id: SourceId, stopped: &Stopped) -> Diagnostic {
    let fault = named(text, id, stopped);
    let note = fault.note.as_ref().map_or_else(String::new, |note| format!("{note}; "));
    fault.note(format!("{note}the rest of this file is not looked at yet"))
}

fn named(text: &str, id: SourceId, stopped: &Stopped) -> Diagnostic {
    let reason = stopped.reason.as_str();
    if reason.contains("anchor") || reason.contains("directive") || reason.contains("tag") {
        return feature(text, id, stopped);
    }
    if reason.contains("recursion limit") {
        return too_deep(id, stopped.at);
    }
    if reason.contains("simple key") {
        return no_colon(text, id, stopped.at);
    }
    if let Some(start) = stopped.bracket {
        let is_shallow = reason.contains("invalid indentation");
        return open_bracket(text, id, start, stopped.at, is_shallow);
    }
    if reason.contains("unexpected character") {
        return bad_start(text, id, stopped.at);
    }
    if let Some(fault) = no_space(text, id, stopped) {
        return fault;
    }
    if is_of_columns(reason)
        && let Some(fault) = misplaced(text, id, stopped.at)
    {
        return fault;
    }
    let span = token_at(text, id, stopped.at);
    if reason.contains("expected key") && !is_first_on_line(text, stopped.at) {
        let title = "something follows on a line whose value has ended";
        return Diagnostic::at(Code::NotYaml, title, span, "after the end of the value")
            .note("quotes and brackets hold the whole value");
    }
    for (part, title, label, note) in MEANINGS {
        if reason.contains(part) {
            let columns = two_columns(text, stopped.at).filter(|_| is_of_columns(part));
            let note = columns.map_or((*note).to_owned(), |columns| format!("{note}; {columns}"));
            return Diagnostic::at(Code::NotYaml, *title, span, *label).note(note);
        }
    }
    Diagnostic::at(Code::NotYaml, "the text is not YAML", span, "here or before").note(reason)
}

/// Whether a part of the parser's reason tells of a line in a wrong column.
fn is_of_columns(part: &str) -> bool {
    ["did not find expected", "mapping values"].iter().any(|start| part.contains(start))
}

/// How far a line is indented, and the one above it, if that differs.
fn two_columns(text: &str, at: usize) -> Option<String> {
    let start = text.get(..at)?.rfind('\n')? + 1;
    let line = text.get(start..)?;
    let here = line.len() - line.trim_start_matches(' ').len();
    let (above, _) = last_line(text, start);
    let above = above - text[..above].rfind('\n').map_or(0, |n| n + 1);
    let spaces = |spaces| count(spaces, "space");
    (here != above)
        .then(|| format!("this line starts after {}, the one above after {above}", spaces(here)))
}

/// The character at a byte, or the place behind the last one.
fn token_at(text: &str, id: SourceId, at: usize) -> Span {
    let next = text.get(at..).and_then(|rest| rest.chars().next());
    let length = next.filter(|c| !c.is_whitespace()).map_or(0, char::len_utf8);
    Span::new(id, at, at + length)
}

fn feature(text: &str, id: SourceId, stopped: &Stopped) -> Diagnostic {
    let title = "`&`, `*`, `!` and `%` at the start of a text are YAML features";
    let span = token_at(text, id, stopped.at);
    Diagnostic::at(Code::YamlFeature, title, span, "handbooks don't use it")
        .note("a text that starts so needs quotes; in a formula, write `not` for `!`")
}

fn is_first_on_line(text: &str, at: usize) -> bool {
    let before = text.get(..at).unwrap_or("");
    before.rsplit('\n').next().is_none_or(|line| line.trim().is_empty())
}

/// The last line before a place that has anything in it.
fn last_line(text: &str, at: usize) -> (usize, &str) {
    let before = text.get(..at).unwrap_or(text).trim_end();
    let start = before.rfind('\n').map_or(0, |n| n + 1);
    let indent = before[start..].len() - before[start..].trim_start().len();
    (start + indent, &before[start + indent..])
}

/// `ask:What is it?`, where YAML sees the slip only in the line below.
fn no_space(text: &str, id: SourceId, stopped: &Stopped) -> Option<Diagnostic> {
    let line_start = text.get(..stopped.at)?.rfind('\n').map_or(0, |n| n + 1);
    let (start, line) = last_line(text, line_start);
    let (key, value) = line.trim_start_matches("- ").split_once(':')?;
    let is_key = !key.is_empty() && key.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'_');
    if !is_key || value.is_empty() || value.starts_with(' ') {
        return None;
    }
    let colon = start + line.find(':')?;
    let title = format!("no space stands after the colon of `{key}`");
    let span = Span::new(id, colon, colon + 1);
    let fault = Diagnostic::at(Code::NotYaml, title, span, "a space belongs after this");
    Some(fault.note("without it, YAML reads the line as a text and stumbles over the next one"))
}

fn no_colon(text: &str, id: SourceId, at: usize) -> Diagnostic {
    let (start, line) = last_line(text, at);
    if let Some(span) = lone_word_above(text, id, start) {
        let word = &text[span.start..span.end];
        let title = format!("no colon stands behind `{word}`");
        return Diagnostic::at(Code::NotYaml, title, span, "a colon belongs behind this")
            .note("without it, YAML reads the word as a text and stumbles over the next line")
            .help(format!("write `{word}:`"));
    }
    let title = "a line is neither a key with a colon nor part of a text";
    let span = Span::new(id, start, start + line.len());
    Diagnostic::at(Code::NotYaml, title, span, "a space belongs after the colon or the dash")
        .note("lines of a text stand deeper than its key, and a key is `name: value`")
}

/// A word alone on the line above, less deep than the line at a place: an id without its colon.
fn lone_word_above(text: &str, id: SourceId, at: usize) -> Option<Span> {
    let line = text.get(..at)?.rfind('\n')? + 1;
    let (start, word) = last_line(text, line);
    let indent = start - text[..start].rfind('\n').map_or(0, |n| n + 1);
    (is_id(word) && indent < at - line).then(|| Span::new(id, start, start + word.len()))
}

fn open_bracket(text: &str, id: SourceId, start: usize, at: usize, is_shallow: bool) -> Diagnostic {
    let bracket = text[start..].chars().next().unwrap_or('[');
    if is_shallow {
        let title = format!("what follows `{bracket}` is indented too little");
        return Diagnostic::at(Code::NotYaml, title, token_at(text, id, at), "move this right")
            .and_at(token_at(text, id, start), "opened here")
            .note("up to its closing bracket everything stands deeper than its key");
    }
    let title = format!("`{bracket}` is not closed, or a comma is missing after it");
    let fault = Diagnostic::at(Code::NotYaml, title, token_at(text, id, start), "opened here");
    fault
        .and_at(token_at(text, id, at), "YAML expects a comma or the closing bracket before this")
        .note(match bracket {
            '[' => {
                "a list may also stand a line each, behind a dash; a text with a comma, a colon \
                    or a `#` in it stands in quotes, as in `- \"two hoses, clean\"`"
            }
            _ => {
                "between braces stand `id: value`, with commas between them; texts for people \
                  stand a key a line"
            }
        })
}

fn bad_start(text: &str, id: SourceId, at: usize) -> Diagnostic {
    let span = token_at(text, id, at);
    let start = text.get(span.start..span.end).unwrap_or("");
    let line_start = text[..at].rfind('\n').map_or(0, |n| n + 1);
    let line = text[at..].lines().next().unwrap_or("").trim_end();
    let title = format!("a text without quotes can't start with `{start}`");
    Diagnostic::at(Code::NotYaml, title, span, "not the start of a text")
        .help(put_in_quotes(text[line_start..at].trim_start(), line))
}
