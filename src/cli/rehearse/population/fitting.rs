//! What a population shows of the handbook's shares, as a diff of its files for the author.

use std::collections::BTreeMap;
use std::fmt::Write;

use serde_json::{Value as Json, json};
use similar::TextDiff;

use super::Population;
use crate::document::Spanned;
use crate::document::raw::{RawFinding, RawHandbook, RawLikelihood, RawStrength};
use crate::handbook::{CauseId, Handbook, Observes};
use crate::rehearsal::rigged::population::{Fitted, LEAST_PLAYS, fitted, unspoken};
use crate::source::{SourceId, Sources};
use crate::text::count;

/// The texts of a handbook, as they were read.
pub(in crate::cli::rehearse) struct Texts {
    pub sources: Sources,
    pub written: RawHandbook,
}

/// What would be proposed, line by line, then the diff. Programs that take diffs pass over what
/// stands before it.
pub(super) fn told(population: &Population<'_>, texts: &Texts) -> String {
    let handbook = population.handbook;
    let all = fitted(handbook, &population.scores);
    let off: Vec<&Fitted> = all.iter().filter(|fitted| fitted.is_off()).collect();
    let judged = all.iter().filter(|fitted| fitted.plays >= LEAST_PLAYS).count();
    let mut text = String::new();
    let shares = count(all.len(), "share");
    let _ = writeln!(
        text,
        "{shares} of the handbook, {judged} of them seen in {LEAST_PLAYS} plays or more, {} clearly off",
        off.len()
    );
    for fitted in &off {
        let _ = writeln!(text, "  {}", line(handbook, fitted));
    }
    let missing = unspoken(handbook, &population.scores);
    if !missing.is_empty() {
        text.push_str("Seen with causes of which the finding doesn't speak\n");
    }
    for one in missing {
        let (finding, cause) = (&handbook.finding(one.finding).id, cause_id(handbook, one.cause));
        let _ = writeln!(
            text,
            "  {finding} with {cause}: {:.2} of {}, {:.2} with nothing wrong",
            one.share,
            count(one.plays, "play"),
            one.anyway
        );
    }
    let diff = diff(handbook, &off, texts);
    if !diff.is_empty() {
        text.push_str("What you take over is no longer an estimate: mark it `simulated`.\n\n");
        text.push_str(&diff);
    }
    text
}

/// The same for programs.
pub(super) fn json(population: &Population<'_>) -> Json {
    let handbook = population.handbook;
    let all = fitted(handbook, &population.scores);
    let one = |fitted: &Fitted| {
        let bounds: Vec<[f64; 2]> =
            (0..fitted.counts.len()).map(|outcome| fitted.bounds(outcome).into()).collect();
        json!({
            "finding": handbook.finding(fitted.finding).id,
            "cause": fitted.cause.map(|cause| cause_id(handbook, cause)),
            "plays": fitted.plays,
            "counts": fitted.counts,
            "bounds": bounds,
            "written": fitted.written,
            "is_off": fitted.is_off(),
            "proposed": fitted.is_off().then(|| fitted.proposed()),
        })
    };
    Json::Array(all.iter().filter(|fitted| fitted.plays > 0).map(one).collect())
}

fn cause_id(handbook: &Handbook, cause: CauseId) -> &str {
    &handbook.cause(cause).id
}

/// `blank_off_high with pump_oil: 0.62 (0.48 to 0.74 of 46 plays), written 0.95`.
fn line(handbook: &Handbook, fitted: &Fitted) -> String {
    let finding = &handbook.finding(fitted.finding).id;
    let with = match fitted.cause {
        Some(cause) => format!("with {}", cause_id(handbook, cause)),
        None => "anyway".to_owned(),
    };
    let of_outcome = |outcome: usize| {
        let (low, high) = fitted.bounds(outcome);
        let share = fitted.counts[outcome] / fitted.plays as f64;
        format!("{share:.2} ({low:.2} to {high:.2}), written {:.2}", fitted.written[outcome])
    };
    let shares: Vec<String> = match fitted.counts.len() {
        2 => vec![of_outcome(1)],
        several => (0..several).map(of_outcome).collect(),
    };
    format!("{finding} {with}, {}: {}", count(fitted.plays, "play"), shares.join("; "))
}

/// A diff of the files in which shares are off, in the order of the files.
fn diff(handbook: &Handbook, off: &[&Fitted], texts: &Texts) -> String {
    let mut edits: BTreeMap<SourceId, Vec<(usize, usize, String)>> = BTreeMap::new();
    for fitted in off {
        let id = &handbook.finding(fitted.finding).id;
        let raw = texts.written.findings.iter().find(|raw| raw.id.value == *id);
        let likelihood = raw.and_then(|raw| likelihood(handbook, raw, fitted.cause));
        let written = likelihood.map(|raw| written(handbook, raw, fitted));
        for (strength, share) in written.unwrap_or_default() {
            let span = strength.span();
            edits.entry(span.source).or_default().push((span.start, span.end, share));
        }
    }
    let mut text = String::new();
    for (source, mut edits) in edits {
        edits.sort();
        let (name, old) = (texts.sources.get(source).name(), texts.sources.get(source).text());
        let mut new = String::with_capacity(old.len());
        let mut from = 0;
        for (start, end, share) in edits {
            new.push_str(&old[from..start]);
            new.push_str(&share);
            from = end;
        }
        new.push_str(&old[from..]);
        let diff = TextDiff::from_lines(old, new.as_str());
        let (old_name, new_name) = (format!("a/{name}"), format!("b/{name}"));
        text.push_str(&diff.unified_diff().header(&old_name, &new_name).to_string());
    }
    text
}

fn likelihood<'r>(
    handbook: &Handbook,
    raw: &'r RawFinding,
    cause: Option<CauseId>,
) -> Option<&'r RawLikelihood> {
    let Some(cause) = cause else { return raw.anyway.as_ref() };
    let id = cause_id(handbook, cause);
    raw.shown_by.iter().find(|(name, _)| name.value == *id).map(|(_, likelihood)| likelihood)
}

/// What stands written, with what would stand in its place.
fn written<'r>(
    handbook: &Handbook,
    raw: &'r RawLikelihood,
    fitted: &Fitted,
) -> Vec<(&'r RawStrength, String)> {
    let proposed = fitted.proposed();
    let told = |share: f64| format!("{share:.2}");
    match (raw, &handbook.finding(fitted.finding).observes) {
        (RawLikelihood::One(strength), _) => vec![(strength, told(proposed[1]))],
        (RawLikelihood::ByChoice(shares), Observes::Of(question)) => {
            let choices = &handbook.question(*question).choices;
            let place = |name: &str| choices.iter().position(|choice| choice.id == name);
            let of_choice = |(name, strength): &'r (_, RawStrength)| {
                let name: &Spanned<String> = name;
                Some((strength, told(*proposed.get(place(&name.value)?)?)))
            };
            shares.iter().filter_map(of_choice).collect()
        }
        (RawLikelihood::ByChoice(_), Observes::When(_)) => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::handbook::{FindingId, compile};

    const HANDBOOK: &str = "\
format: 1
name: Rain
version: 1
questions:
  ground:
    ask: How is the ground?
    choices: {dry: Dry, damp: Damp, wet: Wet}
  drops:
    ask: Are there drops at the window?
    kind: yes/no
findings:
  ground_seen:
    of: ground
    shown_by:
      rain: {wet: 0.2, damp: 0.3, dry: 0.5}
    anyway: {dry: 0.9, damp: 0.08, wet: 0.02}
    basis: estimate
  drops_seen:
    when: drops
    shown_by: {rain: usually} # at the window
    anyway: 0.1
    basis: estimate
causes:
  rain:
    name: Rain
    how_common: 0.2
    because: It falls.
    basis: estimate
trees:
  start:
    title: Look out
    start: ground
    steps:
      ground:
        ask: ground
        next: drops
      drops:
        ask: drops
        next: {yes: done, no: done}
      done:
        end: Seen.
";

    fn fitted_to(finding: usize, counts: &[f64], cause: Option<CauseId>) -> Fitted {
        let (finding, counts) = (FindingId::at(finding), counts.to_vec());
        let plays = counts.iter().sum::<f64>() as usize;
        let written = vec![1.0 / counts.len() as f64; counts.len()];
        Fitted { finding, cause, plays, counts, written, least: 0.0 }
    }

    /// The choices of a map stand in the author's own order, and keep it.
    #[test]
    fn what_is_off_is_a_diff_of_the_files_as_they_are_written() {
        let mut sources = Sources::default();
        let id = sources.add("rules/rain.yaml", HANDBOOK);
        let compiled = compile(&sources, &[id], &[]);
        assert_eq!(compiled.faults.iter().map(|f| f.title.clone()).collect::<Vec<_>>(), [""; 0]);
        let handbook = compiled.handbook.unwrap();
        let texts = Texts { sources, written: compiled.written };
        let rain = handbook.find_cause("rain");
        let ground = fitted_to(0, &[10.0, 9.0, 81.0], rain);
        let drops = [fitted_to(1, &[60.0, 40.0], rain), fitted_to(1, &[99.0, 1.0], None)];
        let told = diff(&handbook, &[&ground, &drops[0], &drops[1]], &texts);
        let changed: Vec<&str> = told.lines().filter(|line| line.starts_with(['-', '+'])).collect();
        assert_eq!(
            changed,
            [
                "--- a/rules/rain.yaml",
                "+++ b/rules/rain.yaml",
                "-      rain: {wet: 0.2, damp: 0.3, dry: 0.5}",
                "+      rain: {wet: 0.81, damp: 0.09, dry: 0.10}",
                "-    shown_by: {rain: usually} # at the window",
                "-    anyway: 0.1",
                "+    shown_by: {rain: 0.40} # at the window",
                "+    anyway: 0.01",
            ]
        );
        assert_eq!(
            line(&handbook, &drops[0]),
            "drops_seen with rain, 100 plays: 0.40 (0.31 to 0.50), written 0.50"
        );
        assert_eq!(diff(&handbook, &[], &texts), "");
    }
}
