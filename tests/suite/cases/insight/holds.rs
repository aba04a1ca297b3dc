//! How far the handbook's numbers may be off: read off a handbook with another number in it.

use dryhold::evidence::{Engine, HoldsWhile};
use dryhold::handbook::{CauseId, FindingId, Handbook, Observes};

use super::pump::HANDBOOK;
use super::{Answers, Bench, answered, answers, assert_leads, handbook, leading, several};

/// The handbook's text with another number in the place of one.
fn with_number(handbook: &Handbook, hold: &HoldsWhile, number: f64) -> String {
    let cause = &handbook.cause(hold.cause).id;
    if let (Some(finding), Some(outcome)) = (hold.finding, hold.outcome) {
        return with_share(handbook, (finding, hold.cause), outcome, number);
    }
    let (section, entry, key) = match hold.finding {
        Some(finding) => ("findings:", handbook.finding(finding).id.clone(), cause.clone()),
        None => ("causes:", cause.clone(), "how_common".to_owned()),
    };
    let after = |from: usize, wanted: &str| {
        let at = HANDBOOK[from..].find(wanted).unwrap_or_else(|| panic!("no {wanted:?}"));
        from + at + wanted.len()
    };
    let start = after(after(after(0, section), &format!("\n  {entry}:")), &format!("{key}: "));
    let stated = hold.stated.to_string();
    assert!(HANDBOOK[start..].starts_with(&stated), "{hold:?}");
    [&HANDBOOK[..start], &number.to_string(), &HANDBOOK[start + stated.len()..]].concat()
}

/// Lets a check see the case in a handbook with another number.
fn with(handbook: &Handbook, hold: &HoldsWhile, number: f64, check: impl Fn(&Handbook, &Engine)) {
    let other = super::handbook(&with_number(handbook, hold, number));
    check(&other, &Engine::new(&other).unwrap());
}

/// The handbook's text with another share of an outcome of a choice, the others scaled.
fn with_share(
    handbook: &Handbook,
    (finding, cause): (FindingId, CauseId),
    outcome: usize,
    number: f64,
) -> String {
    let finding = handbook.finding(finding);
    let Observes::Of(question) = finding.observes else { panic!("{finding:?}") };
    let shares = &finding.shown_by.iter().find(|(by, _)| *by == cause).unwrap().1;
    let rest = (1.0 - number) / (1.0 - shares[outcome]);
    let shown = handbook.question(question).choices.iter().zip(shares).enumerate();
    let shown = shown.map(|(place, (choice, share))| {
        format!("{}: {}", choice.id, if place == outcome { number } else { share * rest })
    });
    let shown = shown.collect::<Vec<String>>().join(", ");
    let wanted = format!("\n      {}: {{", handbook.cause(cause).id);
    let from = HANDBOOK.find(&format!("\n  {}:", finding.id)).unwrap();
    let start = from + HANDBOOK[from..].find(&wanted).unwrap() + wanted.len();
    let end = start + HANDBOOK[start..].find('}').unwrap();
    [&HANDBOOK[..start], &shown, &HANDBOOK[end..]].concat()
}

/// Asserts that the lead stays up to each crossing and is another one beyond it.
fn assert_holds(answers: &Answers, then: impl Fn(&mut Bench<'_>)) -> Vec<HoldsWhile> {
    let handbook = handbook(HANDBOOK);
    let engine = Engine::new(&handbook).unwrap();
    let case = |handbook: &Handbook, engine: &Engine, to: &dryhold::evidence::Decided| {
        let mut bench = answered(handbook, engine, answers);
        then(&mut bench);
        assert_leads(&bench, to);
    };
    let mut bench = answered(&handbook, &engine, answers);
    then(&mut bench);
    let now = leading(&bench);
    let holds = bench.case.insight().holds_while;
    for hold in &holds {
        let step = 1e-5_f64.copysign(hold.at - hold.stated);
        for number in [(hold.stated + hold.at) / 2.0, hold.at - step] {
            with(&handbook, hold, number, |handbook, engine| case(handbook, engine, &now));
        }
        with(&handbook, hold, hold.at + step, |other, engine| case(other, engine, &hold.to));
    }
    holds
}

#[test]
fn a_verdict_holds_while_a_number_stays_on_its_side() {
    let past = answers(&[("old", "yes"), ("dry_store", "yes")]);
    let with_past = several().into_iter().map(|answers| [&answers[..], &past[..]].concat());
    let all = several().into_iter().chain(with_past);
    let found: Vec<HoldsWhile> = all.flat_map(|answers| assert_holds(&answers, |_| {})).collect();
    assert!(found.len() >= 4, "only {found:?}");
    assert!(found.iter().any(|hold| hold.outcome.is_some()), "no share of a choice: {found:?}");
}

/// The strength of what was read before a repair and after it stands in the network twice, so that
/// no straight line leads to where the verdict turns.
#[test]
fn a_verdict_after_a_repair_holds_while_a_number_stays_on_its_side() {
    let mut twice = 0;
    for (before, looks, after) in [
        ("yes", "cloudy", "yes"),
        ("yes", "milky", "yes"),
        ("yes", "cloudy", "no"),
        ("yes", "milky", "no"),
        ("yes", "clear", "yes"),
    ] {
        let given = answers(&[("reads_high", before), ("looks", looks)]);
        let found = assert_holds(&given, |bench| {
            super::mending::change_oil(bench);
            bench.answer("reads_high", after);
        });
        // The first finding is the one that is read twice.
        twice += found.iter().filter(|h| h.finding.is_some_and(|f| f.index() == 0)).count();
    }
    assert!(twice > 0, "no strength that stands twice");
}

#[test]
fn no_number_holds_a_verdict_that_nothing_near_changes() {
    let all = answers(&[
        ("reads_high", "yes"),
        ("looks", "clear"),
        ("rises", "yes"),
        ("bubbles", "yes"),
        ("floor", "60 micron"),
    ]);
    let handbook = handbook(HANDBOOK);
    let engine = Engine::new(&handbook).unwrap();
    let insight = answered(&handbook, &engine, &all).case.insight();
    assert!(insight.changes.is_empty(), "{:?}", insight.changes);
    assert!((insight.same_decision - 1.0).abs() < 1e-12);
}
