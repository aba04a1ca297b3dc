//! A chart of characters.

use super::key::Drawn;
use super::picture::Picture;
use super::plot::{ASCII, DRAWN, Marks, Plot};
use crate::report::rise::sizes::ShownIn;
use crate::rise::criterion::Criterion;
use crate::rise::{Hold, Reading};

/// The narrowest and widest chart in columns, and the lowest and highest in rows of its plot.
const WIDTHS: (usize, usize) = (40, 200);
const HEIGHTS: (usize, usize) = (5, 40);
/// What is told where no part is drawn.
const NO_PARTS: &str = "no parts drawn: they can't be told";

/// How large a chart is, and of which characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ChartLook {
    /// Columns, axis and labels included; held between 40 and 200.
    pub width: usize,
    /// Rows of the plot, without axis and key, held between 5 and 40; if none, a quarter of the
    /// width, between 10 and 24.
    pub height: Option<usize>,
    /// Whether only ASCII may be used.
    pub is_ascii: bool,
}

/// The chart of a hold, row by row; no rows without a reading.
///
/// Readings, fit and parts have a mark and a pattern each, told in a key below. Parts are drawn
/// where `reading` tells them; the limit of a criterion as a line until its time is over, or told
/// in words where it lies far off.
#[must_use]
pub fn rise_chart(
    hold: &Hold,
    reading: Option<&Reading>,
    criterion: Option<Criterion>,
    look: ChartLook,
    shown: &ShownIn,
) -> Vec<String> {
    let width = look.width.clamp(WIDTHS.0, WIDTHS.1);
    let height = look.height.unwrap_or((width / 4).clamp(10, 24)).clamp(HEIGHTS.0, HEIGHTS.1);
    let ticks = (width / 10, (height / 3).max(2));
    let Some(picture) = Picture::of(hold, reading, criterion, width, ticks, shown) else {
        return Vec::new();
    };
    let marks = if look.is_ascii { &ASCII } else { &DRAWN };
    let ticks = picture.pressure.ticks();
    let labels: Vec<String> = ticks.iter().map(|tick| picture.pressure.label(*tick)).collect();
    let margin = labels.iter().map(String::len).max().unwrap_or(0);
    let mut plot = Plot::new(width.saturating_sub(margin + 2), height);
    plot.draw(&picture, marks);
    let mut rows = vec![format!("{:>margin$} {}", "", picture.pressure_unit.symbol)];
    let mut label_of: Vec<Option<&String>> = vec![None; height];
    for (tick, label) in ticks.iter().zip(&labels) {
        label_of[plot.row(&picture, *tick)] = Some(label);
    }
    for (cells, label) in plot.cells.iter().zip(label_of) {
        let side = if label.is_some() { marks.side_tick } else { marks.side };
        let label = label.map_or("", String::as_str);
        let cells: String = cells.iter().collect();
        rows.push(format!("{label:>margin$} {side}{cells}").trim_end().to_owned());
    }
    rows.extend(below(&picture, &plot, margin, marks));
    rows.extend(key(&picture, width, marks));
    rows
}

/// The axis of times and its labels, the last one with its unit; what finds no room is left out.
fn below(picture: &Picture, plot: &Plot, margin: usize, marks: &Marks) -> [String; 2] {
    let mut base = vec![marks.base; plot.columns];
    let mut labels = vec![' '; plot.columns + margin + 2];
    let mut free = labels.len();
    let mut unit = format!(" {}", picture.time_unit);
    for tick in picture.time.ticks().into_iter().rev() {
        let column = plot.column(picture, tick);
        base[column] = marks.base_tick;
        let label = picture.time.label(tick) + &unit;
        let middle = (margin + 2 + column).saturating_sub((label.len() - unit.len()) / 2);
        let start = middle.min(labels.len().saturating_sub(label.len()));
        if start + label.len() <= free {
            labels.splice(start..start + label.len(), label.chars());
            free = start.saturating_sub(1);
            unit.clear();
        }
    }
    let labels: String = labels.iter().collect();
    let base: String = base.iter().collect();
    [format!("{:>margin$} {}{base}", "", marks.corner), labels.trim_end().to_owned()]
}

/// The key in words, as many entries in a row as fit.
fn key(picture: &Picture, width: usize, marks: &Marks) -> Vec<String> {
    let mut entries = vec![format!("{} {}", marks.reading, Drawn::Readings.name(false))];
    if picture.curves.is_empty() {
        entries.push(NO_PARTS.to_owned());
    }
    let curves = picture.curves.iter().map(|curve| curve.drawn);
    entries.extend(
        curves.map(|drawn| {
            format!("{0}{0}{0} {1}", marks.of(drawn), drawn.name(picture.is_corrected))
        }),
    );
    entries.extend(picture.limit.as_ref().map(|limit| {
        let line = if limit.is_drawn { format!("{0}{0}{0} ", marks.limit) } else { String::new() };
        format!("{line}{}", limit.words)
    }));
    let mut rows: Vec<String> = Vec::new();
    for entry in entries {
        let length = entry.chars().count();
        match rows.last_mut() {
            Some(row) if row.chars().count() + 3 + length <= width => {
                row.push_str("   ");
                row.push_str(&entry);
            }
            _ => rows.extend(broken(&entry, width)),
        }
    }
    rows
}

/// An entry that is too long for a row is broken at its blanks.
fn broken(entry: &str, width: usize) -> Vec<String> {
    let options = textwrap::Options::new(width).subsequent_indent("  ");
    textwrap::wrap(entry, options).into_iter().map(std::borrow::Cow::into_owned).collect()
}
