//! Lines that a person types, wherever they come from.

use std::io::{BufRead, Read};

/// The longest line that is read (bytes); an estimate: a pasted log fits, an endless line does
/// not fill the memory.
const LONGEST: u64 = 1 << 20;

/// How much of a longer line is passed over to find its end (bytes); an estimate: what has none by
/// then never will.
const MOST_PASSED_OVER: u64 = 64 << 20;

/// What came of waiting for a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Heard {
    /// A line, without its line break.
    Line(String),
    /// A line longer than a person or a paste produces; it is passed over.
    TooLong,
    /// There will be none any more.
    End,
    /// Ctrl-C.
    Interrupt,
}

/// Where typed lines come from.
pub trait LineSource {
    /// Waits for the next line.
    fn next_line(&mut self) -> Heard;

    /// Whether what is typed appears beside the prompt by itself, as a terminal sees to. If not,
    /// the console writes it there.
    fn is_echoed(&self) -> bool;
}

/// Lines of a pipe, a file or a text in memory.
#[derive(Debug)]
pub struct PipedLines<R> {
    reader: R,
}

impl<R: BufRead> PipedLines<R> {
    /// The lines of that reader.
    pub fn new(reader: R) -> Self {
        Self { reader }
    }
}

impl<R: BufRead> LineSource for PipedLines<R> {
    fn next_line(&mut self) -> Heard {
        read_line(&mut self.reader)
    }

    fn is_echoed(&self) -> bool {
        false
    }
}

/// One line; bytes that are no text are replaced. A failure to read, or a line without an end, is
/// the end.
pub(super) fn read_line(reader: &mut impl BufRead) -> Heard {
    let mut bytes = Vec::new();
    match reader.by_ref().take(LONGEST).read_until(b'\n', &mut bytes) {
        Err(_) | Ok(0) => return Heard::End,
        Ok(_) => {}
    }
    let is_whole = bytes.last() == Some(&b'\n');
    if !is_whole && u64::try_from(bytes.len()).is_ok_and(|length| length >= LONGEST) {
        return pass_over(reader);
    }
    let text = String::from_utf8_lossy(&bytes);
    Heard::Line(text.trim_end_matches(['\n', '\r']).to_owned())
}

/// Leaves out the rest of a line that is too long.
fn pass_over(reader: &mut impl BufRead) -> Heard {
    let mut passed = 0;
    while passed < MOST_PASSED_OVER {
        let mut rest = Vec::new();
        match reader.by_ref().take(LONGEST).read_until(b'\n', &mut rest) {
            Err(_) | Ok(0) => return Heard::End,
            Ok(length) => passed += length as u64,
        }
        if rest.last() == Some(&b'\n') {
            return Heard::TooLong;
        }
    }
    Heard::End
}

/// What is said of a line that is too long, so that it can be typed again.
pub(crate) fn too_long() -> String {
    format!("That line is longer than {} KiB and counts as not typed.", LONGEST >> 10)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::{BufReader, repeat};

    #[test]
    fn a_line_that_is_too_long_is_passed_over_to_its_end() {
        let mut typed = vec![b'x'; 3 << 20];
        typed.extend_from_slice(b"\n45 micron\n");
        typed.extend(vec![b'y'; 2 << 20]);
        let mut lines = PipedLines::new(&typed[..]);
        assert_eq!(lines.next_line(), Heard::TooLong);
        assert_eq!(lines.next_line(), Heard::Line("45 micron".to_owned()));
        assert_eq!(lines.next_line(), Heard::End);
    }

    #[test]
    fn lines_come_without_their_breaks_and_then_the_end() {
        let mut lines = PipedLines::new(&b"45 micron\r\n\nlast"[..]);
        assert_eq!(lines.next_line(), Heard::Line("45 micron".to_owned()));
        assert_eq!(lines.next_line(), Heard::Line(String::new()));
        assert_eq!(lines.next_line(), Heard::Line("last".to_owned()));
        assert_eq!(lines.next_line(), Heard::End);
        assert_eq!(lines.next_line(), Heard::End);
    }

    #[test]
    fn bytes_that_are_no_text_do_not_stop_the_dialogue() {
        let mut lines = PipedLines::new(&b"\xff45\n"[..]);
        assert_eq!(lines.next_line(), Heard::Line("\u{fffd}45".to_owned()));
    }

    #[test]
    fn an_endless_line_is_the_end() {
        let mut lines = PipedLines::new(BufReader::new(repeat(b'x')));
        assert_eq!(lines.next_line(), Heard::End);
    }
}
