//! How long an answer takes with the built-in handbook, everything recomputed.
//!
//! The case is that of the scenario `three_changes`: a pump on its own whose floor is too high,
//! its oil changed three times, its floor read after each. Timed are the first reading after the
//! first change, the last reading of all, and opening the case.

#![expect(clippy::unwrap_used, reason = "a benchmark's own input may stop it")]

use divan::Bencher;
use dryhold::built_in::built_in_handbook;
use dryhold::case::{Case, Event, KeepNothing, Script, TreeId, interview};
use dryhold::document::raw::read_scenario;
use dryhold::evidence::Engine;
use dryhold::handbook::Handbook;
use dryhold::rehearsal::{no_logs, resolve_scenario};
use dryhold::source::Sources;

const SCENARIO: &str = include_str!("../scenarios/pump_alone/three_changes.yaml");

/// What is read, and how often before the one that is timed.
const READING: &str = "blank_off";

fn main() {
    divan::main();
}

/// The handbook, and the scenario's events from first to last.
struct Bench {
    handbook: Handbook,
    engine: Engine,
    tree: TreeId,
    events: Vec<Event>,
}

impl Bench {
    fn new() -> Self {
        let handbook = built_in();
        let engine = Engine::new(&handbook).unwrap();
        let mut sources = Sources::default();
        let file = sources.add("scenario", SCENARIO);
        let raw = read_scenario(&sources, file).0.unwrap();
        let scenario = resolve_scenario(&raw, &handbook, &no_logs).unwrap();
        let mut case = Case::open(&handbook, &engine, scenario.tree);
        let mut script = Script::new(scenario.answers, scenario.acknowledge);
        interview(&mut case, &mut script, &mut KeepNothing);
        let (tree, events) = (scenario.tree, case.events().to_vec());
        Self { handbook, engine, tree, events }
    }

    /// The case as it stood before its reading number `nth`, from 0, and that reading.
    fn before_reading(&self, nth: usize) -> (Case<'_>, Event) {
        let is_reading = |event: &Event| matches!(event, Event::Answered { question, .. } if question == READING);
        let mut readings = self.events.iter().enumerate().filter(|(_, event)| is_reading(event));
        let (at, reading) = readings.nth(nth).unwrap();
        let case = Case::replay(&self.handbook, &self.engine, &self.events[..at]).unwrap();
        let _judged = case.assessment();
        (case, reading.clone())
    }

    fn time_reading(&self, bencher: Bencher<'_, '_>, nth: usize) {
        bencher.with_inputs(|| self.before_reading(nth)).bench_local_values(
            |(mut case, reading)| {
                case.apply(reading).unwrap();
                let news = case.news();
                (case, news)
            },
        );
    }
}

fn built_in() -> Handbook {
    built_in_handbook().unwrap()
}

#[divan::bench(sample_count = 300, sample_size = 1)]
fn reading_after_an_oil_change(bencher: Bencher<'_, '_>) {
    Bench::new().time_reading(bencher, 1);
}

#[divan::bench(sample_count = 300, sample_size = 1)]
fn reading_after_three_oil_changes(bencher: Bencher<'_, '_>) {
    Bench::new().time_reading(bencher, 3);
}

/// What stands behind a verdict, before the reading after so many oil changes.
#[divan::bench(args = [0, 1, 3], sample_count = 30, sample_size = 1)]
fn insight_by_oil_changes(bencher: Bencher<'_, '_>, changes: usize) {
    let bench = Bench::new();
    let (case, _) = bench.before_reading(changes);
    bencher.bench_local(|| case.insight());
}

#[divan::bench(sample_count = 300, sample_size = 1)]
fn open_a_case(bencher: Bencher<'_, '_>) {
    let bench = Bench::new();
    bencher.bench_local(|| Case::open(&bench.handbook, &bench.engine, bench.tree));
}

#[divan::bench(sample_count = 100, sample_size = 1)]
fn compile_the_handbook() -> Handbook {
    built_in()
}

#[divan::bench(sample_count = 100, sample_size = 1)]
fn compile_the_network(bencher: Bencher<'_, '_>) {
    let handbook = built_in();
    bencher.bench_local(|| Engine::new(&handbook).unwrap());
}
