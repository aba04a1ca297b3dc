//! What is looked for before any parser sees the text: characters that can't be seen.

use std::ops::Range;

use crate::diagnostic::{Code, Diagnostic};
use crate::source::{SourceId, Span};
use crate::text::{count, is_inert};

/// How many unseen characters are named one by one.
const MAX_NAMED: usize = 20;

/// A text fit for the parser.
pub(super) struct Screened {
    /// The text, byte for byte as long as before, unseen characters masked.
    pub(super) text: String,
    /// What was masked.
    pub(super) damaged: Vec<Range<usize>>,
    /// A fault for each place.
    pub(super) faults: Vec<Diagnostic>,
    /// Whether the text has a structure to read at all.
    pub(super) is_readable: bool,
}

/// Masks characters that can't be seen or that steer a terminal, and refuses tabs that indent.
/// A byte order mark at the very start is let through.
pub(super) fn screen(text: &str, id: SourceId) -> Screened {
    let mut screened = Screened {
        text: text.to_owned(),
        damaged: Vec::new(),
        faults: Vec::new(),
        is_readable: true,
    };
    if let Some(fault) = indenting_tabs(text, id) {
        screened.faults.push(fault);
        screened.is_readable = false;
    }
    if is_inert(text) {
        return screened;
    }
    let mut masked = String::with_capacity(text.len());
    for (at, c) in text.char_indices() {
        let is_lone_return = c == '\r' && text.as_bytes().get(at + 1) == Some(&b'\n');
        let is_mark = at == 0 && c == '\u{feff}';
        if is_lone_return || is_mark || is_inert(c.encode_utf8(&mut [0; 4])) {
            masked.push(c);
            continue;
        }
        masked.push(stand_in(c));
        if screened.damaged.len() < MAX_NAMED {
            screened.faults.push(unseen(c, Span::new(id, at, at + c.len_utf8())));
        }
        screened.damaged.push(at..at + c.len_utf8());
    }
    if screened.damaged.len() > MAX_NAMED {
        // So many of them are no slip: this is another kind of file.
        screened.is_readable = false;
    }
    screened.text = masked;
    screened
}

/// A letter of as many bytes, so that every place stays where it is.
fn stand_in(c: char) -> char {
    match c.len_utf8() {
        1 => '_',
        2 => 'ø',
        3 => 'ẅ',
        _ => '𐍈',
    }
}

fn unseen(c: char, span: Span) -> Diagnostic {
    let code = format!("U+{:04X}", u32::from(c));
    Diagnostic::at(
        Code::ControlCharacter,
        format!("the character {code} can't be seen, or steers a terminal"),
        span,
        code,
    )
    .help("delete it and type the space or the letter that belongs there")
}

/// One fault for all lines that are indented with tabs, since the same hand made them all.
fn indenting_tabs(text: &str, id: SourceId) -> Option<Diagnostic> {
    let mut first = None;
    let mut lines = 0;
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let indent = line.len() - line.trim_start_matches([' ', '\t']).len();
        let is_blank = line.trim().is_empty();
        if let (false, Some(tab)) = (is_blank, line[..indent].find('\t')) {
            first = first.or(Some(Span::new(id, start + tab, start + tab + 1)));
            lines += 1;
        }
        start += line.len();
    }
    let title = format!(
        "{} indented with a tab",
        if lines == 1 { "a line is".to_owned() } else { format!("{} are", count(lines, "line")) }
    );
    let fault = Diagnostic::at(Code::ControlCharacter, title, first?, "a tab");
    Some(
        fault
            .note("YAML indents with spaces only; the rest of this file is not looked at yet")
            .help(in_spaces(text, first?.start, lines)),
    )
}

/// How many spaces belong in the place of the first tab, as its neighbours have it.
fn in_spaces(text: &str, tab: usize, lines: usize) -> String {
    let spaces = |line: &str| line.len() - line.trim_start_matches(' ').len();
    let is_written = |line: &&str| !line.trim().is_empty() && !line.trim_start().starts_with('#');
    let above = text[..tab].lines().rev().skip(usize::from(!text[..tab].ends_with('\n')));
    let above =
        above.filter(is_written).find(|line| !line.starts_with([' ', '\t']) || spaces(line) > 0);
    let below = text[tab..].lines().skip(1).filter(is_written);
    let below = below.take(lines).find(|line| !line[spaces(line)..].starts_with('\t'));
    let wanted = match above {
        Some(above) if above.trim_end().ends_with([':', '>', '|']) => {
            let inside = below.map(spaces).filter(|below| *below > spaces(above));
            inside.unwrap_or(spaces(above) + 2)
        }
        Some(above) if above.trim_start().starts_with("- ") => spaces(above) + 2,
        Some(above) => spaces(above),
        None => 0,
    };
    let wanted = match wanted {
        0 => "take the tab out".to_owned(),
        _ => format!("start this line after {}, without the tab", count(wanted, "space")),
    };
    match lines {
        1 => wanted,
        _ => format!("{wanted}, and the other lines as deep as their neighbours"),
    }
}
