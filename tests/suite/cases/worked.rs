//! Work that helped: why what it was done against is less likely now, and where what was found
//! before it stands.

use dryhold::case::Ending;
use dryhold::report::verdict;

use super::handbooks::asked;

/// Every number is invented.
const CELLAR: &str = r"
format: 1
name: A cellar wall
version: 1
questions:
  drips: {ask: 'How many drops fall in a minute?', kind: number, range: 0 to 300, basis: estimate}
  place: {ask: 'Where does it drip?', kind: text}
  smells: {ask: 'Does it smell of mould?', kind: yes/no}
  drips_after: {ask: 'How many fall after it was aired?', kind: number, range: 0 to 300, basis: estimate}
findings:
  wet: {when: drips > 2, so: 'It dripped. The place: {place}.', so_not: 'It did not drip.', shown_by: {damp: nearly always, pipe: nearly always}, anyway: 0.05, basis: estimate}
  mould: {when: smells, so: 'It smells of mould.', so_not: 'It smells of nothing.', shown_by: {damp: usually}, anyway: 0.2, basis: estimate}
  helped: {when: drips_after < drips / 2, so: 'Airing helped.', so_not: 'Airing did not help.', shown_by: {damp: usually}, anyway: 0.2, basis: estimate}
causes:
  damp: {name: Damp, how_common: 0.4, because: Cold walls sweat., fix: [air], cured_by: {air: 0.35}, basis: estimate}
  pipe: {name: A leaky pipe, how_common: 0.05, because: Pipes burst., fix: [mend], basis: estimate}
actions:
  air: {do: Air the cellar., takes: 60 min, once_done: the cellar was aired}
  mend: {do: Mend the pipe., takes: 20 min}
trees:
  look:
    title: The cellar
    start: first
    steps:
      first: {ask: drips, next: where}
      where: {ask: place, next: nose}
      nose: {ask: smells, next: air}
      air: {action: air, next: after}
      after: {ask: drips_after, next: nose_again}
      nose_again: {ask: smells, again: true, next: over}
      over: {end: It was aired.}
";

/// The verdict once it dripped and smelt, the cellar was aired, and this was answered.
fn told(after: &[(&str, &str)]) -> String {
    told_of(CELLAR, "the north wall", after)
}

fn told_of(handbook: &str, place: &str, after: &[(&str, &str)]) -> String {
    asked(handbook, &[("drips", "60"), ("place", place), ("smells", "yes")], |bench| {
        bench.done();
        for (id, typed) in after {
            bench.answer(id, typed);
        }
        let lines = verdict(&bench.case, &Ending::Done);
        lines.iter().map(|line| line.to_text()).collect::<Vec<_>>().join("\n")
    })
}

/// The lines under a heading.
fn under<'t>(text: &'t str, heading: &str) -> Vec<&'t str> {
    let lines = text.lines().skip_while(|line| !line.starts_with(heading)).skip(1);
    lines.take_while(|line| line.starts_with("- ")).collect()
}

#[test]
fn what_was_done_is_the_reason_why_a_cause_that_it_helped_against_is_less_likely() {
    let text = told(&[("drips_after", "20"), ("smells", "yes")]);
    assert!(
        under(&text, "What speaks for it (Damp)").concat().contains("Airing helped."),
        "{text}"
    );
    let against = under(&text, "What speaks against it (Damp)").concat();
    let said = "- Since it was found, the cellar was aired, which takes it away in about 4 in 10 \
                (estimate). So it is less likely to be there now than at first, which was almost \
                certain (more than 99 in 100): what helped may have taken it all.";
    assert!(against.contains(said), "{text}");
}

#[test]
fn nothing_is_said_of_work_that_was_not_done() {
    let before = [("drips", "60"), ("place", "not sure"), ("smells", "yes")];
    let text = asked(CELLAR, &before, |bench| {
        let lines = verdict(&bench.case, &Ending::Done);
        lines.iter().map(|line| line.to_text()).collect::<Vec<_>>().join("\n")
    });
    assert!(text.contains("Damp") && !text.contains("Since it was found"), "{text}");
}

#[test]
fn what_was_found_before_the_work_is_told_once_and_after_what_was_found_since() {
    let text = told(&[("drips_after", "20"), ("smells", "yes")]);
    let speaks_for = under(&text, "What speaks for it (Damp)");
    let earlier = |line: &&&str| line.contains("As first found:");
    assert_eq!(speaks_for.iter().filter(earlier).count(), 1, "{text}");
    assert!(speaks_for.last().is_some_and(|line| line.starts_with("- As first found:")), "{text}");
    assert!(speaks_for.len() > 1 && !text.contains("Together with: As first found"), "{text}");
}

#[test]
fn what_showed_a_cause_is_told_with_its_place_once_the_cause_is_gone() {
    let handbook = CELLAR.replace("air: 0.35", "air: 0.97");
    let after = [("drips_after", "58"), ("smells", "no")];
    let text = told_of(&handbook, "the north wall", &after);
    let said = "\nWhat showed it before the work: It dripped. The place: the north wall. ";
    assert!(text.contains("\nMended: Damp.") && text.contains(said), "{text}");
}

/// Without an article before it, the name of a question would stand as if it were an answer.
#[test]
fn a_sentence_about_a_place_that_nobody_has_told_is_left_out() {
    let text = told_of(CELLAR, "not sure", &[("drips_after", "20"), ("smells", "yes")]);
    assert!(text.contains("It dripped. (") && !text.contains("The place"), "{text}");
    let named = CELLAR.replace("The place: {place}.", "It stood at the {place}.");
    let text = told_of(&named, "not sure", &[("drips_after", "20"), ("smells", "yes")]);
    assert!(text.contains("It dripped. It stood at the place. ("), "{text}");
}
