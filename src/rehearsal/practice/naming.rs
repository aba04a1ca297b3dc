//! What a trainee names at the end, held against what was hidden.

use std::collections::BTreeSet;

use super::exercise::Exercise;
use super::stretch::LegKind;
use crate::handbook::{ActionId, CauseId, Handbook};
use crate::rehearsal::rigged::population::OIL_IS_WET_FROM;

/// What is named at the end.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Named {
    /// What is wrong; nothing for a sound rig.
    pub causes: Vec<CauseId>,
    /// What mends it.
    pub actions: Vec<ActionId>,
    /// Whether nothing was named since they gave up, which is not that nothing was wrong.
    pub is_given_up: bool,
}

impl Named {
    /// Nothing, by somebody who gave up.
    #[must_use]
    pub fn given_up() -> Self {
        Self { is_given_up: true, ..Self::default() }
    }
}

/// How what was named stands against what was hidden.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Judged {
    /// Whether nothing was named since they gave up.
    pub is_given_up: bool,
    /// What was there and was not named.
    pub missed: Vec<CauseId>,
    /// What was named and was not there.
    pub not_there: Vec<CauseId>,
    /// Whether what was named calls for the same next action as what was hidden.
    pub is_right_to_do: bool,
    /// What was hidden and is mended by nothing that was named or done.
    pub left: Vec<CauseId>,
    /// The remedies named that mend nothing that was there.
    pub needless: Vec<ActionId>,
    /// The cause that the work itself brought: oil that took up what was pumped through it.
    pub brought: Option<CauseId>,
}

impl Judged {
    /// Whether exactly what was hidden was named.
    #[must_use]
    pub fn is_right(&self) -> bool {
        !self.is_given_up && self.missed.is_empty() && self.not_there.is_empty()
    }

    /// Whether everything that was hidden is mended by what was named or done.
    #[must_use]
    pub fn mends(&self) -> bool {
        self.left.is_empty()
    }
}

/// Whether an action may mend a cause.
pub(super) fn mends(handbook: &Handbook, action: ActionId, cause: CauseId) -> bool {
    let cause = handbook.cause(cause);
    cause.fix.contains(&action) || cause.cured_by.iter().any(|(known, _)| *known == action)
}

/// Whether an action mends something that was there. Of what the work brought, only what is meant
/// for it counts: nobody dries a system to mend a pump's oil.
pub(super) fn is_of_use(
    handbook: &Handbook,
    action: ActionId,
    hidden: &[CauseId],
    brought: Option<CauseId>,
) -> bool {
    hidden.iter().any(|cause| mends(handbook, action, *cause))
        || brought.is_some_and(|cause| handbook.cause(cause).fix.contains(&action))
}

/// What the work brought: oil that took up what was pumped through it.
pub(super) fn brought(exercise: &Exercise<'_>) -> Option<CauseId> {
    let handbook = &exercise.ground().handbook;
    let oil = handbook.find_cause("pump_oil")?;
    let is_wet = exercise.oil_added() > OIL_IS_WET_FROM;
    (is_wet && !exercise.dealt().causes.contains(&oil)).then_some(oil)
}

/// Judges what was named. What the work brought may be named and need not.
#[must_use]
pub fn judged(exercise: &Exercise<'_>, named: &Named) -> Judged {
    let handbook = &exercise.ground().handbook;
    let hidden = &exercise.dealt().causes;
    let brought = brought(exercise);
    let is_brought = |cause: &&CauseId| brought == Some(**cause);
    let group = |cause: &CauseId| handbook.cause(*cause).group.as_str();
    let own: Vec<CauseId> =
        named.causes.iter().filter(|cause| !is_brought(cause)).copied().collect();
    let groups: BTreeSet<&str> = hidden.iter().map(group).collect();
    let named_groups: BTreeSet<&str> = own.iter().map(group).collect();
    let done = exercise.legs().iter().filter_map(|leg| match leg.kind {
        LegKind::Repair(action) => Some(action),
        _ => None,
    });
    let tried: Vec<ActionId> = named.actions.iter().copied().chain(done).collect();
    let mends_some = |action: &ActionId| is_of_use(handbook, *action, hidden, brought);
    let is_mended = |cause: &&CauseId| tried.iter().any(|action| mends(handbook, *action, **cause));
    Judged {
        is_given_up: named.is_given_up,
        missed: hidden.iter().filter(|cause| !own.contains(cause)).copied().collect(),
        not_there: own.iter().filter(|cause| !hidden.contains(cause)).copied().collect(),
        is_right_to_do: !named.is_given_up && groups == named_groups,
        left: hidden.iter().filter(|cause| !is_mended(cause)).copied().collect(),
        needless: named.actions.iter().filter(|action| !mends_some(action)).copied().collect(),
        brought,
    }
}
