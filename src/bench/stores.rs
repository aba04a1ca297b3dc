//! All stores of an assembly at work. Their law is linear in what they hold and in the pressure
//! beside them, so that their slopes are known without looking for them.

use super::assembly::Assembly;
use super::elimination::Pattern;
use super::mixture::SPECIES;
use super::state::Layout;
use super::wall_water::Store;

/// One store beside its gas.
#[derive(Clone, Debug)]
pub(super) struct StoreTerm {
    store: Store,
    /// Where its gas stands.
    gas: usize,
    /// Where its content stands.
    row: usize,
    /// What a flow into the gas adds to its pressure.
    into_gas: f64,
    /// What comes out per content, in 1/s.
    given: f64,
    /// What goes in per pressure, in m³/s.
    taken: f64,
}

impl StoreTerm {
    /// All stores of an assembly, at 20 °C.
    pub(super) fn all(layout: &Layout, assembly: &Assembly) -> Vec<Self> {
        let term = |(chamber, place, row): (usize, usize, usize)| {
            let store = assembly.chambers[chamber].stores[place];
            Self {
                gas: layout.gas(chamber, store.species.index()),
                row,
                into_gas: 1.0 / assembly.chambers[chamber].volume,
                given: store.outflow(1.0, 0.0, 1.0),
                taken: -store.outflow(0.0, 1.0, 1.0),
                store,
            }
        };
        layout.stores().map(term).collect()
    }

    /// The chamber that it is in.
    pub(super) fn chamber(&self) -> usize {
        self.gas / SPECIES
    }

    /// Which unknown it makes depend on which, as (row, column).
    pub(super) fn places(&self) -> [(usize, usize); 4] {
        let Self { gas, row, .. } = *self;
        [(gas, gas), (gas, row), (row, gas), (row, row)]
    }

    /// Adds its flow to the rates. `scales` turns gases into their pressures.
    pub(super) fn add_rates(&self, state: &[f64], scales: &[f64], rates: &mut [f64]) {
        let pressure = state[self.gas] * scales[self.gas];
        let flow = self.given * state[self.row] - self.taken * pressure;
        rates[self.gas] += self.into_gas * flow;
        rates[self.row] -= flow;
    }

    /// Adds its slopes into the slots of a pattern.
    pub(super) fn add_slopes(&self, pattern: &Pattern, scales: &[f64], slopes: &mut [f64]) {
        let per_gas = -self.taken * scales[self.gas];
        let by_place = [self.into_gas * per_gas, self.into_gas * self.given, -per_gas, -self.given];
        for ((row, column), slope) in self.places().into_iter().zip(by_place) {
            slopes[pattern.slot(row, column)] += slope;
        }
    }
}

/// Sets the temperatures of stores to those of their chambers in K.
pub(super) fn set_temperatures(stores: &mut [StoreTerm], chambers: &[f64]) {
    // Stores that lie side by side are bound and warmed alike mostly, and an exponential is dear.
    let mut last = (f64::NAN, f64::NAN, 0.0);
    for term in stores {
        let (temperature, binding) = (chambers[term.chamber()], term.store.binding);
        if (last.0, last.1) != (temperature, binding) {
            last = (temperature, binding, term.store.haste(temperature));
        }
        term.given = term.store.outflow(1.0, 0.0, last.2);
    }
}
