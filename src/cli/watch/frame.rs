//! What a screen shows of a watch, row by row.

use super::state::Watch;
use crate::cli::session::paint_item;
use crate::quantity::UnitExpression;
use crate::report::{ChartLook, missing_told, rise_brief, rise_chart, rise_told};
use crate::terminal::{Paper, spoken};
use crate::text::{Line, Role, capital};

/// What stands in the last row, before what is typed.
pub(super) const PROMPT: &str = "Reading: ";
/// The fewest rows that a chart is worth (`estimate`).
const FEWEST_ROWS: usize = 10;

/// What is to be shown.
pub(super) struct View<'a> {
    pub watch: &'a Watch<'a>,
    /// What stands in place of the chart; if nothing, the chart.
    pub page: Option<&'a [Line]>,
    /// Which part of a page that is higher than its room is shown, from 0; the last one there is
    /// if there are fewer.
    pub part: usize,
    /// What is said of the line typed last.
    pub message: Option<&'a Line>,
    /// Seconds until the next reading is due, negative once it is late; none before the first.
    pub due: Option<f64>,
    /// Seconds since the first reading.
    pub since: Option<f64>,
    pub paper: Paper,
    pub is_ascii: bool,
}

/// The rows above the field, no more than `rows`; the lower ones come first if not all fit.
pub(super) fn frame(view: &View<'_>, rows: usize) -> Vec<String> {
    let below = below(view);
    let room = rows.saturating_sub(below.len());
    let mut all = match view.page {
        Some(page) => part_of_page(&page_rows(page, &view.paper), view.part, room),
        None => chart(view, room),
    };
    all.extend(below);
    let surplus = all.len().saturating_sub(rows);
    all.drain(..surplus);
    all
}

/// Whether a part of the page follows the one that is shown.
pub(super) fn is_followed(view: &View<'_>, rows: usize) -> bool {
    let room = rows.saturating_sub(below(view).len());
    view.page.is_some_and(|page| view.part + 1 < parts(page_rows(page, &view.paper).len(), room))
}

fn page_rows(page: &[Line], paper: &Paper) -> Vec<String> {
    let mut rows = Vec::new();
    for line in page {
        let painted = paint_item(paper, line);
        rows.extend(painted.split('\n').map(str::to_owned));
    }
    rows
}

/// In how many parts a page of so many rows is shown; where it takes more than one, the last row
/// of each tells which it is.
fn parts(rows: usize, room: usize) -> usize {
    if rows <= room || room < 2 { 1 } else { rows.div_ceil(room - 1) }
}

fn part_of_page(rows: &[String], part: usize, room: usize) -> Vec<String> {
    let parts = parts(rows.len(), room);
    if parts == 1 {
        return rows.iter().take(room).cloned().collect();
    }
    let part = part.min(parts - 1);
    let mut shown: Vec<String> =
        rows.iter().skip(part * (room - 1)).take(room - 1).cloned().collect();
    let enter = if part + 1 < parts { "shows the next" } else { "leaves" };
    shown.push(format!("Part {} of {parts}: Enter {enter}.", part + 1));
    shown
}

/// The chart, as high as there is room for; nothing where it would be too low to show a curve.
fn chart(view: &View<'_>, room: usize) -> Vec<String> {
    if room < FEWEST_ROWS {
        return Vec::new();
    }
    let look = view.watch.look();
    let criterion = view.watch.criterion();
    let width = view.paper.width();
    let draw = |height| {
        let size = ChartLook { width, height: Some(height), is_ascii: view.is_ascii };
        rise_chart(&look.hold, look.reading.as_ref().ok(), criterion, size, &look.asked.shown)
    };
    let rows = draw(room);
    let around = rows.len().saturating_sub(room.min(40));
    let rows = draw(room.saturating_sub(around));
    if rows.len() > room { Vec::new() } else { rows }
}

/// What stands below: under the chart how it stands, when to read next, what was said.
fn below(view: &View<'_>) -> Vec<String> {
    let look = view.watch.look();
    let mut lines = Vec::new();
    if view.page.is_none() && !view.watch.entries().is_empty() {
        let brief = rise_brief(&look.hold, &look.asked, look.reading.as_ref(), look.is_settled());
        lines.push(Line::plain(format!("{brief}.")));
    }
    lines.push(next(view));
    lines.extend(view.message.cloned());
    lines.push(Line::new().push(Role::Quiet, "done ends; back, why, help"));
    let painted = lines.iter().map(|line| view.paper.paint(line));
    painted.flat_map(|rows| rows.split('\n').map(str::to_owned).collect::<Vec<_>>()).collect()
}

/// When to read the gauge, until enough is known.
fn next(view: &View<'_>) -> Line {
    let length = |seconds: f64| {
        spoken(std::time::Duration::try_from_secs_f64(seconds.max(0.0)).unwrap_or_default())
    };
    let Some(due) = view.due else {
        return Line::plain("Type the first reading as soon as the valve is shut.");
    };
    let since = view.since.map(|since| format!(" {} since the first.", length(since)));
    let since = since.unwrap_or_default();
    if view.watch.look().is_settled() {
        let told = format!(": `done` ends, or read on.{since}");
        return Line::new().push(Role::Strong, "Enough is known").push(Role::Plain, told);
    }
    if due > 0.0 {
        Line::plain(format!("Next reading in {}.{since}", length(due.ceil())))
    } else {
        Line::new()
            .push(Role::Strong, "Read the gauge now")
            .push(Role::Plain, format!(", {} late.{since}", length(-due)))
    }
}

/// The words that can be typed, and how a reading is.
pub(super) fn help(unit: &UnitExpression) -> Vec<Line> {
    let row = |word: &str, does: &str| {
        Line::plain("- ").push(Role::Name, word).push(Role::Plain, format!(": {does}"))
    };
    let unit = &unit.symbol;
    vec![
        Line::strong("What can be typed"),
        row("420", &format!("the pressure now, in {unit}")),
        row("0.5 mbar", "the same in another unit"),
        row("5 min 420", "the pressure 5 min after the first reading"),
        row("10:05 420", "the pressure at that time of the day"),
        row("OL", "the gauge was off its scale"),
        row("back", "takes the last reading back"),
        row("why", "what the readings say, in full"),
        row("done", "ends, as Ctrl-D does; Ctrl-C interrupts; the readings are kept"),
    ]
}

/// What the readings say, in full, and why one goes on.
pub(super) fn why(watch: &Watch<'_>) -> Vec<Line> {
    let look = watch.look();
    let mut lines = vec![
        Line::strong("Why go on reading"),
        Line::plain(
            "A leak shows early; that there is none takes longer, since moisture that settles \
             slowly rises like one. The first answer may be luck: it is enough once it is sure and \
             has stood for a good part of the hold.",
        ),
    ];
    lines.extend(match &look.reading {
        Ok(reading) => rise_told(&look.hold, &look.asked, reading),
        Err(why) => missing_told(&look.hold, &look.asked, why),
    });
    lines
}

/// A message about a line: what is wrong stands out.
pub(super) fn said(text: &str) -> Line {
    Line::new().push(Role::Strong, format!("{}.", capital(text.trim_end_matches('.'))))
}

#[cfg(test)]
mod tests;
