//! How a case ends under a handbook, held against how it ends under another.

use std::collections::{BTreeMap, BTreeSet};

use super::expectation::Stop;
use super::judging::{finding_word, stop_of};
use super::scenario::NOTHING_WRONG;
use crate::case::{Case, Ending, Now, Place};
use crate::evidence::speaks;
use crate::evidence::wording::{Likelihood, in_words, word};

/// Where a case came to.
#[derive(Clone, Debug, PartialEq)]
pub struct End {
    /// The cause in the lead, or `nothing_wrong`.
    pub leader: String,
    /// How probable each cause is, by id; `nothing_wrong` among them.
    pub probabilities: BTreeMap<String, f64>,
    /// Whether it is settled.
    pub settled: bool,
    /// The step at which it ended: `tree.step`.
    pub step: String,
    /// What stopped the work: a caution or a step, or nothing.
    pub stopped: Option<String>,
    /// How each finding that says something stands, by id.
    pub findings: BTreeMap<String, String>,
}

impl End {
    /// The end of a case whose interview ended so.
    #[must_use]
    pub fn of(case: &Case<'_>, ending: &Ending) -> Self {
        let (handbook, assessment) = (case.handbook(), case.assessment());
        let id = |cause| handbook.cause(cause).id.clone();
        let leader = assessment.leader().filter(|_| !assessment.nothing_leads());
        let ranked = assessment.ranking.iter().map(|ranked| (id(ranked.cause), ranked.probability));
        let nothing = (NOTHING_WRONG.to_owned(), assessment.nothing_wrong);
        let standing = assessment.witnesses.iter().filter(|witness| !witness.is_past());
        let findings = standing.filter(|witness| speaks(&witness.judged.state)).map(|witness| {
            let told = finding_word(case, witness.finding, &witness.judged.state);
            (case.finding_name(witness.finding).to_owned(), told)
        });
        Self {
            leader: leader.map_or(NOTHING_WRONG.to_owned(), |leader| id(leader.cause)),
            probabilities: ranked.chain([nothing]).collect(),
            settled: case.is_settled(),
            step: ended_at(case),
            stopped: match stop_of(case, ending) {
                Stop::Nothing | Stop::Anything => None,
                Stop::Caution(caution) => Some(handbook.caution(caution).id.clone()),
                Stop::Step(step) => Some(step),
            },
            findings: findings.collect(),
        }
    }

    /// The end of a case that is replayed and not interviewed.
    #[must_use]
    pub fn of_replay(case: &Case<'_>) -> Self {
        let ending = match case.now() {
            Now::Stopped { .. } => Ending::Stopped(None),
            Now::Acknowledge { caution, .. } => Ending::Stopped(Some(*caution)),
            _ => Ending::Left,
        };
        Self::of(case, &ending)
    }
}

/// Where a case stands, or the last step that it passed.
pub(super) fn last_place(case: &Case<'_>) -> Option<Place> {
    let place = match case.now() {
        Now::Ask { place, .. }
        | Now::Do { place, .. }
        | Now::Act { place, .. }
        | Now::Stopped { place, .. } => Some(*place),
        Now::Acknowledge { place, .. } => *place,
        Now::Ended { .. } => None,
    };
    let last = || case.path().last().map(|passed| passed.place);
    place.or_else(last)
}

/// Where a case stands, or the last step that it passed, as `tree.step`; empty where there is none.
#[must_use]
pub fn ended_at(case: &Case<'_>) -> String {
    last_place(case).map_or_else(String::new, |place| {
        let tree = case.handbook().tree(place.tree);
        format!("{}.{}", tree.id, tree.step(place.step).id)
    })
}

/// One thing that is not the same at both ends.
#[derive(Clone, Debug, PartialEq)]
pub struct Parted {
    /// What: `leader`, `settled`, `end`, `stopped`, a cause as `ranking.leak` or a finding as
    /// `findings.high`.
    pub what: String,
    /// Under the older handbook.
    pub old: String,
    /// Under the newer one.
    pub new: String,
    /// Of a cause in the ranking, by how much its probability differs.
    pub by: Option<f64>,
}

/// What a case ends with differently; ids of the older handbook that were renamed are given in
/// `renamed`, by section and older id.
#[must_use]
pub fn parted(old: &End, new: &End, renamed: &Renamed) -> Vec<Parted> {
    let mut parted = Vec::new();
    let mut tell = |what: &str, old: String, new: String| {
        if old != new {
            parted.push(Parted { what: what.to_owned(), old, new, by: None });
        }
    };
    tell("leader", renamed.now("causes", &old.leader), new.leader.clone());
    tell("settled", old.settled.to_string(), new.settled.to_string());
    tell("end", renamed.step(&old.step), new.step.clone());
    let stopped = |stopped: Option<String>| stopped.unwrap_or_else(|| "no".to_owned());
    let before = old.stopped.as_ref().map(|id| match old.step.split_once('.') {
        Some((tree, step)) if step == id => renamed.step_now(&renamed.now("trees", tree), step),
        _ => renamed.now("cautions", id),
    });
    tell("stopped", stopped(before), stopped(new.stopped.clone()));
    let before: BTreeMap<String, f64> =
        old.probabilities.iter().map(|(id, p)| (renamed.now("causes", id), *p)).collect();
    let all: BTreeSet<&String> = before.keys().chain(new.probabilities.keys()).collect();
    for cause in all {
        let (old, new) = (before.get(cause).copied(), new.probabilities.get(cause).copied());
        if likelihood(old) != likelihood(new) {
            let what = format!("ranking.{cause}");
            let by = Some((new.unwrap_or(0.0) - old.unwrap_or(0.0)).abs());
            parted.push(Parted { what, old: in_full(old), new: in_full(new), by });
        }
    }
    parted
}

/// A cause that one handbook does not have has almost no chance there.
fn likelihood(probability: Option<f64>) -> Likelihood {
    probability.map_or(Likelihood::AlmostNoChance, word)
}

fn in_full(probability: Option<f64>) -> String {
    probability.map_or("not there".to_owned(), |p| format!("{} ({p:.3})", in_words(p)))
}

/// The findings that stand otherwise at both ends.
#[must_use]
pub fn findings_parted(old: &End, new: &End, renamed: &Renamed) -> Vec<Parted> {
    let before: BTreeMap<String, &String> =
        old.findings.iter().map(|(id, word)| (renamed.now("findings", id), word)).collect();
    let all: BTreeSet<&String> = before.keys().chain(new.findings.keys()).collect();
    let silent = || "says nothing".to_owned();
    let pairs = all.into_iter().map(|finding| Parted {
        what: format!("findings.{finding}"),
        old: before.get(finding).map_or_else(silent, |word| (*word).clone()),
        new: new.findings.get(finding).cloned().unwrap_or_else(silent),
        by: None,
    });
    pairs.filter(|pair| pair.old != pair.new).collect()
}

/// Ids that entries of the older handbook have in the newer one.
#[derive(Clone, Debug, Default)]
pub struct Renamed {
    by_section: BTreeMap<(String, String), String>,
    /// By the newer id of a tree and the older id of a step.
    steps: BTreeMap<(String, String), String>,
}

impl Renamed {
    /// Notes that an entry of a section has another id now.
    pub fn add(&mut self, section: &str, was: &str, id: &str) {
        self.by_section.insert((section.to_owned(), was.to_owned()), id.to_owned());
    }

    /// Notes that a step of a tree, which is given by its newer id, has another id now.
    pub fn add_step(&mut self, tree: &str, was: &str, id: &str) {
        self.steps.insert((tree.to_owned(), was.to_owned()), id.to_owned());
    }

    /// The id of a step in the newer handbook; the tree is given by its newer id.
    #[must_use]
    pub fn step_now(&self, tree: &str, step: &str) -> String {
        let name = (tree.to_owned(), step.to_owned());
        self.steps.get(&name).cloned().unwrap_or(name.1)
    }

    /// The id in the newer handbook.
    #[must_use]
    pub fn now(&self, section: &str, id: &str) -> String {
        let name = (section.to_owned(), id.to_owned());
        self.by_section.get(&name).cloned().unwrap_or(name.1)
    }

    /// `tree.step` with the ids of both in the newer handbook.
    fn step(&self, step: &str) -> String {
        match step.split_once('.') {
            Some((tree, step)) => {
                let tree = self.now("trees", tree);
                format!("{tree}.{}", self.step_now(&tree, step))
            }
            None => step.to_owned(),
        }
    }
}
