//! The page for trainers: every example on it is run.

use dryhold::document::raw::read_handbook;
use dryhold::formula::{LANGUAGE_WORDS, evaluate, functions};
use dryhold::source::Sources;

use super::names::Case;
use super::{checked, faults_of_formulas};

const PAGE: &str = include_str!("../../../docs/formula-language.md");

/// The fenced blocks with their language.
fn blocks() -> Vec<(&'static str, String)> {
    let mut blocks: Vec<(&str, String)> = Vec::new();
    let mut is_inside = false;
    for line in PAGE.lines() {
        match line.strip_prefix("```") {
            Some(language) if !is_inside => {
                blocks.push((language, String::new()));
                is_inside = true;
            }
            Some(_) => is_inside = false,
            None if is_inside => {
                let block = &mut blocks.last_mut().unwrap().1;
                block.push_str(line);
                block.push('\n');
            }
            None => {}
        }
    }
    blocks
}

/// What a line of the page says of its formula, against what is so.
fn differs(line: &str, case: &Case) -> Option<String> {
    if let Some((text, gives)) = line.split_once(" gives ") {
        let shown = match checked(text.trim(), case) {
            Ok(formula) => formula.show(&evaluate(&formula, case), case),
            Err(faults) => format!("{faults:#?}"),
        };
        return (shown != gives.trim()).then(|| format!("{line}\n\tgives {shown}"));
    }
    let (text, refused) = line.split_once(" refused").unwrap();
    let said = refused.strip_prefix(':').map(str::trim);
    match checked(text.trim(), case) {
        Ok(_) => Some(format!("{line}\n\tis accepted")),
        Err(faults) => {
            let help = faults[0].help.as_deref();
            (said.is_some() && help != said || said.is_none() && help.is_some())
                .then(|| format!("{line}\n\thelps with {help:?}"))
        }
    }
}

#[test]
fn every_example_of_the_page_is_so() {
    let case = Case::new();
    let mut wrong = Vec::new();
    let mut lines = 0;
    for (language, block) in blocks() {
        match language {
            "formula" => {
                lines += block.lines().count();
                wrong.extend(block.lines().filter_map(|line| differs(line, &case)));
            }
            "yaml" => {
                let mut sources = Sources::default();
                let id = sources.add("page", block);
                let header = sources.add("header", "format: 1\nname: Page\nversion: 1\n");
                assert!(read_handbook(&sources, &[id, header], &[]).1.is_empty());
                let faults = faults_of_formulas(&sources, &[id, header]);
                wrong.extend(faults.iter().map(|fault| fault.title.clone()));
            }
            other => wrong.push(format!("a block of `{other}` that no test runs")),
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(lines > 60, "only {lines} examples are left");
}

#[test]
fn the_page_names_every_function_and_word() {
    for function in functions() {
        assert!(PAGE.contains(&format!("`{}`", function.name)), "`{}` is missing", function.name);
    }
    let (_, words) = PAGE.split_once("## Words that can't be ids").unwrap();
    let named: Vec<&str> = words.split('`').skip(1).step_by(2).collect();
    assert_eq!(named, LANGUAGE_WORDS);
}
