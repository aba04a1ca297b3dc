//! What stands behind a verdict, each claim checked by letting it come about.

mod asking;
mod before_asking;
mod holds;
mod mending;
mod preparing;
mod pump;
mod too_many;

use dryhold::evidence::{Decided, Engine, Insight, Witness, witnesses};
use dryhold::handbook::{Handbook, Observes};

use super::handbooks::{Bench, handbook};
use pump::HANDBOOK;

/// Answers, by the ids of their questions.
type Answers = Vec<(String, String)>;

fn answers(pairs: &[(&str, &str)]) -> Answers {
    pairs.iter().map(|(id, typed)| ((*id).to_owned(), (*typed).to_owned())).collect()
}

fn answered<'h>(handbook: &'h Handbook, engine: &'h Engine, answers: &Answers) -> Bench<'h> {
    let mut bench = Bench::open(handbook, engine, "pump");
    for (id, typed) in answers {
        bench.answer(id, typed);
    }
    bench
}

/// What leads in a case.
fn leading(bench: &Bench<'_>) -> Decided {
    let assessment = bench.case.assessment();
    if assessment.nothing_leads() {
        Decided::NothingWrong
    } else {
        Decided::Causes(assessment.groups[0].causes.clone())
    }
}

/// The same decision whichever of its causes is the likeliest.
fn in_order(decided: &Decided) -> Decided {
    match decided {
        Decided::NothingWrong => Decided::NothingWrong,
        Decided::Causes(causes) => {
            let mut causes = causes.clone();
            causes.sort();
            Decided::Causes(causes)
        }
    }
}

#[track_caller]
fn assert_leads(bench: &Bench<'_>, expected: &Decided) {
    assert_eq!(in_order(&leading(bench)), in_order(expected));
}

/// The answer that gives a finding this outcome.
fn answer_for(handbook: &Handbook, finding: usize, outcome: usize) -> (String, String) {
    let finding = &handbook.findings()[finding];
    match &finding.observes {
        Observes::Of(question) => {
            let question = handbook.question(*question);
            (question.id.clone(), question.choices[outcome].id.clone())
        }
        Observes::When(_) => {
            let question = handbook.questions_under(finding.symbol)[0];
            let question = handbook.question(question);
            let typed = match (question.id.as_str(), outcome) {
                ("floor", 0) => "60 micron",
                ("floor", _) => "150 micron",
                (_, 0) => "no",
                (_, _) => "yes",
            };
            (question.id.clone(), typed.to_owned())
        }
    }
}

/// Cases that lead to one thing and another.
fn several() -> Vec<Answers> {
    vec![
        answers(&[("reads_high", "yes")]),
        answers(&[("reads_high", "yes"), ("looks", "clear")]),
        answers(&[("reads_high", "yes"), ("looks", "cloudy"), ("rises", "yes")]),
        answers(&[("reads_high", "no"), ("looks", "clear")]),
        answers(&[("reads_high", "yes"), ("looks", "clear"), ("rises", "yes"), ("bubbles", "no")]),
        answers(&[("old", "yes"), ("reads_high", "yes"), ("rises", "yes"), ("floor", "95 micron")]),
    ]
}

fn each(check: impl Fn(&Handbook, &Engine, &Answers, &Insight)) {
    let handbook = handbook(HANDBOOK);
    let engine = Engine::new(&handbook).unwrap();
    for answers in several() {
        let insight = answered(&handbook, &engine, &answers).case.insight();
        check(&handbook, &engine, &answers, &insight);
    }
}

#[test]
fn a_change_comes_about_with_its_answers() {
    let seen = std::cell::Cell::new(0);
    each(|handbook, engine, answers, insight| {
        let before = leading(&answered(handbook, engine, answers));
        for change in &insight.changes {
            let mut answers = answers.clone();
            let more = change.outcomes.iter();
            answers.extend(more.map(|(id, outcome)| answer_for(handbook, id.index(), *outcome)));
            assert_leads(&answered(handbook, engine, &answers), &change.to);
            assert_ne!(in_order(&change.to), in_order(&before));
            seen.set(seen.get() + 1);
        }
        let probabilities: Vec<f64> = insight.changes.iter().map(|c| c.probability).collect();
        assert!(probabilities.is_sorted_by(|one, next| one >= next), "{probabilities:?}");
    });
    assert!(seen.get() >= 5, "only {} changes", seen.get());
}

/// Every outcome that is no change leaves the lead as it is.
#[test]
fn no_single_change_is_left_out() {
    each(|handbook, engine, answers, insight| {
        let now = leading(&answered(handbook, engine, answers));
        let asked = |id: &str| answers.iter().any(|(question, _)| question == id);
        let mut is_single = insight.changes.is_empty();
        for (place, finding) in handbook.findings().iter().enumerate() {
            for outcome in 0..finding.background.len() {
                let answer = answer_for(handbook, place, outcome);
                let told = |c: &dryhold::evidence::Change| {
                    let [(id, told)] = c.outcomes[..] else { return false };
                    (id.index(), told) == (place, outcome)
                };
                let is_told = insight.changes.iter().any(told);
                is_single |= is_told;
                if asked(&answer.0) || is_told {
                    continue;
                }
                let mut answers = answers.clone();
                answers.push(answer);
                assert_leads(&answered(handbook, engine, &answers), &now);
            }
        }
        assert!(is_single || insight.changes.iter().all(|change| change.outcomes.len() == 2));
    });
}

/// The questions behind the witnesses at these places.
fn behind(handbook: &Handbook, all: &[Witness], places: &[usize]) -> Vec<String> {
    let finding = |place: &usize| handbook.finding(all[*place].finding);
    let questions = places.iter().flat_map(|at| handbook.questions_under(finding(at).symbol));
    questions.map(|id| handbook.question(*id).id.clone()).collect()
}

#[test]
fn a_verdict_rests_on_the_answers_without_which_it_falls() {
    let seen = std::cell::Cell::new(0);
    each(|handbook, engine, answers, insight| {
        let bench = answered(handbook, engine, answers);
        let now = leading(&bench);
        let all = witnesses(&bench.case.worksheet());
        let observed = answers.iter().filter(|(id, _)| id != "old");
        for (question, _) in observed {
            let mut rest = answers.clone();
            rest.retain(|(id, _)| id != question);
            let without = answered(handbook, engine, &rest);
            let is_it = |rests: &&dryhold::evidence::RestsOn| {
                behind(handbook, &all, &rests.witnesses).contains(question)
            };
            match insight.rests_on.iter().find(is_it) {
                Some(rests) => {
                    assert_leads(&without, &rests.to);
                    seen.set(seen.get() + 1);
                }
                None => assert_leads(&without, &now),
            }
        }
    });
    assert!(seen.get() >= 3, "only {} answers carry a verdict", seen.get());
}

#[test]
fn an_account_adds_up_to_what_is_believed() {
    each(|handbook, engine, answers, _| {
        let mut bench = answered(handbook, engine, answers);
        assert_accounts(&bench);
        mending::change_oil(&mut bench);
        assert_accounts(&bench);
        bench.answer("reads_high", "no");
        assert_accounts(&bench);
    });
}

fn assert_accounts(bench: &Bench<'_>) {
    for cause in bench.case.handbook().cause_ids() {
        let account = bench.case.account(cause).unwrap();
        let close = |one: f64, other: f64| {
            assert!((one - other).abs() < 1e-9, "{one} beside {other} in {account:?}");
        };
        let mut balance = account.prior + account.history.nats();
        for entry in &account.entries {
            balance += entry.when_it_came.nats();
            close(entry.balance, balance);
        }
        let p = bench.case.assessment().probability(cause);
        close(balance, libm::log(p / (1.0 - p)));
    }
}

/// What a piece weighs beside the others is what the odds lose without its answer.
#[test]
fn an_entry_weighs_beside_the_others_what_it_adds_to_them() {
    each(|handbook, engine, answers, _| {
        let bench = answered(handbook, engine, answers);
        let all = witnesses(&bench.case.worksheet());
        for cause in handbook.cause_ids() {
            let odds = |bench: &Bench<'_>| {
                let p = bench.case.assessment().probability(cause);
                libm::log(p / (1.0 - p))
            };
            let entries = bench.case.account(cause).unwrap().entries;
            for entry in entries {
                let questions = behind(handbook, &all, &entry.witnesses);
                let mut rest = answers.clone();
                rest.retain(|(id, _)| !questions.contains(id));
                let added = odds(&bench) - odds(&answered(handbook, engine, &rest));
                assert!((entry.beside_the_others.nats() - added).abs() < 1e-9);
            }
        }
    });
}
