//! The rates of all unknowns of an assembly, and their slopes.
//!
//! Every law stands between a few unknowns only, so its slopes are found by nudging those. What
//! a law takes from one unknown it gives to another with the same number, in the slopes too:
//! nothing is lost, however coarse the steps are.

use crate::physics::gas::REFERENCE_TEMPERATURE;

use super::ambient::Warming;
use super::assembly::{Assembly, Held, Way};
use super::elimination::Pattern;
use super::integrate::Equations;
use super::leak::Hole;
use super::mixture::{Each, Mixture, SPECIES, Species};
use super::oil::{PRESSURE_OF_REFRIGERANT, PRESSURE_OF_WATER};
use super::passage::Conductor;
use super::state::Layout;
use super::stores::{StoreTerm, set_temperatures};
use super::term::{FLOWS, INPUTS, Law, Stamp, Term};

/// The error of a pressure in Pa that does not matter: a hundredth of a micron.
const SMALL_PRESSURE: f64 = 1.5e-3;
/// The error of a temperature in K that does not matter.
const SMALL_TEMPERATURE: f64 = 1e-4;
/// The error of a mass in kg that does not matter.
const SMALL_MASS: f64 = 1e-8;

/// The equations of an assembly from a time on.
#[derive(Clone, Debug)]
pub(super) struct RigEquations {
    assembly: Assembly,
    /// When the steps begin, in s since the work began.
    start: f64,
    mixture: Mixture,
    layout: Layout,
    terms: Vec<Term>,
    stores: Vec<StoreTerm>,
    /// For each term, the slots of its stamps, input by input.
    slots: Vec<Vec<usize>>,
    pattern: Pattern,
    tolerated: Vec<f64>,
    /// What turns an unknown into what laws look at: for a gas its temperature over 20 °C.
    scales: Vec<f64>,
    is_time_told: bool,
    /// The time in s that temperatures were set to.
    set_to: f64,
    /// The temperature of each chamber in K.
    temperatures: Vec<f64>,
}

impl RigEquations {
    /// The equations of an assembly with an oil, from a time in s since the work began.
    pub(super) fn new(assembly: &Assembly, held: &Held, start: f64) -> Self {
        let layout = Layout::new(assembly);
        let mixture = assembly.mixture();
        let terms = terms_of(assembly, held, &layout, &mixture);
        let stores = StoreTerm::all(&layout, assembly);
        let of_stores = stores.iter().flat_map(StoreTerm::places);
        let entries = terms.iter().flat_map(Term::places).chain(of_stores);
        let pattern = Pattern::new(layout.unknowns(), entries);
        let slot = |(row, column)| pattern.slot(row, column);
        let slots = terms.iter().map(|term| term.places().map(slot).collect()).collect();
        let is_moving = assembly.chambers.iter().any(|chamber| chamber.warming.is_moving());
        let mut equations = Self {
            assembly: assembly.clone(),
            start,
            mixture,
            tolerated: tolerated(assembly, &layout),
            scales: vec![1.0; layout.unknowns()],
            is_time_told: is_moving || assembly.ambient.drift != 0.0,
            layout,
            terms,
            stores,
            slots,
            pattern,
            set_to: f64::NAN,
            temperatures: vec![0.0; assembly.chambers.len()],
        };
        equations.set_time(0.0);
        equations
    }

    /// Where each unknown stands.
    pub(super) fn layout(&self) -> &Layout {
        &self.layout
    }

    /// Sets all temperatures to those at a time in s from the start.
    fn set_time(&mut self, time: f64) {
        if time == self.set_to {
            return;
        }
        self.set_to = time;
        let ambient = self.assembly.ambient.temperature_at(self.start + time);
        let left = Warming::left_after(time);
        let chambers = self.assembly.chambers.iter().zip(&mut self.temperatures).enumerate();
        for (number, (chamber, temperature)) in chambers {
            *temperature = ambient + chamber.warming.with_left(left);
            let scale = *temperature / REFERENCE_TEMPERATURE;
            self.layout.gases(number).into_iter().for_each(|gas| self.scales[gas] = scale);
        }
        for term in &mut self.terms {
            if let Law::Puddle { puddle, around } = &mut term.law {
                // The first unknown of every law is a gas of its chamber.
                *around = self.temperatures[term.inputs[0] / SPECIES] + puddle.offset;
            }
        }
        set_temperatures(&mut self.stores, &self.temperatures);
    }

    /// What a law looks at.
    fn values(&self, term: &Term, state: &[f64]) -> [f64; INPUTS] {
        let mut values = [0.0; INPUTS];
        for (value, input) in values.iter_mut().zip(&term.inputs) {
            *value = state[*input] * self.scales[*input];
        }
        values
    }
}

impl Equations for RigEquations {
    fn pattern(&self) -> &Pattern {
        &self.pattern
    }

    fn rates(&mut self, time: f64, state: &[f64], rates: &mut [f64]) {
        if self.is_time_told {
            self.set_time(time);
        }
        rates.fill(0.0);
        for term in &self.terms {
            let flows = term.law.flows(&self.mixture, &self.values(term, state));
            for stamp in &term.stamps {
                rates[stamp.row] += stamp.factor * flows[stamp.flow];
            }
        }
        self.stores.iter().for_each(|store| store.add_rates(state, &self.scales, rates));
    }

    fn slopes(&mut self, time: f64, state: &[f64], slopes: &mut [f64]) {
        if self.is_time_told {
            self.set_time(time);
        }
        for store in &self.stores {
            store.add_slopes(&self.pattern, &self.scales, slopes);
        }
        for (term, slots) in self.terms.iter().zip(&self.slots) {
            let mut values = self.values(term, state);
            let flows = term.law.flows(&self.mixture, &values);
            for (number, input) in term.inputs.iter().enumerate() {
                let value = values[number];
                values[number] = value + term.law.nudge(number, value);
                let per_value = self.scales[*input] / (values[number] - value);
                let nudged: [f64; FLOWS] = term.law.flows(&self.mixture, &values);
                values[number] = value;
                let of_input = &slots[number * term.stamps.len()..];
                for (stamp, slot) in term.stamps.iter().zip(of_input) {
                    let difference = nudged[stamp.flow] - flows[stamp.flow];
                    slopes[*slot] += stamp.factor * difference * per_value;
                }
            }
        }
    }

    fn tolerated(&self) -> &[f64] {
        &self.tolerated
    }

    fn is_time_told(&self) -> bool {
        self.is_time_told
    }
}

/// All laws at work in an assembly.
fn terms_of(assembly: &Assembly, held: &Held, layout: &Layout, mixture: &Mixture) -> Vec<Term> {
    let at = (layout, assembly);
    let outside = assembly.ambient.pressures();
    let mut terms = vec![pump(assembly, held, layout)];
    terms.extend(assembly.ways.iter().map(|way| passage(way, at, mixture)));
    terms.extend(assembly.holes.iter().map(|(chamber, open)| hole(*chamber, open, at, outside)));
    terms.extend((0..assembly.puddles.len()).map(|number| puddle(number, at)));
    let (chamber, gauge) = assembly.gauge;
    terms.push(Term {
        law: Law::Gauge(gauge),
        inputs: [layout.gases(chamber).as_slice(), &[layout.sensed()]].concat(),
        stamps: vec![Stamp { flow: 0, row: layout.sensed(), factor: 1.0 }],
    });
    terms
}

fn passage(way: &Way, at: (&Layout, &Assembly), mixture: &Mixture) -> Term {
    let both = |species| [into(species, at, way.near, -1.0), into(species, at, way.far, 1.0)];
    Term {
        law: Law::Passage(Conductor::new(way.passage, mixture)),
        inputs: [at.0.gases(way.near), at.0.gases(way.far)].concat(),
        stamps: (0..SPECIES).flat_map(both).collect(),
    }
}

fn hole(chamber: usize, hole: &Hole, at: (&Layout, &Assembly), outside: Each) -> Term {
    let stamps = (0..SPECIES).flat_map(|species| {
        let brought = Stamp { flow: species, row: at.0.brought(species), factor: 1.0 };
        [into(species, at, chamber, 1.0), brought]
    });
    Term {
        law: Law::Hole { hole: *hole, outside },
        inputs: at.0.gases(chamber).to_vec(),
        stamps: stamps.collect(),
    }
}

fn puddle(number: usize, (layout, assembly): (&Layout, &Assembly)) -> Term {
    let (chamber, puddle) = assembly.puddles[number];
    let [water, heat, inflow] = layout.puddle(number);
    let gas = layout.gas(chamber, Species::Water.index());
    Term {
        law: Law::Puddle { puddle, around: 0.0 },
        inputs: [layout.gases(chamber).as_slice(), &[water, heat]].concat(),
        stamps: vec![
            Stamp { flow: 0, row: gas, factor: 1.0 / assembly.chambers[chamber].volume },
            Stamp { flow: 0, row: water, factor: -1.0 },
            Stamp { flow: 1, row: inflow, factor: 1.0 },
            Stamp { flow: 2, row: heat, factor: 1.0 },
        ],
    }
}

/// That a flow of a gas goes into a chamber, or with -1 out of it.
fn into(
    species: usize,
    (layout, assembly): (&Layout, &Assembly),
    chamber: usize,
    sign: f64,
) -> Stamp {
    let factor = sign / assembly.chambers[chamber].volume;
    Stamp { flow: species, row: layout.gas(chamber, species), factor }
}

/// The pump at the first chamber.
fn pump(assembly: &Assembly, held: &Held, layout: &Layout) -> Term {
    let (pump, setting) = assembly.pump;
    let oil = layout.oil();
    let mut stamps = Vec::new();
    for species in 0..SPECIES {
        stamps.push(into(species, (layout, assembly), 0, -1.0));
        stamps.push(Stamp { flow: species, row: layout.gone(species), factor: 1.0 });
    }
    for (number, row) in oil.into_iter().enumerate() {
        // What the oil captures has not left yet.
        let gone = layout.gone(number + 1);
        stamps.push(Stamp { flow: 3 + number, row, factor: 1.0 });
        stamps.push(Stamp { flow: 3 + number, row: gone, factor: -1.0 });
        stamps.push(Stamp { flow: 5 + number, row, factor: -1.0 });
        stamps.push(Stamp { flow: 5 + number, row: gone, factor: 1.0 });
    }
    stamps.push(Stamp { flow: 7, row: layout.warmth(), factor: 1.0 });
    Term {
        law: Law::Pump {
            pump,
            setting,
            oil: held.oil,
            outside: assembly.ambient.pressures(),
            per_mass: assembly.per_mass(),
        },
        inputs: [layout.gases(0).as_slice(), &oil, &[layout.warmth()]].concat(),
        stamps,
    }
}

/// What each unknown may be off by; what only counts along may be off by anything.
fn tolerated(assembly: &Assembly, layout: &Layout) -> Vec<f64> {
    let mut tolerated = vec![f64::INFINITY; layout.unknowns()];
    for chamber in 0..assembly.chambers.len() {
        layout.gases(chamber).into_iter().for_each(|gas| tolerated[gas] = SMALL_PRESSURE);
    }
    for (chamber, place, at) in layout.stores() {
        tolerated[at] = SMALL_PRESSURE * assembly.chambers[chamber].stores[place].capacity;
    }
    let per_mass = assembly.per_mass();
    for (number, (_, puddle)) in assembly.puddles.iter().enumerate() {
        let [water, heat, _] = layout.puddle(number);
        tolerated[water] = SMALL_MASS * per_mass[1];
        tolerated[heat] = SMALL_TEMPERATURE * puddle.heat_capacity;
    }
    let [water, refrigerant] = layout.oil();
    tolerated[water] = SMALL_PRESSURE / PRESSURE_OF_WATER * per_mass[1];
    tolerated[refrigerant] = SMALL_PRESSURE / PRESSURE_OF_REFRIGERANT * per_mass[2];
    tolerated[layout.warmth()] = 1e-4;
    tolerated[layout.sensed()] = 10.0 * SMALL_PRESSURE;
    tolerated
}
