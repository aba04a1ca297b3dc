//! What is said afterwards.

use super::assistant::{Assisted, assisted};
use super::exercise::Exercise;
use super::hidden::told_fault;
use super::mistake::{Mistake, dearest};
use super::naming::{Judged, Named, judged};
use crate::handbook::{CauseId, Handbook};

/// What is said afterwards.
#[derive(Clone, Debug, PartialEq)]
pub struct Debrief {
    /// What was wrong; nothing for a sound rig.
    pub causes: Vec<CauseId>,
    /// How that showed, with its size in words.
    pub hidden: Vec<String>,
    /// What was named.
    pub named: Named,
    /// How that stands against it.
    pub judged: Judged,
    /// How long the trainee took, in minutes.
    pub minutes: f64,
    /// The assistant at the same rig; none where it can't begin.
    pub assisted: Option<Assisted>,
    /// The dearest mistake; none where no minute was lost that can be named.
    pub dearest: Option<Mistake>,
}

impl Debrief {
    /// How the assistant's lead stands against what was hidden; none where it can't begin.
    #[must_use]
    pub fn assistant(&self, handbook: &Handbook) -> Option<LeadWas> {
        let assisted = self.assisted.as_ref()?;
        let group = |cause: CauseId| handbook.cause(cause).group.as_str();
        let is_oil = |cause| handbook.find_cause("pump_oil") == Some(cause);
        let lead = assisted.held.first().and_then(|(cause, _)| *cause);
        Some(match lead {
            None if self.causes.is_empty() => LeadWas::Right,
            None => LeadWas::Wrong,
            Some(lead) if self.causes.contains(&lead) => LeadWas::Right,
            Some(lead) if self.causes.iter().any(|cause| group(*cause) == group(lead)) => {
                LeadWas::RightToDo
            }
            Some(lead) if assisted.has_wet_oil && is_oil(lead) => LeadWas::Brought,
            Some(_) => LeadWas::Wrong,
        })
    }
}

/// How a lead stands against what was hidden.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeadWas {
    /// It was there.
    Right,
    /// It was not, and calls for the same next action as what was.
    RightToDo,
    /// It was not there at first: the work brought it.
    Brought,
    /// It was not there.
    Wrong,
}

/// Ends an exercise with what is named.
#[must_use]
pub fn debrief(exercise: &mut Exercise<'_>, named: Named) -> Debrief {
    exercise.end();
    let dealt = exercise.dealt();
    let judged = judged(exercise, &named);
    Debrief {
        causes: dealt.causes.clone(),
        hidden: dealt.faults.iter().map(|(fault, size)| told_fault(*fault, *size)).collect(),
        minutes: exercise.minutes(),
        assisted: assisted(exercise.ground(), dealt),
        dearest: dearest(exercise, &named, &judged),
        judged,
        named,
    }
}
