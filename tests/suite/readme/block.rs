//! What is done with a fenced block, by what stands behind its fence.

use std::fmt::Write as _;
use std::path::Path;

use clap::Parser;
use dryhold::book::read_line;
use dryhold::case::{Case, KeepNothing, interview};
use dryhold::cli::Arguments;
use dryhold::document::raw::read_handbook;
use dryhold::series::{Given, LogError, read_log, read_pasted};
use dryhold::source::Sources;
use dryhold::terminal::{PipedLines, Program};

use super::command::{Shown, commands, fits, printed, words};
use super::page::{Block, Page, root};
use crate::commands::built_in;

/// The first words of commands that a reader may be told to copy.
const COPIED: &[&str] = &[
    "cargo test",
    "cargo install --path .",
    "cargo bench",
    ".ci/run",
    "git clone",
    "cd ",
    "rustup target add ",
    "CC_x86_64_unknown_linux_musl=gcc cargo build ",
];

/// What is not so on a page.
pub fn faults(page: &Page) -> Vec<String> {
    let files = page.blocks.iter().filter_map(|block| Some((file_of(block)?, &block.text)));
    let own_folder = tempfile::tempdir().unwrap();
    let mut folder = root();
    for (file, text) in files {
        if folder == root() {
            copy(&root().join("scenarios"), &own_folder.path().join("scenarios"));
        }
        let path = own_folder.path().join(file);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
        folder = own_folder.path();
    }
    let mut wrong = Vec::new();
    for block in &page.blocks {
        if let Err(fault) = check(page, block, folder) {
            wrong.push(format!("{}:{}: {fault}", page.name, block.line));
        }
    }
    wrong
}

/// Copies a folder, so that a page's commands find it beside the page's own files.
fn copy(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let to = to.join(entry.file_name());
        if entry.file_type().unwrap().is_dir() {
            copy(&entry.path(), &to);
        } else {
            std::fs::copy(entry.path(), to).unwrap();
        }
    }
}

/// The file that a block is, if it is one.
fn file_of(block: &Block) -> Option<&str> {
    let (language, file) = block.info.split_once(' ')?;
    let ending = match language {
        "yaml" => ".yaml",
        "readings" => ".txt",
        _ => return None,
    };
    file.ends_with(ending).then_some(file)
}

fn check(page: &Page, block: &Block, folder: &Path) -> Result<(), String> {
    let (language, rest) = block.info.split_once(' ').unwrap_or((&block.info, ""));
    match (language, rest) {
        ("console", "") => console(page, block, folder),
        ("sh", "") => block.text.lines().try_for_each(copied),
        ("formula", "") => block.text.lines().try_for_each(formula),
        ("yaml", "") => part(&block.text, None),
        // What its files amount to is told by the commands of the page.
        ("yaml", file) if file.ends_with(".yaml") => Ok(()),
        ("yaml", code) => part(&block.text, Some(code)),
        ("json", "") => serde_json::from_str::<serde_json::Value>(&block.text)
            .map(drop)
            .map_err(|error| error.to_string()),
        ("csv", "") => log(&block.text),
        ("readings", file) if file.is_empty() || file.ends_with(".txt") => {
            read_pasted(&block.text, &Given::default()).map(drop).map_err(|fault| fault.to_string())
        }
        ("jsonl", "") => case_file(&block.text),
        ("jsonl", "sent") => sent(&block.text),
        _ => Err(format!("nothing is known to be done with a block of `{}`", block.info)),
    }
}

fn console(page: &Page, block: &Block, folder: &Path) -> Result<(), String> {
    let mut status = 0;
    let mut so = String::new();
    let mut differs = String::new();
    for Shown { command, written, output } in commands(&block.text) {
        let actual = printed(&command, folder, &mut status);
        let (shown, lines): (Vec<&str>, Vec<&str>) =
            (output.lines().collect(), actual.lines().collect());
        if !fits(&shown, &lines) {
            let _ = write!(differs, "`{command}` prints\n{actual}");
        }
        so.push_str(&written);
        so.push_str(&actual);
    }
    if differs.is_empty() {
        return Ok(());
    }
    let leaves_out = block.text.lines().any(|line| line == "...");
    if std::env::var_os("DRYHOLD_BLESS").is_some() && !leaves_out {
        let path = root().join(&page.name);
        let text = std::fs::read_to_string(&path).unwrap();
        let old = format!("```console\n{}```\n", block.text);
        std::fs::write(path, text.replacen(&old, &format!("```console\n{so}```\n"), 1)).unwrap();
        return Ok(());
    }
    Err(format!("{differs}DRYHOLD_BLESS=1 rewrites a block without `...`"))
}

/// A command that is for the reader to copy: `cargo run -- ARGUMENTS` must be taken.
fn copied(line: &str) -> Result<(), String> {
    let line = line.split(" #").next().unwrap_or("").trim();
    if line.is_empty() || COPIED.iter().any(|start| line.starts_with(start)) {
        return Ok(());
    }
    let given = ["cargo run --release -- ", "cargo run -- ", "dryhold "]
        .iter()
        .find_map(|start| line.strip_prefix(start))
        .ok_or_else(|| format!("`{line}` is no command that is known here"))?;
    let arguments = std::iter::once("dryhold".to_owned()).chain(words(given));
    Arguments::try_parse_from(arguments).map(drop).map_err(|error| error.to_string())
}

fn formula(line: &str) -> Result<(), String> {
    let run = |text: &str| {
        let quoted = format!("dryhold eval \"{}\"", text.trim());
        printed(&quoted, root(), &mut 0)
    };
    if let Some((text, gives)) = line.split_once(" gives ") {
        let value = run(text);
        let is_so = value.trim_end() == gives.trim();
        return is_so.then_some(()).ok_or_else(|| format!("{text} gives {value}"));
    }
    let (text, mend) = line.split_once(" refused: ").ok_or("neither `gives` nor `refused:`")?;
    let said = run(text);
    let is_so = said.contains(&format!("= help: {}", mend.trim()));
    is_so.then_some(()).ok_or_else(|| format!("{text} gives\n{said}"))
}

/// A part of a handbook: read without a fault, or with the one that is told of.
fn part(text: &str, told: Option<&str>) -> Result<(), String> {
    let mut sources = Sources::default();
    let id = sources.add("part.yaml", text);
    let header = sources.add("handbook.yaml", "format: 1\nname: Page\nversion: 1\n");
    let (_, faults) = read_handbook(&sources, &[id, header], &[]);
    let codes: Vec<&str> = faults.iter().map(|fault| fault.code.number()).collect();
    let is_so = told.map_or(codes.is_empty(), |code| codes.contains(&code));
    let titles: Vec<&str> = faults.iter().map(|fault| fault.title.as_str()).collect();
    is_so.then_some(()).ok_or_else(|| format!("the faults are {codes:?}: {titles:?}"))
}

/// A log that is read without a fault, or told with one on a page of `docs/errors/`.
fn log(text: &str) -> Result<(), String> {
    match read_log(text.as_bytes(), &Given::default()) {
        Err(LogError::Reader(error)) => Err(error.to_string()),
        Ok(_) | Err(LogError::Fault(_)) => Ok(()),
    }
}

/// Lines of a case file in order, checksums and all.
/// Lines that another program sends: each is of the form that is taken, and names what is there.
fn sent(text: &str) -> Result<(), String> {
    let (handbook, engine) = built_in();
    let mut case = Case::open(handbook, engine, handbook.find_tree("pump_alone").unwrap());
    let mut lines = PipedLines::new(text.as_bytes());
    let mut out = Vec::new();
    interview(&mut case, &mut Program::new(&mut lines, &mut out), &mut KeepNothing);
    let told = String::from_utf8(out).unwrap();
    let is_refused = |line: &&str| {
        let told: serde_json::Value = serde_json::from_str(line).unwrap();
        told["why"] == "unreadable" || told["why"] == "unknown_name"
    };
    told.lines().find(is_refused).map_or(Ok(()), |line| Err(line.to_owned()))
}

fn case_file(text: &str) -> Result<(), String> {
    for (number, line) in text.lines().enumerate() {
        read_line(line, number).map_err(|fault| format!("line {number}: {fault}"))?;
    }
    Ok(())
}
