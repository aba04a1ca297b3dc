//! A scenario as its answers file runs it, with what was responded at each turn.

use std::path::{Path, PathBuf};

use dryhold::case::{
    Answerer, Case, CautionId, Ending, Event, KeepNothing, Now, Objection, Response, Script,
    interview,
};
use dryhold::evidence::Engine;
use dryhold::handbook::Handbook;
use dryhold::rehearsal::Scenario;
use dryhold::report::verdict_json;

use crate::commands::built_in;
use crate::handbook::{scenario, yaml_below};

/// A response, and the caution that was wanted to be acknowledged then.
#[derive(Clone, Debug)]
pub struct Turn {
    pub response: Response,
    pub wanted: Option<CautionId>,
}

/// A case that was run, in what two skins have to agree.
#[derive(Debug, PartialEq)]
pub struct Came {
    pub events: Vec<Event>,
    pub ending: Ending,
    /// How probable each cause is.
    pub ranking: Vec<(String, f64)>,
    /// The whole verdict, which takes most of the time; none where it is not looked at.
    pub verdict: Option<String>,
}

impl Came {
    pub fn of(case: &Case<'_>, ending: Ending, is_whole: bool) -> Self {
        let ranking = case.assessment().ranking.iter();
        Self {
            events: case.events().to_vec(),
            ranking: ranking
                .map(|ranked| (case.cause_view(ranked.cause).id, ranked.probability))
                .collect(),
            verdict: is_whole.then(|| verdict_json(case, &ending).to_string()),
            ending,
        }
    }
}

struct Recorder {
    script: Script,
    turns: Vec<Turn>,
}

impl Answerer for Recorder {
    fn respond(&mut self, case: &Case<'_>) -> Response {
        let response = self.script.respond(case);
        let wanted = match case.now() {
            Now::Acknowledge { caution, .. } => Some(*caution),
            _ => None,
        };
        self.turns.push(Turn { response: response.clone(), wanted });
        response
    }

    fn object(&mut self, case: &Case<'_>, objection: &Objection) -> bool {
        self.script.object(case, objection)
    }
}

/// Runs a scenario whose answers are given, as an answers file is.
fn run(
    scenario: &Scenario,
    handbook: &Handbook,
    engine: &Engine,
    is_whole: bool,
) -> (Came, Vec<Turn>) {
    let mut case = Case::open(handbook, engine, scenario.tree);
    let script = Script::new(scenario.answers.clone(), scenario.acknowledge.clone())
        .answering_only_when_asked()
        .telling_first(scenario.told.clone());
    let mut recorder = Recorder { script, turns: Vec::new() };
    let ending = interview(&mut case, &mut recorder, &mut KeepNothing);
    (Came::of(&case, ending, is_whole), recorder.turns)
}

/// A scenario as it came by its answers file, for another skin to come to the same.
pub struct Given<'b> {
    pub scenario: Scenario,
    pub handbook: &'b Handbook,
    pub engine: &'b Engine,
    pub came: Came,
    pub turns: Vec<Turn>,
    /// Whether the whole verdict is compared.
    pub is_whole: bool,
}

impl<'b> Given<'b> {
    /// None where the answers are made at a rig, or the scenario is about answers that can't be used.
    fn of(
        path: &Path,
        is_whole: bool,
        (handbook, engine): (&'b Handbook, &'b Engine),
    ) -> Option<Self> {
        let scenario = scenario(path, handbook);
        if scenario.rig.is_some() {
            return None;
        }
        let (came, turns) = run(&scenario, handbook, engine, is_whole);
        let is_usable = !matches!(came.ending, Ending::Unusable(_));
        is_usable.then_some(Self { scenario, handbook, engine, came, turns, is_whole })
    }
}

/// What another skin makes of all scenarios, each told with its file.
pub fn of_all(told: impl Fn(Given<'_>) -> Vec<String> + Sync) -> Vec<String> {
    let (paths, told, (handbook, engine)) = (yaml_below("scenarios"), &told, built_in());
    let one = move |(place, path): (usize, &PathBuf)| {
        let given = Given::of(path, place % ONE_IN == 0, (handbook, engine));
        let told = given.map(told).unwrap_or_default();
        told.into_iter().map(|text| format!("{}: {text}", path.display())).collect::<Vec<_>>()
    };
    std::thread::scope(|scope| {
        let halves: Vec<_> = paths
            .chunks(paths.len().div_ceil(2))
            .map(|half| {
                scope.spawn(move || half.iter().enumerate().flat_map(one).collect::<Vec<_>>())
            })
            .collect();
        halves.into_iter().flat_map(|half| half.join().unwrap()).collect()
    })
}

/// Of so many scenarios one has its whole verdict compared.
const ONE_IN: usize = 40;
