//! What people type at questions of the built-in handbook, and how it is taken or asked back.

use dryhold::case::{ReadAnswer, Reply, read_answer};

use crate::commands::built_in;

fn read(question: &str, typed: &str) -> ReadAnswer {
    let (book, _) = built_in();
    read_answer(book.question(book.find_question(question).unwrap()), None, typed).unwrap()
}

fn quantity(read: &ReadAnswer) -> f64 {
    match read.reply {
        Reply::Quantity { si, .. } => si,
        ref other => panic!("{other:?}"),
    }
}

#[test]
fn a_size_as_a_fraction_is_offered_in_inches() {
    for (question, typed, millimetres) in
        [("line_size", "7/8", 22.225), ("hose_bore", "3/8", 9.525), ("line_size", "1 1/8", 28.575)]
    {
        let taken = read(question, typed);
        assert!((quantity(&taken) * 1000.0 - millimetres).abs() < 1e-9, "{taken:?}");
        let slip = taken.slip.expect("it is asked back");
        assert!(slip.message.starts_with(&format!("`{typed}` has no unit")), "{}", slip.message);
        assert_eq!(taken.echo, format!("{typed} in"));
    }
    assert_eq!(read("line_size", "7/8 in").slip, None, "its unit was told");
}

#[test]
fn degrees_of_no_scale_are_asked_back_where_a_difference_is_asked() {
    let taken = read("warmed_by", "8 degrees");
    assert!((quantity(&taken) - 8.0).abs() < 1e-12 && taken.echo == "8 K", "{taken:?}");
    let slip = taken.slip.expect("it is asked back");
    assert!(slip.message.contains("`8 degrees` names no scale: in degF it is 4.4"), "{slip:?}");
    let (_, si) = slip.suggestion.expect("the other scale is offered");
    assert!((si - 8.0 / 1.8).abs() < 1e-9, "{si}");
    for told in ["8 degF", "8 K", "8 degC"] {
        assert_eq!(read("warmed_by", told).slip, None, "{told}");
    }
}

#[test]
fn millimetres_of_a_face_are_named_for_what_they_are() {
    let taken = read("gauge_unit", "mm");
    assert_eq!(taken.reply, Reply::Choice("shows_torr".to_owned()));
    assert!(taken.echo.contains("millimetre of mercury"), "{}", taken.echo);
}

#[test]
fn a_test_that_was_not_made_yet_was_not_held() {
    for typed in ["not made yet", "not yet", "Still to come", "not done yet", "to be made"] {
        assert_eq!(read("held_nitrogen", typed).reply, Reply::YesNo(false), "{typed}");
    }
}
