//! What stands behind a key, as a schema.

use serde_json::{Map, Value, json};

use super::rules;
use crate::document::raw::{
    BASIS_KEYS, BRANCH_KEYS, DOUBT_KEYS, ENTRY_KEYS, Holds, Key, STEP_KEYS, Section, TARGET_KEYS,
    Words, has_basis,
};
use crate::handbook::resolve::{closing_words, kind_words, severity_words};
use crate::handbook::strength::STRENGTH_WORDS;

/// What every reference begins with.
pub(super) const DEFINED: &str = "#/$defs/";

/// A map with these keys and no other.
pub(super) fn map_of(keys: &[Key]) -> Value {
    object(&[keys])
}

/// A map with the keys of all these tables and no other.
fn object(tables: &[&[Key]]) -> Value {
    let keys = || tables.iter().copied().flatten();
    let properties: Map<String, Value> =
        keys().map(|key| (key.key.to_owned(), described(key))).collect();
    let required: Vec<&str> = keys().filter(|key| key.is_required).map(|key| key.key).collect();
    let mut map = json!({ "type": "object", "properties": properties });
    if !required.is_empty() {
        map["required"] = json!(required);
    }
    map["additionalProperties"] = json!(false);
    map
}

fn described(key: &Key) -> Value {
    let mut shape = shape(key.holds);
    shape["description"] = json!(key.says);
    shape
}

fn reference(name: &str) -> Value {
    json!({ "$ref": format!("{DEFINED}{name}") })
}

/// A map from ids to something defined.
fn by_id(name: &str) -> Value {
    json!({
        "type": "object",
        "propertyNames": reference("id"),
        "additionalProperties": reference(name),
    })
}

fn shape(holds: Holds) -> Value {
    match holds {
        Holds::Text => reference("text"),
        Holds::Word(words) => word(words),
        Holds::Id => reference("id"),
        Holds::Ids => json!({ "type": "array", "items": reference("id") }),
        Holds::Texts => json!({ "type": "array", "items": reference("text") }),
        Holds::Flag => json!({ "enum": [true, false, "true", "false"] }),
        Holds::YesNo => json!({ "enum": [true, false, "true", "false", "yes", "no"] }),
        Holds::WholeNumber => json!({
            "type": ["integer", "string"], "minimum": 0, "pattern": "^\\s*[0-9]+\\s*$",
        }),
        Holds::Strength => reference("strength"),
        Holds::Strengths => by_id("strength"),
        Holds::Factors => by_id("number"),
        Holds::Likelihood => reference("likelihood"),
        Holds::Likelihoods => by_id("likelihood"),
        Holds::TextById => by_id("text"),
        Holds::TextByWords => json!({
            "type": "object", "additionalProperties": reference("text"),
        }),
        Holds::Waivers => json!({
            "type": "object",
            "propertyNames": { "pattern": "^H[0-9]{3}$" },
            "additionalProperties": reference("text"),
        }),
        Holds::Answers => by_id("answer"),
        Holds::Basis => reference("basis"),
        Holds::Next => reference("next"),
        Holds::Target => reference("target"),
        Holds::IdOrIds => reference("id_or_ids"),
        Holds::Steps => by_id("step"),
        Holds::Entries(section) => {
            let mut entries = by_id(section.entry());
            // A section without anything in it is an empty one.
            entries["type"] = json!(["object", "null"]);
            entries
        }
        Holds::Map(keys) => map_of(keys),
    }
}

fn word(words: Words) -> Value {
    match words {
        Words::BuiltIn => json!({ "const": "built_in" }),
        Words::Severity => json!({ "enum": severity_words() }),
        Words::Closes => json!({ "enum": closing_words() }),
        Words::Kind => json!({ "enum": kind_words() }),
        Words::Format => json!({ "enum": [1, "1"] }),
    }
}

/// Everything that a reference may lead to.
pub(super) fn definitions() -> Map<String, Value> {
    let mut all = Map::new();
    for (name, definition) in simple().into_iter().chain(of_trees()) {
        all.insert(name.to_owned(), definition);
    }
    for &section in Section::ALL {
        let mut tables = vec![section.keys()];
        tables.extend(has_basis(section).then_some(BASIS_KEYS));
        tables.push(ENTRY_KEYS);
        let entry = rules::of_entry(section, object(&tables));
        all.insert(section.entry().to_owned(), entry);
    }
    all
}

fn simple() -> Vec<(&'static str, Value)> {
    let words: Vec<&str> = STRENGTH_WORDS.iter().map(|(word, _)| *word).collect();
    let number = "^\\s*[-+]?([0-9]+\\.?[0-9]*|\\.[0-9]+)([eE][-+]?[0-9]+)?\\s*$";
    vec![
        (
            "id",
            json!({
                "description": "A small letter, then small letters, digits and _.",
                "type": "string",
                "pattern": "^\\s*[a-z][a-z0-9_]*\\s*$",
            }),
        ),
        (
            "text",
            json!({
                "description": "Words for people, a formula, or a value with its unit.",
                "type": ["string", "number", "boolean"],
                "pattern": "\\S",
            }),
        ),
        ("number", json!({ "type": ["number", "string"], "pattern": number })),
        (
            "strength",
            json!({
                "description": "How often: a word of the scale, or a share from 0 to 1.",
                "anyOf": [
                    { "enum": words },
                    { "type": "number", "minimum": 0, "maximum": 1 },
                    { "type": "string", "pattern": number },
                ],
            }),
        ),
        ("likelihood", json!({ "anyOf": [reference("strength"), by_id("strength")] })),
        ("basis", json!({ "anyOf": [reference("id"), by_id("id")] })),
        (
            "answer",
            json!({
                "description": "An answer as it would be typed; a list answers a repeated question.",
                "anyOf": [
                    reference("text"),
                    { "type": "array", "items": reference("text") },
                ],
            }),
        ),
    ]
}

fn of_trees() -> Vec<(&'static str, Value)> {
    let ids = json!({ "type": "array", "items": reference("id") });
    let mut doubt = map_of(DOUBT_KEYS);
    doubt["minProperties"] = json!(1);
    let by_answer = json!({
        "description": "A step for each answer.",
        "type": "object",
        "minProperties": 1,
        "additionalProperties": reference("target"),
        "not": { "required": ["tree"] },
    });
    let by_condition = json!({
        "description": "Conditions in order, ended by else.",
        "type": "array",
        "items": { "anyOf": [map_of(BRANCH_KEYS), doubt] },
        "contains": { "type": "object", "required": ["else"] },
    });
    vec![
        ("id_or_ids", json!({ "anyOf": [reference("id"), ids] })),
        ("target", json!({ "anyOf": [reference("id"), map_of(TARGET_KEYS)] })),
        ("next", json!({ "anyOf": [reference("target"), by_answer, by_condition] })),
        ("step", rules::of_step(map_of(STEP_KEYS))),
    ]
}
