//! The test worth making next: expected information about the joint state of the causes per minute.
//!
//! A test is all that is settled by one go: the open questions of a finding, with whatever else
//! they settle, or a whole tree.

use super::assessment::SETTLED_AT;
use super::decision::Decisions;
use super::hypothetical::share_decided;
use super::next_check::{NextCheck, minutes};
use super::weighed::Weighed;
use super::worksheet::Worksheet;
use crate::handbook::{FindingId, QuestionId, StepKind, TreeId};

/// How many of the best tests are weighed by what the gauge can decide (limit of ours).
const MOST_WEIGHED: usize = 6;

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
}

impl NextTest {
    /// Bits a minute, by which tests are ranked.
    #[must_use]
    pub fn worth(&self) -> f64 {
        self.bits / self.minutes
    }
}

/// The tests that are still open, best first.
pub(super) fn next_tests(
    weighed: &Weighed<'_>,
    sheet: &Worksheet<'_>,
    decisions: &Decisions,
    checks: &[NextCheck],
) -> Vec<NextTest> {
    let network = weighed.epochs.network();
    let mut tests: Vec<NextTest> = candidates(sheet, checks)
        .into_iter()
        .map(|(tree, questions, minutes)| {
            let settled = |check: &&NextCheck| {
                check.questions.iter().all(|question| questions.contains(question))
            };
            let findings: Vec<FindingId> =
                checks.iter().filter(settled).map(|check| check.finding).collect();
            let places: Vec<usize> = findings.iter().map(|finding| finding.index()).collect();
            let bits = network.information_together(&places, &weighed.posterior);
            NextTest { tree, questions, findings, minutes, bits, decides: 1.0, settles: 0.0 }
        })
        .filter(|test| test.bits > 1e-6)
        .collect();
    by_worth(&mut tests);
    drop_what_is_no_more(&mut tests);
    for test in tests.iter_mut().take(MOST_WEIGHED) {
        let shares = test.findings.iter().map(|&finding| share_decided(sheet, finding));
        test.decides = shares.sum::<f64>() / test.findings.len() as f64;
        test.bits *= test.decides;
        test.settles = test.decides * settles(weighed, decisions, &test.findings);
    }
    by_worth(&mut tests);
    tests
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
) -> Vec<(Option<TreeId>, Vec<QuestionId>, f64)> {
    let handbook = sheet.handbook();
    let single = checks.iter().map(|check| (None, check.questions.clone(), check.minutes));
    let trees = handbook.trees().iter().enumerate().filter_map(|(place, tree)| {
        let mut open: Vec<QuestionId> =
            tree.questions().filter(|question| sheet.is_unanswered(*question)).collect();
        open.sort_unstable();
        open.dedup();
        let waits: f64 = tree.steps.iter().map(|step| wait(&step.kind)).sum();
        let minutes = minutes(handbook, &open) + waits;
        (!open.is_empty()).then_some((Some(TreeId::at(place)), open, minutes))
    });
    single.chain(trees).collect()
}

/// Minutes that a step waits.
fn wait(step: &StepKind) -> f64 {
    match step {
        StepKind::Do { wait: Some(seconds), .. } => seconds / 60.0,
        _ => 0.0,
    }
}

/// How probable it is that something leads by enough once the findings are known.
fn settles(weighed: &Weighed<'_>, decisions: &Decisions, findings: &[FindingId]) -> f64 {
    let places: Vec<usize> = findings.iter().map(|finding| finding.index()).take(5).collect();
    let mut settled = 0.0;
    let network = weighed.epochs.network();
    network.each_outcome(&weighed.posterior.states, &places, &mut |_, weights| {
        let total: f64 = weights.iter().sum();
        if decisions.lead(weights).1 >= SETTLED_AT * total {
            settled += total;
        }
    });
    settled.min(1.0)
}
