//! A gauge's face: bare numbers count in its unit, and what was taken stays so.

use dryhold::case::Event;
use dryhold::evidence::Engine;
use dryhold::formula::{Facts, Value};
use dryhold::handbook::Handbook;

use super::handbooks::{Bench, PUMP, handbook};

/// The pump's handbook with a gauge that may show one of three units.
fn with_a_face() -> Handbook {
    let face = "questions:
  shows:
    ask: Which unit does the face show?
    choices: {mercury: micron, pascal: Pa, bars: mbar, other: Another}
    units: {mercury: micron, pascal: Pa, bars: mbar}
";
    let text = PUMP
        .replace("    name: Gauge\n", "    name: Gauge\n    face: shows\n")
        .replace("questions:\n", face)
        .replace(
            "    range: 0 micron to 760000 micron\n    instrument: gauge\n",
            "    unit: micron\n    range: 0 micron to 760000 micron\n    usual: 5 micron to 5000 \
             micron\n    instrument: gauge\n",
        );
    handbook(&text)
}

fn taken(bench: &Bench<'_>, id: &str) -> String {
    let question = bench.case.handbook().find_question(id).unwrap();
    let echo = bench.case.latest_answer(question).unwrap();
    format!("{} {:?}", echo.typed, echo.bare_in)
}

/// Answers as the interview keeps it: with the echo.
fn type_in(bench: &mut Bench<'_>, id: &str, typed: &str) -> Vec<String> {
    let question = bench.case.handbook().find_question(id).unwrap();
    let read = bench.case.read(question, typed).unwrap();
    let (typed, reply, bare_in) = (read.echo, read.reply, read.bare_in);
    let news = bench.apply(Event::Answered { question: id.to_owned(), typed, reply, bare_in });
    news.faces.iter().map(|line| line.to_text()).collect()
}

fn hint(bench: &Bench<'_>, id: &str) -> String {
    bench.case.question_view(bench.case.handbook().find_question(id).unwrap()).hint
}

#[test]
fn a_bare_number_counts_in_the_unit_of_the_face() {
    let handbook = with_a_face();
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "bench");
    bench.acknowledge("hot");
    assert_eq!(hint(&bench, "floor"), "a pressure; a bare number is read in micron");
    type_in(&mut bench, "shows", "pascal");
    assert_eq!(hint(&bench, "floor"), "a pressure; a bare number is read in Pa");
    // What is read from no gauge keeps its own unit, and says so.
    assert_eq!(
        hint(&bench, "target"),
        "a pressure; a bare number is read in micron here, not in Pa"
    );
    for (typed, kept) in [
        ("120", "120 Pa (900.1 micron) Some(\"Pa\")"),
        ("900 micron", "900 micron None"),
        ("1.2 mbar", "1.2 mbar (900.1 micron) None"),
        ("not sure", "not sure None"),
    ] {
        type_in(&mut bench, "floor", typed);
        assert_eq!(taken(&bench, "floor"), kept);
    }
    type_in(&mut bench, "target", "300");
    assert_eq!(taken(&bench, "target"), "300 micron None", "nothing is read from a face there");
    for unknown in ["not sure", "other"] {
        type_in(&mut bench, "shows", unknown);
        type_in(&mut bench, "floor", "120");
        assert_eq!(taken(&bench, "floor"), "120 micron Some(\"micron\")");
    }
}

#[test]
fn what_is_odd_on_a_face_is_told_in_its_unit() {
    let handbook = with_a_face();
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "bench");
    bench.acknowledge("hot");
    type_in(&mut bench, "shows", "bars");
    let floor = handbook.find_question("floor").unwrap();
    let slip = bench.case.read(floor, "120").unwrap().slip.unwrap();
    let message =
        "120 mbar is above what is usual here, 0.006666 to 6.666 mbar: 120 micron is 0.16 mbar";
    assert_eq!(slip.message, message);
    let refused = bench.case.read(floor, "5000").unwrap_err();
    assert!(
        refused.message.ends_with("is outside the accepted range, 0 mbar to 1013 mbar"),
        "{refused:?}"
    );
}

#[test]
fn another_face_rewrites_nothing_and_names_what_was_taken_otherwise() {
    let handbook = with_a_face();
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "bench");
    bench.acknowledge("hot");
    type_in(&mut bench, "floor", "120");
    type_in(&mut bench, "floor", "40 Pa");
    let said = [
        "Of these the number alone was typed, and they stay as they were taken:",
        "- What does the gauge read? [120 micron], taken in micron and not in Pa",
        "Put right each that the gauge showed in another unit.",
    ];
    assert_eq!(type_in(&mut bench, "shows", "pascal"), said);
    assert_eq!(taken(&bench, "floor"), "40 Pa (300 micron) None");
}

#[test]
fn taking_the_face_back_or_correcting_it_names_them_too() {
    let handbook = with_a_face();
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "bench");
    bench.acknowledge("hot");
    type_in(&mut bench, "shows", "pascal");
    type_in(&mut bench, "floor", "120");
    let before = bench.case.record().given.clone();
    let shows = handbook.find_question("shows").unwrap();
    let order = bench.case.latest_answer(shows).unwrap().order;
    let read = bench.case.read(shows, "bars").unwrap();
    let (typed, reply, bare_in) = (read.echo, read.reply, read.bare_in);
    let news = bench.apply(Event::Corrected { answer: order, typed, reply, bare_in });
    let told = "- What does the gauge read? [120 Pa (900.1 micron)], taken in Pa and not in mbar";
    assert_eq!(news.faces[1].to_text(), told);
    let news = bench.apply(Event::TakenBack { order });
    let told = "- What does the gauge read? [120 Pa (900.1 micron)], taken in Pa and not in micron";
    assert_eq!(news.faces[1].to_text(), told);
    let floor = handbook.find_question("floor").unwrap();
    let kept: Vec<_> = before.iter().filter(|given| given.question == floor).cloned().collect();
    let now: Vec<_> = bench.case.answers(floor).cloned().collect();
    assert_eq!(now, kept);
}

#[test]
fn the_step_of_a_face_takes_the_place_of_the_instruments() {
    let face = "questions:
  shows:
    ask: Which unit does the face show?
    choices: {mercury: micron, pascal: Pa, bars: mbar}
    units: {mercury: micron, pascal: Pa, bars: mbar}
    resolutions: {mercury: 1 micron, pascal: 1 Pa}
    basis: estimate
";
    let text = PUMP
        .replace("    name: Gauge\n", "    name: Gauge\n    face: shows\n")
        .replace("questions:\n", face);
    let handbook = handbook(&text);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "bench");
    bench.acknowledge("hot");
    bench.answer("floor", "1000 micron");
    let gauge = handbook.question(handbook.find_question("floor").unwrap()).instrument.unwrap();
    let pascal = |bench: &Bench<'_>| bench.case.worksheet().resolution(gauge).unwrap();
    let spread = |bench: &Bench<'_>| {
        let floor = handbook.question(handbook.find_question("floor").unwrap()).symbol;
        let Value::Quantity(draws) = bench.case.worksheet().latest(floor) else { panic!() };
        let values = draws.values();
        let ends = |f: fn(f64, f64) -> f64| values.iter().copied().reduce(f).unwrap();
        ends(f64::max) - ends(f64::min)
    };
    let (micron, fine) = (0.133_322_387_415, spread(&bench));
    assert!((pascal(&bench) - micron).abs() < 1e-9, "nobody has said what it shows");
    bench.answer("shows", "pascal");
    assert!((pascal(&bench) - 1.0).abs() < 1e-12);
    assert!(spread(&bench) > fine + 0.4, "{} and {fine}", spread(&bench));
    bench.answer("shows", "bars");
    assert!((pascal(&bench) - micron).abs() < 1e-9, "this choice leaves the instrument's own");
}
