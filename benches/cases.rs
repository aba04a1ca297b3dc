//! How long `dryhold cases` takes on a book of ten thousand cases, as a process of its own: with an
//! index that holds, after one case has changed, and without an index.

use std::error::Error;
use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use dryhold::book::{Entry, write_line};
use dryhold::built_in::built_in_handbook;
use dryhold::case::{Case, Detail, Details, Event, KeepNothing, Script, interview};
use dryhold::document::raw::read_scenario;
use dryhold::evidence::Engine;
use dryhold::rehearsal::{no_logs, resolve_scenario};
use dryhold::source::Sources;

const CASES: usize = 10_000;
const TURNS: usize = 21;
/// Longer than a row has to rest before it counts.
const REST: Duration = Duration::from_millis(2_500);

/// What the cases tell of.
const SCENARIOS: [&str; 3] = [
    include_str!("../scenarios/pump_alone/three_changes.yaml"),
    include_str!("../scenarios/rises/leaks_at_a_flare.yaml"),
    include_str!("../scenarios/rig_alone/old_hoses.yaml"),
];

fn main() -> Result<(), Box<dyn Error>> {
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR"))?;
    let bytes = write_book(folder.path())?;
    let mut out = std::io::stdout();
    writeln!(out, "{CASES} cases, {:.0} MB; milliseconds", bytes as f64 / 1e6)?;
    writeln!(out, "| index | fastest | median | slowest |")?;
    writeln!(out, "| --- | --- | --- | --- |")?;
    std::thread::sleep(REST);
    row(&mut out, "none yet", vec![list(folder.path())?])?;
    let holds: Result<Vec<Duration>, _> = (0..TURNS).map(|_| list(folder.path())).collect();
    row(&mut out, "holds", holds?)?;
    let mut one_changed = Vec::new();
    for turn in 0..TURNS {
        let path = folder.path().join(format!("2026-01-01-{turn}.jsonl"));
        let text = std::fs::read_to_string(&path)?;
        let cut = text.trim_end().rfind('\n').ok_or("a case of one line")?;
        std::fs::write(&path, &text[..=cut])?;
        one_changed.push(list(folder.path())?);
    }
    row(&mut out, "one case changed", one_changed)?;
    Ok(())
}

fn row(out: &mut impl std::io::Write, name: &str, mut times: Vec<Duration>) -> std::io::Result<()> {
    times.sort_unstable();
    let ms = |place: usize| times.get(place).map_or(0.0, |time| time.as_secs_f64() * 1e3);
    let (first, middle, last) = (ms(0), ms(times.len() / 2), ms(times.len().saturating_sub(1)));
    writeln!(out, "| {name} | {first:.0} | {middle:.0} | {last:.0} |")
}

/// Lists the book and reads all that is printed.
fn list(book: &Path) -> Result<Duration, Box<dyn Error>> {
    let mut command = Command::new(env!("CARGO_BIN_EXE_dryhold"));
    command.args(["cases", "--book"]).arg(book).stdin(Stdio::null()).stderr(Stdio::null());
    let start = Instant::now();
    let output = command.output()?;
    let taken = start.elapsed();
    let listed = String::from_utf8_lossy(&output.stdout).matches("  open    2026-").count();
    if listed != CASES {
        return Err(format!("{listed} cases were listed, not {CASES}").into());
    }
    Ok(taken)
}

/// Writes the book; how many bytes that took.
fn write_book(folder: &Path) -> Result<usize, Box<dyn Error>> {
    let cases: Result<Vec<Vec<Event>>, Box<dyn Error>> =
        SCENARIOS.map(events).into_iter().collect();
    let cases = cases?;
    let mut bytes = 0;
    for number in 0..CASES {
        let month = 1 + number * 9 / CASES;
        let mut events = cases[number % cases.len()].clone();
        let details = Details::default().with(Detail::Place, &format!("{number} Mill Lane"));
        events.insert(1, Event::Described { details });
        let begun: jiff::Timestamp = format!("2026-{month:02}-01T12:00:00Z").parse()?;
        let mut text = String::new();
        for (number, event) in events.into_iter().enumerate() {
            let at = begun + jiff::SignedDuration::from_secs(30 * i64::try_from(number)?);
            text.push_str(&write_line(&Entry { number, at, event })?);
            text.push('\n');
        }
        bytes += text.len();
        std::fs::write(folder.join(format!("2026-{month:02}-01-{number}.jsonl")), text)?;
    }
    Ok(bytes)
}

/// The events of a scenario of the built-in handbook.
fn events(scenario: &str) -> Result<Vec<Event>, Box<dyn Error>> {
    let handbook = built_in_handbook().ok_or("the handbook can't be unpacked")?;
    let engine = Engine::new(&handbook)?;
    let mut sources = Sources::default();
    let file = sources.add("scenario", scenario);
    let raw = read_scenario(&sources, file).0.ok_or("the scenario can't be read")?;
    let scenario =
        resolve_scenario(&raw, &handbook, &no_logs).map_err(|_| "it names what isn't")?;
    let mut case = Case::open(&handbook, &engine, scenario.tree);
    let mut script = Script::new(scenario.answers, scenario.acknowledge);
    interview(&mut case, &mut script, &mut KeepNothing);
    Ok(case.events().to_vec())
}
