//! How long checking takes beside reading alone: handbooks of ten thousand generated steps, one
//! tree or a hundred, read, compiled and advised on in one run each.

use std::error::Error;
use std::fmt::Write as _;
use std::io::Write as _;
use std::time::{Duration, Instant};

use dryhold::analysis;
use dryhold::document::raw::read_handbook;
use dryhold::handbook::{Compiled, compile};
use dryhold::source::Sources;

const STEPS: usize = 10_000;
const TURNS: usize = 5;

fn main() -> Result<(), Box<dyn Error>> {
    let mut out = std::io::stdout();
    writeln!(out, "{STEPS} steps; milliseconds, median of {TURNS} turns")?;
    writeln!(out, "| trees | reading | soundness | paths | all beside reading |")?;
    writeln!(out, "| --- | --- | --- | --- | --- |")?;
    for trees in [10, 100] {
        let text = handbook(trees)?;
        let mut turns: Vec<[Duration; 3]> = Vec::new();
        for _ in 0..TURNS {
            turns.push(turn(&text)?);
        }
        let median = |part: usize| {
            let mut times: Vec<Duration> = turns.iter().map(|turn| turn[part]).collect();
            times.sort_unstable();
            times[TURNS / 2].as_secs_f64() * 1e3
        };
        let (read, sound, paths) = (median(0), median(1), median(2));
        let beside = (sound + paths) / read;
        writeln!(out, "| {trees} | {read:.0} | {sound:.0} | {paths:.0} | {beside:.1} |")?;
    }
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let peak = status.lines().find(|line| line.starts_with("VmHWM")).unwrap_or("peak not known");
    writeln!(out, "{peak}")?;
    Ok(())
}

/// Reading alone; both tiers with their own reading, of which the paths are told apart.
fn turn(files: &[String]) -> Result<[Duration; 3], Box<dyn Error>> {
    let mut sources = Sources::default();
    let ids: Vec<_> = files
        .iter()
        .enumerate()
        .map(|(number, text)| sources.add(format!("{number}.yaml"), text.as_str()))
        .collect();
    let start = Instant::now();
    let read = read_handbook(&sources, &ids, &[]);
    let reading = start.elapsed();
    if !read.1.is_empty() {
        return Err(format!("{:?}", read.1.first()).into());
    }
    let start = Instant::now();
    let Compiled { handbook, written, faults } = compile(&sources, &ids, &[]);
    let sound = start.elapsed();
    let handbook = handbook.ok_or_else(|| format!("{:?}", faults.first()))?;
    let start = Instant::now();
    let advice = analysis::advise(&written, &analysis::Analysis::of(&handbook));
    let paths = start.elapsed();
    match advice.first() {
        Some(fault) => Err(format!("{fault:?}").into()),
        None => Ok([reading, sound, paths]),
    }
}

/// Trees that ask, branch on what was asked and on sums of it, go round, and end.
fn handbook(trees: usize) -> Result<Vec<String>, std::fmt::Error> {
    let mut text = "format: 1\nname: Generated\nversion: 1\nquestions:\n".to_owned();
    let blocks = STEPS / 5 / trees;
    for tree in 0..trees {
        for block in 0..blocks {
            let id = format!("t{tree}_{block}");
            writeln!(text, "  seen_{id}:\n    ask: Is it seen?\n    kind: yes/no")?;
            writeln!(text, "  read_{id}:\n    ask: What does it read?\n    kind: pressure")?;
            writeln!(
                text,
                "    unit: micron\n    range: 1 micron to 100000 micron\n    basis: estimate"
            )?;
        }
    }
    let mut files = vec![std::mem::take(&mut text)];
    for tree in 0..trees {
        writeln!(text, "trees:")?;
        writeln!(text, "  tree_{tree}:\n    title: Generated\n    start: s0_look\n    steps:")?;
        for block in 0..blocks {
            write!(text, "{}", steps(&format!("t{tree}_{block}"), block))?;
        }
        writeln!(text, "      s{blocks}_look:\n        end: Done.")?;
        files.push(std::mem::take(&mut text));
    }
    Ok(files)
}

fn steps(id: &str, block: usize) -> String {
    let next = block + 1;
    let limit = 100 + block % 900;
    format!(
        "      s{block}_look:
        ask: seen_{id}
        next:
          yes: s{block}_read
          no: s{block}_do
          not_sure: s{block}_do
      s{block}_do:
        do: Look again.
        next: s{block}_read
      s{block}_read:
        ask: read_{id}
        again: true
        at_most: 3
        then: s{block}_go
        next:
          - if: read_{id} > {limit} micron and seen_{id}
            go: s{block}_wait
          - if: read_{id} / 2 > {limit} micron or not seen_{id}
            go: s{block}_go
          - too_close: s{block}_wait
          - unknown: s{block}_go
          - else: s{block}_go
      s{block}_wait:
        do: Wait.
        next: s{block}_read
      s{block}_go:
        do: Go on.
        next: s{next}_look
"
    )
}
