//! The board: what is known, open and likely, and what to ask next.

use dryhold::evidence::Engine;
use dryhold::report::board;
use dryhold::text::Line;

use super::disputed::LEVELS;
use super::handbooks::{Bench, handbook};

fn shown(bench: &Bench<'_>, aloud: bool) -> Vec<String> {
    board(&bench.case, aloud).iter().map(Line::to_text).collect()
}

#[test]
fn a_board_says_what_is_known_open_and_likely() {
    let handbook = handbook(LEVELS);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "look");
    let wanted = [
        "Where the case stands",
        "Known: nothing yet.",
        "Open: Does the pump knock?",
        "So far: no answer speaks for or against a cause yet.",
        "Best next: Where does the pump stop on its own?",
    ];
    assert_eq!(shown(&bench, false), wanted);
    bench.answer("noise", "yes");
    bench.answer("floor", "700");
    let shown_now = shown(&bench, false);
    assert_eq!(shown_now[1], "Known: noise: yes; floor: 700 micron.");
    assert!(shown_now[2].starts_with("So far: Worn pump: "), "{shown_now:?}");
}

#[test]
fn readings_that_can_not_be_come_before_the_best_test_and_the_newest_answer_stands() {
    let handbook = handbook(LEVELS);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "look");
    bench.answer("floor", "700");
    bench.answer("level", "180 micron");
    bench.answer("level", "150");
    let shown = shown(&bench, true);
    assert_eq!(shown[1], "Known: floor: 700 micron; level: 150 micron.");
    let say = "Best next: Say: Where does it stop alone?";
    assert_eq!(shown.last().unwrap(), say, "{shown:?}");
}
