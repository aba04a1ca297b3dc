//! The table of exit statuses in the text behind a command's options: a row for each, as wide as what
//! it is shown on.

/// The heading of the table.
const HEADING: &str = "Exit status:";
/// Where the meanings begin, in columns.
const MEANINGS: &str = "       ";

/// A piece of the text behind a command's options.
#[derive(Debug, PartialEq)]
pub(super) enum Piece<'t> {
    /// A status and what it means, in one line however many it is written in.
    Status(&'t str, String),
    /// A line of anything else.
    Line(&'t str),
}

/// The pieces of the text, in its order.
pub(super) fn pieces(text: &str) -> Vec<Piece<'_>> {
    let mut pieces = Vec::new();
    let mut is_table = false;
    for line in text.lines() {
        is_table = line == HEADING || is_table && line.starts_with("  ");
        match (status(line).filter(|_| is_table), pieces.last_mut()) {
            (Some((status, meaning)), _) => {
                pieces.push(Piece::Status(status, meaning.to_owned()));
            }
            (None, Some(Piece::Status(_, meaning))) if is_table => {
                meaning.push(' ');
                meaning.push_str(line.trim());
            }
            _ => pieces.push(Piece::Line(line)),
        }
    }
    pieces
}

/// `  130  interrupted`, parted.
fn status(line: &str) -> Option<(&str, &str)> {
    let (status, meaning) = line.strip_prefix("  ")?.split_once("  ")?;
    let is_number = !status.is_empty() && status.bytes().all(|b| b.is_ascii_digit());
    is_number.then(|| (status, meaning.trim_start()))
}

/// The text with the further rows of a meaning below its first, none wider than `width` columns.
pub(super) fn hung(text: &str, width: usize) -> String {
    let rows = pieces(text).into_iter().map(|piece| match piece {
        Piece::Status(status, meaning) => {
            let wrapping = textwrap::Options::new(width).subsequent_indent(MEANINGS);
            textwrap::fill(&format!("  {status:<3}  {meaning}"), wrapping)
        }
        Piece::Line(line) => line.to_owned(),
    });
    rows.collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "\
Words:
  0    none of these

Exit status:
  0    settled, also where nothing is wrong, or the
       command did its work
  130  interrupted

The maker's word comes first.";

    #[test]
    fn a_meaning_hangs_below_its_status_at_any_width() {
        let rows = hung(TEXT, 40);
        assert!(rows.contains(
            "\n  0    settled, also where nothing is\n       wrong, or the command did its\n       \
             work\n  130  interrupted\n\nThe"
        ));
        assert!(rows.starts_with("Words:\n  0    none of these\n\nExit status:\n"), "{rows}");
        assert!(hung(TEXT, 90).contains("wrong, or the command did its work\n"));
    }

    #[test]
    fn only_rows_below_the_heading_are_statuses() {
        let statuses: Vec<&str> = pieces(TEXT)
            .iter()
            .filter_map(|piece| match piece {
                Piece::Status(status, _) => Some(*status),
                Piece::Line(_) => None,
            })
            .collect();
        assert_eq!(statuses, ["0", "130"]);
    }
}
