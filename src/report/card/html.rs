//! The card as one page of HTML.

use std::fmt::Write;

use super::part::{Card, Part};
use crate::text::escaped;

/// The card as HTML, whole in itself: no script, no picture, nothing loaded from elsewhere. On
/// paper it is A4 in two columns; what is grave is told by words and rules, never by a colour.
#[must_use]
pub fn html(card: &Card) -> String {
    let mut page = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <title>{title}</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n<main>\n\
         <h1>{title}</h1>\n",
        title = escaped(&card.title)
    );
    let mut is_list = false;
    for part in &card.parts {
        let is_row = matches!(part, Part::Row { .. });
        match (is_list, is_row) {
            (false, true) => page.push_str("<ul>\n"),
            (true, false) => page.push_str("</ul>\n"),
            _ => {}
        }
        is_list = is_row;
        write_part(&mut page, part);
    }
    if is_list {
        page.push_str("</ul>\n");
    }
    page.push_str("</main>\n</body>\n</html>\n");
    page
}

fn write_part(page: &mut String, part: &Part) {
    match part {
        Part::Heading(text) => {
            let _ = writeln!(page, "<h2>{}</h2>", escaped(text));
        }
        Part::Text(text) => {
            let _ = writeln!(page, "<p>{}</p>", escaped(text));
        }
        Part::Row { mark, kind, says, ways } => {
            page.push_str("<li>");
            if !mark.is_empty() {
                let _ = write!(page, "<b>{}</b> ", escaped(mark));
            }
            let _ = write!(page, "<i>{}</i> {}", escaped(kind), escaped(says));
            for way in ways {
                let _ = write!(page, "<span class=\"way\">{}</span>", escaped(way));
            }
            page.push_str("</li>\n");
        }
    }
}

/// Sizes are such that [`pages`](super::pages()) counts the rows of a page.
const STYLE: &str = "\
@page { size: A4; margin: 10mm 12mm; }
body { font: 8pt/1.2 sans-serif; color: #000; background: #fff; margin: 0; }
main { columns: 2; column-gap: 6mm; }
h1 { font-size: 13pt; margin: 0 0 1mm; column-span: all; }
h2 { font-size: 9.5pt; margin: 1.5mm 0 .5mm; border-bottom: .4pt solid #000; break-after: avoid; }
p { margin: 0 0 1mm; }
ul { margin: 0; padding: 0; list-style: none; }
li { margin: 0 0 .5mm; break-inside: avoid; }
.way { display: block; padding-left: 4mm; }
@media screen { body { max-width: 60em; margin: 1em auto; padding: 0 1em; font-size: 12pt; } }
@media screen and (max-width: 45em) { main { columns: 1; } }
";
