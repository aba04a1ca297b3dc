//! Terminals that are narrow, wide, dumb, gone, or interrupted.

use std::time::{Duration, Instant};

use super::PATIENCE;
use crate::terminal_cases::Desk;

/// What is rough about each of the tests below.
pub const WHAT: [&str; 8] = [
    "a terminal of forty columns",
    "a terminal of two hundred columns",
    "a terminal of one cell",
    "a dumb terminal",
    "an interruption at a prompt",
    "the end of input at a prompt",
    "a system that goes down",
    "a terminal that a killed program left reading single keys",
];

#[test]
fn prompts_fit_forty_columns_and_two_hundred() {
    for columns in [40, 200] {
        let desk = Desk::new();
        let mut person = desk.sit("diagnose pump_alone").sized(30, columns);
        person.sees("connected to your pump");
        person.presses("\u{3}");
        person.ends(130);
    }
}

#[test]
fn a_terminal_of_one_cell_ends_as_asked() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain diagnose pump_alone").sized(1, 1);
    person.wants();
    person.control('c');
    person.ends(130);
}

#[test]
fn a_dumb_terminal_gets_plain_prompts() {
    let desk = Desk::new();
    let mut person = desk.sit_as("diagnose pump_alone", &[("TERM", "dumb")]);
    let said = person.wants();
    assert!(said.contains("1. Yes"), "{said}");
    person.control('d');
    person.ends(3);
}

#[test]
fn an_interruption_leaves_the_terminal_as_it_was() {
    let desk = Desk::new();
    let mut person = desk.sit("diagnose pump_alone");
    person.sees("connected to your pump");
    person.control('c');
    person.sees("The case is kept in");
    assert!(person.is_cooked());
    person.ends(130);
    assert_eq!(desk.cases().len(), 1);
}

#[test]
fn a_system_that_goes_down_leaves_the_case_kept() {
    let desk = Desk::new();
    let mut person = desk.sit("diagnose pump_alone");
    person.sees("connected to your pump");
    assert!(!person.is_cooked());
    person.terminate();
    let begun = Instant::now();
    while !person.is_cooked() {
        assert!(begun.elapsed() < PATIENCE, "single keys would still be handed on");
        std::thread::sleep(Duration::from_millis(20));
    }
    let mut person = desk.sit("--plain resume");
    let said = person.wants();
    assert!(said.contains("you stopped"), "{said}");
    person.control('c');
    person.ends(130);
}

#[test]
fn a_terminal_left_reading_single_keys_takes_lines_again() {
    let desk = Desk::new();
    let mut person = desk.sit_at_a_raw_terminal("diagnose pump_alone");
    person.picks("2");
    assert_eq!(desk.cases().len(), 1);
    person.control('c');
    person.ends(130);
}
