//! The format of the files as JSON Schema (draft 2020-12), for editors that complete and check
//! while somebody types.
//!
//! It is made from the same tables of keys that the readers use. It says what stands where; what
//! names lead to, what formulas mean and whether trees come to an end is for the checker.

mod rules;
mod shapes;

use serde_json::{Map, Value, json};

use crate::document::raw::{ANSWERS_KEYS, FILE_KEYS, Key, SCENARIO_KEYS};

/// A sort of file that has a schema.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SchemaOf {
    /// Any file of a handbook, such as one that holds a tree.
    Handbook,
    /// A scenario.
    Scenario,
    /// An answers file.
    Answers,
}

impl SchemaOf {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Handbook, Self::Scenario, Self::Answers];

    /// Its word, such as `handbook`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Handbook => "handbook",
            Self::Scenario => "scenario",
            Self::Answers => "answers",
        }
    }

    fn keys(self) -> &'static [Key] {
        match self {
            Self::Handbook => FILE_KEYS,
            Self::Scenario => SCENARIO_KEYS,
            Self::Answers => ANSWERS_KEYS,
        }
    }

    fn title(self) -> &'static str {
        match self {
            Self::Handbook => "A file of a Dryhold handbook, format 1",
            Self::Scenario => "A Dryhold scenario, format 1",
            Self::Answers => "A Dryhold answers file, format 1",
        }
    }

    fn says(self) -> &'static str {
        match self {
            Self::Handbook => {
                "Any file may hold any section, and the files are put together. `dryhold check` \
                 finds what a schema can't: names that lead nowhere, formulas, ways without an end."
            }
            Self::Scenario => "A case whose outcome is known, run by `dryhold rehearse`.",
            Self::Answers => "Answers given beforehand, for `dryhold diagnose --answers`.",
        }
    }
}

/// The schema of a sort of file.
///
/// ```
/// use dryhold::handbook::{SchemaOf, schema};
/// let handbook = schema(SchemaOf::Handbook);
/// assert_eq!(handbook["$defs"]["question"]["required"][0], "ask");
/// ```
#[must_use]
pub fn schema(of: SchemaOf) -> Value {
    let mut whole = json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": format!("urn:dryhold:format-1:{}", of.word()),
        "title": of.title(),
        "description": of.says(),
    });
    let body = shapes::map_of(of.keys());
    let defs = used(&body, &shapes::definitions());
    if let (Some(whole), Value::Object(body)) = (whole.as_object_mut(), body) {
        whole.extend(body);
        whole.insert("$defs".to_owned(), Value::Object(defs));
    }
    whole
}

/// The definitions that a schema leads to, in the order of all of them.
fn used(body: &Value, all: &Map<String, Value>) -> Map<String, Value> {
    let mut wanted: Vec<String> = Vec::new();
    let mut open = vec![body.clone()];
    while let Some(value) = open.pop() {
        for name in references(&value) {
            if !wanted.contains(&name) {
                open.extend(all.get(&name).cloned());
                wanted.push(name);
            }
        }
    }
    let is_wanted = |(name, _): &(&String, &Value)| wanted.contains(name);
    all.iter().filter(is_wanted).map(|(name, value)| (name.clone(), value.clone())).collect()
}

fn references(value: &Value) -> Vec<String> {
    match value {
        Value::Object(map) => map
            .iter()
            .flat_map(|(key, value)| match (key.as_str(), value) {
                ("$ref", Value::String(path)) => {
                    path.strip_prefix(shapes::DEFINED).map(str::to_owned).into_iter().collect()
                }
                _ => references(value),
            })
            .collect(),
        Value::Array(items) => items.iter().flat_map(references).collect(),
        _ => Vec::new(),
    }
}
