//! How long a report takes on a case of two hundred answers: reading and judging the case, and then
//! writing each form of its report.
//!
//! The answers are those of several scenarios of the built-in handbook one after the other, holds
//! and oil changes among them, so that nearly every part of the handbook has something to judge.
//! What stands behind the verdict is worked out once for a case, whatever is then written of it.

#![expect(clippy::unwrap_used, reason = "a benchmark's own input may stop it")]

use divan::Bencher;
use dryhold::built_in::built_in_handbook;
use dryhold::case::{Case, Event, KeepNothing, Script, interview};
use dryhold::document::raw::read_scenario;
use dryhold::evidence::Engine;
use dryhold::handbook::Handbook;
use dryhold::rehearsal::{no_logs, resolve_scenario};
use dryhold::report::{About, CaseReport};
use dryhold::source::Sources;

const ANSWERS: usize = 200;

const SCENARIOS: [&str; 6] = [
    include_str!("../scenarios/rises/leaks_at_a_flare.yaml"),
    include_str!("../scenarios/pump_alone/three_changes.yaml"),
    include_str!("../scenarios/rig_alone/old_hoses.yaml"),
    include_str!("../scenarios/part_in_line/sound_pair.yaml"),
    include_str!("../scenarios/hold_test/moisture.yaml"),
    include_str!("../scenarios/drops_slowly/worn_pump.yaml"),
];

fn main() {
    divan::main();
}

struct Bench {
    handbook: Handbook,
    engine: Engine,
    events: Vec<Event>,
    about: About,
}

impl Bench {
    fn new() -> Self {
        let handbook = built_in_handbook().unwrap();
        let engine = Engine::new(&handbook).unwrap();
        let all: Vec<Event> =
            SCENARIOS.iter().flat_map(|text| events(&handbook, &engine, text)).collect();
        let mut kept = vec![all[0].clone()];
        let mut answers = 0;
        for event in all.iter().cycle().filter(|event| !matches!(event, Event::Opened { .. })) {
            answers += usize::from(matches!(event, Event::Answered { .. }));
            if answers > ANSWERS {
                break;
            }
            kept.push(event.clone());
        }
        let about = About { id: "2026-03-31-1".to_owned(), ..About::default() };
        Self { handbook, engine, events: kept, about }
    }

    fn replayed(&self) -> Case<'_> {
        let case = Case::replay(&self.handbook, &self.engine, &self.events).unwrap();
        assert_eq!(case.record().given.len(), ANSWERS);
        case
    }

    /// The report of a case that is judged already.
    fn time(&self, bencher: Bencher<'_, '_>, write: impl Fn(&CaseReport<'_>) -> usize) {
        let case = self.replayed();
        let _judged = (case.assessment(), case.insight());
        bencher.bench_local(|| write(&CaseReport::of(&case, &self.about)));
    }
}

fn events(handbook: &Handbook, engine: &Engine, scenario: &str) -> Vec<Event> {
    let mut sources = Sources::default();
    let file = sources.add("scenario", scenario);
    let raw = read_scenario(&sources, file).0.unwrap();
    let scenario = resolve_scenario(&raw, handbook, &no_logs).unwrap();
    let mut case = Case::open(handbook, engine, scenario.tree);
    let mut script = Script::new(scenario.answers, scenario.acknowledge);
    interview(&mut case, &mut script, &mut KeepNothing);
    case.events().to_vec()
}

#[divan::bench(sample_count = 50, sample_size = 1)]
fn before_1_replay(bencher: Bencher<'_, '_>) {
    let bench = Bench::new();
    bencher.bench_local(|| bench.replayed());
}

#[divan::bench(sample_count = 50, sample_size = 1)]
fn before_2_judging(bencher: Bencher<'_, '_>) {
    let bench = Bench::new();
    bencher.with_inputs(|| bench.replayed()).bench_local_values(|case| {
        let _judged = case.assessment();
        case
    });
}

#[divan::bench(sample_count = 50, sample_size = 1)]
fn before_3_insight(bencher: Bencher<'_, '_>) {
    let bench = Bench::new();
    let judged = || {
        let case = bench.replayed();
        let _judged = case.assessment();
        case
    };
    bencher.with_inputs(judged).bench_local_values(|case| {
        let _behind = case.insight();
        case
    });
}

#[divan::bench(sample_count = 50, sample_size = 1)]
fn text(bencher: Bencher<'_, '_>) {
    Bench::new().time(bencher, |report| report.lines().len());
}

#[divan::bench(sample_count = 50, sample_size = 1)]
fn markdown(bencher: Bencher<'_, '_>) {
    Bench::new().time(bencher, |report| report.markdown().len());
}

#[divan::bench(sample_count = 50, sample_size = 1)]
fn html(bencher: Bencher<'_, '_>) {
    Bench::new().time(bencher, |report| report.html().len());
}

#[divan::bench(sample_count = 50, sample_size = 1)]
fn json(bencher: Bencher<'_, '_>) {
    Bench::new().time(bencher, |report| report.json().to_string().len());
}

#[divan::bench(sample_count = 50, sample_size = 1)]
fn message(bencher: Bencher<'_, '_>) {
    Bench::new().time(bencher, |report| report.message().len());
}
