//! The report's page in a browser: it is drawn, its chart is, and it prints on two pages. Where there
//! is no headless Chromium this is skipped with a notice.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use super::case_book::{BookStand, scenario_events};

const CASE: &str = "2026-03-31-1";

/// The names that the browser goes by.
const BROWSERS: [&str; 3] = ["chromium-headless-shell", "chromium", "chromium-browser"];

/// The size of the window, in pixels.
const WINDOW: (usize, usize) = (900, 4_000);

fn browser() -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    let all = std::env::split_paths(&path).flat_map(|folder| BROWSERS.map(|b| folder.join(b)));
    all.into_iter().find(|program| program.is_file())
}

/// Opens a page and writes what the browser makes of it.
fn opened(browser: &Path, page: &Path, makes: &str) {
    let window = format!("--window-size={},{}", WINDOW.0, WINDOW.1);
    let run = Command::new(browser)
        .args(["--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars"])
        .args([&window, "--no-pdf-header-footer", makes])
        .arg(format!("file://{}", page.display()))
        .output()
        .unwrap();
    assert!(run.status.success(), "{run:?}");
}

/// The page as rows of brightness from 0, black, to 255.
fn drawn(browser: &Path, page: &Path) -> Vec<Vec<u8>> {
    let picture = page.with_extension("png");
    opened(browser, page, &format!("--screenshot={}", picture.display()));
    let decoder = png::Decoder::new(std::io::BufReader::new(fs::File::open(&picture).unwrap()));
    let mut reader = decoder.read_info().unwrap();
    let mut bytes = vec![0; reader.output_buffer_size().unwrap()];
    let frame = reader.next_frame(&mut bytes).unwrap();
    assert_eq!((frame.width as usize, frame.height as usize), WINDOW);
    assert_eq!(frame.bit_depth, png::BitDepth::Eight);
    let samples = frame.color_type.samples();
    let brightness = |pixel: &[u8]| {
        let colours = &pixel[..samples.min(3)];
        let sum: usize = colours.iter().map(|&c| usize::from(c)).sum();
        u8::try_from(sum / colours.len()).unwrap()
    };
    bytes[..frame.buffer_size()]
        .chunks(frame.line_size)
        .map(|row| row.chunks(samples).map(brightness).collect())
        .collect()
}

/// How many of a hundred pixels are dark.
fn darkness(rows: &[Vec<u8>]) -> f64 {
    let pixels = rows.iter().map(Vec::len).sum::<usize>() as f64;
    let dark = rows.iter().flatten().filter(|&&brightness| brightness < 100).count();
    100.0 * dark as f64 / pixels
}

#[test]
fn the_page_is_drawn_with_its_chart_and_prints_on_two_pages() {
    let Some(browser) = browser() else {
        eprintln!("skipped: there is no headless Chromium here");
        return;
    };
    let stand = BookStand::new();
    stand.keep(CASE, "2026-03-31", &scenario_events("prove_it/kept"));
    let ran = stand.run(&["report", CASE, "--format", "html", "--output", "report.html"]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    let page = stand.stand.path("report.html");
    let rows = drawn(&browser, &page);
    // Print on white: neither empty nor mostly dark.
    let share = darkness(&rows);
    assert!((2.0..25.0).contains(&share), "{share} of a hundred pixels are dark");
    // Text stands in every part of the page down to its end.
    let last = rows.iter().rposition(|row| row.iter().any(|&b| b < 100)).unwrap();
    assert!((1_000..WINDOW.1 - 100).contains(&last), "the page ends at row {last}");
    for part in rows[..last].chunks(last / 8 + 1) {
        assert!(darkness(part) > 0.5, "a part of the page is blank");
    }

    // Without the chart the page is another: the chart is drawn, not only in the text of the file.
    let html = fs::read_to_string(&page).unwrap();
    let (before, rest) = html.split_once("<svg").unwrap();
    let (_, after) = rest.split_once("</svg>").unwrap();
    let bare = stand.stand.path("bare.html");
    fs::write(&bare, format!("{before}{after}")).unwrap();
    let without = drawn(&browser, &bare);
    let end = |rows: &[Vec<u8>]| rows.iter().rposition(|row| row.iter().any(|&b| b < 100)).unwrap();
    assert!(end(&without) + 60 < last, "the chart takes no room: {} and {last}", end(&without));

    let print = page.with_extension("pdf");
    opened(&browser, &page, &format!("--print-to-pdf={}", print.display()));
    let print = fs::read(&print).unwrap();
    let ends_there = |at: &&[u8]| at.starts_with(b"/Type /Page") && at[11] != b's';
    let pages = print.windows(12).filter(ends_there).count();
    assert!((1..=2).contains(&pages), "it prints on {pages} pages");
}
