//! More syntax faults with a name, each with the text that the parser reads instead.

use super::build::Stopped;
use super::lines::{key_without_colon, lines_to};
use super::syntax::Slip;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::quote::{put_in_quotes, shortened};
use crate::source::{SourceId, Span};

/// Names the slip behind a syntax fault and mends it for the parser.
pub(super) fn mend(text: &str, id: SourceId, stopped: &Stopped) -> Option<Slip> {
    let reason = stopped.reason.as_str();
    if reason.contains("valid YAML whitespace") {
        return tab_behind_colon(text, id, stopped.at);
    }
    if let Some(start) = stopped.bracket {
        return cut_in_brackets(text, id, start, stopped.at);
    }
    if reason.contains("trailing content") {
        return apostrophe(text, id, stopped.at);
    }
    if reason.contains("simple key") || reason.contains("mapping values") {
        return no_colon(text, id, stopped.at);
    }
    None
}

/// Where the line of a byte starts, and the line without its break.
fn line_at(text: &str, at: usize) -> Option<(usize, &str)> {
    let start = text.get(..at)?.rfind('\n').map_or(0, |n| n + 1);
    Some((start, text.get(start..)?.lines().next().unwrap_or("").trim_end()))
}

/// `kind:` with a tab behind it.
fn tab_behind_colon(text: &str, id: SourceId, at: usize) -> Option<Slip> {
    let (start, line) = line_at(text, at)?;
    let colon = line.find(":\t")?;
    let tabs = line[colon + 1..].len() - line[colon + 1..].trim_start_matches('\t').len();
    let key = line[..colon].trim_start_matches([' ', '-']);
    let tab = start + colon + 1;
    let title = format!("a tab stands behind the colon of `{}`", shortened(key));
    let span = Span::new(id, tab, tab + 1);
    let fault = Diagnostic::at(Code::ControlCharacter, title, span, "a tab")
        .help("put a space in its place");
    Some(Slip { fault, damaged: tab..tab, from: tab, with: " ".repeat(tabs) })
}

/// `[seal rings #2, a screwdriver]`
fn cut_in_brackets(text: &str, id: SourceId, start: usize, at: usize) -> Option<Slip> {
    let inside = text.get(start..at)?;
    let is_cut = |found: &usize| {
        let behind = inside.get(found + 2..).unwrap_or("");
        behind.starts_with(char::is_alphanumeric)
    };
    let hash = inside.match_indices(" #").map(|(found, _)| found).find(is_cut)? + 1;
    let (lost_at, line_end) = (start + hash, line_at(text, start + hash)?);
    let lost = text.get(lost_at..line_end.0 + line_end.1.len())?;
    let item_at = inside[..hash].rfind(['[', '{', ',', '\n']).map_or(0, |found| found + 1);
    let item_end = lost.find([',', ']', '}']).unwrap_or(lost.len());
    let item = text.get(start + item_at..lost_at + item_end)?.trim();
    let span = Span::new(id, lost_at, lost_at + lost.len());
    let title = format!("YAML drops `{}` from a list in brackets", shortened(lost));
    let fault = Diagnostic::at(Code::CutAtHash, title, span, "a space and `#` start a comment")
        .note("the closing bracket is in the comment too, so the list seems to go on")
        .help(put_in_quotes("", item));
    Some(Slip { fault, damaged: lost_at..lost_at + 1, from: lost_at, with: "_".to_owned() })
}

/// `stop: 'Don't touch'`
fn apostrophe(text: &str, id: SourceId, at: usize) -> Option<Slip> {
    let (start, line) = line_at(text, at)?;
    let quote = at.checked_sub(1)?;
    let before = text.get(..quote)?.chars().next_back()?;
    let is_apostrophe = text.get(quote..at) == Some("'")
        && before.is_alphanumeric()
        && text.get(at..)?.starts_with(char::is_alphabetic);
    let opened = line.find('\'').filter(|opened| start + opened < quote)?;
    if !is_apostrophe {
        return None;
    }
    let head = line[..opened].trim_start();
    let whole = line[opened + 1..].strip_suffix('\'').unwrap_or(&line[opened + 1..]);
    let word_at = text[..quote].rfind([' ', '\'']).map_or(start, |found| found + 1);
    let word = text.get(word_at..)?.split([' ', '\n', '\r']).next()?.trim_end_matches('\'');
    let title = format!("the `'` in `{}` ends the text", shortened(word));
    let span = Span::new(id, quote, at);
    let mend = match whole.contains(['"', '\\']) || whole.chars().count() > 140 {
        true => "write it twice: `''`".to_owned(),
        false => format!("put the text in double quotes: `{head}\"{whole}\"`"),
    };
    let fault = Diagnostic::at(Code::NotYaml, title, span, "the closing quote, as YAML reads it")
        .note("a text in single quotes ends at the next `'`")
        .help(mend);
    let from = start + opened + 1;
    let with = whole.replace('\'', "_");
    Some(Slip { fault, damaged: quote..at, from, with })
}

/// `kind pressure`, and `clean Clean and dry` among choices.
fn no_colon(text: &str, id: SourceId, at: usize) -> Option<Slip> {
    let lines = lines_to(text, at);
    // The parser sees it in the line below, or behind it.
    let candidates = [lines.len().checked_sub(1), lines.len().checked_sub(2)];
    let of = candidates
        .into_iter()
        .flatten()
        .find(|&of| lines[of].start + lines[of].column <= at && lines[of].key.is_none())?;
    let word = key_without_colon(&lines, of)?;
    let line = &lines[of];
    let (from, rest) = (line.start + line.column + word.len(), line.value.get(word.len()..)?);
    let first = rest.strip_prefix(' ')?.trim_start();
    if first.is_empty() || first.starts_with(['>', '|', ':']) {
        return None;
    }
    let span = Span::new(id, from - word.len(), from);
    let title = format!("no colon stands behind `{word}`");
    let fault = Diagnostic::at(Code::NotYaml, title, span, "a colon belongs behind this")
        .help(format!("write `{word}: {}`", shortened(first)));
    let end = from + rest.len();
    let with = format!(": {}", "_".repeat(rest.len().saturating_sub(2)));
    Some(Slip { fault, damaged: from + 2..end, from, with })
}
