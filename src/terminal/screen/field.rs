//! A field to type a line in.

use std::io::{self, Write};

use unicode_width::UnicodeWidthStr;

use super::fitting::in_rows;
use super::frame::{Frame, Look, columns, shown};
use super::keys::{Held, Key, Keys};
use super::line::LineEditor;
use super::widgets::{Field, Left};
use crate::text::inert;

/// Lets a paste come as a whole, and no longer (private mode 2004 of ECMA-48 terminals): a line
/// break in it is no Enter.
pub(super) const PASTES_WHOLE: &[u8] = b"\x1b[?2004h";
pub(super) const PASTES_AS_KEYS: &[u8] = b"\x1b[?2004l";

/// Reads a line until it is entered or the field is left.
pub(super) fn read_field(
    keys: &mut dyn Keys,
    out: &mut dyn Write,
    field: &Field,
    is_coloured: bool,
) -> Left<String> {
    let Ok(mut keys) = Held::new(keys) else { return Left::Broken };
    let mut frame = Frame::new(is_coloured);
    let left = out.write_all(PASTES_WHOLE).and_then(|()| typed(&mut keys, out, field, &mut frame));
    let is_given_back = out.write_all(PASTES_AS_KEYS).and_then(|()| out.flush());
    left.and_then(|left| is_given_back.map(|()| left)).unwrap_or(Left::Broken)
}

fn typed(
    keys: &mut Held<'_>,
    out: &mut dyn Write,
    field: &Field,
    frame: &mut Frame,
) -> io::Result<Left<String>> {
    let message = inert(&field.message);
    let mut line = LineEditor::new(&field.text);
    loop {
        let asked = format!("{message} {} ", shown(&line.text()));
        let help = format!("[{}]", inert(&field.help));
        let cursor = format!("? {message} {}", shown(&line.before()));
        frame.draw(out, &[(Look::Asked, asked), (Look::Help, help)], &cursor)?;
        let left = match keys.next(None)? {
            Some(Key::Enter) => {
                let answer = in_rows(&shown(&line.text()), message.width(), columns());
                let answered = Look::Answered(message.len() + 1);
                frame.leave(out, (answered, format!("{message} {answer}")))?;
                return Ok(Left::Answered(line.text().trim().to_owned()));
            }
            Some(Key::Escape) => Left::Escaped(line.text()),
            Some(Key::Interrupt) => Left::Interrupted,
            Some(Key::End) if line.is_empty() => Left::Ended,
            // As at a shell, it takes the next character where something is typed.
            Some(Key::End) => {
                line.press(Key::Delete);
                continue;
            }
            Some(key) => {
                line.press(key);
                continue;
            }
            None => continue,
        };
        frame.leave(out, (Look::Asked, message))?;
        return Ok(left);
    }
}
