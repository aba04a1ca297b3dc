//! Rehearsals of a small handbook: what is measured, and what is said of a scenario that falls
//! short.

use dryhold::document::raw::read_scenario;
use dryhold::evidence::Engine;
use dryhold::handbook::Handbook;
use dryhold::rehearsal::{
    About, Coverage, Measure, Miss, Outcome, Rehearsed, Scenario, no_logs, rehearse,
    resolve_scenario,
};
use dryhold::source::Sources;

use super::cases::handbooks::handbook;

const VALVE: &str = r"
format: 1
name: Valve
version: 1
questions:
  rise:
    ask: How far does it rise?
    kind: pressure
    range: 0 micron to 5000 micron
    cautions: [hands_off]
    basis: estimate
  smell:
    ask: Does it smell of refrigerant?
    kind: yes/no
findings:
  rises:
    when: rise > 50 micron
    only_if: rise <= 2000 micron
    so: It rises by {rise}.
    so_not: It stays below 50 micron.
    shown_by: {leak: 0.95, wet: 0.6}
    anyway: 0.02
    basis: estimate
  smells:
    when: smell
    so: It smells.
    so_not: It does not smell.
    shown_by: {leak: 0.8}
    anyway: 0.02
    basis: estimate
causes:
  leak:
    name: A leak
    how_common: 0.2
    because: A seal is worn.
    fix: [seal]
    basis: estimate
  wet:
    name: Water
    how_common: 0.2
    because: It was left open.
    basis: estimate
actions:
  seal:
    do: Change the seal.
    takes: 10 min
    cautions: [gloves]
    basis: estimate
cautions:
  hands_off: {severity: caution, text: Keep your hands off.}
  gloves: {severity: caution, text: Wear gloves.}
trees:
  valve:
    title: The valve
    start: rise
    steps:
      rise:
        ask: rise
        next:
          - if: rise > 50 micron
            go: smell
          - else: done
      smell: {ask: smell, next: done}
      done: {end: Done.}
    basis: estimate
";

fn scenario(text: &str, handbook: &Handbook) -> Scenario {
    let mut sources = Sources::default();
    let id = sources.add("scenario.yaml", format!("scenario: One\ntree: valve\n{text}"));
    let (raw, faults) = read_scenario(&sources, id);
    assert_eq!(faults, []);
    resolve_scenario(&raw.unwrap(), handbook, &no_logs).unwrap()
}

/// Rehearses scenarios, and gives what is missing by a measure.
fn missing(texts: &[&str], measure: Measure) -> Vec<String> {
    missing_of(VALVE, texts, measure)
}

fn missing_of(rules: &str, texts: &[&str], measure: Measure) -> Vec<String> {
    let handbook = handbook(rules);
    let engine = Engine::new(&handbook).unwrap();
    let mut coverage = Coverage::of(&handbook);
    for text in texts {
        coverage.add(&rehearse(&scenario(text, &handbook), &handbook, &engine).case);
    }
    let mut measured = coverage.measured().into_iter();
    let one = measured.find(|one| one.measure == measure).unwrap();
    assert_eq!(one.of, one.covered + one.missing.len());
    one.missing
}

/// The same comparison in a finding and a branch is one threshold with two sides.
#[test]
fn a_threshold_has_two_sides_and_an_answer_lies_on_one() {
    let sides = [
        "rise > 50 micron is true",
        "rise > 50 micron is false",
        "rise <= 2000 micron is true",
        "rise <= 2000 micron is false",
    ];
    let of = |texts: &[&str]| missing(texts, Measure::Thresholds);
    assert_eq!(of(&[]), sides);
    assert_eq!(of(&["answers: {rise: 80 micron}"]), [sides[1], sides[3]]);
    // The limit itself is not above it.
    assert_eq!(of(&["answers: {rise: 50 micron}"]), [sides[0], sides[3]]);
    let both = ["answers: {rise: 20 micron}", "answers: {rise: 3000 micron}"];
    assert_eq!(of(&both), Vec::<String>::new());
    assert_eq!(of(&["answers: {rise: not sure}"]), sides);
}

/// A gauge off its scale says which side only where the whole of what is left lies there.
#[test]
fn a_bound_lies_on_a_side_only_as_a_whole() {
    let of = |text: &str| missing(&[text], Measure::Thresholds);
    let over = of("answers: {rise: over 100 micron}");
    assert!(!over.contains(&"rise > 50 micron is true".to_owned()), "{over:?}");
    assert!(over.contains(&"rise <= 2000 micron is true".to_owned()), "{over:?}");
    let under = of("answers: {rise: under 100 micron}");
    assert!(under.contains(&"rise > 50 micron is false".to_owned()), "{under:?}");
    assert!(!under.contains(&"rise <= 2000 micron is true".to_owned()), "{under:?}");
}

/// A handbook in which nothing is compared with a constant directly.
fn through_formulas() -> String {
    VALVE
        .replace(
            "findings:\n  rises:\n    when: rise > 50 micron\n    only_if: rise <= 2000 micron\n",
            "formulas:\n  much: {is: 50 micron, basis: estimate}\n  half: {is: rise / 2}\n  \
             far: {is: half > 10 * much, basis: estimate}\n\
             findings:\n  rises:\n    when: 10 micron < half < much\n    only_if: not far\n",
        )
        .replace("if: rise > 50 micron", "if: smell and half > 3 * (rise - much)")
        .replace("start: rise", "start: smell_first")
        .replace("steps:\n", "steps:\n      smell_first: {ask: smell, next: rise}\n")
}

/// Whatever is compared has two sides, each seen where its condition is looked at.
#[test]
fn a_comparison_of_formulas_has_two_sides_at_its_place() {
    let of = |texts: &[&str]| missing_of(&through_formulas(), texts, Measure::Thresholds);
    let sides = [
        "finding rises: 10 micron < half is true",
        "finding rises: 10 micron < half is false",
        "finding rises: half < much is true",
        "finding rises: half < much is false",
        "step valve.rise: half > 3 * (rise - much) is true",
        "step valve.rise: half > 3 * (rise - much) is false",
        "formula far: half > 10 * much is true",
        "formula far: half > 10 * much is false",
    ];
    assert_eq!(of(&[]), sides);
    let low = "answers: {smell: no, rise: 30 micron}";
    assert_eq!(of(&[low]), [sides[1], sides[3], sides[5], sides[6]]);
    let high = "answers: {smell: no, rise: 400 micron}";
    assert_eq!(of(&[low, high]), [sides[1], sides[6]]);
    // Where the finding does not apply, nothing is looked at behind its `only_if`.
    let far = "answers: {smell: no, rise: 2000 micron}";
    assert_eq!(of(&[far]), [sides[0], sides[1], sides[2], sides[3], sides[4], sides[7]]);
    // What is not known lies on no side, and a case that ends before a step never looks there.
    assert_eq!(of(&["answers: {smell: no, rise: not sure}"]), sides);
    assert_eq!(of(&["answers: {smell: no}"]), sides);
}

/// A step behind a condition that no answer meets is nothing that a scenario could reach.
#[test]
fn what_is_proved_to_be_out_of_reach_does_not_count() {
    let text = VALVE
        .replace(
            "          - else: done\n",
            "          - if: rise < 0 micron\n            go: lost\n          - else: done\n",
        )
        .replace(
            "      done: {end: Done.}\n",
            "      done: {end: Done.}\n      lost: {end: Lost.}\n",
        );
    let handbook = handbook(&text);
    let of = |coverage: &Coverage, measure: Measure| {
        coverage.measured().into_iter().find(|one| one.measure == measure).unwrap().missing
    };
    let mut coverage = Coverage::of(&handbook);
    assert!(of(&coverage, Measure::Steps).contains(&"valve.lost".to_owned()));
    coverage.leave_out_of_reach(&handbook);
    assert_eq!(of(&coverage, Measure::Steps), ["valve.rise", "valve.smell", "valve.done"]);
    let branches = ["valve.rise -> smell", "valve.rise -> done", "valve.smell -> done"];
    assert_eq!(of(&coverage, Measure::Branches), branches);
}

#[test]
fn findings_count_both_ways_and_branches_each() {
    let leak = "answers: {rise: 80 micron, smell: yes}";
    let fine = "answers: {rise: 20 micron}";
    assert_eq!(missing(&[leak], Measure::Findings), ["rises is false", "smells is false"]);
    assert_eq!(missing(&[leak, fine], Measure::Findings), ["smells is false"]);
    assert_eq!(missing(&[fine], Measure::Branches), ["valve.rise -> smell", "valve.smell -> done"]);
    assert_eq!(missing(&[fine], Measure::Steps), ["valve.smell"]);
}

/// A cause counts where it leads, a caution where its question is asked or its repair named.
#[test]
fn causes_lead_and_cautions_are_shown() {
    let leak = "answers: {rise: 80 micron, smell: yes}";
    let wet = "answers: {rise: 80 micron, smell: no}";
    let fine = "answers: {rise: 20 micron}";
    assert_eq!(missing(&[fine], Measure::Causes), ["leak", "wet"]);
    assert_eq!(missing(&[leak], Measure::Causes), ["wet"]);
    assert_eq!(missing(&[leak, wet], Measure::Causes), Vec::<String>::new());
    assert_eq!(missing(&[], Measure::Cautions), ["hands_off", "gloves"]);
    assert_eq!(missing(&[fine], Measure::Cautions), ["gloves"]);
    assert_eq!(missing(&[leak], Measure::Cautions), Vec::<String>::new());
}

fn misses(text: &str) -> Vec<Miss> {
    let handbook = handbook(VALVE);
    let engine = Engine::new(&handbook).unwrap();
    let Rehearsed { outcome, misses, .. } =
        rehearse(&scenario(text, &handbook), &handbook, &engine);
    assert_eq!(misses.first().map_or(Outcome::Found, |miss| miss.outcome), outcome);
    misses
}

/// Both words, the number, the reasons on either side and the answer that turned it.
#[test]
fn a_missed_cause_says_why_and_from_where() {
    let found = misses(
        "answers: {rise: 80 micron, smell: no}\nexpect: {ranking: {leak: at least roughly even}}",
    );
    let [miss] = &found[..] else { panic!("{found:?}") };
    assert_eq!(miss.about, About::Ranking("leak".to_owned()));
    assert_eq!(miss.expected, "at least roughly even");
    assert_eq!(miss.found, "unlikely");
    let [for_it, against, turn] = &miss.because[..] else { panic!("{:?}", miss.because) };
    assert!(for_it.starts_with("`rises`: It rises by ") && for_it.contains("for it"), "{for_it}");
    assert!(against.starts_with("`smells`: It does not smell. ("), "{against}");
    assert!(turn.starts_with("went another way when `smell` is `no`: likely ("), "{turn}");
}

/// A cause that was never where it should be is told by what led it furthest away.
#[test]
fn a_cause_that_never_was_there_says_so() {
    let found = misses("answers: {rise: 20 micron}\nexpect: {ranking: {wet: almost certain}}");
    let turn = found[0].because.last().unwrap();
    assert!(turn.starts_with("never was; furthest away when `rise` is `20 micron`"), "{turn}");
}

/// An answer that moves nothing is no turn, and what keeps a finding from being told is named.
#[test]
fn what_says_nothing_is_left_out_and_what_is_missing_is_named() {
    let found = misses("answers: {smell: not sure}\nexpect: {ranking: {wet: almost certain}}");
    assert!(!found[0].because.iter().any(|why| why.contains("furthest away")), "{found:?}");
    let found = misses("answers: {smell: yes}\nexpect: {findings: {rises: true}}");
    assert_eq!(found[0].because, ["`rise` has no answer"]);
}

#[test]
fn other_misses_say_both_words_as_a_scenario_has_them() {
    let found = misses(
        "answers: {rise: 3000 micron}\n\
         expect: {settled: true, stopped: yes, next: [rise], findings: {rises: too close}}",
    );
    let told: Vec<(String, &str, &str)> =
        found.iter().map(|m| (m.about.path(), &*m.expected, &*m.found)).collect();
    let path = |text: &str| text.to_owned();
    assert_eq!(told[0], (path("stopped"), "yes", "no"));
    assert_eq!(told[1], (path("settled"), "true", "false"));
    assert_eq!(told[2], (path("findings.rises"), "too close", "not applicable"));
    assert_eq!(told[3].0, "next");
}

#[test]
fn a_scenario_without_an_expectation_counts_and_does_not_fall_short() {
    let handbook = handbook(VALVE);
    let engine = Engine::new(&handbook).unwrap();
    let unfilled = scenario("answers: {rise: 80 micron}", &handbook);
    let rehearsed = rehearse(&unfilled, &handbook, &engine);
    assert_eq!(rehearsed.outcome, Outcome::NotJudged);
    assert!(!rehearsed.outcome.is_short());
    assert_eq!(missing(&["answers: {rise: 80 micron}"], Measure::Steps), Vec::<String>::new());
}
