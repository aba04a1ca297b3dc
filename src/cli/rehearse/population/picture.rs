//! A picture of how good the probabilities are: what was held against what was so.

use std::fmt::Write;

use super::Population;
use crate::rehearsal::rigged::population::Calibrated;

/// The side of the square that is drawn on, and the room around it, in pixels.
const SIDE: f64 = 400.0;
const ROOM: f64 = 56.0;
/// The colours of the two rows of points, which are told apart by their shape as well.
const LEADER: &str = "#0b5394";
const CAUSES: &str = "#b45f06";

/// An SVG picture.
pub(super) fn picture(population: &Population<'_>) -> String {
    let tally = population.tally();
    let size = SIDE + 2.0 * ROOM;
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{size}\" height=\"{size}\" \
         viewBox=\"0 0 {size} {size}\" font-family=\"sans-serif\" font-size=\"12\">\n\
         <rect width=\"100%\" height=\"100%\" fill=\"white\"/>\n"
    );
    let _ = writeln!(
        svg,
        "<title>How probable causes were held to be, against how often they were there</title>"
    );
    frame(&mut svg);
    points(&mut svg, &tally.calibration_of_leader(), LEADER, true);
    points(&mut svg, &tally.calibration_of_causes(), CAUSES, false);
    legend(&mut svg, population.scores.len());
    svg.push_str("</svg>\n");
    svg
}

fn at((held, so): (f64, f64)) -> (f64, f64) {
    (ROOM + SIDE * held, ROOM + SIDE * (1.0 - so))
}

fn frame(svg: &mut String) {
    let _ = writeln!(
        svg,
        "<rect x=\"{ROOM}\" y=\"{ROOM}\" width=\"{SIDE}\" height=\"{SIDE}\" fill=\"none\" \
         stroke=\"#444\"/>"
    );
    let ((x1, y1), (x2, y2)) = (at((0.0, 0.0)), at((1.0, 1.0)));
    let _ = writeln!(
        svg,
        "<line x1=\"{x1}\" y1=\"{y1}\" x2=\"{x2}\" y2=\"{y2}\" stroke=\"#888\" \
         stroke-dasharray=\"4 4\"/>"
    );
    for tenths in [0_u8, 2, 4, 6, 8, 10] {
        let share = f64::from(tenths) / 10.0;
        let (x, y) = (at((share, 0.0)), at((0.0, share)));
        let _ = writeln!(
            svg,
            "<text x=\"{}\" y=\"{}\" text-anchor=\"middle\">{share:.1}</text>\n\
             <text x=\"{}\" y=\"{}\" text-anchor=\"end\">{share:.1}</text>",
            x.0,
            x.1 + 18.0,
            y.0 - 8.0,
            y.1 + 4.0
        );
    }
}

/// Points whose area goes with the root of how many stand behind them.
fn points(svg: &mut String, bins: &[Calibrated], colour: &str, is_round: bool) {
    for bin in bins {
        let (x, y) = at((bin.held, bin.so));
        let radius = (2.0 + 0.5 * libm::pow(bin.number as f64, 0.33)).min(12.0);
        let shape = if is_round {
            format!("<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"{radius:.1}\"")
        } else {
            let (left, top, side) = (x - radius, y - radius, 2.0 * radius);
            format!("<rect x=\"{left:.1}\" y=\"{top:.1}\" width=\"{side:.1}\" height=\"{side:.1}\"")
        };
        let _ = writeln!(
            svg,
            "{shape} fill=\"{colour}\" fill-opacity=\"0.7\"><title>{} held at {:.2}, so {:.2}\
             </title></{}>",
            bin.number,
            bin.held,
            bin.so,
            if is_round { "circle" } else { "rect" }
        );
    }
}

fn legend(svg: &mut String, rigs: usize) {
    let (left, top) = (ROOM + 14.0, ROOM + 20.0);
    let _ = writeln!(
        svg,
        "<circle cx=\"{left}\" cy=\"{}\" r=\"5\" fill=\"{LEADER}\"/>\n\
         <text x=\"{}\" y=\"{top}\">the leading group</text>\n\
         <rect x=\"{}\" y=\"{}\" width=\"10\" height=\"10\" fill=\"{CAUSES}\"/>\n\
         <text x=\"{}\" y=\"{}\">every cause</text>",
        top - 4.0,
        left + 12.0,
        left - 5.0,
        top + 10.0,
        left + 12.0,
        top + 20.0
    );
    let middle = ROOM + 0.5 * SIDE;
    let low = 2.0 * ROOM + SIDE - 14.0;
    let _ = writeln!(
        svg,
        "<text x=\"{middle}\" y=\"{low}\" text-anchor=\"middle\">held to be so</text>\n\
         <text x=\"{middle}\" y=\"30\" text-anchor=\"middle\">share that was so, {rigs} rigs</text>"
    );
}
