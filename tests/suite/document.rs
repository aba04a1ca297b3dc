//! The miniature handbook is read whole, field by field.

use std::path::{Path, PathBuf};

use dryhold::built_in::{add_built_in, built_in_files};
use dryhold::diagnostic::{Look, render};
use dryhold::document::raw::{
    RawBasis, RawHandbook, RawLikelihood, RawNext, RawStrength, RawTarget, RawTest, RawWork,
    read_handbook, read_scenario,
};
use dryhold::document::read_yaml;
use dryhold::source::{SourceId, Sources};

fn miniature(folder: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/miniature").join(folder)
}

/// Loads every YAML file below a folder, in the order of the paths.
fn load(sources: &mut Sources, folder: &Path) -> Vec<SourceId> {
    let mut paths: Vec<PathBuf> =
        std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    let mut files = Vec::new();
    for path in paths {
        if path.is_dir() {
            files.extend(load(sources, &path));
        } else {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            files.push(sources.add(name, std::fs::read_to_string(&path).unwrap()));
        }
    }
    files
}

/// The program itself starts from trees made when it was built.
#[test]
fn the_built_in_rules_read_as_they_were_when_the_program_was_built() {
    let (mut sources, mut prepared) = (Sources::default(), Sources::default());
    let files = add_built_in(&mut prepared);
    for (file, of_prepared) in built_in_files().zip(files) {
        let id = sources.add(file.name, file.text);
        let (root, faults) = read_yaml(&sources, id);
        assert!(root.is_some() && faults.is_empty(), "{}", file.name);
        assert!(prepared.get(of_prepared).prepared().is_some_and(|bytes| !bytes.is_empty()));
        assert_eq!(read_yaml(&prepared, of_prepared), (root, Vec::new()), "{}", file.name);
    }
    assert!(sources.iter().count() > 10);
}

fn handbook(sources: &mut Sources) -> RawHandbook {
    let files = load(sources, &miniature("rules"));
    let (handbook, faults) = read_handbook(sources, &files, &[]);
    assert!(faults.is_empty(), "{}", render(&faults, sources, Look::default()));
    handbook
}

#[test]
fn every_section_of_the_miniature_is_read() {
    let handbook = handbook(&mut Sources::default());
    let counts = [
        handbook.questions.len(),
        handbook.instruments.len(),
        handbook.formulas.len(),
        handbook.findings.len(),
        handbook.causes.len(),
        handbook.actions.len(),
        handbook.trees.len(),
        handbook.cautions.len(),
        handbook.sources.len(),
    ];
    assert_eq!(counts, [7, 2, 2, 2, 4, 2, 2, 2, 1]);
    assert!(handbook.is_whole);
    assert_eq!(handbook.name.unwrap().text, "The rain barrel");
}

#[test]
fn findings_keep_both_shapes_of_likelihood() {
    let handbook = handbook(&mut Sources::default());
    let [falls, spot] = handbook.findings.as_slice() else { panic!("two findings") };
    let Some(RawTest::When(when)) = &falls.test else { panic!("a formula") };
    assert_eq!(when.text, "lost > much");
    let (cause, RawLikelihood::One(RawStrength::Word(word))) = &falls.shown_by[0] else {
        panic!("a word")
    };
    assert_eq!((cause.as_str(), word.as_str()), ("tap", "usually"));
    assert!(matches!(&spot.test, Some(RawTest::Of(question)) if question.value == "spot"));
    let Some(RawLikelihood::ByChoice(anyway)) = &spot.anyway else { panic!("by choice") };
    let shares: Vec<(&str, f64)> = anyway
        .iter()
        .map(|(choice, strength)| match strength {
            RawStrength::Number(number) => (choice.as_str(), number.value),
            RawStrength::Word(word) => panic!("{word:?}"),
        })
        .collect();
    assert_eq!(shares, [("nowhere", 0.9), ("under_tap", 0.05), ("all_round", 0.05)]);
}

#[test]
fn steps_keep_their_order_and_their_branches() {
    let handbook = handbook(&mut Sources::default());
    let tree = &handbook.trees[1];
    assert_eq!(tree.rounds.as_ref().unwrap().value, "which_barrel");
    let ids: Vec<&str> = tree.steps.iter().map(|step| step.id.as_str()).collect();
    assert_eq!(ids[..4], ["safety", "scale", "age", "before"]);
    let after = tree.steps.iter().find(|step| step.id.value == "after").unwrap();
    assert!(after.again);
    assert_eq!(after.at_most.as_ref().unwrap().value, 3);
    assert_eq!(after.then_step.as_ref().unwrap().value, "given_up");
    let Some(RawNext::ByFormula(rules)) = &after.next else { panic!("branches") };
    assert_eq!(rules.branches[0].condition.as_ref().unwrap().text, "level_falls");
    let name = |target: &Option<RawTarget>| target.as_ref().unwrap().name().value.clone();
    assert_eq!(name(&rules.too_close), "shut");
    assert_eq!(name(&rules.unknown), "given_up");
    assert_eq!(name(&rules.otherwise), "done");
    let done = tree.steps.last().unwrap();
    assert!(matches!(&done.work, Some(RawWork::End(text)) if text.text.starts_with("The level")));
    assert_eq!(done.then_trees[0].value, "safe");
}

#[test]
fn a_basis_is_a_word_or_a_map() {
    let handbook = handbook(&mut Sources::default());
    let [gauge, rod] = handbook.instruments.as_slice() else { panic!("two instruments") };
    assert!(matches!(&gauge.basis, Some(RawBasis::One(word)) if word.value == "estimate"));
    let Some(RawBasis::ByKey(bases)) = &rod.basis else { panic!("by key") };
    assert_eq!((bases[0].0.as_str(), bases[0].1.as_str()), ("scale", "common_practice"));
}

#[test]
fn the_scenario_of_the_miniature_is_read() {
    let mut sources = Sources::default();
    let files = load(&mut sources, &miniature("scenarios"));
    let (scenario, faults) = read_scenario(&sources, files[0]);
    assert!(faults.is_empty(), "{}", render(&faults, &sources, Look::default()));
    let scenario = scenario.unwrap();
    let (question, answers) = &scenario.answers[4];
    assert_eq!(question.value, "level");
    let texts: Vec<&str> = answers.iter().map(|answer| answer.text.as_str()).collect();
    assert_eq!(texts, ["900 mm", "820 mm", "819 mm"]);
    let expect = scenario.expect.unwrap();
    assert_eq!(expect.settled.map(|settled| settled.value), Some(false));
    assert_eq!(expect.ranking[0].1.text, "at most unlikely");
    assert_eq!(expect.next, Some(Vec::new()));
    assert_eq!(expect.stopped.unwrap().text, "false");
}

#[test]
fn an_added_file_replaces_and_adds() {
    let mut sources = Sources::default();
    let files = load(&mut sources, &miniature("rules"));
    let added = sources.add(
        "mine.yaml",
        "name: Mine\nactions:\n  patch: {do: Call a friend., replaces: built_in, was: glue}\n  \
         wait: {do: Wait.}\n",
    );
    let (handbook, faults) = read_handbook(&sources, &files, &[added]);
    assert!(faults.is_empty(), "{}", render(&faults, &sources, Look::default()));
    let texts: Vec<&str> =
        handbook.actions.iter().map(|a| a.text.as_ref().unwrap().text.as_str()).collect();
    assert!(texts[0].starts_with("Drain the barrel"));
    assert_eq!(texts[1..], ["Call a friend.", "Wait."]);
    assert_eq!(handbook.actions[1].was.as_ref().unwrap().value, "glue");
    assert_eq!(handbook.name.unwrap().text, "Mine");
}

#[test]
fn one_unreadable_file_hides_no_fault_of_the_others() {
    let mut sources = Sources::default();
    let broken = sources.add("broken.yaml", "causes: [\n");
    let typo = sources.add("typo.yaml", "actions:\n  a: {doo: Sweep.}\n");
    let header = sources.add("handbook.yaml", "format: 1\nname: Two\nversion: 1\n");
    let again = sources.add("again.yaml", "name: Three\n");
    let (handbook, faults) = read_handbook(&sources, &[broken, typo, header, again], &[]);
    let codes: Vec<&str> = faults.iter().map(|fault| fault.code.number()).collect();
    assert_eq!(codes, ["H102", "H201", "H202"]);
    assert!(!handbook.is_whole);
    assert_eq!(handbook.actions.len(), 1);
}
