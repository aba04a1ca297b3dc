//! Repairs between two readings: the case against a network made by hand and an enumeration.
//!
//! Two faults, one of which a repair may cure and which may bring the other. One finding shows
//! both and is read before and after the repair; the other is seen once, and the second fault
//! may hide it. Every number is drawn.

use super::naive::Draws;
use super::yes_no::{assert_close, seen};
use crate::cases::handbooks::{Bench, handbook};
use dryhold::case::Event;
use dryhold::evidence::Engine;
use dryhold::evidence::network::{CauseModel, Evidence, FindingModel, Model, Network};

/// The numbers of one handbook.
#[derive(Debug)]
struct Numbers {
    wet: f64,
    worn: f64,
    brings: f64,
    cures: f64,
    high: f64,
    high_if_wet: f64,
    high_if_worn: f64,
    milky: f64,
    milky_if_wet: f64,
    hides: f64,
}

impl Numbers {
    fn of(draws: &mut Draws) -> Self {
        let mut between = |low: f64, high: f64| low + (high - low) * draws.chance();
        Self {
            wet: between(0.05, 0.5),
            worn: between(0.05, 0.3),
            brings: between(0.35, 0.9),
            cures: between(0.1, 0.95),
            high: between(0.01, 0.2),
            high_if_wet: between(0.25, 0.95),
            high_if_worn: between(0.25, 0.95),
            milky: between(0.01, 0.2),
            milky_if_wet: between(0.25, 0.95),
            hides: between(0.1, 0.9),
        }
    }

    fn text(&self) -> String {
        let Self { wet, worn, brings, cures, high, milky, hides, .. } = self;
        let Self { high_if_wet, high_if_worn, milky_if_wet, .. } = self;
        format!(
            r"
format: 1
name: Repairs
version: 1
questions:
  reads_high:
    ask: Does it read high?
    kind: yes/no
  looks_milky:
    ask: Does it look milky?
    kind: yes/no
findings:
  high:
    when: reads_high
    shown_by: {{wet: {high_if_wet}, worn: {high_if_worn}}}
    anyway: {high}
    basis: estimate
  milky:
    when: looks_milky
    shown_by: {{wet: {milky_if_wet}}}
    hidden_by: {{worn: {hides}}}
    anyway: {milky}
    basis: estimate
causes:
  wet:
    name: Wet oil
    group: oil
    how_common: {wet}
    brings: {{worn: {brings}}}
    because: Water boils off.
    fix: [change]
    cured_by: {{change: {cures}}}
    basis: estimate
  worn:
    name: Worn pump
    group: pump
    how_common: {worn}
    because: Gas slips back.
    basis: estimate
actions:
  change:
    do: Change the oil.
trees:
  pump:
    title: The pump
    start: read
    steps:
      read:
        ask: reads_high
        next: look
      look:
        ask: looks_milky
        next: mend
      mend:
        action: change
        next: again
      again:
        ask: reads_high
        again: true
        next: done
      done:
        end: The pump was read.
"
        )
    }

    /// The network with a node more for what is left of the wet oil, in which the first finding
    /// stands twice: as it is now and, in the third place, as it was.
    fn model(&self, stays: f64) -> Model {
        let causes = vec![
            CauseModel { prior: self.wet, brought_by: vec![] },
            CauseModel { prior: self.worn, brought_by: vec![(0, self.brings)] },
            CauseModel { prior: 0.0, brought_by: vec![(0, stays)] },
        ];
        let high = |wet: usize| FindingModel {
            background: vec![1.0 - self.high, self.high],
            shown_by: vec![
                (wet, vec![1.0 - self.high_if_wet, self.high_if_wet]),
                (1, vec![1.0 - self.high_if_worn, self.high_if_worn]),
            ],
            hidden_by: vec![],
        };
        let milky = FindingModel {
            background: vec![1.0 - self.milky, self.milky],
            shown_by: vec![(0, vec![1.0 - self.milky_if_wet, self.milky_if_wet])],
            hidden_by: vec![(1, self.hides)],
        };
        Model { causes, findings: vec![high(2), milky, high(0)] }
    }

    /// The chance that it reads high.
    fn reads_high(&self, wet: bool, worn: bool) -> f64 {
        let spared = |is_there: bool, alone: f64| {
            if is_there { (1.0 - alone) / (1.0 - self.high) } else { 1.0 }
        };
        let low = spared(wet, self.high_if_wet) * spared(worn, self.high_if_worn);
        1.0 - (1.0 - self.high) * low
    }

    /// The weights of wet before, worn, and wet now, once it was high and milky or not, the oil
    /// was changed and it read high or not.
    fn walk(&self, stays: f64, was: bool, milky: bool, is: bool) -> Vec<f64> {
        let chance = |holds: bool, p: f64| if holds { p } else { 1.0 - p };
        let weight = |state: usize| {
            let [wet, worn, left] = [0, 1, 2].map(|bit| state & (1 << bit) != 0);
            let wears = if wet { self.brings } else { self.worn };
            let looks = if wet { self.milky_if_wet } else { self.milky };
            let looks = if worn { looks * (1.0 - self.hides) } else { looks };
            chance(wet, self.wet)
                * chance(worn, wears)
                * chance(left, if wet { stays } else { 0.0 })
                * chance(was, self.reads_high(wet, worn))
                * chance(milky, looks)
                * chance(is, self.reads_high(left, worn))
        };
        let weights: Vec<f64> = (0..8).map(weight).collect();
        let total: f64 = weights.iter().sum();
        weights.iter().map(|weight| weight / total).collect()
    }
}

fn yes(is_yes: bool) -> &'static str {
    if is_yes { "yes" } else { "no" }
}

fn change(bench: &mut Bench<'_>) {
    let (action, tree, step) = ("change".to_owned(), "pump".to_owned(), "mend".to_owned());
    bench.apply(Event::Acted { action, tree, step });
}

/// The states' weights in which some of these causes are there; bits as in a state.
fn any(states: &[f64], causes: usize) -> f64 {
    states.iter().enumerate().filter(|(state, _)| state & causes != 0).map(|(_, p)| p).sum()
}

#[track_caller]
fn assert_case(bench: &Bench<'_>, states: &[f64]) {
    let of_case = [bench.was("wet"), bench.probability("wet"), bench.probability("worn")];
    assert_close(&of_case, &[any(states, 0b001), any(states, 0b100), any(states, 0b010)], 1e-12);
    let nothing = bench.case.assessment().nothing_wrong;
    assert_close(&[nothing], &[1.0 - any(states, 0b110)], 1e-12);
}

#[test]
fn a_case_with_a_repair_is_a_network_with_one_node_more() {
    for seed in 0..12 {
        let numbers = Numbers::of(&mut Draws(7000 + seed));
        let handbook = handbook(&numbers.text());
        let engine = Engine::new(&handbook).unwrap();
        let [was, milky, is] = [0, 1, 2].map(|bit| seed & (1 << bit) != 0);
        let mut bench = Bench::open(&handbook, &engine, "pump");
        bench.answer("reads_high", yes(was));
        bench.answer("looks_milky", yes(milky));
        change(&mut bench);
        bench.answer("reads_high", yes(is));
        let stays = 1.0 - numbers.cures;
        let states = numbers.walk(stays, was, milky, is);
        assert_case(&bench, &states);
        let network = Network::new(numbers.model(stays)).unwrap();
        let evidence: Vec<Evidence> = [(0, is), (1, milky), (2, was)]
            .map(|(finding, is_yes)| seen(finding, usize::from(is_yes)))
            .to_vec();
        let posterior = network.posterior(&[], &evidence).unwrap();
        assert_close(&posterior.states, &states, 1e-12);
    }
}

/// The reading between two repairs counts for neither: what the second finds is what both left.
#[test]
fn two_repairs_leave_what_either_leaves() {
    for seed in 0..8 {
        let numbers = Numbers::of(&mut Draws(7100 + seed));
        let handbook = handbook(&numbers.text());
        let engine = Engine::new(&handbook).unwrap();
        let [was, milky, is] = [0, 1, 2].map(|bit| seed & (1 << bit) != 0);
        let mut bench = Bench::open(&handbook, &engine, "pump");
        bench.answer("looks_milky", yes(milky));
        bench.answer("reads_high", yes(was));
        change(&mut bench);
        bench.answer("reads_high", yes(true));
        change(&mut bench);
        bench.answer("reads_high", yes(is));
        let stays = (1.0 - numbers.cures) * (1.0 - numbers.cures);
        assert_case(&bench, &numbers.walk(stays, was, milky, is));
    }
}

/// Before anything is read again, a repair leaves its share of what was there and tells nothing
/// about the rest.
#[test]
fn a_repair_by_itself_tells_nothing() {
    let numbers = Numbers::of(&mut Draws(7200));
    let handbook = handbook(&numbers.text());
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "pump");
    bench.answer("reads_high", "yes");
    let [wet, worn] = ["wet", "worn"].map(|cause| bench.probability(cause));
    change(&mut bench);
    let found = ["wet", "worn"].map(|cause| bench.probability(cause));
    assert_close(&found, &[wet * (1.0 - numbers.cures), worn], 1e-12);
    assert_close(&[bench.was("wet")], &[wet], 1e-12);
}
