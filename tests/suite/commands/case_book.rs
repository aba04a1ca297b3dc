//! Case files written by hand into the book of a stand, from scenarios of the built-in handbook.

use std::fs;
use std::path::PathBuf;
use std::sync::OnceLock;

use dryhold::book::{Entry, write_line};
use dryhold::built_in::built_in_handbook;
use dryhold::case::{Case, Detail, Details, Event, KeepNothing, Script, interview};
use dryhold::document::raw::read_scenario;
use dryhold::evidence::Engine;
use dryhold::handbook::Handbook;
use dryhold::rehearsal::resolve_scenario;
use dryhold::source::Sources;

use super::stand::{Ran, Stand};

pub fn built_in() -> &'static (Handbook, Engine) {
    static BUILT_IN: OnceLock<(Handbook, Engine)> = OnceLock::new();
    BUILT_IN.get_or_init(|| {
        let handbook = built_in_handbook().unwrap();
        let engine = Engine::new(&handbook).unwrap();
        (handbook, engine)
    })
}

/// The events of a scenario of the built-in handbook: `pump_alone/sound`.
pub fn scenario_events(name: &str) -> Vec<Event> {
    let (handbook, engine) = built_in();
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let path = folder.join(format!("{name}.yaml"));
    let mut sources = Sources::default();
    let file = sources.add(name, fs::read_to_string(&path).unwrap());
    let raw = read_scenario(&sources, file).0.unwrap();
    let beside =
        |log: &str| fs::read_to_string(path.with_file_name(log)).map_err(|e| e.to_string());
    let scenario = resolve_scenario(&raw, handbook, &beside).unwrap();
    let mut case = Case::open(handbook, engine, scenario.tree);
    let mut script = Script::new(scenario.answers, scenario.acknowledge);
    interview(&mut case, &mut script, &mut KeepNothing);
    case.events().to_vec()
}

pub fn described(detail: Detail, text: &str) -> Event {
    Event::Described { details: Details::default().with(detail, text) }
}

/// A stand whose book is the folder `book`.
pub struct BookStand {
    pub stand: Stand,
}

impl BookStand {
    pub fn new() -> Self {
        let stand = Stand::new();
        fs::create_dir(stand.path("book")).unwrap();
        Self { stand }
    }

    pub fn path(&self, id: &str) -> PathBuf {
        self.stand.path(&format!("book/{id}.jsonl"))
    }

    /// Keeps a case of which an event happens every minute from noon of a day on.
    pub fn keep(&self, id: &str, day: &str, events: &[Event]) {
        let noon: jiff::Timestamp = format!("{day}T12:00:00Z").parse().unwrap();
        let mut text = String::new();
        for (number, event) in events.iter().cloned().enumerate() {
            let at = noon + jiff::SignedDuration::from_mins(i64::try_from(number).unwrap());
            text.push_str(&write_line(&Entry { number, at, event }).unwrap());
            text.push('\n');
        }
        fs::write(self.path(id), text).unwrap();
    }

    /// Runs a command on the book.
    pub fn run(&self, arguments: &[&str]) -> Ran {
        self.stand.run(&[&["--book", "book"], arguments].concat())
    }
}
