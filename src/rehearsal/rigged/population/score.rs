//! What one play came to, against what was hidden.

use super::super::super::ending::ended_at;
use super::super::played::Played;
use super::shown::{Shown, shown_at_first};
use crate::evidence::SETTLED_AT;
use crate::handbook::{CauseId, Handbook};

/// What one play came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Score {
    /// What was wrong, by the place of the cause in the handbook.
    pub is_there: Vec<bool>,
    /// How probable each cause was held to be, before anything that was repaired.
    pub held: Vec<f64>,
    /// How probable each group was held to be, in the order of [`groups`], then that nothing was
    /// wrong.
    pub groups: Vec<f64>,
    /// Which of these are so.
    pub are_so: Vec<bool>,
    /// Whether what was wrong shows in the job, by what is really in the system.
    pub shows: bool,
    /// What was seen first.
    pub symptom: String,
    /// Whether the case came to be settled, and is as sure of what was there at first: what was mended
    /// on the way may leave nothing wrong, and open what was.
    pub is_settled: bool,
    /// Whether it stopped for safety.
    pub is_stopped: bool,
    /// The trees that it went on with, by id.
    pub trees: Vec<String>,
    /// The step at which it ended: `tree.step`.
    pub end: String,
    /// How long it took at the rig, in minutes.
    pub minutes: f64,
    /// How many questions were answered.
    pub questions: usize,
    /// How often the rig refused something.
    pub refused: usize,
    /// How many questions nobody could answer.
    pub unsure: usize,
    /// The findings that said something, as the rig was at first.
    pub shown: Vec<Shown>,
}

/// What water and refrigerant in the oil add to the floor in Pa from which on it is held to be wet:
/// .3 g of water. Mark: estimate; 225 micron are above what a sound pump's floor may be.
pub const OIL_IS_WET_FROM: f64 = 30.0;

/// The groups of a handbook's causes, in the order of their first cause.
#[must_use]
pub fn groups(handbook: &Handbook) -> Vec<&str> {
    let mut groups: Vec<&str> = Vec::new();
    for cause in handbook.causes() {
        if !groups.contains(&cause.group.as_str()) {
            groups.push(&cause.group);
        }
    }
    groups
}

impl Score {
    /// What a play came to with these causes at the rig, and whether they show in the job. What was
    /// pumped out of the system may have brought another one, wet oil.
    #[must_use]
    pub fn of(
        played: &Played<'_>,
        (drawn, shows): (&[CauseId], bool),
        wet_oil: Option<CauseId>,
    ) -> Self {
        let brought = wet_oil.filter(|_| played.oil_added > OIL_IS_WET_FROM);
        let causes: Vec<CauseId> =
            drawn.iter().copied().chain(brought.filter(|cause| !drawn.contains(cause))).collect();
        let handbook = played.case.handbook();
        let ids: Vec<CauseId> = (0..handbook.causes().len()).map(CauseId::at).collect();
        let held: Vec<f64> = ids.iter().map(|id| played.at_first(*id)).collect();
        let assessment = played.case.assessment();
        let (mut by_group, mut are_so) = (Vec::new(), Vec::new());
        for group in groups(handbook) {
            let members = || ids.iter().filter(|id| handbook.cause(**id).group == group);
            let now = assessment.groups.iter().find(|ranked| ranked.group == group);
            let at_first = members().map(|id| held[id.index()]).fold(0.0, f64::max);
            by_group.push(now.map_or(0.0, |ranked| ranked.probability).max(at_first));
            are_so.push(members().any(|id| causes.contains(id)));
        }
        // Nothing was wrong only where nothing that was repaired was there either.
        let was: f64 = assessment.was.iter().map(|ranked| 1.0 - ranked.probability).product();
        by_group.push(assessment.nothing_wrong * was);
        are_so.push(causes.is_empty());
        let leads_by = by_group.iter().copied().fold(0.0, f64::max);
        Self {
            is_there: ids.iter().map(|id| causes.contains(id)).collect(),
            held,
            groups: by_group,
            are_so,
            shows,
            symptom: symptom(played),
            is_settled: assessment.settled && leads_by >= SETTLED_AT,
            is_stopped: matches!(played.ending, crate::case::Ending::Stopped(_)),
            trees: played.trees.iter().map(|id| handbook.tree(*id).id.clone()).collect(),
            end: ended_at(&played.case),
            minutes: played.minutes,
            questions: played.questions,
            refused: played.refused.len(),
            unsure: played.unsure.len(),
            shown: shown_at_first(&played.case),
        }
    }

    /// The places in [`Score::groups`], likeliest first.
    #[must_use]
    pub fn ranked(&self) -> Vec<usize> {
        let mut places: Vec<usize> = (0..self.groups.len()).collect();
        places.sort_by(|a, b| self.groups[*b].total_cmp(&self.groups[*a]));
        places
    }

    /// The same by what the job needs: of what doesn't show in it nothing has to be done, so that
    /// there "nothing wrong" is right, and whatever else is so as well.
    #[must_use]
    pub fn is_right_for_the_job_within(&self, first: usize) -> bool {
        let nothing = self.groups.len() - 1;
        let is_right = |place: usize| self.are_so[place] || (!self.shows && place == nothing);
        self.ranked().iter().take(first).any(|place| is_right(*place))
    }

    /// Whether one of the first so many is so.
    #[must_use]
    pub fn is_right_within(&self, first: usize) -> bool {
        self.ranked().iter().take(first).any(|place| self.are_so[*place])
    }
}

/// What was seen first, as it was told; `not asked` where nobody asked.
fn symptom(played: &Played<'_>) -> String {
    let id = played.case.handbook().find_question("symptom");
    let given = id.and_then(|id| played.case.latest_answer(id));
    match given.map(|given| &given.reply) {
        Some(crate::case::Reply::Choice(choice)) => choice.clone(),
        _ => "not asked".to_owned(),
    }
}
