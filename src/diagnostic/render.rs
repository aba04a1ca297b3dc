//! Turning faults into text with the source line under them.

use std::ops::Range;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};

use super::excess::{parted, said};
use super::{Diagnostic, Severity};
use crate::source::{SourceId, Sources, Span};
use crate::text::{count, inert};

/// How rendered faults are to look.
#[derive(Clone, Copy, Debug, Default)]
pub struct Look {
    /// Whether the terminal takes colour.
    pub colour: bool,
}

/// The faults, in the order given, each with its place, and a closing line that counts them. Of
/// very many the gravest are shown and the others counted by their codes.
#[must_use]
pub fn render(faults: &[Diagnostic], sources: &Sources, look: Look) -> String {
    if faults.is_empty() {
        return String::new();
    }
    let mut text = String::new();
    let (shown, left) = parted(faults);
    for fault in shown {
        text.extend(render_one(fault, sources, look).chars().map(steering_nothing));
        text.push_str("\n\n");
    }
    if let Some(said) = said(&left) {
        text.push_str(&said);
        text.push('\n');
    }
    text.push_str(&tally(faults));
    text.push('\n');
    text
}

/// A character of the upper control set (ECMA-48, C1) or DEL, which the renderer of excerpts lets pass,
/// as one that stands for what can't be shown. Its own colours begin with ESC and stay.
fn steering_nothing(c: char) -> char {
    if matches!(c, '\u{7f}'..='\u{9f}') { char::REPLACEMENT_CHARACTER } else { c }
}

/// Whether there are so many faults that not all of them are shown.
#[must_use]
pub fn is_cut_short(faults: &[Diagnostic]) -> bool {
    !parted(faults).1.is_empty()
}

/// `2 errors, 1 warning, 3 pieces of advice`.
fn tally(faults: &[Diagnostic]) -> String {
    let of = |severity| faults.iter().filter(|fault| fault.severity() == severity).count();
    let counted = [
        (of(Severity::Error), "error"),
        (of(Severity::Warning), "warning"),
        (of(Severity::Advice), "piece of advice"),
    ];
    let told = counted.iter().filter(|(many, _)| *many > 0);
    told.map(|&(many, word)| counting(many, word)).collect::<Vec<_>>().join(", ")
}

fn counting(many: usize, word: &str) -> String {
    match word.split_once(' ') {
        Some((thing, rest)) => format!("{} {rest}", count(many, thing)),
        None => count(many, word),
    }
}

fn render_one(fault: &Diagnostic, sources: &Sources, look: Look) -> String {
    let level = match fault.severity() {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Advice => Level::INFO.with_name("advice"),
    };
    let title = level.primary_title(inert(&fault.title)).id(fault.code.number());
    let mut group = if fault.labels.is_empty() {
        Group::with_title(title)
    } else {
        title.elements(snippets(fault, sources))
    };
    if let Some(note) = &fault.note {
        group = group.element(Level::NOTE.message(inert(note)));
    }
    if let Some(help) = &fault.help {
        group = group.element(Level::HELP.message(inert(help)));
    }
    let renderer = if look.colour { Renderer::styled() } else { Renderer::plain() };
    renderer.decor_style(DecorStyle::Ascii).render(&[group]).to_string()
}

/// One snippet a file, the main label's file first.
fn snippets<'a>(
    fault: &'a Diagnostic,
    sources: &'a Sources,
) -> Vec<Snippet<'a, annotate_snippets::Annotation<'a>>> {
    let mut files: Vec<SourceId> = Vec::new();
    for label in &fault.labels {
        if !files.contains(&label.span.source) {
            files.push(label.span.source);
        }
    }
    let main = fault.labels.first().map(|label| label.span);
    files
        .into_iter()
        .map(|file| {
            let source = sources.get(file);
            let labels = fault.labels.iter().filter(|label| label.span.source == file);
            let shown = excerpt(source.text(), labels.clone().map(|label| label.span));
            let (first_line, _) = source.position(shown.start);
            let snippet = Snippet::source(&source.text()[shown.clone()]).line_start(first_line);
            snippet.path(source.name()).annotations(labels.map(move |label| {
                let kind = if Some(label.span) == main {
                    AnnotationKind::Primary
                } else {
                    AnnotationKind::Context
                };
                let (start, end) = (label.span.start - shown.start, label.span.end - shown.start);
                kind.span(start..end).label(inert(&label.text))
            }))
        })
        .collect()
}

/// The whole lines that the spans lie in: the renderer's work grows with what it is given, and
/// a fault needs a few lines of its file only.
fn excerpt(text: &str, spans: impl Iterator<Item = Span> + Clone) -> Range<usize> {
    let first = spans.clone().map(|span| span.start).min().unwrap_or(0);
    let last = spans.map(|span| span.end).max().unwrap_or(0);
    let start = text.get(..first).and_then(|before| before.rfind('\n')).map_or(0, |n| n + 1);
    let end = text.get(last..).and_then(|rest| rest.find('\n')).map_or(text.len(), |n| last + n);
    start..end
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::Code;

    #[test]
    fn a_fault_shows_both_sides_and_its_mend() {
        let mut sources = Sources::default();
        let id = sources.add("rules/pump.yaml", "rise: pressure\nwhen: rise > 10 min\n");
        let fault = Diagnostic::at(
            Code::KindsDiffer,
            "`rise` is a pressure, but it is compared with a time",
            sources.span(id, 28, 34),
            "time",
        )
        .and_at(sources.span(id, 6, 14), "declared as a pressure here")
        .help("compare the rise rate");
        let text = render(&[fault], &sources, Look::default());
        assert!(text.starts_with("error[H402]: `rise` is a pressure"), "{text}");
        assert!(text.contains("rules/pump.yaml:2:14"), "{text}");
        assert!(text.contains("declared as a pressure here"), "{text}");
        assert!(text.ends_with("1 error\n"), "{text}");
    }
}
