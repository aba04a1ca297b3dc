//! Texts whose values nobody knows: what instructs keeps every sentence, what concludes tells only
//! what is known.

use dryhold::case::Now;

use super::handbooks::asked;

const HANDBOOK: &str = r"
format: 1
name: A cask
version: 1
questions:
  level: {ask: 'How high does it stand?', kind: length, range: 0 m to 2 m, basis: estimate}
trees:
  look:
    title: The cask
    start: level
    steps:
      level: {ask: level, next: fill}
      fill: {do: 'Fill it. Never above {level}.', next: done}
      done: {end: 'It has been filled. It stood at {level} before.'}
";

#[test]
fn an_instruction_keeps_the_sentence_whose_value_is_missing_and_an_end_leaves_it_out() {
    let told = |typed: &str| {
        asked(HANDBOOK, &[("level", typed)], |bench| {
            let Now::Do { text, .. } = bench.case.now() else { panic!("{:?}", bench.case.now()) };
            let instruction = text.to_text();
            bench.done();
            let Now::Ended { done, .. } = bench.case.now() else {
                panic!("{:?}", bench.case.now())
            };
            (instruction, done.to_text())
        })
    };
    let (instruction, end) = told("0.6 m");
    assert_eq!(instruction, "Fill it. Never above 0.6 m.");
    assert_eq!(end, "It has been filled. It stood at 0.6 m before.");
    let (instruction, end) = told("not sure");
    assert_eq!(instruction, "Fill it. Never above not measured.");
    assert_eq!(end, "It has been filled.");
}

#[test]
fn a_reason_leaves_out_what_nobody_knows_and_a_stop_keeps_its_words() {
    let text = HANDBOOK.replace("next: done}\n", "next: full}\n").replace(
        "      done: {end",
        "      full: {ask: full, next: {yes: over, no: done}}\n      \
         over: {stop: 'Leave it at {level}.', why: 'It runs over. It stood at {level}.', refer: the cooper}\n      \
         done: {end",
    );
    let text = text.replace(
        "trees:\n",
        "  full: {ask: 'Is it full?', why: 'It runs over. It was at {level}.', kind: yes/no}\ntrees:\n",
    );
    let why_of = |typed: &str| {
        asked(&text, &[("level", typed)], |bench| {
            bench.done();
            let full = bench.case.handbook().find_question("full").unwrap();
            let asked = bench.case.question_view(full).why.unwrap().to_text();
            bench.answer("full", "yes");
            let Now::Stopped { text, why, .. } = bench.case.now() else {
                panic!("{:?}", bench.case.now())
            };
            (asked, text.to_text(), why.as_ref().unwrap().to_text())
        })
    };
    let told =
        |asked: &str, stop: &str, why: &str| (asked.to_owned(), stop.to_owned(), why.to_owned());
    assert_eq!(
        why_of("0.6 m"),
        told(
            "It runs over. It was at 0.6 m.",
            "Leave it at 0.6 m.",
            "It runs over. It stood at 0.6 m."
        )
    );
    assert_eq!(
        why_of("not sure"),
        told("It runs over.", "Leave it at not measured.", "It runs over.")
    );
}
