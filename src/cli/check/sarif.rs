//! Faults for programs that show them beside the files: SARIF.
//!
//! Source: OASIS, Static Analysis Results Interchange Format (SARIF) Version 2.1.0, 2020.

use serde_json::{Value, json};

use super::explain::page;
use super::json::Place;
use crate::diagnostic::{CODES, Code, Diagnostic, Label, Severity};
use crate::source::Sources;

/// One run of the check as a SARIF log.
pub(super) fn sarif(faults: &[Diagnostic], sources: &Sources) -> Value {
    let rules: Vec<Value> = CODES.iter().map(|code| rule(*code)).collect();
    let results: Vec<Value> = faults.iter().map(|fault| result(fault, sources)).collect();
    let driver = json!({
        "name": env!("CARGO_PKG_NAME"),
        "semanticVersion": env!("CARGO_PKG_VERSION"),
        "rules": rules,
    });
    json!({
        "$schema": "https://docs.oasis-open.org/sarif/sarif/v2.1.0/os/schemas/sarif-schema-2.1.0.json",
        "version": "2.1.0",
        "runs": [{
            "tool": {"driver": driver},
            "columnKind": "unicodeCodePoints",
            "results": results,
        }],
    })
}

fn rule(code: Code) -> Value {
    json!({
        "id": code.number(),
        "shortDescription": {"text": code.title()},
        "help": {"text": page(code), "markdown": page(code)},
        "defaultConfiguration": {"level": level(code.severity())},
    })
}

fn level(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Advice => "note",
    }
}

fn result(fault: &Diagnostic, sources: &Sources) -> Value {
    let said = [Some(&fault.title), fault.note.as_ref(), fault.help.as_ref()];
    let said: Vec<&str> = said.into_iter().flatten().map(String::as_str).collect();
    let mut result = json!({
        "ruleId": fault.code.number(),
        "level": level(fault.severity()),
        "message": {"text": said.join(". ")},
    });
    let place = CODES.iter().position(|code| *code == fault.code);
    if let (Some(members), Some(place)) = (result.as_object_mut(), place) {
        members.insert("ruleIndex".to_owned(), json!(place));
        let mut labels = fault.labels.iter();
        if let Some(main) = labels.next() {
            members.insert("locations".to_owned(), json!([location(main, sources)]));
        }
        let others: Vec<Value> = labels.map(|label| location(label, sources)).collect();
        if !others.is_empty() {
            members.insert("relatedLocations".to_owned(), json!(others));
        }
    }
    result
}

fn location(label: &Label, sources: &Sources) -> Value {
    let place = Place::of(label.span, sources);
    json!({
        "physicalLocation": {
            "artifactLocation": {"uri": uri(place.file)},
            "region": {
                "startLine": place.start.0,
                "startColumn": place.start.1,
                "endLine": place.end.0,
                "endColumn": place.end.1,
            },
        },
        "message": {"text": label.text},
    })
}

/// A path as a relative reference of a URI (RFC 3986): what is not unreserved is written by its
/// bytes.
fn uri(path: &str) -> String {
    let mut uri = String::with_capacity(path.len());
    for byte in path.replace('\\', "/").bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' | b'/' => {
                uri.push(char::from(byte));
            }
            _ => uri.push_str(&format!("%{byte:02X}")),
        }
    }
    uri
}

#[cfg(test)]
mod tests {
    use super::uri;

    #[test]
    fn a_path_with_blanks_is_a_valid_reference() {
        assert_eq!(uri("my rules/höhe#1.yaml"), "my%20rules/h%C3%B6he%231.yaml");
        assert_eq!(uri("a\\b.yaml"), "a/b.yaml");
    }
}
