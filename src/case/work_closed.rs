//! Whether the case has come to an end that closes the work, and whether it is settled.

use super::case::Case;
use super::now::Now;
use super::stands::Stands;
use crate::evidence::Proof;
use crate::handbook::{Closes, StepKind, TreeId};

impl Case<'_> {
    /// What the end that was reached says of the work, whatever else is known.
    #[must_use]
    pub fn closes(&self) -> Option<Closes> {
        match self.now() {
            Now::Ended { closes, .. } => *closes,
            _ => None,
        }
    }

    /// The same where nothing that was found stands against it: no readings contradict each other,
    /// no repair still shows what it was for, and no cause leads. A plan stands whatever leads: it
    /// says how to find out. Work that was left waits whatever was found in it.
    #[must_use]
    pub fn work_closed(&self) -> Option<Closes> {
        let assessment = self.assessment();
        let is_at_odds = assessment.contradicts_itself || !assessment.disputed.is_empty();
        let still_shows = assessment.repaired().any(|(_, proof)| proof == Proof::StillShows);
        let leads = assessment.has_evidence && !assessment.nothing_leads();
        let closes = self.closes()?;
        let stands = match closes {
            Closes::Waits => true,
            Closes::Planned => !is_at_odds && !still_shows,
            Closes::Proved | Closes::Done => !is_at_odds && !still_shows && !leads,
        };
        stands.then_some(closes)
    }

    /// Whether a danger that was told, or a caution that nobody has acknowledged, keeps it from going
    /// on: then there is nothing to check before that is put right.
    #[must_use]
    pub fn is_held_back(&self) -> bool {
        matches!(self.stands(), Stands::Stopped | Stands::Unacknowledged)
    }

    /// The tree of a plan that the case is in the middle of, before anything has been read: nothing
    /// of it can be checked yet. None once the work has gone on from a plan.
    #[must_use]
    pub fn unfinished_plan(&self) -> Option<TreeId> {
        let is_over = matches!(self.now(), Now::Ended { .. }) || !self.plans().is_empty();
        if is_over || self.assessment().has_evidence {
            return None;
        }
        let plans =
            |kind: &StepKind| matches!(kind, StepKind::End { closes: Some(Closes::Planned), .. });
        let mut entered = self.path().iter().map(|passed| passed.place.tree).rev();
        entered.find(|tree| self.handbook().tree(*tree).steps.iter().any(|step| plans(&step.kind)))
    }

    /// The trees with an end at which what the work was for is proved.
    pub fn trees_that_prove(&self) -> impl Iterator<Item = TreeId> + use<'_> {
        let proves =
            |kind: &StepKind| matches!(kind, StepKind::End { closes: Some(Closes::Proved), .. });
        let trees = self.handbook().trees().iter().enumerate();
        trees
            .filter(move |(_, tree)| tree.steps.iter().any(|step| proves(&step.kind)))
            .map(|(at, _)| TreeId::at(at))
    }

    /// Whether what leads is likely enough to act on and no cheap check is likely to change it, or
    /// what the work was for has been proved.
    #[must_use]
    pub fn is_settled(&self) -> bool {
        self.assessment().settled || self.work_closed() == Some(Closes::Proved)
    }
}
