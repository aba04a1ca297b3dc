//! Practice at a terminal: lists, Esc, Ctrl-C and Ctrl-D, and narrow screens.

use super::desk::Desk;

const ESCAPE: &str = "\u{1b}";
const LOW_OIL: &str = "practice --level easy --seed 7";

#[test]
fn an_exercise_is_done_on_screens() {
    let desk = Desk::new();
    let mut person = desk.sit(&format!("{LOW_OIL} --save kim.json")).sized(40, 80);
    let said = person.sees("0 min. What do you do?");
    assert!(said.contains("Practice, easy, seed 7"), "{said}");
    // A whole line may be typed, or a word picked and the rest asked for.
    person.picks("vent");
    person.sees("The rig is vented, the pump off.");
    person.picks("cap");
    person.sees("The pump is capped");
    person.picks("oil");
    person.sees("the oil is below the mark.");
    person.picks("pull");
    person.sees("For how long?");
    person.picks("6");
    person.sees("after 1 min");
    person.sees("What do you do?");
    person.picks("ballast");
    person.sees("What about it?");
    person.presses(ESCAPE);
    person.sees("What do you do?");
    person.picks("ballast look");
    person.sees("The gas ballast stood shut.");
    person.picks("name");
    person.sees("What is wrong, or was?");
    person.picks("pump_oil");
    person.sees("Is or was anything else wrong?");
    person.picks("");
    person.sees("What mends it?");
    person.picks("change_oil");
    person.sees("What else is to be done?");
    person.picks("");
    let said = person.ends(0);
    assert!(said.contains("You named bad pump oil. That is right."), "{said}");
    assert!(said.contains("Your dearest mistake"), "{said}");
    assert!(desk.path("kim.json").exists());
}

#[test]
fn leaving_keeps_the_record_and_the_terminal() {
    for (leave, status) in [("c", 130), ("d", 3)] {
        let desk = Desk::new();
        let mut person = desk.sit(&format!("{LOW_OIL} --save left.json")).sized(24, 40);
        person.sees("What do you do?");
        person.picks("read");
        person.sees("The gauge on the system shows");
        person.sees("What do you do?");
        person.sees("Esc for more");
        person.control(if leave == "c" { 'c' } else { 'd' });
        person.sees("Left before its end.");
        person.sees("The record is kept in left.json.");
        person.ends(status);
        let text = std::fs::read_to_string(desk.path("left.json")).unwrap();
        assert!(text.contains("read the gauge"), "{text}");
    }
}

#[test]
fn esc_offers_the_board_and_stopping() {
    let desk = Desk::new();
    let mut person = desk.sit(LOW_OIL).sized(40, 80);
    person.sees("What do you do?");
    person.sees("Esc for more");
    person.presses(ESCAPE);
    person.sees("board: ");
    person.presses("board\r");
    person.sees("valve at the pump shut");
    person.sees("What do you do?");
    person.picks("stop");
    person.sees("begins the same rig anew");
    person.ends(3);
}

#[test]
fn a_word_that_fits_several_causes_is_asked_about() {
    let desk = Desk::new();
    let mut person = desk.sit(LOW_OIL).sized(40, 80);
    person.sees("What do you do?");
    person.picks("name");
    person.sees("What is wrong, or was?");
    person.picks("leak");
    person.sees("\"leak\" fits several: ");
    person.sees("Which?");
    person.picks("");
    person.sees("Is or was anything else wrong?");
    person.control('c');
    person.ends(130);
}
