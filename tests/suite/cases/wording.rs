//! What a verdict says in cases built to make it say so: two things at once, nothing that stands
//! out, too close, not applicable, mended and not, settled with nothing wrong.

use dryhold::case::{Ending, Event};
use dryhold::evidence::{Engine, FindingState};
use dryhold::report::{verdict, why};

use super::handbooks::{Bench, asked, handbook};

/// Every number is invented.
const HANDBOOK: &str = r"
format: 1
name: Two faults
version: 1
instruments:
  gauge: {name: Gauge, offset: 20 micron, basis: estimate}
questions:
  wet_marks: {ask: 'Are there wet marks?', kind: yes/no}
  bubbles_seen: {ask: 'Are there bubbles?', kind: yes/no}
  was_capped: {ask: 'Was it capped?', kind: yes/no}
  floor: {ask: 'What does it read?', kind: pressure, range: 0 micron to 9000 micron, instrument: gauge, basis: estimate}
findings:
  marks: {when: wet_marks, name: there are wet marks, so: There are wet marks., so_not: It is dry., shown_by: {moisture: 0.95}, anyway: 0.01, basis: estimate}
  bubbles: {when: bubbles_seen, so: It bubbles., so_not: Nothing bubbles., shown_by: {leak: 0.95}, anyway: 0.01, basis: estimate}
  floor_high:
    when: floor > 100 micron
    only_if: was_capped
    name: the floor is high
    name_not: the floor is low
    so: The floor is high.
    so_not: The floor is low.
    shown_by: {moisture: 0.6, leak: 0.6}
    anyway: 0.05
    basis: estimate
causes:
  moisture: {name: Moisture, how_common: 0.2, because: Water boils off., fix: [dry_it], cured_by: {dry_it: 0.9}, basis: estimate}
  leak: {name: A leak, how_common: 0.2, because: Air comes in., basis: estimate}
actions:
  dry_it: {do: Dry it., takes: 20 min}
trees:
  look:
    title: Look
    start: marks
    steps:
      marks: {ask: wet_marks, next: over}
      over: {end: It has been looked at.}
";

fn with<T>(answers: &[(&str, &str)], look: impl FnOnce(&mut Bench<'_>) -> T) -> T {
    asked(HANDBOOK, answers, look)
}

fn lines(bench: &Bench<'_>) -> Vec<String> {
    verdict(&bench.case, &Ending::Done).iter().map(dryhold::text::Line::to_text).collect()
}

fn said(answers: &[(&str, &str)]) -> Vec<String> {
    with(answers, |bench| lines(bench))
}

#[track_caller]
fn assert_said(lines: &[String], text: &str) {
    assert!(lines.iter().any(|line| line.contains(text)), "`{text}` is not in {lines:#?}");
}

#[track_caller]
fn assert_unsaid(lines: &[String], text: &str) {
    assert!(!lines.iter().any(|line| line.contains(text)), "`{text}` is in {lines:#?}");
}

#[test]
fn two_causes_at_once_are_said_as_such() {
    let both = said(&[("wet_marks", "yes"), ("bubbles_seen", "yes")]);
    assert_said(&both, "Two things at once: Moisture and A leak. That both are there: ");
    assert_said(&both, "Mending one leaves the other.");
    // What comes with it is no other explanation.
    assert_said(&both, "Nothing else stands out.");
    let one = said(&[("wet_marks", "yes"), ("bubbles_seen", "no")]);
    assert_unsaid(&one, "Two things at once");
}

#[test]
fn the_chance_of_both_is_the_joint_one() {
    with(&[("wet_marks", "yes"), ("bubbles_seen", "yes")], |bench| {
        let pair = bench.case.assessment().together.unwrap();
        // Two faults, each with a finding of its own, stay independent.
        let expected = bench.probability("moisture") * bench.probability("leak");
        assert!((pair.probability - expected).abs() < 1e-12, "{pair:?}, {expected}");
    });
}

#[test]
fn a_lead_that_is_no_more_likely_than_not_does_not_stand_out() {
    let lines = said(&[("was_capped", "yes"), ("floor", "200 micron")]);
    assert_said(&lines, "Not settled, and nothing stands out yet. First comes Moisture: ");
    assert_said(&lines, " that it is not there. The next best explanation is A leak: ");
    let lines = said(&[("wet_marks", "no"), ("bubbles_seen", "no")]);
    assert_unsaid(&lines, "nothing stands out");
    assert_said(&lines, " that nothing is wrong. ");
    assert_said(&lines, " that something is. ");
}

#[test]
fn too_close_is_said_with_what_keeps_it_open() {
    let lines = said(&[("was_capped", "yes"), ("floor", "104 micron")]);
    assert_said(&lines, "What is not settled");
    assert_said(
        &lines,
        "- Too close to tell (about 6 in 10 for it): whether the floor is high. It is ",
    );
    assert_said(&lines, " above 100 micron, within the doubt of what was read.");
}

#[test]
fn what_was_measured_and_does_not_count_is_said_with_the_reason() {
    let lines = said(&[("wet_marks", "yes"), ("was_capped", "no"), ("floor", "400 micron")]);
    assert_said(&lines, "What was answered and does not count");
    assert_said(&lines, "- Whether the floor is high: it counts only where ");
    // Without a reading there is nothing to tell of.
    let lines = said(&[("wet_marks", "yes"), ("was_capped", "no")]);
    assert_unsaid(&lines, "does not count");
}

#[test]
fn what_does_not_count_names_questions_by_what_they_ask() {
    let text = HANDBOOK
        .replace("only_if: was_capped", "only_if: was_capped and was_wet")
        .replace("findings:\n", "formulas:\n  was_wet: {is: previous(wet_marks)}\nfindings:\n");
    let given = [("wet_marks", "yes"), ("was_capped", "yes"), ("floor", "400 micron")];
    asked(&text, &given, |bench| {
        let told = lines(bench);
        assert_said(&told, "\"Are there wet marks?\" has no earlier answer");
        assert_unsaid(&told, "wet marks has no earlier answer");
    });
}

#[test]
fn what_was_assumed_is_said_beside_what_rests_on_it() {
    let room = "questions:\n  room: {ask: 'How large is it?', kind: volume, unit: L, range: 1 L to 90 L, \
                not_sure: 10 L to 20 L, basis: estimate}\n";
    let text = HANDBOOK
        .replacen("questions:\n", room, 1)
        .replace("marks: {ask: wet_marks, next: over}", "marks: {ask: room, next: over}")
        .replace("end: It has been looked at.", "end: 'It holds {room}.'");
    asked(&text, &[("room", "not sure")], |bench| {
        let told = lines(bench);
        assert_said(&told, "(assumed)");
        assert_said(&told, "Assumed, since it isn't known: \"How large is it?\" 1");
    });
    asked(&text, &[("room", "12 L")], |bench| assert_unsaid(&lines(bench), "Assumed, since"));
}

#[test]
fn what_is_not_known_says_what_is_missing() {
    with(&[("wet_marks", "yes"), ("was_capped", "yes")], |bench| {
        let id = bench.case.handbook().find_finding("floor_high").unwrap();
        assert_eq!(bench.case.assessment().finding(id).state, FindingState::Unknown);
        let reason = bench.case.finding_says(id).lacks.unwrap();
        let told = why(&bench.case, "the floor is high").unwrap();
        assert!(told[0].to_text().contains(&format!("not known: {reason}")));
        assert!(reason.contains("floor"), "{reason}");
    });
}

#[test]
fn an_outcome_is_named_as_its_author_names_it() {
    with(&[], |bench| {
        let outcome = |id: &str, outcome| {
            let finding = bench.case.handbook().find_finding(id).unwrap();
            bench.case.finding_outcome(finding, outcome)
        };
        assert_eq!(outcome("floor_high", 1), "the floor is high");
        assert_eq!(outcome("floor_high", 0), "the floor is low");
        assert_eq!(outcome("marks", 1), "there are wet marks");
        assert_eq!(outcome("marks", 0), "it is not so that there are wet marks");
        assert_eq!(outcome("bubbles", 1), "\"bubbles\" comes out yes");
    });
}

/// Work that the tree waits for is never named without its caution, and after a stop not at all.
#[test]
fn the_work_that_a_tree_waits_for_stands_behind_its_caution() {
    let text = HANDBOOK
        .replace("takes: 20 min}", "takes: 20 min, cautions: [hot]}")
        .replace("next: over}\n", "next: dry}\n      dry: {action: dry_it, next: over}\n")
        + "cautions:\n  hot: {severity: caution, text: It is hot.}\n";
    asked(&text, &[("wet_marks", "yes")], |bench| {
        let told = lines(bench);
        let at = |text: &str| told.iter().position(|line| line.contains(text)).unwrap();
        let work = at("Next on this way: Dry it.");
        assert!(at("It is hot.") < work, "{told:?}");
        let stopped =
            verdict(&bench.case, &Ending::Stopped(bench.case.handbook().find_caution("hot")));
        let told: Vec<String> = stopped.iter().map(dryhold::text::Line::to_text).collect();
        assert_unsaid(&told, "Next on this way");
    });
}

#[test]
fn what_a_repair_was_made_for_is_said_to_have_been_there() {
    with(&[("wet_marks", "yes")], |bench| {
        let acted = Event::Acted {
            action: "dry_it".to_owned(),
            tree: "look".to_owned(),
            step: "marks".to_owned(),
        };
        bench.apply(acted);
        bench.answer("wet_marks", "no");
        assert_said(&lines(bench), "Mended: Moisture. That it was there at first: ");
        bench.answer("wet_marks", "yes");
        assert_said(&lines(bench), "Not mended yet: Moisture. That it was there at first: ");
    });
}

#[test]
fn a_repair_says_what_it_costs_and_where_it_stands() {
    with(&[("wet_marks", "yes")], |bench| {
        let told: Vec<String> =
            why(&bench.case, "dry_it").unwrap().iter().map(dryhold::text::Line::to_text).collect();
        let step = bench.case.insight().repairs.steps[0].clone();
        assert_said(&told, "It takes 20 min by itself");
        assert_said(&told, "cured by it in 90 % (estimate)");
        assert_said(&told, "- Number 1 of 1, by what it mends per minute: ");
        assert_said(&told, &format!("for {:.0} min with what it needs", step.minutes));
    });
}

#[test]
fn a_next_check_says_its_bits_and_minutes() {
    with(&[("wet_marks", "yes")], |bench| {
        let test = bench.case.insight().tests[0].clone();
        let ask = bench.case.question_view(test.questions[0]).ask.to_text();
        let told: Vec<String> =
            why(&bench.case, &ask).unwrap().iter().map(dryhold::text::Line::to_text).collect();
        let expected = format!("{:.3} bits in {:.1} min", test.bits, test.minutes);
        assert_said(&told, &expected);
    });
}

#[test]
fn nothing_wrong_once_settled_says_what_is_left_to_do() {
    let dry = [("wet_marks", "no"), ("bubbles_seen", "no"), ("was_capped", "yes")];
    let lines = said(&[&dry[..], &[("floor", "20 micron")]].concat());
    assert_said(&lines, "Settled: ");
    assert_said(&lines, "What to do now");
    assert_said(&lines, "- Nothing needs mending. Prove the job by the tests and limits");
}

/// So many causes, each of which one repair cures.
fn many(causes: usize) -> String {
    use std::fmt::Write as _;
    let ids: Vec<String> = (1..=causes).map(|n| format!("c{n:02}")).collect();
    let mut text = "format: 1
name: Many
version: 1
actions:
  mend_all: {do: Mend all.}
trees:
  look: {title: Look, start: ask, steps: {ask: {ask: odd, next: over}, over: {end: Over.}}}
questions:
  odd: {ask: 'Odd?', kind: yes/no}
findings:
  odd_seen:
    when: odd
    anyway: 0.05
    basis: estimate
    shown_by:
"
    .to_owned();
    ids.iter().for_each(|id| writeln!(text, "      {id}: 0.5").unwrap());
    text.push_str("causes:\n");
    for id in &ids {
        let numbers = "how_common: 0.03, because: So., cured_by: {mend_all: 0.9}";
        writeln!(text, "  {id}: {{name: C {id}, fix: [mend_all], {numbers}, basis: estimate}}")
            .unwrap();
    }
    text
}

/// Causes and repairs together have eighteen nodes: nine causes of one connected group with a
/// repair of each are weighed with what the repair did. Eighteen causes leave no room for it and
/// still come to a verdict; a nineteenth is refused.
#[test]
fn eighteen_causes_are_weighed_after_repairs_and_nineteen_refused() {
    for (causes, has_room) in [(9, true), (18, false)] {
        let handbook = handbook(&many(causes));
        let engine = Engine::new(&handbook).unwrap();
        let mut bench = Bench::open(&handbook, &engine, "look");
        bench.answer("odd", "yes");
        let before = bench.probability("c01");
        let acted = Event::Acted {
            action: "mend_all".to_owned(),
            tree: "look".to_owned(),
            step: "ask".to_owned(),
        };
        bench.apply(acted);
        bench.answer("odd", "no");
        let ranking = &bench.case.assessment().ranking;
        assert_eq!(ranking.len(), causes);
        assert!(ranking.iter().all(|ranked| ranked.probability < before));
        if has_room {
            assert!(ranking.iter().all(|ranked| ranked.probability < 0.03));
            assert!(bench.was("c01") > 0.03);
        }
        assert_said(&lines(&bench), "that nothing ");
    }
    let mut sources = dryhold::source::Sources::default();
    let id = sources.add("many.yaml", many(19));
    let compiled = dryhold::handbook::compile(&sources, &[id], &[]);
    assert!(compiled.handbook.is_none());
    let look = dryhold::diagnostic::Look::default();
    let told = dryhold::diagnostic::render(&compiled.faults, &sources, look);
    assert!(
        told.contains("error[H507]: 19 causes are more than can be weighed together"),
        "{told}"
    );
    assert!(told.contains("only 18 causes can be weighed exactly"), "{told}");
}

#[test]
fn what_is_not_as_it_should_be_is_said_where_nothing_wrong_leads() {
    let text = HANDBOOK
        .replace(
            "shown_by: {moisture: 0.95}, anyway: 0.01",
            "shown_by: {moisture: 0.9}, anyway: 0.2",
        )
        .replace(
            "moisture: {name: Moisture, how_common: 0.2",
            "moisture: {name: Moisture, how_common: 0.02",
        );
    let answers = [
        ("wet_marks", "yes"),
        ("bubbles_seen", "no"),
        ("was_capped", "yes"),
        ("floor", "10 micron"),
    ];
    let lines = asked(&text, &answers, |bench| lines(bench));
    assert_said(&lines, "Settled: ");
    assert_said(
        &lines,
        "nothing known here is likely to explain it: There are wet marks. Check it",
    );
    assert_unsaid(&lines, "Nothing needs mending");
    let dry = [
        ("wet_marks", "no"),
        ("bubbles_seen", "no"),
        ("was_capped", "yes"),
        ("floor", "10 micron"),
    ];
    let lines = asked(&text, &dry, |bench| self::lines(bench));
    assert_said(&lines, "Nothing needs mending");
    assert_unsaid(&lines, "not as it should be");
}

#[test]
fn whom_to_call_in_is_the_handbooks_to_say() {
    let text = HANDBOOK.replace("version: 1\n", "version: 1\ncall_in: a licensed electrician\n");
    let answers = [("wet_marks", "yes"), ("bubbles_seen", "no")];
    let told = asked(&text, &answers, |bench| lines(bench));
    assert_said(&told, "If in doubt, ask a licensed electrician.");
    assert_said(&told, "If it has not helped, call in a licensed electrician.");
    assert_said(&said(&answers), "If in doubt, ask a licensed person.");
}

#[test]
fn what_makes_a_cause_likelier_is_said_by_its_name() {
    let text = HANDBOOK
        .replace("how_common: 0.2, because: Water boils off.", "how_common: 0.2, more_if: {wet_week: 4}, because: Water boils off.")
        .replace("findings:\n", "formulas:\n  wet_week: {is: rain_days > 3, name: it rained on more than three days, basis: estimate}\nfindings:\n")
        .replace("  was_capped:", "  rain_days: {ask: 'On how many days did it rain?', kind: number, range: 0 to 7, basis: estimate}\n  was_capped:");
    let told = asked(&text, &[("rain_days", "5"), ("wet_marks", "yes")], |bench| lines(bench));
    assert_said(&told, "- It rained on more than three days. (");
}
