//! Keys that need or refuse each other.

use serde_json::{Value, json};

use crate::document::raw::{STEP_KINDS, Section};

/// What an entry of a section needs besides its keys one by one.
pub(super) fn of_entry(section: Section, mut entry: Value) -> Value {
    match section {
        Section::Questions => {
            entry["anyOf"] = json!([{ "required": ["kind"] }, { "required": ["choices"] }]);
            let is_choice = json!({ "properties": { "kind": { "enum": ["choice", "choices"] } } });
            entry["if"] = json!({ "required": ["kind"], "allOf": [is_choice] });
            entry["then"] = json!({ "required": ["choices"] });
            entry["properties"]["choices"]["minProperties"] = json!(1);
        }
        Section::Findings => {
            entry["oneOf"] = json!([
                test("when", &json!({ "not": { "type": "object" } })),
                test("of", &json!({ "type": "object" })),
            ]);
            entry["dependentRequired"] = json!({
                "shown_by": ["anyway"],
                "holds_back": ["read_again"],
            });
        }
        Section::Cautions => {
            entry["if"] = json!({ "properties": { "severity": { "const": "stop" } } });
            entry["then"] = json!({ "required": ["refer"] });
        }
        _ => {}
    }
    entry
}

/// A finding by what decides it; a condition has one share, a choice one for each outcome.
fn test(key: &str, shares: &Value) -> Value {
    json!({
        "required": [key],
        "properties": { "anyway": shares, "shown_by": { "additionalProperties": shares } },
    })
}

/// A step is exactly one kind; what follows it must be written on all but `stop` and `end`, and may
/// not be on these.
pub(super) fn of_step(mut step: Value) -> Value {
    let kinds: Vec<Value> = STEP_KINDS
        .iter()
        .map(|kind| match *kind {
            "stop" => json!({
                "required": ["stop", "refer"],
                "properties": { "next": false, "again": false, "closes": false },
            }),
            "end" => json!({
                "required": ["end"],
                "properties": { "next": false, "again": false, "meanwhile": false },
                "not": {
                    "required": ["closes", "then"],
                    "properties": { "closes": { "not": { "enum": ["planned", "waits"] } } },
                },
            }),
            "ask" => json!({
                "required": ["ask", "next"],
                "properties": { "closes": false, "meanwhile": false },
                "dependentRequired": { "then": ["at_most"] },
            }),
            kind => json!({
                "required": [kind, "next"],
                "dependentRequired": { "then": ["at_most"] },
                "properties": { "again": false, "closes": false, "meanwhile": false },
            }),
        })
        .collect();
    let only_one: Vec<Value> =
        STEP_KINDS.iter().map(|kind| json!({ "required": [kind] })).collect();
    step["oneOf"] = json!(only_one);
    step["anyOf"] = json!(kinds);
    // A bound needs its way out, and no other step has one.
    step["dependentRequired"] = json!({ "at_most": ["then"] });
    step
}
