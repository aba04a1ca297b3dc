//! Syntax faults with a name: the taught slips that a parser stumbles over.

use std::ops::Range;

use super::build::Stopped;
use super::mend::mend;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::quote::{put_in_quotes, shortened};
use crate::source::{SourceId, Span};

/// A slip and what must be masked so that the parser gets past it.
pub(super) struct Slip {
    pub(super) fault: Diagnostic,
    /// What its fault covers.
    pub(super) damaged: Range<usize>,
    /// Where the parser reads something else than what is written.
    pub(super) from: usize,
    /// What it reads there, as long in bytes as what it stands for.
    pub(super) with: String,
}

impl Slip {
    /// A slip whose text misleads the parser by one character, which is ASCII.
    fn masking(text: &str, fault: Diagnostic, damaged: Range<usize>, masked: char) -> Self {
        let with = text.get(damaged.clone()).unwrap_or("").replace(masked, "_");
        Self { fault, from: damaged.start, damaged, with }
    }
}

/// Keys whose texts are formulas.
const FORMULA_KEYS: &[&str] = &["when", "only_if", "is", "if"];

/// Names the slip behind a syntax fault, if it is one of those whose mend is certain.
pub(super) fn name_slip(text: &str, id: SourceId, stopped: &Stopped) -> Option<Slip> {
    let line = Line::at(text, id, stopped.at)?;
    let found = if stopped.reason.contains("mapping values are not allowed") {
        colon_in_text(&line, stopped.at)
    } else if stopped.reason.contains("block scalar") {
        text_behind_block(&line, stopped.at)
    } else if stopped.reason.contains("comment intercepting") {
        cut_in_the_middle(&line, stopped.at)
    } else {
        None
    };
    match found {
        Some(found) => Some(Slip::masking(text, found.fault, found.damaged, found.masked)),
        None => mend(text, id, stopped),
    }
}

/// A slip and the character that misleads the parser.
struct Masked {
    fault: Diagnostic,
    damaged: Range<usize>,
    masked: char,
}

/// One line of the file, split where its value starts.
struct Line<'t> {
    id: SourceId,
    /// The key and its colon, dashes of a list included, as written.
    head: &'t str,
    key: &'t str,
    /// What follows, without the line break.
    value: &'t str,
    value_start: usize,
}

impl<'t> Line<'t> {
    fn at(text: &'t str, id: SourceId, at: usize) -> Option<Self> {
        let start = text.get(..at)?.rfind('\n').map_or(0, |n| n + 1);
        let end = text[at..].find('\n').map_or(text.len(), |n| at + n);
        let line = text[start..end].trim_end();
        let dashes = line.len() - line.trim_start_matches([' ', '-']).len();
        let rest = &line[dashes..];
        let (key, behind) = match rest.split_once(": ") {
            Some((key, _)) if !key.contains([' ', '"', '\'', '{', '[', '#']) => {
                (key, key.len() + 1)
            }
            _ => ("", 0),
        };
        let blanks = rest[behind..].len() - rest[behind..].trim_start().len();
        let value_at = dashes + behind + blanks;
        let (head, value) = line.split_at(value_at);
        Some(Self { id, head: head.trim_start(), key, value, value_start: start + value_at })
    }

    fn span(&self, range: Range<usize>) -> Span {
        Span::new(self.id, self.value_start + range.start, self.value_start + range.end)
    }
}

/// `do: Look at the oil: cloudy?`
fn colon_in_text(line: &Line<'_>, at: usize) -> Option<Masked> {
    let colon = at.checked_sub(line.value_start)?;
    let is_text = !line.value.starts_with(['"', '\'', '{', '[', '>', '|', '#', '&', '*', '!']);
    let before = line.value.get(..colon)?;
    // A lone word before the colon of a line without a key is a key in the wrong column.
    if !is_text || (line.key.is_empty() && !before.contains(' ')) {
        return None;
    }
    let mend = if line.key.is_empty() {
        "put the whole text in quotes, or let it start on the line below a `>`".to_owned()
    } else {
        put_in_quotes(line.head, line.value)
    };
    let fault = Diagnostic::at(
        Code::ColonInText,
        format!("YAML takes `{}:` for a key", shortened(before)),
        line.span(colon..colon + 1),
        "a colon and a space inside a text without quotes",
    )
    .help(mend);
    let damaged = at..line.value_start + line.value.len();
    Some(Masked { fault, damaged, masked: ':' })
}

/// `when: > 5 micron`, `when: >= 5`, and prose that starts on the line of its `>`.
fn text_behind_block(line: &Line<'_>, at: usize) -> Option<Masked> {
    let sign = line.value.get(at.checked_sub(line.value_start)?..)?;
    let mark = sign.chars().next().filter(|c| matches!(c, '>' | '|'))?;
    let behind = sign[1..].trim();
    let start = at - line.value_start;
    let is_formula = FORMULA_KEYS.contains(&line.key) || behind.starts_with(['=', '.']);
    let is_number = behind.starts_with(|c: char| c.is_ascii_digit());
    let span = line.span(start..start + sign.len());
    let fault = if mark == '>' && (is_formula || is_number) {
        block_for_comparison(line, sign, span)
    } else {
        Diagnostic::at(
            Code::NotYaml,
            format!("a text stands on the line of its `{mark}`"),
            span,
            format!("the line ends after a `{mark}`"),
        )
        .help("let the text start on the next line, indented by two spaces more than the key")
    };
    let damaged = at..at + 1;
    Some(Masked { fault, damaged, masked: mark })
}

/// The fault of a comparison that starts with its `>`.
fn block_for_comparison(line: &Line<'_>, sign: &str, span: Span) -> Diagnostic {
    Diagnostic::at(
        Code::BlockForComparison,
        format!("YAML reads `{}` as the start of a folded block", shortened(sign)),
        span,
        "nothing stands before the `>`",
    )
    .help(format!(
        "write what is compared before the sign: `{}the_question {}`",
        line.head,
        shortened(sign)
    ))
}

/// `do: Swap hose #2 and` with the text going on in the next line.
fn cut_in_the_middle(line: &Line<'_>, at: usize) -> Option<Masked> {
    let from = at.saturating_sub(line.value_start);
    let hash = from + line.value.get(from..)?.find('#')?;
    let kept = line.value.get(..hash)?.trim_end();
    let lost = &line.value[hash..];
    let fault = Diagnostic::at(
        Code::CutAtHash,
        format!("YAML drops `{}` from a text", shortened(lost)),
        line.span(hash..line.value.len()),
        "a space and `#` start a comment",
    )
    .note(format!("what is left of the line is `{}`", shortened(kept)))
    .help("put the whole text in quotes, or let it start on the line below a `>`");
    let place = line.value_start + hash;
    Some(Masked { fault, damaged: place..place + 1, masked: '#' })
}
