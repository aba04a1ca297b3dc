//! Whether everything is accounted for: what came in is what left and what is still there.

use super::assembly::{Assembly, Held};
use super::mixture::{Each, SPECIES, Species};

/// All there is of each gas in Pa m³ at 20 °C: as gas, on walls, in oil, in puddles.
#[must_use]
pub fn amounts(assembly: &Assembly, held: &Held) -> Each {
    let mut amounts = [0.0; SPECIES];
    for (chamber, contents) in assembly.chambers.iter().zip(&held.chambers) {
        for (amount, pressure) in amounts.iter_mut().zip(contents.gas) {
            *amount += chamber.volume * pressure;
        }
        for (store, content) in chamber.stores.iter().zip(&contents.stores) {
            amounts[store.species.index()] += content;
        }
    }
    let per_mass = assembly.per_mass();
    let puddles: f64 = held.puddles.iter().map(|puddle| puddle.mass).sum();
    let [water, refrigerant] = [Species::Water, Species::Refrigerant].map(Species::index);
    amounts[water] += per_mass[water] * (puddles + held.oil.water);
    amounts[refrigerant] += per_mass[refrigerant] * held.oil.refrigerant;
    amounts
}

/// The share of all gas below which a trace of one can't be told from rounding.
const TRACE: f64 = 1e-9;

/// What is missing or too much of each gas since a time before, over the largest amount that was
/// there, came or left, or a billionth of all gas; 0 where all is accounted for.
#[must_use]
pub fn imbalance(before: (&Each, &Held), now: (&Each, &Held)) -> Each {
    let trace = TRACE * before.0.iter().chain(now.0).fold(0.0, |sum, amount| sum + amount.abs());
    std::array::from_fn(|species| {
        let brought = now.1.brought[species] - before.1.brought[species];
        let gone = now.1.gone[species] - before.1.gone[species];
        let missing = before.0[species] + brought - gone - now.0[species];
        let most = [before.0[species], now.0[species], brought, gone]
            .into_iter()
            .fold(trace, |most: f64, amount| most.max(amount.abs()));
        if most > 0.0 { missing.abs() / most } else { 0.0 }
    })
}

#[cfg(test)]
mod tests {
    use super::super::oil::Oil;
    use super::super::pump::Pump;
    use super::*;

    #[test]
    fn what_vanishes_is_missed() {
        let assembly = Assembly::bare(Pump::default(), 0.01);
        let before = assembly.filled([1e5, 100.0, 0.0], Oil { water: 1e-3, ..Oil::default() });
        let mut now = before.clone();
        now.chambers[0].gas[0] = 9e4;
        let both = [&before, &now].map(|held| amounts(&assembly, held));
        let lost = imbalance((&both[0], &before), (&both[1], &now));
        assert!((lost[0] - 0.1).abs() < 1e-12 && lost[1] == 0.0 && lost[2] == 0.0, "{lost:?}");
        now.gone[0] = 100.0;
        let told = imbalance((&both[0], &before), (&both[1], &now));
        assert!(told[0] < 1e-12, "{told:?}");
    }
}
