//! Where each unknown stands in the state, how the state is filled, and how it is read again.

use super::assembly::{Assembly, Held};
use super::mixture::{Each, SPECIES, Species};

/// The numbers of a puddle: water in Pa m³ as vapour of 20 °C, its heat in J, and the heat in J
/// that came in.
const OF_PUDDLE: usize = 3;

/// Where each unknown stands. Gases are kept as their pressures in Pa at 20 °C, which times the
/// volume are amounts.
#[derive(Clone, Debug)]
pub(super) struct Layout {
    chambers: usize,
    /// The chamber of each store and its place there.
    stores: Vec<(usize, usize)>,
    puddles: usize,
}

impl Layout {
    /// The layout for an assembly.
    pub(super) fn new(assembly: &Assembly) -> Self {
        let stores = assembly.chambers.iter().enumerate();
        Self {
            chambers: assembly.chambers.len(),
            stores: stores
                .flat_map(|(chamber, held)| (0..held.stores.len()).map(move |s| (chamber, s)))
                .collect(),
            puddles: assembly.puddles.len(),
        }
    }

    /// How many unknowns there are.
    pub(super) fn unknowns(&self) -> usize {
        self.gone(0) + SPECIES
    }

    /// The pressure of a gas in a chamber.
    pub(super) fn gas(&self, chamber: usize, species: usize) -> usize {
        SPECIES * chamber + species
    }

    /// The pressures of all gases in a chamber.
    pub(super) fn gases(&self, chamber: usize) -> [usize; SPECIES] {
        std::array::from_fn(|species| self.gas(chamber, species))
    }

    /// Each store: its chamber, its place there, and where it stands.
    pub(super) fn stores(&self) -> impl Iterator<Item = (usize, usize, usize)> {
        let first = SPECIES * self.chambers;
        self.stores
            .iter()
            .enumerate()
            .map(move |(n, (chamber, store))| (*chamber, *store, first + n))
    }

    /// Water, heat and heat that came in of a puddle.
    pub(super) fn puddle(&self, puddle: usize) -> [usize; OF_PUDDLE] {
        let first = SPECIES * self.chambers + self.stores.len() + OF_PUDDLE * puddle;
        [first, first + 1, first + 2]
    }

    /// Water and refrigerant in the pump's oil.
    pub(super) fn oil(&self) -> [usize; 2] {
        let first = self.puddle(self.puddles)[0];
        [first, first + 1]
    }

    /// The warmth of the pump.
    pub(super) fn warmth(&self) -> usize {
        self.oil()[1] + 1
    }

    /// What the gauge's sensor is at.
    pub(super) fn sensed(&self) -> usize {
        self.warmth() + 1
    }

    /// What came in of a gas.
    pub(super) fn brought(&self, species: usize) -> usize {
        self.sensed() + 1 + species
    }

    /// What left of a gas.
    pub(super) fn gone(&self, species: usize) -> usize {
        self.brought(SPECIES) + species
    }

    /// The state of what is held.
    pub(super) fn gather(&self, held: &Held, per_mass: &Each) -> Vec<f64> {
        let mut state = vec![0.0; self.unknowns()];
        for (chamber, contents) in held.chambers.iter().take(self.chambers).enumerate() {
            for (species, pressure) in contents.gas.iter().enumerate() {
                state[self.gas(chamber, species)] = *pressure;
            }
        }
        for (chamber, store, at) in self.stores() {
            let found = held.chambers.get(chamber).and_then(|found| found.stores.get(store));
            state[at] = found.copied().unwrap_or(0.0);
        }
        let water = per_mass[Species::Water.index()];
        for (number, lying) in held.puddles.iter().take(self.puddles).enumerate() {
            let [mass, heat, inflow] = self.puddle(number);
            state[mass] = lying.mass * water;
            state[heat] = lying.heat;
            state[inflow] = lying.inflow;
        }
        let [water_at, refrigerant_at] = self.oil();
        state[water_at] = held.oil.water * water;
        state[refrigerant_at] = held.oil.refrigerant * per_mass[Species::Refrigerant.index()];
        state[self.warmth()] = held.warmth;
        state[self.sensed()] = held.sensed;
        for species in 0..SPECIES {
            state[self.brought(species)] = held.brought[species];
            state[self.gone(species)] = held.gone[species];
        }
        state
    }

    /// Writes a state back into what is held.
    pub(super) fn scatter(&self, state: &[f64], held: &mut Held, per_mass: &Each) {
        for (chamber, contents) in held.chambers.iter_mut().take(self.chambers).enumerate() {
            contents.gas = self.gases(chamber).map(|at| state[at]);
        }
        for (chamber, store, at) in self.stores() {
            let found =
                held.chambers.get_mut(chamber).and_then(|found| found.stores.get_mut(store));
            if let Some(content) = found {
                *content = state[at];
            }
        }
        let water = per_mass[Species::Water.index()];
        for (number, lying) in held.puddles.iter_mut().take(self.puddles).enumerate() {
            let [mass, heat, inflow] = self.puddle(number).map(|at| state[at]);
            (lying.mass, lying.heat, lying.inflow) = (mass / water, heat, inflow);
        }
        let [in_oil, refrigerant] = self.oil().map(|at| state[at]);
        held.oil.water = in_oil / water;
        held.oil.refrigerant = refrigerant / per_mass[Species::Refrigerant.index()];
        held.warmth = state[self.warmth()];
        held.sensed = state[self.sensed()];
        held.brought = std::array::from_fn(|species| state[self.brought(species)]);
        held.gone = std::array::from_fn(|species| state[self.gone(species)]);
    }
}

#[cfg(test)]
mod tests {
    use super::super::assembly::Chamber;
    use super::super::liquid_water::Puddle;
    use super::super::oil::Oil;
    use super::super::pump::Pump;
    use super::super::wall_water::Walls;
    use super::*;

    #[test]
    fn what_is_gathered_comes_back() {
        let mut assembly = Assembly::bare(Pump::default(), 1e-4);
        let stores: Vec<_> = Walls { capacity: 1e-3, level: 500.0 }.stores().collect();
        assembly.chambers.push(Chamber { stores, ..Chamber::dry(0.01) });
        let puddle = Puddle {
            mass: 2e-3,
            offset: -4.0,
            openness: 0.02,
            heat_capacity: 80.0,
            heat_inflow: 0.4,
        };
        assembly.puddles.push((1, puddle));
        let oil = Oil { water: 3e-3, refrigerant: 1e-3, ..Oil::default() };
        let held = assembly.filled([9e4, 1000.0, 50.0], oil);
        let layout = Layout::new(&assembly);
        assert_eq!(layout.unknowns(), 6 + 6 + 3 + 2 + 1 + 1 + 6);
        let state = layout.gather(&held, &assembly.per_mass());
        let mut back = assembly.filled([0.0; 3], Oil::default());
        layout.scatter(&state, &mut back, &assembly.per_mass());
        assert_eq!(back.chambers, held.chambers);
        assert!((back.oil.water - 3e-3).abs() < 1e-15 && back.sensed == held.sensed);
        assert!((back.puddles[0].mass - 2e-3).abs() < 1e-15);
    }
}
