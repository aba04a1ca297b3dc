//! Small handbooks and the ways to run a case on them.

use std::path::Path;

use dryhold::case::{Case, Event, Now};
use dryhold::diagnostic::{Look, render};
use dryhold::evidence::Engine;
use dryhold::handbook::{Handbook, compile};
use dryhold::source::Sources;

/// A case of a handbook's tree `look` with these answers.
pub fn asked<T>(text: &str, answers: &[(&str, &str)], look: impl FnOnce(&mut Bench<'_>) -> T) -> T {
    let handbook = handbook(text);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "look");
    for (id, typed) in answers {
        bench.answer(id, typed);
    }
    look(&mut bench)
}

/// A pump and its oil; every number is invented.
pub const PUMP: &str = r"
format: 1
name: Pump bench
version: 1
instruments:
  gauge:
    name: Gauge
    offset: 5 micron
    resolution: 1 micron
    basis: estimate
questions:
  target:
    ask: What must be reached?
    kind: pressure
    range: 20 micron to 2000 micron
    not_sure: 100 micron to 1000 micron
    basis: estimate
  floor:
    ask: What does the gauge read?
    kind: pressure
    range: 0 micron to 760000 micron
    instrument: gauge
    repeats: 1 micron
    cautions: [hot]
    basis: estimate
  charged:
    ask: Is the system charged?
    kind: yes/no
    hazard: yes
  part:
    ask: Which part?
    kind: text
  with_part:
    ask: What does it read with the part?
    kind: pressure
    range: 0 micron to 760000 micron
    instrument: gauge
    repeats: 1 micron
    basis: estimate
formulas:
  limit:
    is: target / 3
    as: micron
    basis: estimate
  added:
    is: with_part - floor
    as: micron
  most_added:
    is: max(every(added))
    as: micron
findings:
  floor_high:
    when: floor > limit
    so: The floor is {floor}, above {limit}.
    so_not: The floor is {floor}, within {limit}.
    shown_by: {oil: 0.9, worn: 0.8}
    anyway: 0.05
    basis: estimate
  part_bad:
    when: most_added > 20 micron
    so: A part adds {most_added}.
    so_not: No part adds more than {most_added}.
    shown_by: {part_leak: 0.9}
    anyway: 0.05
    basis: estimate
causes:
  oil:
    name: Wet oil
    group: pump
    how_common: 0.2
    because: Water boils off.
    fix: [change_oil]
    cured_by: {change_oil: 0.85}
    basis: estimate
  worn:
    name: Worn pump
    group: pump
    how_common: 0.05
    because: Gas slips back.
    basis: estimate
  part_leak:
    name: Leaking part
    how_common: 0.1
    because: Air comes in.
    basis: estimate
actions:
  change_oil:
    do: Change the oil.
    takes: 10 min
trees:
  bench:
    title: The pump
    start: safe
    steps:
      safe:
        ask: charged
        next: {no: need, yes: leave}
      leave:
        stop: Leave it shut.
        refer: a licensed person
      need:
        ask: target
        next: warm
      warm:
        do: Run it warm.
        next: read
      read:
        ask: floor
        again: true
        at_most: 3
        then: done
        next:
          - if: floor_high
            go: change
          - too_close: done
          - unknown: done
          - else: done
      change:
        action: change_oil
        next: warm
      done:
        end: The pump was read.
        then: [parts]
  parts:
    title: The parts
    rounds: part
    start: before
    steps:
      before:
        ask: floor
        next: put_in
      put_in:
        do: Put in {part}.
        next: read
      read:
        ask: with_part
        next: over
      over:
        end: One part was read.
cautions:
  hot:
    severity: stop
    text: The pump is hot.
    refer: somebody with gloves
";

/// Compiles one text as a handbook.
pub fn handbook(text: &str) -> Handbook {
    let mut sources = Sources::default();
    let id = sources.add("handbook.yaml", text);
    let compiled = compile(&sources, &[id], &[]);
    compiled
        .handbook
        .unwrap_or_else(|| panic!("{}", render(&compiled.faults, &sources, Look::default())))
}

/// Compiles every YAML file below a folder as a handbook.
pub fn handbook_at(folder: &str) -> Handbook {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut sources = Sources::default();
    let mut files = Vec::new();
    let mut folders = vec![root.join(folder)];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else {
                files.push(path);
            }
        }
    }
    files.sort();
    let ids: Vec<_> = files
        .iter()
        .map(|path| sources.add(path.display().to_string(), std::fs::read_to_string(path).unwrap()))
        .collect();
    let compiled = compile(&sources, &ids, &[]);
    compiled
        .handbook
        .unwrap_or_else(|| panic!("{}", render(&compiled.faults, &sources, Look::default())))
}

/// A case with the words to drive it.
pub struct Bench<'h> {
    pub case: Case<'h>,
}

impl<'h> Bench<'h> {
    pub fn open(handbook: &'h Handbook, engine: &'h Engine, tree: &str) -> Self {
        Self { case: Case::open(handbook, engine, handbook.find_tree(tree).unwrap()) }
    }

    /// Answers a question, asked or not.
    pub fn answer(&mut self, id: &str, typed: &str) -> dryhold::case::News {
        let question = self.case.handbook().find_question(id).unwrap();
        let read = self.case.read(question, typed).unwrap();
        self.apply(Event::Answered {
            question: id.to_owned(),
            typed: typed.to_owned(),
            reply: read.reply,
            bare_in: read.bare_in,
        })
    }

    pub fn apply(&mut self, event: Event) -> dryhold::case::News {
        self.case.apply(event).unwrap();
        self.case.news()
    }

    /// Does the step or action that is wanted.
    pub fn done(&mut self) {
        let ids = |place: dryhold::case::Place| {
            let tree = self.case.handbook().tree(place.tree);
            (tree.id.clone(), tree.step(place.step).id.clone())
        };
        let event = match *self.case.now() {
            Now::Do { place, .. } => {
                let (tree, step) = ids(place);
                Event::Did { tree, step }
            }
            Now::Act { action, place } => {
                let (tree, step) = ids(place);
                let action = self.case.handbook().action(action).id.clone();
                Event::Acted { action, tree, step }
            }
            ref other => panic!("nothing is to be done: {other:?}"),
        };
        self.apply(event);
    }

    pub fn acknowledge(&mut self, caution: &str) {
        self.apply(Event::Acknowledged { caution: caution.to_owned(), by: "Ada".to_owned() });
    }

    /// What is wanted, in short: `ask floor`, `do warm`, `act change`, `ended`, `stopped`.
    pub fn wanted(&self) -> String {
        let step = |place: &dryhold::case::Place| {
            self.case.handbook().tree(place.tree).step(place.step).id.clone()
        };
        match self.case.now() {
            Now::Ask { question, .. } => {
                format!("ask {}", self.case.handbook().question(*question).id)
            }
            Now::Do { place, .. } => format!("do {}", step(place)),
            Now::Act { place, .. } => format!("act {}", step(place)),
            Now::Acknowledge { caution, .. } => {
                format!("acknowledge {}", self.case.handbook().caution(*caution).id)
            }
            Now::Ended { .. } => "ended".to_owned(),
            Now::Stopped { .. } => "stopped".to_owned(),
        }
    }

    pub fn probability(&self, cause: &str) -> f64 {
        self.case.assessment().probability(self.case.handbook().find_cause(cause).unwrap())
    }

    pub fn was(&self, cause: &str) -> f64 {
        let id = self.case.handbook().find_cause(cause).unwrap();
        self.case
            .assessment()
            .was
            .iter()
            .find(|r| r.cause == id)
            .map_or(f64::NAN, |r| r.probability)
    }
}
