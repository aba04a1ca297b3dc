//! The rooms of `src/` import each other only along the edges that `src/lib.rs` lists.

use std::fs;
use std::path::{Path, PathBuf};

/// Each room with the rooms it may import; `*` is all.
const EDGES: &[(&str, &[&str])] = &[
    ("text", &[]),
    ("source", &[]),
    ("quantity", &["text"]),
    ("diagnostic", &["source", "text"]),
    ("document", &["source", "diagnostic", "text"]),
    ("physics", &["quantity"]),
    ("series", &["quantity", "text", "source", "diagnostic"]),
    ("rise", &["physics", "quantity"]),
    ("formula", &["quantity", "physics", "rise", "source", "diagnostic", "text"]),
    ("handbook", &["document", "formula", "quantity", "source", "diagnostic", "text"]),
    ("built_in", &["handbook", "source"]),
    ("analysis", &["handbook", "document", "formula", "quantity", "source", "diagnostic", "text"]),
    ("evidence", &["handbook", "formula", "quantity", "text"]),
    ("case", &["evidence", "handbook", "formula", "series", "quantity", "diagnostic", "text"]),
    ("book", &["case", "built_in", "handbook", "source", "diagnostic", "text"]),
    ("bench", &["physics", "quantity"]),
    (
        "rehearsal",
        &[
            "analysis",
            "bench",
            "case",
            "evidence",
            "handbook",
            "formula",
            "document",
            "source",
            "diagnostic",
            "quantity",
            "text",
        ],
    ),
    (
        "report",
        &[
            "book", "case", "evidence", "built_in", "handbook", "formula", "rise", "series",
            "physics", "quantity", "text",
        ],
    ),
    ("drawing", &["case", "handbook", "text"]),
    ("terminal", &["report", "case", "quantity", "text", "diagnostic"]),
    ("cli", &["*"]),
];

#[test]
fn rooms_import_only_along_the_edges() {
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut forbidden = Vec::new();
    let mut files = 0;
    for file in rust_files(&source) {
        let relative = file.strip_prefix(&source).unwrap();
        if relative.components().count() == 1 {
            continue;
        }
        files += 1;
        let room = relative.components().next().unwrap().as_os_str().to_str().unwrap().to_owned();
        let allowed = EDGES
            .iter()
            .find(|(name, _)| *name == room)
            .unwrap_or_else(|| panic!("the room `{room}` has no row in the table of edges"))
            .1;
        let text = fs::read_to_string(&file).unwrap();
        for (number, imported) in crate_paths(&text) {
            let is_allowed =
                imported == room || allowed.contains(&"*") || allowed.contains(&&*imported);
            if !is_allowed {
                forbidden.push(format!(
                    "{}:{number}: `{room}` must not import `{imported}`",
                    relative.display()
                ));
            }
        }
    }
    assert!(files > 50, "only {files} files were looked at");
    assert!(forbidden.is_empty(), "{}", forbidden.join("\n"));
}

#[test]
fn a_forbidden_edge_would_be_seen() {
    let text = "use crate::case::Case;\n    x: crate::cli::run,\nuse crate::{text, book::Book};\n";
    let found: Vec<String> = crate_paths(text).into_iter().map(|(_, room)| room).collect();
    assert_eq!(found, ["case", "cli", "text", "book"]);
}

#[test]
fn the_program_s_own_file_is_short() {
    let main = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/main.rs");
    assert!(fs::read_to_string(main).unwrap().lines().count() < 30);
}

/// The first segment behind each `crate::`, with its line; groups in braces are taken apart.
fn crate_paths(text: &str) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    for (at, _) in text.match_indices("crate::") {
        let before = text[..at].chars().next_back();
        if before.is_some_and(|c| c.is_alphanumeric() || c == '_' || c == '$') {
            continue;
        }
        let line = text[..at].matches('\n').count() + 1;
        let rest = &text[at + "crate::".len()..];
        if let Some(group) = rest.strip_prefix('{') {
            let mut depth = 0;
            let mut part = String::new();
            for c in group.chars() {
                match c {
                    '{' => depth += 1,
                    '}' if depth == 0 => break,
                    '}' => depth -= 1,
                    ',' if depth == 0 => {
                        found.push((line, first_segment(&part)));
                        part.clear();
                        continue;
                    }
                    _ => {}
                }
                part.push(c);
            }
            if !part.trim().is_empty() {
                found.push((line, first_segment(&part)));
            }
        } else {
            found.push((line, first_segment(rest)));
        }
    }
    found.retain(|(_, room)| !room.is_empty());
    found
}

fn first_segment(path: &str) -> String {
    path.trim_start().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect()
}

pub fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files.extend(rust_files(&path));
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            files.push(path);
        }
    }
    files.sort();
    files
}
