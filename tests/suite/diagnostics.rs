//! Every fault has a fixture that shows its whole message, and a page that teaches its mend.
//!
//! A fixture is `tests/fixtures/diagnostics/<stage>/<what-is-wrong>.yaml` (`.csv` for a log): the expected message,
//! each line behind `# `; a line `#---`; the file itself. A line `#--- added` in the file starts
//! a second file that is added to the first as a handbook of one's own. With `DRYHOLD_BLESS=1`
//! in the environment the expected messages are rewritten.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use dryhold::analysis::Analysis;
use dryhold::diagnostic::{CODES, Code, Diagnostic, Look, render, sort_in_file_order};
use dryhold::document::raw::{
    read_answers, read_handbook, read_rig_answers, read_rig_ranges, read_scenario,
};
use dryhold::document::{decode, passed_over};
use dryhold::handbook::{Compiled, Handbook, advise, compile, waive};
use dryhold::rehearsal::resolve_scenario;
use dryhold::rehearsal::rigged::RigAnswers;
use dryhold::rehearsal::rigged::population::Ranges;
use dryhold::series::{Given, LogError, read_log};
use dryhold::source::{SourceId, Sources};

use crate::formulas::faults_of_formulas;

/// Lines that a page has to stay below, so that it is read to its end.
const LONGEST_PAGE: usize = 90;

const SECOND_FILE: &str = "#--- added\n";

/// What a stage says about a fixture.
fn run(stage: &str, name: &str, file: &[u8]) -> (Sources, Vec<Diagnostic>) {
    let mut sources = Sources::default();
    let text = match decode(name, file) {
        Ok(text) => text,
        Err(fault) => return (sources, vec![fault]),
    };
    let (first, second) = text.split_once(SECOND_FILE).unwrap_or((text, ""));
    let id = sources.add(name, first);
    let faults = match stage {
        "document" => {
            let built_in = with_header(&mut sources, id);
            let added = (!second.is_empty()).then(|| sources.add(format!("added-{name}"), second));
            read_handbook(&sources, &built_in, added.as_slice()).1
        }
        "scenario-file" => read_scenario(&sources, id).1,
        "formula" => {
            let files = with_header(&mut sources, id);
            faults_of_formulas(&sources, &files)
        }
        "answers-file" => read_answers(&sources, id).1,
        "handbook" => {
            let built_in = with_header(&mut sources, id);
            let added = (!second.is_empty()).then(|| sources.add(format!("added-{name}"), second));
            compile(&sources, &built_in, added.as_slice()).faults
        }
        "advice" => {
            let files = with_header(&mut sources, id);
            let Compiled { handbook, written, mut faults } = compile(&sources, &files, &[]);
            faults.extend(handbook.iter().flat_map(|handbook| advise(&written, handbook)));
            let paths = |handbook| dryhold::analysis::advise(&written, &Analysis::of(handbook));
            faults.extend(handbook.iter().flat_map(paths));
            waive(&written, &mut faults);
            faults
        }
        "log" => return faults_of_log(name, first),
        "file-name" => named(first),
        "scenario" => faults_of_scenario(&mut sources, id),
        "rig-answers" => faults_of_rig_answers(&mut sources, id),
        "rig-ranges" => faults_of_rig_ranges(&mut sources, id),
        other => panic!("no loader for the stage `{other}`"),
    };
    (sources, faults)
}

/// What is said of a file that is called as the comment in its first line says.
fn named(file: &str) -> Vec<Diagnostic> {
    let name = file.lines().next().and_then(|line| line.strip_prefix("# ")).unwrap_or("");
    passed_over(Path::new(name)).into_iter().collect()
}

/// What is wrong with a log, or with its rows.
fn faults_of_log(name: &str, text: &str) -> (Sources, Vec<Diagnostic>) {
    let mut sources = Sources::default();
    let faults = match read_log(text.as_bytes(), &Given::default()) {
        Ok(readings) => {
            let notes = readings.notes().kept().iter();
            notes.map(|note| note.diagnostic(&mut sources, name)).collect()
        }
        Err(LogError::Fault(fault)) => vec![fault.diagnostic(&mut sources, name)],
        Err(LogError::Reader(error)) => panic!("{error}"),
    };
    (sources, faults)
}

/// What is wrong with what is done at a rig for the miniature handbook.
fn faults_of_rig_answers(sources: &mut Sources, id: SourceId) -> Vec<Diagnostic> {
    let (raw, mut faults) = read_rig_answers(sources, id);
    let handbook = miniature(sources);
    faults
        .extend(raw.and_then(|raw| RigAnswers::resolve(&raw, &handbook).err()).unwrap_or_default());
    sort_in_file_order(&mut faults);
    faults
}

/// What is wrong with the ranges of a population for the miniature handbook.
fn faults_of_rig_ranges(sources: &mut Sources, id: SourceId) -> Vec<Diagnostic> {
    let (raw, mut faults) = read_rig_ranges(sources, id);
    let handbook = miniature(sources);
    faults.extend(raw.and_then(|raw| Ranges::resolve(&raw, &handbook).err()).unwrap_or_default());
    sort_in_file_order(&mut faults);
    faults
}

/// What is wrong with a scenario for the miniature handbook.
fn faults_of_scenario(sources: &mut Sources, id: SourceId) -> Vec<Diagnostic> {
    let handbook = miniature(sources);
    let (raw, mut faults) = read_scenario(sources, id);
    faults.extend(
        raw.and_then(|raw| resolve_scenario(&raw, &handbook, &dryhold::rehearsal::no_logs).err())
            .unwrap_or_default(),
    );
    sort_in_file_order(&mut faults);
    faults
}

/// The miniature handbook.
fn miniature(sources: &mut Sources) -> Handbook {
    let rules = root().join("tests/fixtures/miniature/rules");
    let files: Vec<SourceId> = ["handbook.yaml", "values.yaml", "causes.yaml", "trees/barrel.yaml"]
        .iter()
        .map(|name| sources.add(*name, std::fs::read_to_string(rules.join(name)).unwrap()))
        .collect();
    let compiled = compile(sources, &files, &[]);
    compiled.handbook.unwrap_or_else(|| panic!("{:#?}", compiled.faults))
}

/// The fixture as a handbook: with a header beside it if it brings none.
fn with_header(sources: &mut Sources, id: SourceId) -> Vec<SourceId> {
    if sources.get(id).text().lines().any(|line| line.starts_with("format:")) {
        return vec![id];
    }
    vec![id, sources.add("handbook.yaml", "format: 1\nname: Fixture\nversion: 1\n")]
}

struct Fixture {
    path: PathBuf,
    stage: String,
    expected: String,
    actual: String,
    codes: Vec<Code>,
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every fixture with its expected and its actual message, in the order of the paths.
fn fixtures() -> Vec<Fixture> {
    let mut all = Vec::new();
    let folder = root().join("tests/fixtures/diagnostics");
    for stage in std::fs::read_dir(folder).unwrap() {
        let stage = stage.unwrap();
        for file in std::fs::read_dir(stage.path()).unwrap() {
            let path = file.unwrap().path();
            let stage = stage.file_name().to_string_lossy().into_owned();
            all.push(fixture(path, stage));
        }
    }
    all.sort_by(|a, b| a.path.cmp(&b.path));
    all
}

fn fixture(path: PathBuf, stage: String) -> Fixture {
    let bytes = std::fs::read(&path).unwrap();
    let (head, body) = split(&bytes).unwrap_or_else(|| panic!("no line `#---` in {path:?}"));
    let expected = String::from_utf8(head.to_vec()).unwrap();
    let name = path.file_name().unwrap().to_string_lossy().into_owned();
    let (sources, faults) = run(&stage, &name, body);
    let actual = as_comment(&render(&faults, &sources, Look::default()));
    let codes = faults.iter().map(|fault| fault.code).collect();
    Fixture { path, stage, expected, actual, codes }
}

/// The comment before and the file after the line `#---`.
fn split(bytes: &[u8]) -> Option<(&[u8], &[u8])> {
    const LINE: &[u8] = b"#---\n";
    let at = (0..bytes.len())
        .find(|&i| bytes[i..].starts_with(LINE) && (i == 0 || bytes[i - 1] == b'\n'))?;
    Some((&bytes[..at], &bytes[at + LINE.len()..]))
}

fn as_comment(text: &str) -> String {
    text.lines().map(|line| format!("# {line}").trim_end().to_owned() + "\n").collect()
}

fn bless(fixture: &Fixture) {
    let bytes = std::fs::read(&fixture.path).unwrap();
    let (_, body) = split(&bytes).unwrap();
    let blessed = [fixture.actual.as_bytes(), b"#---\n", body].concat();
    std::fs::write(&fixture.path, blessed).unwrap();
}

#[test]
fn every_fixture_shows_its_whole_message() {
    let fixtures = fixtures();
    assert!(!fixtures.is_empty());
    let wrong: Vec<&Fixture> = fixtures.iter().filter(|f| f.expected != f.actual).collect();
    if std::env::var_os("DRYHOLD_BLESS").is_some() {
        wrong.into_iter().for_each(bless);
        return;
    }
    let report: String = wrong
        .iter()
        .map(|f| format!("{:?}\nexpected:\n{}actual:\n{}\n", f.path, f.expected, f.actual))
        .collect();
    assert!(wrong.is_empty(), "{} of {} differ\n{report}", wrong.len(), fixtures.len());
    for fixture in &fixtures {
        assert!(!fixture.codes.is_empty(), "{:?} shows no fault", fixture.path);
    }
}

#[test]
fn every_code_has_a_page_and_a_fixture() {
    let stages = stages_by_code();
    let mut missing = Vec::new();
    for &code in CODES {
        if !stages.contains_key(&code) {
            missing.push(format!("{code} has no fixture"));
        }
        if !page(code).exists() {
            missing.push(format!("{code} has no page {:?}", page(code)));
        }
    }
    for entry in std::fs::read_dir(root().join("docs/errors")).unwrap() {
        let name = entry.unwrap().file_name().to_string_lossy().into_owned();
        if !CODES.iter().any(|code| name == format!("{code}.md")) {
            missing.push(format!("the page {name} belongs to no code"));
        }
    }
    assert!(missing.is_empty(), "{missing:#?}");
}

#[test]
fn the_examples_of_every_page_are_what_they_say() {
    let stages = stages_by_code();
    let mut wrong = Vec::new();
    for &code in CODES {
        let (Some(stages), true) = (stages.get(&code), page(code).exists()) else { continue };
        let text = std::fs::read_to_string(page(code)).unwrap();
        let title = format!("# {code}: {}\n", code.title());
        if !text.starts_with(&title) {
            wrong.push(format!("{code}: the page does not start with {title:?}"));
        }
        for heading in ["Wrong", "Why", "Right"] {
            if !text.contains(&format!("\n## {heading}\n")) {
                wrong.push(format!("{code}: no heading {heading}"));
            }
        }
        if text.lines().count() >= LONGEST_PAGE {
            wrong.push(format!("{code}: the page is too long"));
        }
        let said: Vec<String> = stages.iter().map(|stage| misfits(stage, code, &text)).collect();
        if !said.iter().any(String::is_empty) {
            wrong.push(format!("{code}: {}", said.join("; ")));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// What the examples of a page are not, as one stage sees them.
fn misfits(stage: &str, code: Code, page: &str) -> String {
    let mut misfits = String::new();
    for (heading, example) in examples(page) {
        let codes: Vec<Code> =
            run(stage, "example.yaml", example.as_bytes()).1.iter().map(|f| f.code).collect();
        let is_as_said = if heading == "Right" { codes.is_empty() } else { codes.contains(&code) };
        if !is_as_said {
            misfits += &format!("the example under {heading} gives {codes:?} at stage {stage}");
        }
    }
    misfits
}

fn page(code: Code) -> PathBuf {
    root().join(format!("docs/errors/{code}.md"))
}

/// By code, the stages whose fixtures show it.
fn stages_by_code() -> BTreeMap<Code, BTreeSet<String>> {
    let mut stages: BTreeMap<Code, BTreeSet<String>> = BTreeMap::new();
    for fixture in fixtures() {
        for code in fixture.codes {
            stages.entry(code).or_default().insert(fixture.stage.clone());
        }
    }
    stages
}

/// The YAML and CSV blocks of a page, each with the heading that it stands under.
fn examples(page: &str) -> Vec<(&str, String)> {
    let mut examples: Vec<(&str, String)> = Vec::new();
    let mut heading = "";
    let mut is_inside = false;
    for line in page.lines() {
        if let Some(name) = line.strip_prefix("## ") {
            heading = name;
        } else if line == "```yaml" || line == "```csv" {
            is_inside = true;
            examples.push((heading, String::new()));
        } else if line == "```" {
            is_inside = false;
        } else if let (true, Some((_, example))) = (is_inside, examples.last_mut()) {
            example.push_str(line);
            example.push('\n');
        }
    }
    examples
}
