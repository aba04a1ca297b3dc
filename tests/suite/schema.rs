//! The schemas of `docs/schema/` are those of the program, take everything that ships, and refuse
//! what the reader refuses about keys and shapes.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use dryhold::diagnostic::Code;
use dryhold::document::raw::{
    Holds, Key, Section, has_basis, read_answers, read_handbook, read_scenario,
};
use dryhold::handbook::{SchemaOf, schema};
use dryhold::source::Sources;
use jsonschema::Validator;
use serde_json::{Value, json};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn validator(of: SchemaOf) -> Validator {
    let schema = schema(of);
    jsonschema::draft202012::meta::validate(&schema).expect("it is a schema itself");
    jsonschema::draft202012::new(&schema).unwrap()
}

fn parsed(yaml: &str) -> Value {
    serde_yaml::from_str(yaml).unwrap_or_else(|error| panic!("{error}: {yaml}"))
}

fn yaml_files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files.extend(yaml_files(&path));
        } else if path.extension().is_some_and(|ending| ending == "yaml") {
            files.push(path);
        }
    }
    files.sort();
    files
}

#[test]
fn the_committed_schemas_are_fresh() {
    for of in SchemaOf::ALL {
        let path = root().join(format!("docs/schema/{}.json", of.word()));
        let present = serde_json::to_string_pretty(&schema(of)).unwrap() + "\n";
        if std::env::var_os("DRYHOLD_BLESS").is_some() {
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(&path, &present).unwrap();
        }
        let committed = fs::read_to_string(&path).unwrap_or_default();
        assert!(committed == present, "{} is stale; DRYHOLD_BLESS=1 writes it", path.display());
    }
}

#[test]
fn everything_that_ships_is_valid() {
    let mut looked_at = 0;
    let handbooks = ["rules", "tests/fixtures/miniature/rules", "src/cli/new/starters/handbook"];
    let scenarios = ["scenarios", "tests/fixtures/miniature/scenarios"];
    for (of, folders) in
        [(SchemaOf::Handbook, &handbooks[..]), (SchemaOf::Scenario, &scenarios[..])]
    {
        let validator = validator(of);
        for file in folders.iter().flat_map(|folder| yaml_files(&root().join(folder))) {
            // Starters have places that are filled when they are written.
            let text = fs::read_to_string(&file).unwrap().replace('@', "x");
            let is_scenario = file.file_name().is_some_and(|name| name == "scenario.yaml");
            if of == SchemaOf::Handbook && is_scenario {
                continue;
            }
            let value = parsed(&text.replace("xidx", "x").replace("xtitlex", "x"));
            let wrong: Vec<String> = validator
                .iter_errors(&value)
                .map(|error| format!("{}: {error}", error.instance_path()))
                .collect();
            assert!(wrong.is_empty(), "{}:\n{}", file.display(), wrong.join("\n"));
            looked_at += 1;
        }
    }
    assert!(looked_at > 200, "only {looked_at} files were looked at");
}

/// Faults about keys and shapes, as far as one entry tells them.
const TOLD: [&str; 3] = ["H201", "H204", "H110"];

/// What these show hangs on other entries, or on the files put together.
const BEYOND: [&str; 3] = [
    "handbook/cause-that-explains-nothing.yaml",
    "handbook/basis-of-a-key-without-numbers.yaml",
    "document/missing-header.yaml",
];

#[test]
fn fixtures_with_a_fault_of_keys_or_shapes_are_refused() {
    let fixtures = root().join("tests/fixtures/diagnostics");
    let mut refused = BTreeSet::new();
    for (stage, of) in [
        ("document", SchemaOf::Handbook),
        ("handbook", SchemaOf::Handbook),
        ("scenario-file", SchemaOf::Scenario),
        ("answers-file", SchemaOf::Answers),
    ] {
        let validator = validator(of);
        for path in yaml_files(&fixtures.join(stage)) {
            let name = format!("{stage}/{}", path.file_name().unwrap().to_str().unwrap());
            let text = fs::read_to_string(&path).unwrap_or_default();
            let Some((message, file)) = text.split_once("#---\n") else { continue };
            let is_told = TOLD.iter().any(|code| message.contains(&format!("[{code}]")));
            if !is_told || BEYOND.contains(&name.as_str()) {
                continue;
            }
            let Ok(value) = serde_yaml::from_str::<Value>(file) else { continue };
            assert!(!validator.is_valid(&value), "{name} is taken");
            refused.insert(name);
        }
    }
    assert!(refused.len() >= 10, "{refused:?}");
}

/// A small entry of each section with every key that must be there.
fn smallest(section: Section) -> Value {
    match section {
        Section::Questions => json!({"ask": "How deep?", "kind": "yes/no"}),
        Section::Instruments => json!({"name": "Rod"}),
        Section::Formulas => json!({"is": "2 m"}),
        Section::Findings => json!({"when": "deep"}),
        Section::Causes => json!({"name": "Rain", "how_common": "rarely"}),
        Section::Actions => json!({"do": "Bail it out."}),
        Section::Trees => json!({"title": "Well", "start": "a", "steps": {"a": {"end": "Done."}}}),
        Section::Cautions => json!({"severity": "note", "text": "It is slippery."}),
        Section::Sources => json!({"title": "The well book"}),
    }
}

/// The codes of what the reader says, and whether the schema takes the file.
fn both(validator: &Validator, file: &Value) -> (Vec<Code>, bool) {
    let mut sources = Sources::default();
    let id = sources.add("a.yaml", serde_yaml::to_string(file).unwrap());
    let header = sources.add("handbook.yaml", "format: 1\nname: A\nversion: 1\n");
    let (_, faults) = read_handbook(&sources, &[id, header], &[]);
    (faults.iter().map(|fault| fault.code).collect(), validator.is_valid(file))
}

/// One fault at a time in every entry: the reader and the schema agree on each.
#[test]
fn reader_and_schema_agree_on_every_key() {
    let validator = validator(SchemaOf::Handbook);
    let mut tried = 0;
    for &section in Section::ALL {
        let whole = |entry: Value| json!({ section.key(): { "x": entry } });
        let (faults, is_valid) = both(&validator, &whole(smallest(section)));
        assert!(faults.is_empty() && is_valid, "{section:?}: {faults:?}");
        let mut stranger = smallest(section);
        stranger["colour"] = json!("red");
        let (faults, is_valid) = both(&validator, &whole(stranger));
        assert_eq!((faults, is_valid), (vec![Code::UnknownKey], false), "{section:?}");
        for key in section.keys() {
            tried += 1;
            if key.is_required {
                let mut missing = smallest(section);
                missing.as_object_mut().unwrap().remove(key.key);
                let (faults, is_valid) = both(&validator, &whole(missing));
                assert_eq!((faults, is_valid), (vec![Code::MissingKey], false), "{}", key.key);
            }
            let mut bent = smallest(section);
            bent[key.key] = another_shape(key);
            let (faults, is_valid) = both(&validator, &whole(bent));
            assert!(!faults.is_empty() && !is_valid, "{section:?} {}: {faults:?}", key.key);
        }
        let mut based = smallest(section);
        based["basis"] = json!("estimate");
        let (faults, is_valid) = both(&validator, &whole(based));
        assert_eq!((faults.is_empty(), is_valid), (has_basis(section), has_basis(section)));
    }
    assert!(tried > 50, "only {tried} keys were tried");
}

/// A value of a shape that can't stand behind a key.
fn another_shape(key: &Key) -> Value {
    match key.holds {
        Holds::Ids | Holds::Texts => json!("alone"),
        Holds::Strength | Holds::Basis => json!(["a", "b"]),
        Holds::Strengths | Holds::Factors | Holds::Likelihoods | Holds::Likelihood => {
            json!(["a", "b"])
        }
        Holds::TextById
        | Holds::TextByWords
        | Holds::Answers
        | Holds::Steps
        | Holds::Map(_)
        | Holds::Entries(_) => {
            json!("alone")
        }
        _ => json!({"a": {"b": "c"}}),
    }
}

#[test]
fn steps_and_what_follows_them_are_described_whole() {
    let validator = validator(SchemaOf::Handbook);
    let tree =
        |step: Value| json!({"trees": {"t": {"title": "T", "start": "a", "steps": {"a": step}}}});
    let taken = [
        json!({"end": "Done.", "then": ["t"]}),
        json!({"end": "Done.", "then": "t"}),
        json!({"ask": "q", "again": true, "at_most": 2, "then": "a", "next": {"yes": "a", "no": "a"}}),
        json!({"do": "It.", "wait": "5 min", "next": {"tree": "t"}}),
        json!({"visit": "t", "next": [{"if": "q", "go": {"tree": "t"}}, {"unknown": "a"}, {"else": "a"}]}),
        json!({"visit": "t", "next": [{"too_close": "a", "else": "a"}]}),
        json!({"stop": "Leave.", "why": "It is full.", "refer": "the owner"}),
    ];
    for step in taken {
        let (faults, is_valid) = both(&validator, &tree(step.clone()));
        assert!(faults.is_empty() && is_valid, "{step}: {faults:?}");
    }
    let refused = [
        json!({"end": "Done.", "next": "a"}),
        json!({"ask": "q"}),
        json!({"next": "a"}),
        json!({"ask": "q", "do": "It.", "next": "a"}),
        json!({"do": "It.", "again": true, "next": "a"}),
        json!({"do": "It.", "next": [{"if": "q", "go": "a"}]}),
        json!({"do": "It.", "next": [{"if": "q"}, {"else": "a"}]}),
        json!({"do": "It.", "next": [{"if": "q", "go": "a", "or": "b"}, {"else": "a"}]}),
        json!({"do": "It.", "next": ["a"]}),
        json!({"do": "It.", "next": {"tree": ["t"]}}),
        json!({"do": "It.", "next": "A b"}),
        json!({"do": "It.", "next": "a", "at_most": "many"}),
        json!({"do": "It.", "next": "a", "at_most": -1}),
        json!({"do": "It.", "next": "a", "again": "perhaps"}),
    ];
    for step in refused {
        let (faults, is_valid) = both(&validator, &tree(step.clone()));
        assert!(!faults.is_empty() && !is_valid, "{step}: {faults:?}");
    }
}

#[test]
fn scenarios_and_answers_are_told_apart() {
    let (scenarios, answers) = (validator(SchemaOf::Scenario), validator(SchemaOf::Answers));
    let agree = |text: &str, is_scenario: bool, is_answers: bool| {
        let mut sources = Sources::default();
        let id = sources.add("a.yaml", text);
        let value = parsed(text);
        let read =
            (read_scenario(&sources, id).1.is_empty(), read_answers(&sources, id).1.is_empty());
        let valid = (scenarios.is_valid(&value), answers.is_valid(&value));
        assert_eq!((read, valid), ((is_scenario, is_answers), (is_scenario, is_answers)), "{text}");
    };
    agree("tree: a\nanswers: {q: [5, 6 m], p: yes, r: true}\n", false, true);
    agree("answers: {q: 5}\n", false, true);
    agree(
        "scenario: A\ntree: a\nexpect: {settled: true, ranking: {c: likely}, next: []}\n",
        true,
        false,
    );
    agree("scenario: A\n", false, false);
    agree("scenario: A\ntree: a\nexpect: {ended: true}\n", false, false);
    agree("tree: a\nanswers: {Q: 5}\n", false, false);
    agree("tree: a\nanswers: [5]\n", false, false);
    agree("tree: a\nacknowledge: hot\n", false, false);
}

/// What an editor shows beside a key.
#[test]
fn every_key_is_explained() {
    for of in SchemaOf::ALL {
        let schema = schema(of);
        let maps = schema["$defs"].as_object().unwrap().values().chain([&schema]);
        let mut keys = 0;
        for (name, key) in maps.filter_map(|map| map["properties"].as_object()).flatten() {
            let says = key["description"].as_str().unwrap_or_default();
            assert!(says.len() > 8 && says.ends_with('.'), "{name}: {says}");
            keys += 1;
        }
        assert!(keys >= 3, "{of:?}");
        assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
    }
}
