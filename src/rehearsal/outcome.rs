//! Running a scenario and saying how it came out.

use super::judging::judge;
use super::rigged::RiggedScenario;
use super::scenario::Scenario;
use crate::case::{Case, Ending, KeepNothing, Script, Unasked, interview};
use crate::evidence::Engine;
use crate::handbook::Handbook;

/// How a scenario came out, in a word.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outcome {
    /// Everything came out as expected.
    Found,
    /// It expects nothing, so that there is nothing to judge; what it reaches counts.
    NotJudged,
    /// A cause that should be likely is not.
    Missed,
    /// A cause that should be unlikely is not.
    FalseAlarm,
    /// Another cause leads than the one expected.
    WrongCause,
    /// It should be settled and is not.
    Undecided,
    /// Something else than expected: a finding, a stop, a next check, an answer not taken.
    Otherwise,
}

impl Outcome {
    /// The word in reports.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::Found => "found",
            Self::NotJudged => "not judged",
            Self::Missed => "missed",
            Self::FalseAlarm => "false alarm",
            Self::WrongCause => "wrong cause",
            Self::Undecided => "undecided",
            Self::Otherwise => "otherwise",
        }
    }

    /// Whether something was expected and came out otherwise.
    #[must_use]
    pub fn is_short(self) -> bool {
        !matches!(self, Self::Found | Self::NotJudged)
    }
}

/// What an expectation is about.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum About {
    /// The answers themselves.
    Answers,
    /// `stopped`.
    Stopped,
    /// `end`.
    End,
    /// A cause under `ranking`, or `nothing_wrong`.
    Ranking(String),
    /// The cause in the lead, as it follows from `ranking` and `settled`.
    Leader,
    /// `settled`.
    Settled,
    /// A finding under `findings`.
    Finding(String),
    /// `next`.
    Next,
}

impl About {
    /// The way to it below `expect`: `ranking.pump_oil`.
    #[must_use]
    pub fn path(&self) -> String {
        match self {
            Self::Answers => "answers".to_owned(),
            Self::Stopped => "stopped".to_owned(),
            Self::End => "end".to_owned(),
            Self::Ranking(cause) => format!("ranking.{cause}"),
            Self::Leader => "leader".to_owned(),
            Self::Settled => "settled".to_owned(),
            Self::Finding(finding) => format!("findings.{finding}"),
            Self::Next => "next".to_owned(),
        }
    }
}

/// One expectation that was not met.
#[derive(Clone, Debug, PartialEq)]
pub struct Miss {
    /// In which way.
    pub outcome: Outcome,
    /// What it is about.
    pub about: About,
    /// What was expected, in the words of a scenario.
    pub expected: String,
    /// What was found, in the words of a scenario.
    pub found: String,
    /// How probable the cause is, where it is about one.
    pub probability: Option<f64>,
    /// Both, in a sentence.
    pub text: String,
    /// What speaks for and against what was found, and where the case went another way.
    pub because: Vec<String>,
}

/// A scenario that was run.
#[derive(Debug)]
pub struct Rehearsed<'h> {
    /// How it came out.
    pub outcome: Outcome,
    /// What was not as expected.
    pub misses: Vec<Miss>,
    /// What whoever wrote it may not have meant, though it counts as nothing amiss.
    pub remarks: Vec<String>,
    /// The case, for its path and findings.
    pub case: Case<'h>,
    /// How its interview ended.
    pub ending: Ending,
}

/// Runs a scenario.
#[must_use]
pub fn rehearse<'h>(
    scenario: &Scenario,
    handbook: &'h Handbook,
    engine: &'h Engine,
) -> Rehearsed<'h> {
    if let Some(rig) = &scenario.rig {
        return rehearse_at_rig(scenario, rig, handbook, engine);
    }
    let mut case = Case::open(handbook, engine, scenario.tree);
    let mut script = Script::new(scenario.answers.clone(), scenario.acknowledge.clone())
        .answering_only_when_asked()
        .telling_first(scenario.told.clone());
    let ending = interview(&mut case, &mut script, &mut KeepNothing);
    let misses = judge(scenario, &case, engine, &ending, &script.remarks);
    let remarks = remarks(&script, &ending, handbook);
    Rehearsed { outcome: outcome(scenario, &misses), misses, remarks, case, ending }
}

/// The same against a simulated rig.
fn rehearse_at_rig<'h>(
    scenario: &Scenario,
    rig: &RiggedScenario,
    handbook: &'h Handbook,
    engine: &'h Engine,
) -> Rehearsed<'h> {
    let played = rig.play((handbook, engine), scenario.tree, &scenario.answers);
    let remarks = played.told();
    let misses = judge(scenario, &played.case, engine, &played.ending, &remarks);
    let outcome = outcome(scenario, &misses);
    Rehearsed { outcome, misses, remarks, case: played.case, ending: played.ending }
}

fn outcome(scenario: &Scenario, misses: &[Miss]) -> Outcome {
    match misses.first() {
        Some(miss) => miss.outcome,
        None if scenario.expects_nothing => Outcome::NotJudged,
        None => Outcome::Found,
    }
}

/// What was not asked for although a step could have, except what stays as it is and is known
/// beforehand by its nature; and the question at which it left.
fn remarks(script: &Script, ending: &Ending, handbook: &Handbook) -> Vec<String> {
    let is_said = |unasked: &Unasked| match unasked {
        Unasked::Told(question) => !handbook.question(*question).is_setting(),
        Unasked::Left(..) => true,
    };
    let unasked = script.unasked().into_iter().filter(is_said).map(|one| one.said(handbook));
    let left = script.remarks.iter().filter(|_| *ending == Ending::Left).cloned();
    unasked.chain(left).collect()
}
