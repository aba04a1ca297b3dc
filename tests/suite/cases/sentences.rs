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
