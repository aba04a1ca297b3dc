//! The test worth making next: expected information about the joint state of the causes per minute.
//!
//! A test is all that is settled by one go: the open questions of a finding, with whatever else
//! they settle, or a whole tree.

use super::costs::Costs;
use super::home::Homes;
use super::hypothetical::{chosen, repeated, shares_decided};
use super::likely_states::{LikelyStates, sum};
use super::next_check::{NextCheck, is_ruled_out};
use super::settled::cheap_after;
use super::side_by_side::side_by_side;
use super::told_by::bits_together;
use super::way::safety_questions;
use super::worksheet::Worksheet;
use crate::formula::Kind;
use crate::handbook::{FindingId, Handbook, Observes, QuestionId, Step, StepKind, Target, TreeId};

/// How many of the best tests are weighed by what the gauge can decide (limit of ours).
const MOST_WEIGHED: usize = 6;

/// Of how many findings of a test it is asked whether they settle the case (limit of ours; each
/// doubles the work).
const MOST_KNOWN: usize = 5;

/// A test that could still say something.
#[derive(Clone, Debug, PartialEq)]
pub struct NextTest {
    /// The tree that it is, where it is a whole one.
    pub tree: Option<TreeId>,
    /// The questions that are still open for it, in the order of the handbook.
    pub questions: Vec<QuestionId>,
    /// The findings that it would settle.
    pub findings: Vec<FindingId>,
    /// How long it takes, in minutes.
    pub minutes: f64,
    /// Expected information about the joint state of the causes, in bits, as far as the gauge can
    /// decide.
    pub bits: f64,
    /// The share of plausible readings with which the gauge decides.
    pub decides: f64,
    /// How probable it is that the case is settled after it.
    pub settles: f64,
    /// The tree that it belongs to: the one that it is, or the one that asks most of its
    /// questions; of several one that the case has been in, and else the one with the least open.
    pub home: Option<TreeId>,
    /// The safety questions that are open in that tree and come before it, first things first,
    /// whatever they tell and take; of the best tests alone.
    pub safety: Vec<QuestionId>,
}

impl NextTest {
    /// Bits a minute, by which tests are ranked.
    #[must_use]
    pub fn worth(&self) -> f64 {
        self.bits / self.minutes
    }
}

/// The tests that are still open, best first, as far as these sets of causes may be there.
pub(super) fn next_tests(
    likely: &LikelyStates<'_>,
    sheet: &Worksheet<'_>,
    checks: &[NextCheck],
    costs: &Costs<'_>,
    been: &[TreeId],
) -> Vec<NextTest> {
    let mut tests: Vec<NextTest> = candidates(sheet, checks, costs)
        .into_iter()
        .map(|(tree, questions, minutes)| {
            let is_settled = |check: &&NextCheck| {
                check.questions.iter().all(|question| questions.contains(question))
            };
            let settled: Vec<&NextCheck> = checks.iter().filter(is_settled).collect();
            let (settled, bits) = best_together(likely, sheet, &questions, settled);
            NextTest {
                tree,
                findings: settled.iter().map(|check| check.finding).collect(),
                questions,
                minutes,
                bits,
                decides: 1.0,
                settles: 0.0,
                home: tree,
                safety: Vec::new(),
            }
        })
        .filter(|test| test.bits > 1e-6)
        .collect();
    by_worth(&mut tests);
    drop_what_is_no_more(&mut tests);
    let told = tests
        .iter()
        .take(MOST_WEIGHED)
        .flat_map(|test| test.findings.iter().map(|finding| (*finding, test.questions.as_slice())));
    let decided = shares_decided(sheet, told);
    let homes = Homes::of(sheet);
    for test in tests.iter_mut().take(MOST_WEIGHED) {
        let shares = test.findings.iter().map(|finding| decided[finding]);
        test.decides = shares.sum::<f64>() / test.findings.len() as f64;
        test.bits *= test.decides;
        test.home = test.tree.or_else(|| homes.of_questions(&test.questions, been));
        test.safety = test.home.map_or_else(Vec::new, |tree| safety_questions(sheet, tree));
    }
    let weighed = tests.iter().take(MOST_WEIGHED);
    let known: Vec<Known> = weighed
        .map(|test| Known {
            findings: test.findings.iter().map(|finding| finding.index()).collect(),
            open: cheap_after(costs, checks, &test.questions),
        })
        .collect();
    for (test, settles) in tests.iter_mut().zip(each_settles(likely, &known)) {
        test.settles = test.decides * settles;
    }
    by_worth(&mut tests);
    tests
}

/// Of the checks that a test settles those that one way of doing it settles together, with their
/// bits: where a choice is the person's own, such as what to change between two holds, some
/// findings go with one choice and others with another.
fn best_together<'c>(
    likely: &LikelyStates<'_>,
    sheet: &Worksheet<'_>,
    questions: &[QuestionId],
    settled: Vec<&'c NextCheck>,
) -> (Vec<&'c NextCheck>, f64) {
    let own: Vec<QuestionId> =
        questions.iter().copied().filter(|id| is_own_choice(sheet, &settled, *id)).collect();
    if own.is_empty() {
        let bits = bits_together(likely, &settled);
        return (settled, bits);
    }
    let mut again: Vec<QuestionId> =
        settled.iter().flat_map(|check| &check.again).copied().collect();
    again.sort_unstable();
    again.dedup();
    let once_more = repeated(sheet.record(), &again);
    let mut ways = vec![settled];
    for question in &own {
        let choices = &sheet.handbook().question(*question).choices;
        let among = |way: &Vec<&'c NextCheck>| {
            let under = |choice: &str| {
                let record = chosen(&once_more, *question, choice);
                let chosen = sheet.gone_on(&record);
                let mut kept = way.clone();
                kept.retain(|check| !is_ruled_out(&chosen, check.finding));
                kept
            };
            choices.iter().map(|choice| under(&choice.id)).collect::<Vec<_>>()
        };
        ways = ways.iter().flat_map(among).collect();
        ways.sort_by_key(|way| way.iter().map(|check| check.finding).collect::<Vec<_>>());
        ways.dedup_by_key(|way| way.iter().map(|check| check.finding).collect::<Vec<_>>());
    }
    let told = ways.into_iter().map(|way| {
        let bits = bits_together(likely, &way);
        (way, bits)
    });
    told.reduce(|best, next| if next.1 > best.1 { next } else { best }).unwrap_or_default()
}

/// Whether a question asks what the person will do before something is read again: one of choices
/// that no finding looks at, and on which what is read again depends.
fn is_own_choice(sheet: &Worksheet<'_>, settled: &[&NextCheck], id: QuestionId) -> bool {
    let handbook = sheet.handbook();
    let is_looked_at = || {
        let mut findings = handbook.findings().iter();
        findings.any(|finding| matches!(finding.observes, Observes::Of(of) if of == id))
    };
    let is_before_again =
        settled.iter().any(|check| !check.again.is_empty() && check.questions.contains(&id));
    is_before_again && matches!(handbook.question(id).kind, Kind::Choice(_)) && !is_looked_at()
}

fn by_worth(tests: &mut [NextTest]) {
    tests.sort_by(|a, b| b.worth().total_cmp(&a.worth()).then(a.findings.cmp(&b.findings)));
}

/// Of tests that settle the same findings only the first is kept.
fn drop_what_is_no_more(tests: &mut Vec<NextTest>) {
    let mut kept: Vec<Vec<FindingId>> = Vec::new();
    tests.retain(|test| {
        let is_new = !kept.contains(&test.findings);
        kept.push(test.findings.clone());
        is_new
    });
}

/// The open questions of each finding, and those of each tree with its waits.
fn candidates(
    sheet: &Worksheet<'_>,
    checks: &[NextCheck],
    costs: &Costs<'_>,
) -> Vec<(Option<TreeId>, Vec<QuestionId>, f64)> {
    let handbook = sheet.handbook();
    // What has to be answered again is asked again by a tree alone, and what somebody came with
    // is no check to make.
    let is_made = |question: &QuestionId| !parts_the_ways(handbook, *question);
    let is_single =
        |check: &&NextCheck| check.again.is_empty() && check.questions.iter().all(is_made);
    let single = checks.iter().filter(is_single);
    let single = single.map(|check| (None, check.questions.clone(), check.minutes));
    let is_repeated = |question| checks.iter().any(|check| check.again.contains(&question));
    let is_open = |question| sheet.is_unanswered(question) || is_repeated(question);
    let trees = handbook.trees().iter().enumerate().filter_map(|(place, tree)| {
        let mut open: Vec<QuestionId> =
            tree.questions().filter(|question| is_open(*question) && is_made(question)).collect();
        open.sort_unstable();
        open.dedup();
        let waits: f64 = tree.steps.iter().map(|step| wait(&step.kind)).sum();
        let id = TreeId::at(place);
        let minutes = costs.minutes_in(id, &open) + waits;
        (!open.is_empty()).then_some((Some(id), open, minutes))
    });
    single.chain(trees).collect()
}

/// Whether a question is only what somebody comes with: its answer leads into other trees.
fn parts_the_ways(handbook: &Handbook, id: QuestionId) -> bool {
    let leads_on = |step: &Step| {
        let is_it = matches!(step.kind, StepKind::Ask { question, .. } if question == id);
        let targets = if is_it { step.next.targets() } else { Vec::new() };
        let trees = targets.iter().filter(|target| matches!(target, Target::Tree(_)));
        trees.count() > 1
    };
    handbook.trees().iter().any(|tree| tree.steps.iter().any(leads_on))
}

/// Minutes that a step waits.
fn wait(step: &StepKind) -> f64 {
    match step {
        StepKind::Do { wait: Some(seconds), .. } => seconds / 60.0,
        _ => 0.0,
    }
}

/// Outcomes less probable than this are taken not to settle a case (limit of ours: of 32 sets of
/// outcomes they could add 6 in 100 at most).
const LEAST_WEIGHED: f64 = 0.002;

/// What is known after a test, by the places of the findings, and which cheap ones are then open.
struct Known {
    findings: Vec<usize>,
    open: Vec<usize>,
}

/// How probable it is that the case is settled after each of some tests.
fn each_settles(likely: &LikelyStates<'_>, all: &[Known]) -> Vec<f64> {
    let every_other = |first: usize| {
        let tests = all.iter().skip(first).step_by(2);
        tests.map(|known| settles(likely, known)).collect::<Vec<f64>>()
    };
    let (odd, even) = side_by_side(|| every_other(1), || every_other(0));
    let (mut odd, mut even) = (odd.into_iter(), even.into_iter());
    (0..all.len()).filter_map(|k| if k % 2 == 0 { even.next() } else { odd.next() }).collect()
}

/// How probable it is that the case is settled after a test, by the rule that settles it now.
fn settles(likely: &LikelyStates<'_>, known: &Known) -> f64 {
    let mut settled = 0.0;
    let findings = &known.findings[..known.findings.len().min(MOST_KNOWN)];
    likely.each_outcome_above(LEAST_WEIGHED, findings, &mut |_, weights| {
        if likely.are_settled(weights, || known.open.clone()) {
            settled += sum(weights);
        }
    });
    settled.min(1.0)
}
