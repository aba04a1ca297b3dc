//! The repairs of a handbook in the order to try, with what each costs from here.

use super::configuration::Configuration;
use super::finding::FindingState;
use super::plan::{Planned, Site, plan_on};
use super::worksheet::Worksheet;
use crate::handbook::{ActionId, CauseId, FindingId, Handbook};

/// Testing again after a repair, in minutes (`estimate`: pull down and read).
const TESTING_AGAIN: f64 = 10.0;
/// What calling in a licensed person costs, in minutes (`estimate`: half a day).
pub const REFERRAL: f64 = 240.0;
/// How often a repair named for a cause mends it, where the author does not say (`estimate`).
pub const MENDS: f64 = 0.8;

/// A repair in its order.
#[derive(Clone, Debug, PartialEq)]
pub struct RepairStep {
    /// What to do.
    pub action: ActionId,
    /// What has to be done before it at its place in the order, in order.
    pub first: Vec<ActionId>,
    /// What it costs with that and the test after it, in minutes.
    pub minutes: f64,
    /// How probable it is that it mends all that is left, if those before it have not.
    pub mends: f64,
    /// How probable it is that everything is mended with it and those before it.
    pub restored: f64,
}

/// What to do about what is wrong: repairs, and whom to leave it to.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Repairs {
    /// The repairs in the order to try.
    pub steps: Vec<RepairStep>,
    /// The repair that would come next and can hurt, so that it is left to a licensed person.
    pub referred: Option<ActionId>,
    /// The findings for which a licensed person is called at once, whatever a repair costs.
    pub refer_now: Vec<FindingId>,
}

/// The order of repairs; `states` are the probabilities of the sets of causes there now. None are
/// named while a finding that is a matter of safety may be true.
#[must_use]
pub fn repairs(sheet: &Worksheet<'_>, states: &[f64]) -> Repairs {
    let handbook = sheet.handbook();
    let refer_now = refer_now(sheet);
    if !refer_now.is_empty() {
        return Repairs { refer_now, ..Repairs::default() };
    }
    let offered = handbook.action_ids().map(|action| (action, cures(handbook, action)));
    let (actions, cures): (Vec<ActionId>, Vec<Vec<(usize, f64)>>) =
        offered.filter(|(_, cures)| !cures.is_empty()).unzip();
    let cures: Vec<&[(usize, f64)]> = cures.iter().map(Vec::as_slice).collect();
    let configuration = Configuration::of(sheet);
    let mut site = OnSite { handbook, actions: &actions, configuration: configuration.clone() };
    let plan = plan_on(&mut site, states, &cures, REFERRAL);
    let mut configuration = configuration;
    let step = |planned: &Planned| RepairStep {
        action: actions[planned.repair],
        first: configuration.act(handbook, actions[planned.repair]),
        minutes: planned.minutes,
        mends: planned.mends,
        restored: planned.restored,
    };
    Repairs {
        steps: plan.steps.iter().map(step).collect(),
        referred: plan.referred.map(|repair| actions[repair]),
        refer_now,
    }
}

/// Findings that are a matter of safety and may be true, or of which the worst was seen.
fn refer_now(sheet: &Worksheet<'_>) -> Vec<FindingId> {
    let handbook = sheet.handbook();
    let may_be_true = |finding: &FindingId| {
        let worst = handbook.finding(*finding).outcomes().saturating_sub(1);
        match sheet.finding(*finding).state {
            FindingState::True(_) | FindingState::TooClose(_) => true,
            FindingState::Seen(choice) => usize::from(choice) == worst,
            _ => false,
        }
    };
    let critical = handbook.finding_ids().filter(|id| handbook.finding(*id).refer.is_some());
    critical.filter(may_be_true).collect()
}

/// The repairs of a handbook, with the conditions that stand.
struct OnSite<'a> {
    handbook: &'a Handbook,
    actions: &'a [ActionId],
    configuration: Configuration,
}

impl Site for OnSite<'_> {
    fn minutes(&self, repair: usize) -> f64 {
        TESTING_AGAIN + self.configuration.minutes(self.handbook, self.actions[repair])
    }

    fn is_referred(&self, repair: usize) -> bool {
        self.handbook.action(self.actions[repair]).is_hazardous
    }

    fn made(&mut self, repair: usize) {
        self.configuration.act(self.handbook, self.actions[repair]);
    }
}

/// What an action may cure, and how often.
fn cures(handbook: &Handbook, action: ActionId) -> Vec<(usize, f64)> {
    let of = |id: CauseId| {
        let cause = handbook.cause(id);
        let stated = cause.cured_by.iter().find(|(cure, _)| *cure == action);
        let named = cause.fix.contains(&action).then_some(MENDS);
        stated.map(|(_, share)| *share).or(named).map(|share| (id.index(), share))
    };
    handbook.cause_ids().filter_map(of).collect()
}
