//! The functions as JSON, format 1.

use serde::Serialize;

use crate::formula::{FAMILIES, Function, Need, Parameter};

#[derive(Serialize)]
struct ListJson {
    format: u8,
    families: Vec<FamilyJson>,
}

#[derive(Serialize)]
struct FamilyJson {
    title: &'static str,
    functions: Vec<ListedJson>,
}

#[derive(Serialize)]
struct ListedJson {
    name: &'static str,
    signature: String,
    says: &'static str,
    gives: String,
}

/// All that the table says of a function. `holds` is absent where it always does.
#[derive(Serialize)]
struct FunctionJson {
    format: u8,
    name: &'static str,
    signature: String,
    says: &'static str,
    gives: String,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    words: Vec<WordJson>,
    parameters: Vec<ParameterJson>,
    formula: &'static str,
    #[serde(skip_serializing_if = "str::is_empty")]
    holds: &'static str,
    source: &'static str,
    examples: Vec<ExampleJson>,
}

/// A parameter. `low` and `high` are the range in SI units; `left_out` is what stands for it then.
#[derive(Serialize)]
struct ParameterJson {
    name: &'static str,
    says: &'static str,
    takes: String,
    required: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    left_out: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    low: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    high: Option<f64>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    words: Vec<WordJson>,
}

#[derive(Serialize)]
struct WordJson {
    word: &'static str,
    means: &'static str,
}

#[derive(Serialize)]
struct ExampleJson {
    text: &'static str,
    gives: &'static str,
}

pub(super) fn list(wanted: impl Fn(&Function) -> bool) -> serde_json::Result<String> {
    let listed = |function: &&'static Function| wanted(function);
    let families = FAMILIES
        .iter()
        .map(|family| FamilyJson {
            title: family.title,
            functions: family.functions.iter().filter(listed).map(in_list).collect(),
        })
        .filter(|family| !family.functions.is_empty())
        .collect();
    serde_json::to_string(&ListJson { format: 1, families })
}

fn in_list(function: &'static Function) -> ListedJson {
    ListedJson {
        name: function.name,
        signature: function.signature(),
        says: function.says,
        gives: function.gives_in_words(),
    }
}

pub(super) fn whole(function: &'static Function) -> serde_json::Result<String> {
    let example = |example: &crate::formula::Example| ExampleJson {
        text: example.text,
        gives: example.gives,
    };
    serde_json::to_string(&FunctionJson {
        format: 1,
        name: function.name,
        signature: function.signature(),
        says: function.says,
        gives: function.gives_in_words(),
        words: words(function.words()),
        parameters: function.parameters.iter().map(parameter).collect(),
        formula: function.formula,
        holds: function.holds,
        source: function.source,
        examples: function.examples.iter().map(example).collect(),
    })
}

fn parameter(parameter: &Parameter) -> ParameterJson {
    ParameterJson {
        name: parameter.name,
        says: parameter.says,
        takes: parameter.takes_in_words(),
        required: parameter.need == Need::Required,
        left_out: parameter.default_in_words(),
        low: parameter.range.map(|(low, _)| low),
        high: parameter.range.map(|(_, high)| high),
        words: words(parameter.words()),
    }
}

fn words(words: &'static [(&'static str, &'static str)]) -> Vec<WordJson> {
    words.iter().map(|&(word, means)| WordJson { word, means }).collect()
}
