//! `sources`: every mark of the handbook is listed with the places that name it.

use serde_json::Value;

use super::stand::Stand;

fn listed() -> Value {
    let ran = Stand::new().run(&["sources", "--format", "json"]);
    assert_eq!(ran.status, Some(0), "{}", ran.stderr);
    serde_json::from_str(&ran.stdout).unwrap()
}

/// The words behind `basis` in the files of the handbook, read off their text.
fn written_marks() -> Vec<String> {
    let mut marks = Vec::new();
    for file in dryhold::built_in::built_in_files() {
        let mut indent = None;
        for row in file.text.lines() {
            let depth = row.len() - row.trim_start().len();
            if indent.is_some_and(|indent| depth > indent) {
                marks.extend(row.split_once(": ").map(|(_, mark)| mark.trim().to_owned()));
                continue;
            }
            indent = None;
            match row.trim_start().strip_prefix("basis:").map(str::trim) {
                Some("") => indent = Some(depth),
                Some(inline) if inline.starts_with('{') => {
                    let pairs = inline.trim_matches(['{', '}']).split(',');
                    marks.extend(pairs.map(|pair| pair.split_once(": ").unwrap().1.to_owned()));
                }
                Some(mark) => marks.push(mark.to_owned()),
                None => {}
            }
        }
    }
    marks.sort();
    marks
}

#[test]
fn every_mark_in_the_files_is_listed_with_its_place() {
    let listed = listed();
    let mut found = Vec::new();
    for list in ["sources", "marks"] {
        for entry in listed[list].as_array().unwrap() {
            let id = entry["id"].as_str().unwrap();
            found.extend(entry["used_by"].as_array().unwrap().iter().map(|_| id.to_owned()));
        }
    }
    found.sort();
    let written = written_marks();
    assert!(written.len() > 200, "{}", written.len());
    assert_eq!(found, written);
}

#[test]
fn every_source_is_used_and_says_where_it_is_found() {
    for source in listed()["sources"].as_array().unwrap() {
        assert!(!source["used_by"].as_array().unwrap().is_empty(), "{source}");
        for key in ["title", "by", "year", "where"] {
            assert!(source[key].is_string(), "{key} of {source}");
        }
    }
}

#[test]
fn one_source_is_told_with_its_uses_and_a_wrong_name_is_put_right() {
    let stand = Stand::new();
    let told = stand.run(&["sources", "field_joint_standard"]).stdout;
    assert!(told.starts_with("field_joint_standard\n  Household and similar"), "{told}");
    assert!(told.contains("  used by formula nitrogen_stood\n"), "{told}");
    assert!(told.contains("question nitrogen_gauge_step, for `why`"), "{told}");
    assert!(!told.contains("estimate:"), "{told}");
    let wrong = stand.run(&["sources", "memmory"]);
    assert_eq!(wrong.status, Some(2));
    let mend = "dryhold: there is no source or mark `memmory`; did you mean `memory`?\n";
    assert_eq!(wrong.stderr, mend);
}
