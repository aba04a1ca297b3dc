//! The repairs of a handbook in the order to try, with what each costs from here.

use super::configuration::Configuration;
use super::finding::FindingState;
use super::plan::{Planned, Site, first_of, plan_on};
use super::wording::{Likelihood, word};
use super::worksheet::Worksheet;
use crate::handbook::{ActionId, CauseId, FindingId, Handbook};

/// Testing again after a repair, in minutes (`estimate`: pull down and read).
const TESTING_AGAIN: f64 = 10.0;
/// What calling in a licensed person costs before anything is repaired, in minutes (`estimate`:
/// a working day, until somebody comes).
pub const REFERRAL: f64 = 480.0;
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
    /// Of the repairs meant for the likeliest cause the one that helps most for its minutes, made
    /// first; none where all of them are done, left to a licensed person or of no use here.
    pub for_leader: Option<RepairStep>,
    /// What calling one in is taken to cost, in minutes, with the repair that is then made.
    pub referral: f64,
    /// Repairs that are not tried, and why not.
    pub left_out: Vec<(ActionId, LeftOut)>,
    /// The findings for which a licensed person is called at once, whatever a repair costs.
    pub refer_now: Vec<FindingId>,
}

/// Why a repair is not tried.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeftOut {
    /// An answer shows that it is done already.
    Done,
    /// What was read shows that it works elsewhere.
    Elsewhere,
    /// All that it may cure is very unlikely, or nothing.
    Unlikely,
    /// It helps less for its minutes than calling in a licensed person.
    Costly,
}

/// The order of repairs; `states` are the probabilities of the sets of causes there now. None are
/// named while a finding that is a matter of safety may be true, or while readings that can't all
/// be have not been read again: what is wrong rests on one of them.
#[must_use]
pub fn repairs(sheet: &Worksheet<'_>, states: &[f64]) -> Repairs {
    let handbook = sheet.handbook();
    let refer_now = refer_now(sheet);
    if !refer_now.is_empty() || is_disputed(sheet) {
        return Repairs { refer_now, ..Repairs::default() };
    }
    let mut left_out = Vec::new();
    let is_tried = |(action, _): &(ActionId, Vec<(usize, f64)>)| {
        let why_not = if sheet.shows_as_done(*action) {
            Some(LeftOut::Done)
        } else if sheet.shows_elsewhere(*action) {
            Some(LeftOut::Elsewhere)
        } else {
            (!is_worth_trying(handbook, states, *action)).then_some(LeftOut::Unlikely)
        };
        left_out.extend(why_not.map(|why| (*action, why)));
        why_not.is_none()
    };
    let all = handbook.action_ids().map(|action| (action, cures(sheet, action)));
    let repairs = all.filter(|(_, cures)| !cures.is_empty());
    let (actions, cures): (Vec<ActionId>, Vec<Vec<(usize, f64)>>) =
        repairs.filter(is_tried).unzip();
    let cures: Vec<&[(usize, f64)]> = cures.iter().map(Vec::as_slice).collect();
    let configuration = Configuration::of(sheet);
    let mut site = OnSite { handbook, actions: &actions, configuration: configuration.clone() };
    let leader = handbook
        .cause_ids()
        .max_by(|one, other| there(states, one.index()).total_cmp(&there(states, other.index())));
    let fix = leader.map(|leader| &handbook.cause(leader).fix[..]).unwrap_or_default();
    let for_leader = first_of(&site, states, &cures, |repair| fix.contains(&actions[repair]));
    let referral = REFERRAL + repairing(&site, states, &cures);
    let mut plan = plan_on(&mut site, states, &cures, referral);
    // Where several faults are likely at once, no repair is worth as much as somebody called in;
    // until one has come, what is meant for the likeliest is the thing to do.
    if plan.steps.is_empty() && plan.referred.is_none() {
        plan.steps.extend(for_leader);
    }
    let planned = |repair: usize| plan.steps.iter().any(|step| step.repair == repair);
    let costly = (0..actions.len()).filter(|repair| !planned(*repair));
    left_out.extend(costly.map(|repair| (actions[repair], LeftOut::Costly)));
    let step = |planned: &Planned, configuration: &mut Configuration| RepairStep {
        action: actions[planned.repair],
        first: configuration.act(handbook, actions[planned.repair]),
        minutes: planned.minutes,
        mends: planned.mends,
        restored: planned.restored,
    };
    let for_leader = for_leader.map(|planned| step(&planned, &mut configuration.clone()));
    let mut configuration = configuration;
    Repairs {
        steps: plan.steps.iter().map(|planned| step(planned, &mut configuration)).collect(),
        for_leader,
        referred: plan.referred.map(|repair| actions[repair]),
        referral,
        left_out,
        refer_now,
    }
}

/// Whether a repair is meant for a cause that is more than a very unlikely one: of those every
/// handbook has a dozen, and going through them is no repair of what is wrong. What it cures
/// besides is counted, and no reason to make it.
fn is_worth_trying(handbook: &Handbook, states: &[f64], action: ActionId) -> bool {
    let meant = handbook.cause_ids().filter(|id| handbook.cause(*id).fix.contains(&action));
    let mut chances = meant.map(|id| there(states, id.index()));
    chances.any(|chance| word(chance) > Likelihood::VeryUnlikely)
}

/// The probability that a cause is there.
fn there(states: &[f64], cause: usize) -> f64 {
    let holds = |(state, _): &(usize, &f64)| state >> cause & 1 == 1;
    states.iter().enumerate().filter(holds).map(|(_, p)| p).sum()
}

/// The minutes for which whoever is called in repairs what is wrong, something being wrong: of
/// each cause there the quickest repair of it, as it would be made now.
fn repairing(site: &dyn Site, states: &[f64], cures: &[&[(usize, f64)]]) -> f64 {
    let faulty: f64 = states.iter().skip(1).sum();
    let causes = states.len().max(1).ilog2() as usize;
    let quickest = |cause: usize| {
        let mends = |cures: &[(usize, f64)]| cures.iter().any(|(cured, _)| *cured == cause);
        let repairs = (0..cures.len()).filter(|repair| mends(cures[*repair]));
        repairs.map(|repair| site.minutes(repair)).reduce(f64::min).unwrap_or(0.0)
    };
    let minutes = (0..causes).map(|cause| there(states, cause) * quickest(cause)).sum::<f64>();
    if faulty > 0.0 { minutes / faulty } else { 0.0 }
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

/// Whether a finding says that some of the readings can't all be.
fn is_disputed(sheet: &Worksheet<'_>) -> bool {
    let handbook = sheet.handbook();
    let mut disputing =
        handbook.finding_ids().filter(|id| !handbook.finding(*id).read_again.is_empty());
    disputing.any(|id| matches!(sheet.finding(id).state, FindingState::True(_)))
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

/// What a repair that was made already and has not cured a cause is worth against it when it is
/// made once more, each time (`estimate`).
const ONCE_MORE: f64 = 0.5;

/// What an action may cure, and how often as things stand.
fn cures(sheet: &Worksheet<'_>, action: ActionId) -> Vec<(usize, f64)> {
    let handbook = sheet.handbook();
    let made = sheet.actions_done().filter(|(done, _)| *done == action).count();
    let left = libm::pow(ONCE_MORE, made as f64);
    let of = |id: CauseId| {
        let cause = handbook.cause(id);
        let stated = cause.cured_by.iter().find(|(cure, _)| *cure == action);
        let named = cause.fix.contains(&action).then_some(MENDS);
        stated.map(|(_, share)| *share).or(named).map(|share| (id.index(), share * left))
    };
    handbook.cause_ids().filter_map(of).collect()
}
