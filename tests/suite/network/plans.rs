//! The order of repairs against every order there is, where several faults may be there and
//! repairs overlap and may fail.

use super::naive::Draws;
use super::yes_no::assert_close;
use dryhold::evidence::plan::{Repair, plan};

const CAUSES: usize = 4;
const REPAIRS: usize = 5;
const REFERRAL: f64 = 240.0;

struct Drawn {
    states: Vec<f64>,
    repairs: Vec<Repair>,
}

impl Drawn {
    fn of(draws: &mut Draws) -> Self {
        let odds: Vec<f64> = (0..CAUSES).map(|_| 0.05 + 0.6 * draws.chance()).collect();
        let weight = |state: usize| -> f64 {
            (0..CAUSES).filter(|cause| state & (1 << cause) != 0).map(|cause| odds[cause]).product()
        };
        // What was seen leaves little room for nothing being wrong.
        let weights: Vec<f64> =
            (0..1 << CAUSES).map(|state| if state == 0 { 0.1 } else { weight(state) }).collect();
        let total: f64 = weights.iter().sum();
        let repairs = (0..REPAIRS)
            .map(|place| {
                let mut cures = vec![(place % CAUSES, 0.4 + 0.6 * draws.chance())];
                let other = draws.below(CAUSES);
                if other != place % CAUSES && draws.chance() < 0.35 {
                    cures.push((other, 0.4 + 0.6 * draws.chance()));
                }
                Repair { minutes: 10.0 + 50.0 * draws.chance(), cures }
            })
            .collect();
        Self { states: weights.iter().map(|weight| weight / total).collect(), repairs }
    }

    /// The probability that these repairs cure all that is there, something being there.
    fn restored(&self, made: &[usize]) -> f64 {
        let cured = |cause: usize| -> f64 {
            let cures = made.iter().flat_map(|repair| &self.repairs[*repair].cures);
            1.0 - cures
                .filter(|(of, _)| *of == cause)
                .map(|(_, share)| 1.0 - share)
                .product::<f64>()
        };
        let all = |state: usize| -> f64 {
            (0..CAUSES).filter(|cause| state & (1 << cause) != 0).map(cured).product()
        };
        self.states.iter().enumerate().skip(1).map(|(state, p)| p * all(state)).sum()
    }

    fn faulty(&self) -> f64 {
        1.0 - self.states[0]
    }

    /// Expected minutes of repairs in this order until all is mended, somebody being called in
    /// after the last.
    fn minutes(&self, order: &[usize]) -> f64 {
        let left = |made: usize| self.faulty() - self.restored(&order[..made]);
        let repairing: f64 =
            order.iter().enumerate().map(|(made, r)| left(made) * self.repairs[*r].minutes).sum();
        repairing + left(order.len()) * REFERRAL
    }

    /// The fewest expected minutes of all orders that begin like this, of any length.
    fn fewest(&self, begun: &mut Vec<usize>) -> f64 {
        let mut fewest = self.minutes(begun);
        for repair in 0..REPAIRS {
            if !begun.contains(&repair) {
                begun.push(repair);
                fewest = fewest.min(self.fewest(begun));
                begun.pop();
            }
        }
        fewest
    }
}

#[test]
fn the_order_costs_little_more_than_the_best_of_all() {
    let (mut extra, mut worst) = (0.0, 0.0_f64);
    for seed in 0..100 {
        let drawn = Drawn::of(&mut Draws(8000 + seed));
        let planned = plan(&drawn.states, &drawn.repairs, REFERRAL);
        let order: Vec<usize> = planned.iter().map(|planned| planned.repair).collect();
        let more = drawn.minutes(&order) / drawn.fewest(&mut Vec::new()) - 1.0;
        assert!(more > -1e-9);
        extra += more / 100.0;
        worst = worst.max(more);
        for (made, step) in planned.iter().enumerate() {
            let (before, after) = (drawn.restored(&order[..made]), drawn.restored(&order[..=made]));
            let mends = (after - before) / (drawn.faulty() - before);
            assert_close(&[step.mends, step.restored], &[mends, after / drawn.faulty()], 1e-9);
        }
    }
    // Measured: 0.8 % on average and 15 % at worst.
    assert!(extra < 0.015, "{extra} more on average");
    assert!(worst < 0.2, "{worst} more at worst");
}
