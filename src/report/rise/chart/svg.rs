//! A chart as a picture in SVG (Scalable Vector Graphics 1.1, a W3C recommendation).

use std::fmt::Write as _;

use super::key::Drawn;
use super::picture::{Curve, Limit, Picture};
use crate::report::rise::id;
use crate::report::rise::sizes::ShownIn;
use crate::rise::criterion::Criterion;
use crate::rise::{Hold, Reading};
use crate::text::count;

/// The size of the picture and the edges of its plot, in pixels.
const SIZE: (f64, f64) = (760.0, 500.0);
const LEFT: f64 = 80.0;
const RIGHT: f64 = 740.0;
const TOP: f64 = 30.0;
const BOTTOM: f64 = 370.0;
/// Where the key begins, and how far its rows are apart.
const KEY: f64 = 432.0;
const KEY_ROW: f64 = 24.0;
/// How many points a curve is drawn through, and every how many of them it is marked.
const POINTS: usize = 133;
const MARKED: usize = 12;
/// How wide a letter is at most, on average.
const LETTER: f64 = 8.0;
/// Half the size of a mark.
const MARK: f64 = 4.0;

/// The chart of a hold as a file of its own; none without a reading.
///
/// It has a title and a description for those who don't see it, no script, and refers to nothing
/// outside. Lines are told apart by their dashes and marks.
#[must_use]
pub fn rise_svg(
    hold: &Hold,
    reading: Option<&Reading>,
    criterion: Option<Criterion>,
    shown: &ShownIn,
) -> Option<String> {
    let picture = Picture::of(hold, reading, criterion, POINTS, (8, 7), shown)?;
    let (width, height) = SIZE;
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\" \
         width=\"{width}\" height=\"{height}\" role=\"img\" aria-labelledby=\"title description\" \
         font-family=\"sans-serif\" font-size=\"14\" fill=\"black\">\n\
         <title id=\"title\">Pressure in a hold test</title>\n\
         <desc id=\"description\">{}</desc>\n\
         <rect width=\"{width}\" height=\"{height}\" fill=\"white\"/>\n",
        described(&picture, reading, shown)
    );
    draw_axes(&mut svg, &picture);
    if let Some(limit) = picture.limit.as_ref().filter(|limit| limit.is_drawn) {
        draw_limit(&mut svg, &picture, limit);
    }
    for curve in &picture.curves {
        draw_curve(&mut svg, &picture, curve);
    }
    draw_readings(&mut svg, &picture);
    draw_key(&mut svg, &picture);
    svg.push_str("</svg>\n");
    Some(svg)
}

/// What is to be seen, in words.
fn described(picture: &Picture, reading: Option<&Reading>, shown: &ShownIn) -> String {
    let (first, last) = (picture.readings.first(), picture.readings.last());
    let pressure = |at: Option<&(f64, f64)>| {
        shown.as_read(picture.pressure_unit.to_si(at.map_or(0.0, |(_, pressure)| *pressure)))
    };
    let readings = count(picture.readings.len(), "reading");
    let mut words = format!(
        "{readings} over {:.1} {}, from {} to {}.",
        last.map_or(0.0, |(time, _)| *time),
        picture.time_unit,
        pressure(first),
        pressure(last)
    );
    match reading.map(|reading| id(reading.verdict)) {
        Some(verdict) if !picture.curves.is_empty() => {
            let _ = write!(words, " Read as: {}.", verdict.replace('_', " "));
        }
        _ => words.push_str(" Its parts can't be told."),
    }
    if let Some(limit) = &picture.limit {
        let _ = write!(words, " A {}.", limit.words);
    }
    words
}

fn place(picture: &Picture, (time, pressure): (f64, f64)) -> (f64, f64) {
    let x = LEFT + (RIGHT - LEFT) * picture.time.share(time);
    (x, BOTTOM - (BOTTOM - TOP) * picture.pressure.share(pressure))
}

// What can't be written into a text isn't lost silently: writing into a `String` never fails.

fn draw_axes(svg: &mut String, picture: &Picture) {
    let _ = writeln!(
        svg,
        "<path d=\"M{LEFT} {TOP}V{BOTTOM}H{RIGHT}\" fill=\"none\" stroke=\"black\"/>"
    );
    for tick in picture.pressure.ticks() {
        let (_, y) = place(picture, (0.0, tick));
        let label = picture.pressure.label(tick);
        let _ = writeln!(
            svg,
            "<path d=\"M{} {y:.1}H{LEFT}\" stroke=\"black\"/>\
             <path d=\"M{LEFT} {y:.1}H{RIGHT}\" stroke=\"#dddddd\"/>\
             <text x=\"{}\" y=\"{:.1}\" text-anchor=\"end\">{label}</text>",
            LEFT - 6.0,
            LEFT - 10.0,
            y + 5.0
        );
    }
    for tick in picture.time.ticks() {
        let (x, _) = place(picture, (tick, picture.pressure.low()));
        let label = picture.time.label(tick);
        let _ = writeln!(
            svg,
            "<path d=\"M{x:.1} {BOTTOM}v6\" stroke=\"black\"/>\
             <text x=\"{x:.1}\" y=\"{}\" text-anchor=\"middle\">{label}</text>",
            BOTTOM + 22.0
        );
    }
    let _ = writeln!(
        svg,
        "<text x=\"{LEFT}\" y=\"{}\" text-anchor=\"middle\">{}</text>\
         <text x=\"{RIGHT}\" y=\"{}\" text-anchor=\"end\">{}</text>",
        TOP - 12.0,
        picture.pressure_unit.symbol,
        BOTTOM + 42.0,
        picture.time_unit
    );
}

fn draw_limit(svg: &mut String, picture: &Picture, limit: &Limit) {
    let end = limit.until.min(picture.time.high());
    let (x, y) = place(picture, (end, limit.pressure));
    let _ = writeln!(
        svg,
        "<path d=\"M{LEFT} {y:.1}H{x:.1}\" {}/><text x=\"{}\" y=\"{:.1}\">limit {}</text>",
        stroke(Drawn::Limit),
        LEFT + 6.0,
        y - 5.0,
        limit.label
    );
}

/// How a line is drawn, so that no two look alike in grey.
fn stroke(drawn: Drawn) -> &'static str {
    match drawn {
        Drawn::Readings => "fill=\"none\" stroke=\"black\" stroke-width=\"1.5\"",
        Drawn::Fit => "fill=\"none\" stroke=\"#444444\" stroke-width=\"1.5\"",
        Drawn::Straight => {
            "fill=\"none\" stroke=\"#b03000\" stroke-width=\"2\" stroke-dasharray=\"12 6\""
        }
        Drawn::Levelling => {
            "fill=\"none\" stroke=\"#0050a0\" stroke-width=\"2\" stroke-dasharray=\"3 4\""
        }
        Drawn::Limit => {
            "fill=\"none\" stroke=\"black\" stroke-width=\"1.5\" stroke-dasharray=\"14 4 2 4\""
        }
    }
}

/// The mark of a line or a reading about a point: a ring, a square, a triangle, or none.
fn mark(drawn: Drawn, (x, y): (f64, f64)) -> String {
    let (left, top, size) = (x - MARK, y - MARK, 2.0 * MARK);
    match drawn {
        Drawn::Readings => {
            format!("<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"{MARK}\" {}/>", stroke(drawn))
        }
        Drawn::Straight => format!(
            "<rect x=\"{left:.1}\" y=\"{top:.1}\" width=\"{size}\" height=\"{size}\" \
             fill=\"#b03000\"/>"
        ),
        Drawn::Levelling => format!(
            "<path d=\"M{left:.1} {:.1}h{size}l-{MARK} -{size}z\" fill=\"#0050a0\"/>",
            y + MARK
        ),
        Drawn::Fit | Drawn::Limit => String::new(),
    }
}

fn draw_curve(svg: &mut String, picture: &Picture, curve: &Curve) {
    let points: Vec<(f64, f64)> = curve.points.iter().map(|point| place(picture, *point)).collect();
    let line: Vec<String> = points.iter().map(|(x, y)| format!("{x:.1},{y:.1}")).collect();
    let _ = writeln!(svg, "<polyline points=\"{}\" {}/>", line.join(" "), stroke(curve.drawn));
    let marks = points.iter().skip(MARKED / 2).step_by(MARKED);
    let marks: String = marks.map(|point| mark(curve.drawn, *point)).collect();
    if !marks.is_empty() {
        let _ = writeln!(svg, "<g>{marks}</g>");
    }
}

fn draw_readings(svg: &mut String, picture: &Picture) {
    let rings = picture.readings.iter().map(|at| mark(Drawn::Readings, place(picture, *at)));
    let rings: Vec<String> = rings.collect();
    let _ = writeln!(svg, "<g>{}</g>", rings.join("\n"));
}

fn draw_key(svg: &mut String, picture: &Picture) {
    let mut entries = vec![(Drawn::Readings, Drawn::Readings.name(false).to_owned())];
    let curves = picture.curves.iter().map(|curve| curve.drawn);
    entries.extend(curves.map(|drawn| (drawn, drawn.name(picture.is_corrected).to_owned())));
    let (mut x, mut y) = (LEFT, KEY);
    for (drawn, name) in &entries {
        let width = 70.0 + LETTER * name.len() as f64;
        if x > LEFT && x + width > RIGHT + 30.0 {
            (x, y) = (LEFT, y + KEY_ROW);
        }
        key_entry(svg, *drawn, name, (x, y));
        x += width;
    }
    let below = (LEFT, y + KEY_ROW);
    match &picture.limit {
        Some(limit) if limit.is_drawn => key_entry(svg, Drawn::Limit, &limit.words, below),
        Some(limit) => {
            let _ = writeln!(svg, "<text x=\"{LEFT}\" y=\"{}\">{}</text>", below.1, limit.words);
        }
        None => {}
    }
}

fn key_entry(svg: &mut String, drawn: Drawn, name: &str, (x, y): (f64, f64)) {
    let middle = (x + 16.0, y - 5.0);
    if drawn != Drawn::Readings {
        let _ = write!(svg, "<path d=\"M{x} {}h32\" {}/>", middle.1, stroke(drawn));
    }
    let _ =
        writeln!(svg, "{}<text x=\"{}\" y=\"{y}\">{name}</text>", mark(drawn, middle), x + 40.0);
}
