//! Puts the built-in handbook into the program: every file of `rules/` as text, as the tree that
//! reading it gives, and all of them compiled, so that no start has to do it again.

// The rooms are the library's; here only what compiling needs of them is called.
#![allow(dead_code, unused_imports, clippy::wrong_self_convention)]

#[path = "src/diagnostic/mod.rs"]
mod diagnostic;
#[path = "src/document/mod.rs"]
mod document;
#[path = "src/formula/mod.rs"]
mod formula;
#[path = "src/handbook/mod.rs"]
mod handbook;
#[path = "src/physics/mod.rs"]
mod physics;
#[path = "src/quantity/mod.rs"]
mod quantity;
#[path = "src/rise/mod.rs"]
mod rise;
#[path = "src/source/mod.rs"]
mod source;
#[path = "src/text/mod.rs"]
mod text;

use std::fmt::Write;
use std::path::{Path, PathBuf};

type Failure = Box<dyn std::error::Error>;

fn main() -> Result<(), Failure> {
    let root = PathBuf::from(std::env::var("CARGO_MANIFEST_DIR")?);
    let out = PathBuf::from(std::env::var("OUT_DIR")?);
    for watched in [
        "build.rs",
        "rules",
        "docs/errors",
        "src/diagnostic",
        "src/document",
        "src/formula",
        "src/handbook",
        "src/physics",
        "src/quantity",
        "src/rise",
        "src/source",
        "src/text",
    ] {
        println!("cargo::rerun-if-changed={watched}");
    }
    let mut files = Vec::new();
    collect(&root.join("rules"), "rules", &mut files)?;
    files.sort();
    let read = read(&files)?;
    let mut list = String::from("&[\n");
    for (place, (name, path)) in files.iter().enumerate() {
        let tree = out.join(format!("{place}.tree"));
        std::fs::write(&tree, prepared(name, path)?)?;
        writeln!(list, "({name:?}, include_str!({path:?}), include_bytes!({tree:?})),")?;
    }
    list.push(']');
    std::fs::write(out.join("built_in.rs"), list)?;
    // Nothing for one with errors, which are then named at every start.
    let handbook = handbook::compile(&read.0, &read.1, &[]).handbook;
    let packed = handbook.as_ref().and_then(handbook::Handbook::pack).unwrap_or_default();
    std::fs::write(out.join("handbook.tables"), packed)?;
    let told = handbook.map(|handbook| {
        let hash: String = handbook.hash().chars().take(16).collect();
        format!("{hash} (version {})", handbook.version())
    });
    println!("cargo::rustc-env=DRYHOLD_HANDBOOK={}", told.unwrap_or_else(|| "faulty".to_owned()));
    println!("cargo::rustc-env=DRYHOLD_TARGET={}", std::env::var("TARGET")?);
    println!("cargo::rustc-env=DRYHOLD_PROFILE={}", std::env::var("PROFILE")?);
    std::fs::write(out.join("pages.rs"), pages(&root.join("docs/errors"))?)?;
    Ok(())
}

/// The pages of the codes, each with its number.
fn pages(folder: &Path) -> Result<String, Failure> {
    let mut pages: Vec<PathBuf> = Vec::new();
    for entry in std::fs::read_dir(folder)? {
        pages.push(entry?.path());
    }
    pages.sort();
    let mut list = String::from("&[\n");
    for page in pages {
        let number = page.file_stem().and_then(|name| name.to_str()).ok_or("a name is not text")?;
        writeln!(list, "({number:?}, include_str!({page:?})),")?;
    }
    list.push(']');
    Ok(list)
}

/// The files below a folder with the names that they are known by.
fn collect(folder: &Path, name: &str, files: &mut Vec<(String, PathBuf)>) -> Result<(), Failure> {
    for entry in std::fs::read_dir(folder)? {
        let path = entry?.path();
        let below = path.file_name().and_then(|name| name.to_str()).ok_or("a name is not text")?;
        let name = format!("{name}/{below}");
        if path.is_dir() {
            collect(&path, &name, files)?;
        } else if path.extension().is_some_and(|ending| ending == "yaml") {
            files.push((name, path));
        }
    }
    Ok(())
}

/// The texts of these files.
fn read(files: &[(String, PathBuf)]) -> Result<(source::Sources, Vec<source::SourceId>), Failure> {
    let mut sources = source::Sources::default();
    let mut ids = Vec::new();
    for (name, path) in files {
        ids.push(sources.add(name.as_str(), std::fs::read_to_string(path)?));
    }
    Ok((sources, ids))
}

/// The tree of a file; nothing for one with faults, which are then named at every start.
fn prepared(name: &str, path: &Path) -> Result<Vec<u8>, Failure> {
    let mut sources = source::Sources::default();
    let id = sources.add(name, std::fs::read_to_string(path)?);
    let (root, faults) = document::read_yaml(&sources, id);
    let sound = root.filter(|_| faults.is_empty());
    Ok(sound.and_then(|root| document::prepared::prepare(&root)).unwrap_or_default())
}
