//! The records of a class as a list.

use std::fmt::Write;
use std::fs;
use std::io::Read as _;
use std::path::Path;

use anyhow::Result;
use serde_json::{Value, json};
use unicode_width::UnicodeWidthStr;

use crate::cli::exit::ExitStatus;
use crate::cli::load::reason;
use crate::cli::practice_arguments::{ClassFormat, PracticeArguments};
use crate::cli::session::Session;
use crate::rehearsal::practice::{RECORD_FORMAT, RECORD_VERSION, Record};
use crate::text::{count, inert, list_and};

/// The largest record that is read, in bytes (limit of ours; an exercise makes some ten thousand).
const LARGEST: u64 = 16 << 20;
/// The widest name in the list for people, in columns.
const WIDEST_NAME: usize = 14;
/// The widest line of the list for people, in columns.
const WIDEST_LINE: usize = 78;

/// A record with the file that it was read from.
struct Read {
    file: String,
    record: Record,
}

/// Lists records; one that can't be read is told, and the others are listed all the same.
pub(super) fn run(session: &mut Session<'_>, arguments: &PracticeArguments) -> Result<ExitStatus> {
    let (mut records, mut status) = (Vec::new(), ExitStatus::Settled);
    for path in &arguments.class {
        let file = inert(&path.display().to_string());
        match read(path) {
            Ok(record) => records.push(Read { file, record }),
            Err(why) => {
                status = ExitStatus::Unusable;
                session.say(&format!("dryhold: {file} is left out: {why}"))?;
            }
        }
    }
    let text = match arguments.format {
        ClassFormat::Text => table(&records),
        ClassFormat::Csv => csv(&records),
        ClassFormat::Json => format!("{:#}", to_json(&records)),
    };
    session.result(text.trim_end())?;
    Ok(status)
}

fn read(path: &Path) -> Result<Record, String> {
    let file = fs::File::open(path).map_err(|error| reason(&error))?;
    let mut text = String::new();
    file.take(LARGEST + 1).read_to_string(&mut text).map_err(|error| reason(&error))?;
    if text.len() as u64 > LARGEST {
        return Err("it is too long for the record of an exercise".to_owned());
    }
    let value: Value =
        serde_json::from_str(&text).map_err(|error| format!("it is no whole record: {error}"))?;
    if value.get("format").and_then(Value::as_str) != Some(RECORD_FORMAT) {
        return Err("it is not the record of an exercise".to_owned());
    }
    match value.get("version").and_then(Value::as_u64) {
        Some(version) if version <= u64::from(RECORD_VERSION) => {}
        _ => return Err("it was written by a later version of the program".to_owned()),
    }
    serde_json::from_value(value).map_err(|error| format!("it is damaged: {error}"))
}

impl Read {
    fn name(&self) -> String {
        inert(self.record.name.as_deref().unwrap_or(&self.file))
    }

    /// Whether what was named is right, in a word.
    fn right(&self) -> &'static str {
        match &self.record.outcome {
            None => "left",
            Some(outcome) if outcome.given_up => "gave up",
            Some(outcome) if outcome.right => "yes",
            Some(outcome) if outcome.right_to_do => "to do",
            Some(_) => "no",
        }
    }

    fn dearest(&self) -> f64 {
        self.record.outcome.as_ref().map_or(0.0, |outcome| outcome.dearest_minutes)
    }

    fn assistant(&self) -> Option<f64> {
        self.record.outcome.as_ref()?.assistant_minutes
    }

    /// The assistant's minutes, marked where its verdict was wrong: a short time is no merit then.
    fn assistant_in_words(&self) -> String {
        let was_right = self.record.outcome.as_ref().is_some_and(|outcome| outcome.assistant_right);
        match self.assistant() {
            Some(minutes) if was_right => format!("{minutes:.0}"),
            Some(minutes) => format!("wrong {minutes:.0}"),
            None => String::new(),
        }
    }

    fn hidden(&self) -> &[String] {
        self.record.outcome.as_ref().map_or(&[], |outcome| outcome.hidden.as_slice())
    }

    fn named(&self) -> &[String] {
        self.record.outcome.as_ref().map_or(&[], |outcome| outcome.named.as_slice())
    }
}

/// A row a record, within 80 columns.
fn table(records: &[Read]) -> String {
    let mut text = String::new();
    let _ = writeln!(
        text,
        "{:<WIDEST_NAME$} {:<6} {:>8} {:<7} {:<5} {:>5} {:>9} {:>6} {:>7}",
        "name", "level", "seed", "right", "mends", "min", "assistant", "unsafe", "dearest"
    );
    for read in records {
        let record = &read.record;
        let mends = record.outcome.as_ref().map_or("", |outcome| yes_no(outcome.mends));
        let assistant = read.assistant_in_words();
        let name = padded(&read.name());
        let row = format!(
            "{name} {:<6} {:>8} {:<7} {mends:<5} {:>5.0} {assistant:>9} {:>6} {:>7.0}",
            inert(&record.level),
            record.seed,
            read.right(),
            record.minutes,
            record.unsafe_steps.len(),
            read.dearest(),
        );
        let _ = writeln!(text, "{}", row.trim_end());
    }
    let _ = writeln!(text, "\n{}", textwrap::fill(&total(records), WIDEST_LINE));
    for read in records {
        let dearest = read.record.outcome.as_ref().map(|outcome| outcome.dearest.as_str());
        if let Some(dearest) = dearest.filter(|dearest| !dearest.is_empty()) {
            let line = format!("{}: {}", read.name(), inert(dearest));
            let wrapped =
                textwrap::fill(&line, textwrap::Options::new(WIDEST_LINE).subsequent_indent("  "));
            let _ = writeln!(text, "{wrapped}");
        }
    }
    text
}

/// A name in the width of its column.
fn padded(name: &str) -> String {
    let mut short = String::new();
    for letter in name.chars() {
        short.push(letter);
        if short.width() > WIDEST_NAME {
            short.pop();
            break;
        }
    }
    let blanks = " ".repeat(WIDEST_NAME.saturating_sub(short.width()));
    short + &blanks
}

fn total(records: &[Read]) -> String {
    let number = |word: &str| records.iter().filter(|read| read.right() == word).count();
    let mut told = vec![format!("{} right", number("yes"))];
    for (word, what) in [
        ("to do", "right in what to do next"),
        ("no", "not right"),
        ("gave up", "given up"),
        ("left", "left"),
    ] {
        let number = number(word);
        if number > 0 {
            told.push(format!("{number} {what}"));
        }
    }
    let unsafe_steps: usize = records.iter().map(|read| read.record.unsafe_steps.len()).sum();
    format!(
        "{}: {}; {}. Minutes are those of the simulated rig.",
        count(records.len(), "record"),
        list_and(&told),
        count(unsafe_steps, "unsafe step")
    )
}

fn yes_no(is_so: bool) -> &'static str {
    if is_so { "yes" } else { "no" }
}

/// The columns of the list for spreadsheets.
const COLUMNS: &str = "file,name,level,seed,right,right_to_do,mends,hidden,named,remedies,minutes,\
                       assistant_minutes,assistant_right,cost,unsafe_steps,dearest_minutes,dearest,given_up";

fn csv(records: &[Read]) -> String {
    let mut text = format!("{COLUMNS}\n");
    for read in records {
        let record = &read.record;
        let outcome = record.outcome.as_ref();
        let said =
            |is_so: Option<bool>| is_so.map_or(String::new(), |is_so| yes_no(is_so).to_owned());
        let figure =
            |figure: Option<f64>| figure.map_or(String::new(), |figure| figure.to_string());
        let cells = [
            read.file.clone(),
            record.name.clone().unwrap_or_default(),
            record.level.clone(),
            record.seed.to_string(),
            said(outcome.map(|outcome| outcome.right)),
            said(outcome.map(|outcome| outcome.right_to_do)),
            said(outcome.map(|outcome| outcome.mends)),
            read.hidden().join(" "),
            read.named().join(" "),
            outcome.map_or(String::new(), |outcome| outcome.remedies.join(" ")),
            record.minutes.to_string(),
            figure(read.assistant()),
            said(outcome.map(|outcome| outcome.assistant_right)),
            figure(record.cost().map(|cost| libm::round(cost * 100.0) / 100.0)),
            record.unsafe_steps.len().to_string(),
            outcome.map_or(String::new(), |outcome| outcome.dearest_minutes.to_string()),
            outcome.map_or(String::new(), |outcome| outcome.dearest.clone()),
            said(outcome.map(|outcome| outcome.given_up)),
        ];
        let cells: Vec<String> = cells.iter().map(|cell| quoted(cell)).collect();
        text.push_str(&cells.join(","));
        text.push('\n');
    }
    text
}

/// A cell as RFC 4180 has it. What a spreadsheet would work out is kept as text.
fn quoted(cell: &str) -> String {
    let cell = inert(cell);
    let is_formula = cell.starts_with(['=', '+', '-', '@']) && cell.parse::<f64>().is_err();
    let cell = if is_formula { format!("'{cell}") } else { cell };
    if cell.contains(['"', ',', '\n']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell
    }
}

fn to_json(records: &[Read]) -> Value {
    let one = |read: &Read| {
        let record = &read.record;
        json!({
            "file": read.file,
            "name": record.name,
            "level": record.level,
            "seed": record.seed,
            "minutes": record.minutes,
            "cost": record.cost(),
            "unsafe_steps": record.unsafe_steps.len(),
            "outcome": record.outcome,
        })
    };
    json!({ "format": "dryhold class", "version": 1, "records": records.iter().map(one).collect::<Vec<_>>() })
}
