//! `dryhold sources`: where every number of the handbook comes from.

use anyhow::{Result, bail};
use serde_json::{Value, json};

use super::author_arguments::{SourcesArguments, SourcesFormat};
use super::exit::ExitStatus;
use super::load::load;
use super::session::Session;
use crate::diagnostic::near_name;
use crate::document::Scalar;
use crate::document::raw::{RawHandbook, RawSource};
use crate::handbook::{Citation, MARKS, citations};
use crate::terminal::Paper;
use crate::text::Line;

pub(super) fn run(session: &mut Session<'_>, arguments: &SourcesArguments) -> Result<ExitStatus> {
    let loaded = load(session)?;
    let written = loaded.compiled.written.clone();
    if loaded.handbook(session)?.is_none() {
        return Ok(ExitStatus::HandbookFaulty);
    }
    let cited = citations(&written);
    if let Some(id) = &arguments.id {
        refuse_unknown(&written, id)?;
    }
    let is_wanted = |id: &str| arguments.id.as_deref().is_none_or(|wanted| wanted == id);
    let sources: Vec<&RawSource> =
        written.sources.iter().filter(|source| is_wanted(&source.id.value)).collect();
    let marks: Vec<_> = MARKS.into_iter().filter(|(mark, _)| is_wanted(mark)).collect();
    match arguments.format {
        SourcesFormat::Text => {
            let lists_marks = arguments.id.is_some();
            for line in told(session.result_paper(), &sources, &marks, &cited, lists_marks) {
                session.result(&line)?;
            }
        }
        SourcesFormat::Json => {
            let told = as_json(&sources, &marks, &cited);
            session.result(&serde_json::to_string_pretty(&told)?)?;
        }
    }
    Ok(ExitStatus::Settled)
}

fn refuse_unknown(written: &RawHandbook, id: &str) -> Result<()> {
    let sources = written.sources.iter().map(|source| source.id.value.as_str());
    let known: Vec<&str> = sources.chain(MARKS.iter().map(|(mark, _)| *mark)).collect();
    if known.contains(&id) {
        return Ok(());
    }
    match near_name(id, known.iter().copied()) {
        Some(near) => bail!("there is no source or mark `{id}`; did you mean `{near}`?"),
        None => bail!("there is no source or mark `{id}`; there are {}", known.join(", ")),
    }
}

/// Sources with all their uses; marks with their number, or with their uses where one is asked for.
fn told(
    paper: Paper,
    sources: &[&RawSource],
    marks: &[(&str, &str)],
    cited: &[Citation],
    lists_marks: bool,
) -> Vec<String> {
    let mut lines = Vec::new();
    for source in sources {
        lines.push(source.id.value.clone());
        let text = |scalar: &Option<Scalar>| scalar.as_ref().map(|s| s.text.trim().to_owned());
        let about = [
            ("", text(&source.title)),
            ("by ", text(&source.by)),
            ("year: ", text(&source.year)),
            ("where: ", text(&source.found_at)),
        ];
        let about = about.into_iter().filter_map(|(word, text)| Some(format!("{word}{}", text?)));
        lines.extend(about.flat_map(|row| wrapped(&paper, &row)));
        lines.extend(uses(&source.id.value, cited).iter().flat_map(|row| wrapped(&paper, row)));
        lines.push(String::new());
    }
    for (mark, meaning) in marks {
        let uses = uses(mark, cited);
        lines.push(format!("{mark}: {meaning}; in {}", in_places(uses.len())));
        if lists_marks {
            lines.extend(uses.iter().flat_map(|row| wrapped(&paper, row)));
        }
    }
    lines
}

fn in_places(number: usize) -> String {
    if number == 1 { "1 place".to_owned() } else { format!("{number} places") }
}

/// A row below a heading, indented by two.
fn wrapped(paper: &Paper, row: &str) -> Vec<String> {
    paper.paint_after("  ", &Line::plain(row)).lines().map(str::to_owned).collect()
}

/// `used by formula hold_test_rate`, one row for each place that cites.
fn uses(mark: &str, cited: &[Citation]) -> Vec<String> {
    let of_it = cited.iter().filter(|citation| citation.mark == mark);
    of_it
        .map(|Citation { section, entry, key, .. }| {
            let key = key.as_ref().map(|key| format!(", for `{key}`")).unwrap_or_default();
            format!("used by {} {entry}{key}", section.entry())
        })
        .collect()
}

fn as_json(sources: &[&RawSource], marks: &[(&str, &str)], cited: &[Citation]) -> Value {
    let uses = |mark: &str| -> Vec<Value> {
        let of_it = cited.iter().filter(|citation| citation.mark == mark);
        of_it.map(|c| json!({"kind": c.section.entry(), "id": c.entry, "key": c.key})).collect()
    };
    let text = |scalar: &Option<Scalar>| scalar.as_ref().map(|s| s.text.trim().to_owned());
    let sources: Vec<Value> = sources
        .iter()
        .map(|source| {
            json!({
                "id": source.id.value,
                "title": text(&source.title),
                "by": text(&source.by),
                "year": text(&source.year),
                "where": text(&source.found_at),
                "used_by": uses(&source.id.value),
            })
        })
        .collect();
    let marks: Vec<Value> = marks
        .iter()
        .map(|(mark, meaning)| json!({"id": mark, "meaning": meaning, "used_by": uses(mark)}))
        .collect();
    json!({"format": 1, "sources": sources, "marks": marks})
}
