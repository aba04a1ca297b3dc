//! In which order to repair: what helps most for its minutes, looked at anew after each failure.
//!
//! A set of repairs restores a state with the probability that it cures every cause there. The
//! next repair is the one that raises this most per minute; that is the order by probability over
//! cost of Heckerman, Breese and Rommelse (1995) where one fault is there and each repair cures
//! one (from memory). Referral always resolves, at its own price: repairs that help less for their
//! minutes are not worth trying before it.

/// A repair to be ordered.
#[derive(Clone, Debug, PartialEq)]
pub struct Repair {
    /// What it costs, in minutes, with the test after it; above 0.
    pub minutes: f64,
    /// The causes that it may cure, by their places, with how often it does.
    pub cures: Vec<(usize, f64)>,
}

/// A repair in its order.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Planned {
    /// Which repair.
    pub repair: usize,
    /// What it costs at its place in the order, in minutes.
    pub minutes: f64,
    /// How probable it is that it mends all that is left, if those before it have not.
    pub mends: f64,
    /// How probable it is that everything is mended with it and those before it.
    pub restored: f64,
}

/// What repairs cost as things stand, which changes with each that is made.
pub trait Site {
    /// What a repair costs now, in minutes, with the test after it; one of 0 is never made.
    fn minutes(&self, repair: usize) -> f64;

    /// Whether a repair is left to a licensed person; where it would be next, one is called at
    /// once, at no price.
    fn is_referred(&self, repair: usize) -> bool;

    /// The repair is made, and has not mended everything.
    fn made(&mut self, repair: usize);
}

/// Repairs that cost the same at any place in the order.
struct Fixed<'a>(&'a [Repair]);

impl Site for Fixed<'_> {
    fn minutes(&self, repair: usize) -> f64 {
        self.0[repair].minutes
    }

    fn is_referred(&self, _repair: usize) -> bool {
        false
    }

    fn made(&mut self, _repair: usize) {}
}

/// The order of repairs that cost the same at any place, as far as they are worth more for their
/// minutes than referral at so many minutes. `states` are the probabilities of the states; the
/// first one, without any cause, needs no repair.
#[must_use]
pub fn plan(states: &[f64], repairs: &[Repair], referral: f64) -> Vec<Planned> {
    let cures: Vec<&[(usize, f64)]> = repairs.iter().map(|repair| &repair.cures[..]).collect();
    plan_on(&mut Fixed(repairs), states, &cures, referral).steps
}

/// An order of repairs on a site.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan {
    /// The repairs in their order.
    pub steps: Vec<Planned>,
    /// The repair for which a licensed person is called after them.
    pub referred: Option<usize>,
}

/// The order of repairs on a site; `cures` are, for each repair, the causes that it may cure with
/// how often it does.
#[must_use]
pub fn plan_on(
    site: &mut dyn Site,
    states: &[f64],
    cures: &[&[(usize, f64)]],
    referral: f64,
) -> Plan {
    let faulty: f64 = states.iter().skip(1).sum();
    let mut left: Vec<usize> = (0..cures.len()).collect();
    let mut sofar =
        Sofar { stays: vec![1.0; states.len().max(1).ilog2() as usize], restored: 0.0, cured: 0.0 };
    let mut plan = Plan::default();
    while faulty - sofar.restored > 1e-9 {
        let tried: Vec<Tried> =
            left.iter().map(|r| Tried::of(states, *r, after(&sofar.stays, cures[*r]))).collect();
        let Some((best, minutes)) = best(&*site, tried, &sofar, faulty, referral) else { break };
        if site.is_referred(best.repair) {
            plan.referred = Some(best.repair);
            break;
        }
        let mends = sofar.mends(&best, faulty);
        left.retain(|repair| *repair != best.repair);
        let (repair, restored) = (best.repair, best.restored / faulty);
        plan.steps.push(Planned { repair, minutes, mends, restored });
        site.made(repair);
        sofar = Sofar { stays: best.stays, restored: best.restored, cured: best.cured };
    }
    plan
}

/// The repair that helps most for its minutes where it is made first, of those that are meant; none of
/// those that are left to a licensed person.
#[must_use]
pub fn first_of(
    site: &dyn Site,
    states: &[f64],
    cures: &[&[(usize, f64)]],
    is_meant: impl Fn(usize) -> bool,
) -> Option<Planned> {
    let faulty: f64 = states.iter().skip(1).sum();
    let stays = vec![1.0; states.len().max(1).ilog2() as usize];
    let meant = (0..cures.len()).filter(|repair| is_meant(*repair) && !site.is_referred(*repair));
    let tried = meant.map(|r| Tried::of(states, r, after(&stays, cures[r]))).collect();
    let sofar = Sofar { stays, restored: 0.0, cured: 0.0 };
    let (best, minutes) = best(site, tried, &sofar, faulty, f64::INFINITY)?;
    let restored = best.restored / faulty;
    Some(Planned { repair: best.repair, minutes, mends: restored, restored })
}

/// What the repairs made so far have come to.
struct Sofar {
    stays: Vec<f64>,
    restored: f64,
    cured: f64,
}

impl Sofar {
    /// How probable it is that one more repair mends all that is left.
    fn mends(&self, tried: &Tried, faulty: f64) -> f64 {
        (tried.restored - self.restored) / (faulty - self.restored)
    }
}

/// What helps most for its minutes, of equals the first, with those; none where referral helps
/// more.
fn best(
    site: &dyn Site,
    tried: Vec<Tried>,
    sofar: &Sofar,
    faulty: f64,
    referral: f64,
) -> Option<(Tried, f64)> {
    // Where several faults are sure, no repair alone restores anything; then the one that
    // leaves fewer of them.
    let is_alone_enough = tried.iter().any(|tried| sofar.mends(tried, faulty) >= LEAST);
    let gain = |tried: &Tried| {
        if is_alone_enough {
            sofar.mends(tried, faulty)
        } else {
            (tried.cured - sofar.cured) / (faulty - sofar.cured)
        }
    };
    let worth = |tried: &Tried, minutes: f64| gain(tried) / minutes;
    let costed = tried.into_iter().map(|tried| {
        let minutes = site.minutes(tried.repair);
        (tried, minutes)
    });
    let best = costed.filter(|(_, minutes)| *minutes > 0.0).reduce(|best, next| {
        if worth(&next.0, next.1) > worth(&best.0, best.1) { next } else { best }
    });
    best.filter(|(tried, minutes)| gain(tried) > 1e-6 && worth(tried, *minutes) > 1.0 / referral)
}

/// Below this share of what is left a repair alone is taken to restore nothing (`estimate`).
const LEAST: f64 = 0.01;

/// The states with one more repair made.
struct Tried {
    repair: usize,
    stays: Vec<f64>,
    /// The probability that every cause there is cured.
    restored: f64,
    /// The share of the causes there that are cured, on average.
    cured: f64,
}

impl Tried {
    fn of(states: &[f64], repair: usize, stays: Vec<f64>) -> Self {
        // For each state: all cured, and how many.
        let mut all = vec![(1.0, 0.0, 0.0)];
        for stays in &stays {
            for state in 0..all.len() {
                let (every, many, there): (f64, f64, f64) = all[state];
                all.push((every * (1.0 - stays), many + 1.0 - stays, there + 1.0));
            }
        }
        let pairs = || states.iter().zip(&all).skip(1);
        let restored = pairs().map(|(state, (every, ..))| state * every).sum();
        let cured = pairs().map(|(state, (_, many, there))| state * many / there).sum();
        Self { repair, stays, restored, cured }
    }
}

/// How often each cause is still there after one more repair.
fn after(stays: &[f64], cures: &[(usize, f64)]) -> Vec<f64> {
    let mut after = stays.to_vec();
    for (cause, share) in cures {
        if let Some(stays) = after.get_mut(*cause) {
            *stays *= 1.0 - share;
        }
    }
    after
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The probabilities of exactly one of some causes, or none.
    fn one_of(chances: &[f64]) -> Vec<f64> {
        let mut states = vec![0.0; 1 << chances.len()];
        states[0] = 1.0 - chances.iter().sum::<f64>();
        for (cause, chance) in chances.iter().enumerate() {
            states[1 << cause] = *chance;
        }
        states
    }

    fn repair(minutes: f64, cures: &[(usize, f64)]) -> Repair {
        Repair { minutes, cures: cures.to_vec() }
    }

    #[test]
    fn the_first_of_those_that_are_meant_is_worth_most_for_its_minutes() {
        let repairs =
            [repair(5.0, &[(0, 0.9)]), repair(40.0, &[(1, 0.8)]), repair(10.0, &[(1, 0.4)])];
        let states = one_of(&[0.3, 0.5]);
        let cures: Vec<&[(usize, f64)]> = repairs.iter().map(|one| &one.cures[..]).collect();
        let site = Fixed(&repairs);
        let meant = first_of(&site, &states, &cures, |repair| repair > 0).unwrap();
        // A cure in two of five for ten minutes is worth more than four of five for forty.
        assert_eq!(meant.repair, 2);
        assert!((meant.restored - 0.4 * 0.5 / 0.8).abs() < 1e-12, "{meant:?}");
        assert_eq!(first_of(&site, &states, &cures, |_| true).unwrap().repair, 0);
        assert_eq!(first_of(&site, &states, &cures, |_| false), None);
    }

    fn order(plan: &[Planned]) -> Vec<usize> {
        plan.iter().map(|planned| planned.repair).collect()
    }

    /// Expected minutes of an order of perfect repairs of single faults.
    fn minutes(states: &[f64], repairs: &[Repair], order: &[usize]) -> f64 {
        let mut left: f64 = states.iter().skip(1).sum();
        let mut minutes = 0.0;
        for &r in order {
            minutes += left * repairs[r].minutes;
            left -= states[1 << repairs[r].cures[0].0];
        }
        minutes
    }

    fn permutations(items: &[usize]) -> Vec<Vec<usize>> {
        if items.is_empty() {
            return vec![Vec::new()];
        }
        let mut all = Vec::new();
        for (i, first) in items.iter().enumerate() {
            let rest: Vec<usize> = [&items[..i], &items[i + 1..]].concat();
            for mut tail in permutations(&rest) {
                tail.insert(0, *first);
                all.push(tail);
            }
        }
        all
    }

    /// Heckerman, Breese and Rommelse 1995: by probability over cost, against every permutation.
    #[test]
    fn single_faults_are_repaired_in_the_best_of_all_orders() {
        let mut seed = 7_u64;
        let mut random = || {
            seed = seed
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (seed >> 40) as f64 / (1_u64 << 24) as f64
        };
        for _ in 0..40 {
            let raw: Vec<f64> = (0..6).map(|_| 0.02 + random()).collect();
            let whole: f64 = raw.iter().sum();
            let states = one_of(&raw.iter().map(|p| 0.95 * p / whole).collect::<Vec<_>>());
            let repairs: Vec<Repair> =
                (0..6).map(|cause| repair(5.0 + 60.0 * random(), &[(cause, 1.0)])).collect();
            let greedy = order(&plan(&states, &repairs, 1e9));
            let best = permutations(&[0, 1, 2, 3, 4, 5])
                .iter()
                .map(|order| minutes(&states, &repairs, order))
                .fold(f64::INFINITY, f64::min);
            assert!((minutes(&states, &repairs, &greedy) - best).abs() < 1e-9);
        }
    }

    #[test]
    fn a_repair_that_overlaps_is_worth_less_once_the_other_has_failed() {
        // The oil change cures both; the ballast run then has nothing left to cure.
        let states = one_of(&[0.4, 0.3]);
        let repairs = [repair(10.0, &[(0, 1.0), (1, 1.0)]), repair(30.0, &[(0, 1.0)])];
        let planned = plan(&states, &repairs, 1e9);
        assert_eq!(order(&planned), [0]);
        assert!((planned[0].mends - 1.0).abs() < 1e-12);
    }

    #[test]
    fn referral_ends_the_plan_where_it_helps_more_for_its_minutes() {
        let states = one_of(&[0.5, 0.05]);
        let repairs = [repair(20.0, &[(0, 0.9)]), repair(120.0, &[(1, 0.9)])];
        assert_eq!(order(&plan(&states, &repairs, 1e9)), [0, 1]);
        assert_eq!(order(&plan(&states, &repairs, 240.0)), [0]);
    }

    #[test]
    fn two_faults_need_both_repairs() {
        let mut states = vec![0.0; 4];
        states[0b11] = 1.0;
        let repairs = [repair(10.0, &[(0, 1.0)]), repair(10.0, &[(1, 1.0)])];
        let planned = plan(&states, &repairs, 1e9);
        assert_eq!(order(&planned), [0, 1]);
        assert_eq!((planned[0].mends, planned[1].restored), (0.0, 1.0), "only both restore it");
    }
}
