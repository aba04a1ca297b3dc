//! The pages keep their word: every fenced block is run or parsed, links lead somewhere, headings
//! skip no level.
//!
//! What a block is stands behind its fence:
//!
//! | fence | what is done with it |
//! | --- | --- |
//! | `console` | commands behind `$ ` are run; what they print must be what stands below them, where a line `...` stands for any lines |
//! | `sh` | commands for a reader to copy; their arguments must be such as the program takes |
//! | `formula` | each line is computed: `FORMULA gives VALUE`, or `FORMULA refused: MEND` |
//! | `yaml` | read as a part of a handbook |
//! | `yaml H103` | reading it gives this fault |
//! | `yaml mine/tree.yaml` | a file of the page's own folder, in which its commands are run |
//! | `csv` | read as a log; which fault it has, if any, is tested with the pages of errors |
//! | `readings` | read as a pasted block |
//! | `json`, `jsonl` | parsed; `jsonl` is a case file with its checksums |
//!
//! With `DRYHOLD_BLESS=1` in the environment console blocks without `...` are rewritten.

mod block;
mod command;
mod page;

use page::{Page, pages};

/// A page whose blocks have a test of their own, with the names that its formulas use.
const TESTED_ELSEWHERE: &str = "docs/formula-language.md";

#[test]
fn every_block_of_every_page_is_so() {
    let mut wrong = Vec::new();
    let mut blocks = 0;
    for page in pages().iter().filter(|page| page.name != TESTED_ELSEWHERE) {
        blocks += page.blocks.len();
        wrong.extend(block::faults(page));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
    assert!(blocks > 20, "only {blocks} blocks were looked at");
}

#[test]
fn no_heading_skips_a_level() {
    let wrong: Vec<String> = pages().iter().flat_map(skipped_levels).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_link_leads_somewhere() {
    let pages = pages();
    let mut links = 0;
    let mut wrong = Vec::new();
    for page in &pages {
        for link in page.links() {
            links += 1;
            if !page.resolves(&link, &pages) {
                wrong.push(format!("{}: the link `{link}` leads nowhere", page.name));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(links > 20, "only {links} links were looked at");
}

#[test]
fn every_path_named_is_there() {
    let mut wrong = Vec::new();
    for page in pages() {
        let missing =
            page.paths_named().into_iter().filter(|path| !page::root().join(path).exists());
        wrong.extend(missing.map(|path| format!("{}: there is no `{path}`", page.name)));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_readme_s_two_commands_come_first() {
    let pages = pages();
    let readme = pages.iter().find(|page| page.name == "README.md").unwrap();
    let first = &readme.blocks[0];
    assert_eq!(first.info, "sh");
    let commands: Vec<&str> = first.text.lines().collect();
    assert_eq!(commands, ["cargo run --release -- diagnose", "cargo test"]);
}

fn skipped_levels(page: &Page) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut above = 0;
    for (level, title) in page.headings() {
        if level > above + 1 || (level == 1) != (above == 0) {
            wrong.push(format!("{}: the heading `{title}` has level {level}", page.name));
        }
        above = level;
    }
    wrong
}

#[test]
fn a_skipped_level_and_a_dead_link_would_be_seen() {
    let text = "# One\n\n### Three\n\n[gone](gone.md) and [here](#one) and [far](#two)\n";
    let page = Page::read("docs/invented.md", text);
    assert_eq!(skipped_levels(&page).len(), 1);
    let dead: Vec<String> =
        page.links().into_iter().filter(|link| !page.resolves(link, &[])).collect();
    assert_eq!(dead, ["gone.md", "#two"]);
}
