//! Frames in a few sizes.

use jiff::Timestamp;
use jiff::tz::Offset;

use super::*;
use crate::cli::rise::Wanted;
use crate::cli::watch::state::Heard;
use crate::cli::watch::when::Moment;
use crate::quantity::parse_unit;

fn wanted() -> Wanted {
    use clap::Parser;
    let arguments = ["dryhold", "watch", "--limit", "900 micron", "--within", "20 min"];
    let arguments = crate::cli::Arguments::try_parse_from(arguments).unwrap();
    let Some(crate::cli::Command::Watch(watch)) = arguments.command else { panic!("no watch") };
    Wanted::of(&watch.hold).unwrap()
}

fn watched(wanted: &Wanted, readings: u32) -> Watch<'_> {
    let micron = parse_unit("micron").unwrap();
    let mut watch = Watch::new(wanted, micron.clone(), micron, true);
    let at: Timestamp = "2026-11-25T10:05:00Z".parse().unwrap();
    let now = Moment { at, offset: Offset::UTC };
    for minute in 0..readings {
        watch.hear(Heard::Line(format!("{minute} min {}", 300 + 40 * minute)), now);
        watch.hear(Heard::Done, now);
    }
    watch
}

fn view<'a>(watch: &'a Watch<'a>, page: Option<&'a [Line]>, due: f64, width: usize) -> View<'a> {
    View {
        watch,
        page,
        part: 0,
        message: None,
        due: Some(due),
        since: Some(1230.0),
        paper: Paper::new(width, false),
        is_ascii: true,
    }
}

#[test]
fn what_is_said_comes_before_the_chart_where_room_is_short() {
    let wanted = wanted();
    let watch = watched(&wanted, 25);
    let rows = |rows: usize| frame(&view(&watch, None, -12.0, 80), rows);
    let tall = rows(30);
    assert_eq!(tall.len(), 30, "the chart fills what is left: {tall:#?}");
    assert!(tall[0].ends_with(" micron") && tall.iter().any(|row| row.contains("limit 900")));
    let [.., next, words] = &tall[..] else { panic!("{tall:?}") };
    assert_eq!(next, "Enough is known: `done` ends, or read on. 20 min 30 s since the first.");
    assert_eq!(words, "done ends; back, why, help");
    let low = rows(8);
    assert!(low.len() < 6 && low[0].starts_with("25 readings, 24 min: straight"), "{low:#?}");
    assert_eq!(rows(1), ["done ends; back, why, help"]);
    assert!(rows(0).is_empty());
}

#[test]
fn when_to_read_is_told_until_enough_is_known() {
    let wanted = wanted();
    let told = |readings: u32, due: f64| {
        let watch = watched(&wanted, readings);
        let frame = frame(&view(&watch, None, due, 80), 8);
        frame[frame.len() - 2].clone()
    };
    assert_eq!(told(3, 100.0), "Next reading in 1 min 40 s. 20 min 30 s since the first.");
    assert_eq!(told(3, -12.0), "Read the gauge now, 12 s late. 20 min 30 s since the first.");
    assert_eq!(told(25, 100.0), told(25, -12.0), "no countdown goes on");
}

#[test]
fn no_frame_is_higher_or_wider_than_the_terminal() {
    let wanted = wanted();
    for readings in [0, 1, 3, 25] {
        let watch = watched(&wanted, readings);
        let pages = [help(watch.unit()), why(&watch)];
        for width in [40, 60, 80, 200] {
            for rows in 0..60 {
                for page in [None, Some(&pages[0][..]), Some(&pages[1][..])] {
                    let frame = frame(&view(&watch, page, 5.0, width), rows);
                    assert!(frame.len() <= rows, "{readings} {width} {rows}");
                    let widest = frame.iter().map(|row| row.chars().count()).max();
                    assert!(widest.unwrap_or(0) <= width, "{readings} {width} {rows}: {frame:#?}");
                }
            }
        }
    }
}

#[test]
fn a_page_without_room_is_read_in_parts() {
    let wanted = wanted();
    let watch = watched(&wanted, 25);
    let pages = [why(&watch), help(watch.unit())];
    for (page, width) in pages.iter().flat_map(|page| [(page, 40), (page, 80)]) {
        let shown = |part: usize, rows: usize| {
            let view = View { part, ..view(&watch, Some(page), 5.0, width) };
            let below = below(&view).len();
            let mut shown = frame(&view, rows);
            shown.truncate(shown.len() - below);
            (shown, is_followed(&view, rows))
        };
        let (whole, is_followed) = shown(0, 200);
        assert!(!is_followed && whole.len() > 8, "{whole:#?}");
        for rows in [8, 9, 12, 16, 20] {
            let (mut read, mut part) = (Vec::new(), 0);
            loop {
                let (mut shown, is_followed) = shown(part, rows);
                if is_followed || part > 0 {
                    let told = shown.pop().unwrap();
                    let enter =
                        if is_followed { ": Enter shows the next." } else { ": Enter leaves." };
                    assert!(told.starts_with(&format!("Part {} of ", part + 1)), "{told}");
                    assert!(told.ends_with(enter), "{told}");
                }
                read.extend(shown);
                if !is_followed {
                    break;
                }
                part += 1;
            }
            assert_eq!(read, whole, "{rows} rows of {width} columns, none lost and none twice");
            assert_eq!(shown(part + 5, rows).0, shown(part, rows).0, "there is no part beyond");
        }
    }
}
