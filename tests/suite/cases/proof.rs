//! A repair is called mended only where what it was for was read again, and no longer shows.

use dryhold::case::Ending;
use dryhold::evidence::Proof;
use dryhold::report::verdict;

use super::handbooks::{Bench, asked};

/// Every number is invented.
const TAP: &str = r"
format: 1
name: A tap
version: 1
questions:
  drops: {ask: 'How many drops fall in a minute?', kind: number, range: 0 to 300, basis: estimate}
  seat_feel: {ask: 'How does the seat feel?', choices: {smooth: Smooth, rough: Rough}}
findings:
  drips: {when: drops > 2, so: 'It drips.', so_not: 'It is tight.', shown_by: {washer: nearly always, seat: nearly always}, anyway: rarely, basis: estimate}
  seat_felt: {of: seat_feel, so: 'The seat was felt.', shown_by: {seat: {smooth: 0.05, rough: 0.95}}, anyway: {smooth: 0.95, rough: 0.05}, basis: estimate}
causes:
  washer: {name: A worn washer, how_common: 0.4, because: Rubber hardens., fix: [new_washer], cured_by: {new_washer: 0.95}, basis: estimate}
  seat: {name: A worn seat, how_common: 0.05, because: Grit cuts., fix: [grind], basis: estimate}
actions:
  new_washer: {do: Lay in a new washer., takes: 10 min}
  grind: {do: Grind the seat., takes: 20 min}
trees:
  look:
    title: New washers
    start: feel
    steps:
      feel: {ask: seat_feel, next: first}
      first: {ask: drops, next: change}
      change: {action: new_washer, at_most: 2, then: over, next: count}
      count: {ask: drops, again: true, next: {tree: last}}
      over: {end: Over.}
  last:
    title: The end
    start: over
    steps:
      over: {end: The drops were counted.}
";

/// The first lines of the verdict, and what bears out the repair, once the tap dripped with a smooth
/// seat, a new washer was laid in, and this was answered.
fn after_repair(answer: Option<&str>, look: impl FnOnce(&Bench<'_>, String, Proof)) {
    asked(TAP, &[("seat_feel", "smooth"), ("drops", "60")], |bench| {
        bench.done();
        if let Some(typed) = answer {
            bench.answer("drops", typed);
        }
        let lines = verdict(&bench.case, &Ending::Done);
        let text: Vec<String> = lines.iter().map(|line| line.to_text()).collect();
        let assessment = bench.case.assessment();
        let (_, proof) = assessment.repaired().next().unwrap();
        look(bench, text.join("\n"), proof);
    });
}

#[test]
fn what_was_not_read_again_is_not_mended_or_settled() {
    for answer in [None, Some("not sure")] {
        after_repair(answer, |bench, text, proof| {
            assert_eq!(proof, Proof::NotRead, "{answer:?}");
            let nothing = bench.case.assessment().nothing_wrong;
            assert!(nothing > 0.8, "the cure alone makes it likely: {nothing}");
            assert!(!bench.case.assessment().settled, "{answer:?}");
            assert!(text.contains("Repaired, and not read again since: A worn washer."), "{text}");
            assert!(text.contains("Read again first: "), "{text}");
            assert!(!text.contains("that nothing else is wrong"), "{text}");
            let owed = bench.case.owed().unwrap();
            assert_eq!(bench.case.handbook().question(owed.question).id, "drops");
            assert!(!text.contains("ended: ") && !text.contains("\nSettled"), "{text}");
        });
    }
}

#[test]
fn what_was_read_again_and_is_good_is_mended() {
    after_repair(Some("1"), |bench, text, proof| {
        assert_eq!(proof, Proof::Passed);
        assert!(bench.case.assessment().settled);
        assert_eq!(bench.case.owed(), None);
        assert!(text.contains("\nMended: A worn washer."), "{text}");
    });
}

#[test]
fn what_still_shows_is_not_mended() {
    after_repair(Some("58"), |bench, text, proof| {
        assert_eq!(proof, Proof::StillShows);
        assert!(!bench.case.assessment().settled);
        let said = "\nRepaired, and what showed it still shows: A worn washer.";
        assert!(text.contains(said), "{text}");
    });
}
