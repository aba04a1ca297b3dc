//! The section `questions`.

use super::entry::Head;
use super::{RawBasis, RawEntry, Section};
use crate::diagnostic::{Code, Diagnostic};
use crate::document::shape::{check_id, nearest_id, read_text};
use crate::document::{Key, MapReader, NodeValue, Scalar, Spanned, means_not_sure};

/// A question as written.
#[derive(Clone, Debug, PartialEq)]
pub struct RawQuestion {
    /// Its id; shares its names with formulas and findings.
    pub id: Spanned<String>,
    /// Whether it replaces the built-in question of this id.
    pub replaces: bool,
    /// The id that it had before.
    pub was: Option<Spanned<String>>,
    /// The question in words; must be written.
    pub ask: Option<Scalar>,
    /// The question as it is read aloud.
    pub say: Option<Scalar>,
    /// What to listen for in a caller's answer.
    pub listen: Option<Scalar>,
    /// Why it is asked.
    pub why: Option<Scalar>,
    /// The name of its kind, such as `pressure`.
    pub kind: Option<Scalar>,
    /// The unit that answers are taken in when none is given.
    pub unit: Option<Scalar>,
    /// What is possible: `0.1 micron to 760000 micron`.
    pub range: Option<Scalar>,
    /// What is usual, as a range.
    pub usual: Option<Scalar>,
    /// The answers of a choice question, from normal to worst; empty for other kinds.
    pub choices: Vec<RawChoice>,
    /// Whether every choice could be read, and there is one if `choices` is written.
    pub choices_are_whole: bool,
    /// The units that choices say a gauge's face shows, or `none`, by choice.
    pub units: Vec<(Spanned<String>, Scalar)>,
    /// The smallest steps that a gauge's face shows, by choice.
    pub resolutions: Vec<(Spanned<String>, Scalar)>,
    /// Words that people may type, each with the answer that it stands for.
    pub in_words: Vec<(Spanned<String>, Scalar)>,
    /// By choice, the question whose answer gives it.
    pub known_by: Vec<(Spanned<String>, Scalar)>,
    /// The instrument that it is read from.
    pub instrument: Option<Spanned<String>>,
    /// Questions whose answers tell of something else once this one's has changed.
    pub outdates: Vec<Spanned<String>>,
    /// The readings that it asks about; passed over with the latest of them.
    pub about: Vec<Spanned<String>>,
    /// How well a reading repeats, as a half-width.
    pub repeats: Option<Scalar>,
    /// The range that "not sure" stands for; settings only.
    pub not_sure: Option<Scalar>,
    /// How long it takes to find out.
    pub takes: Option<Scalar>,
    /// The answer that "not sure" counts as, since it is the dangerous one.
    pub hazard: Option<Scalar>,
    /// Cautions to show before it.
    pub cautions: Vec<Spanned<String>>,
    /// Where its numbers come from.
    pub basis: Option<RawBasis>,
}

/// An answer that a choice question offers.
#[derive(Clone, Debug, PartialEq)]
pub struct RawChoice {
    /// Its name in formulas and maps.
    pub id: Spanned<String>,
    /// What the reader sees.
    pub text: Scalar,
}

impl RawEntry for RawQuestion {
    const SECTION: Section = Section::Questions;

    fn id(&self) -> &Spanned<String> {
        &self.id
    }

    fn replaces(&self) -> bool {
        self.replaces
    }

    fn read(head: Head, reader: &mut MapReader<'_, '_>) -> Self {
        let (choices, choices_are_whole) = choices(reader);
        let units = texts_by_word(reader, "units");
        let resolutions = texts_by_word(reader, "resolutions");
        let in_words = texts_by_word(reader, "in_words");
        let known_by = texts_by_word(reader, "known_by");
        Self {
            id: head.id,
            replaces: head.replaces,
            was: head.was,
            ask: reader.text("ask"),
            say: reader.text("say"),
            listen: reader.text("listen"),
            why: reader.text("why"),
            kind: reader.text("kind"),
            unit: reader.text("unit"),
            range: reader.text("range"),
            usual: reader.text("usual"),
            choices,
            choices_are_whole,
            units,
            resolutions,
            in_words,
            known_by,
            instrument: reader.id("instrument"),
            outdates: reader.ids("outdates"),
            about: reader.ids("about"),
            repeats: reader.text("repeats"),
            not_sure: reader.text("not_sure"),
            takes: reader.text("takes"),
            hazard: reader.text("hazard"),
            cautions: reader.ids("cautions"),
            basis: head.basis,
        }
    }
}

/// The choices, and whether that is all of them.
fn choices(reader: &mut MapReader<'_, '_>) -> (Vec<RawChoice>, bool) {
    let of = format!("`choices` of {}", reader.what());
    let mut choices = Vec::new();
    let before = reader.faults().len();
    let entries = reader.map("choices");
    if let Some(fault) = reader.faults().get_mut(before).filter(|f| f.code == Code::WrongShape) {
        fault.help = Some("write an id and a text for each, such as `clean: Clean`".to_owned());
    }
    for entry in entries {
        let (key, faults) = (&entry.key, reader.faults());
        if means_not_sure(&key.text) {
            faults.push(not_sure(key));
            continue;
        }
        check_id(&key.text, key.span, &format!("a choice in {of}"), faults);
        let what = format!("`{}` in {of}", key.text);
        let text = match entry.value.value {
            // Its fault is known; the choice is there.
            NodeValue::Faulty => {
                Some(Scalar::verbatim(&*key.text, key.span.source, key.span.start))
            }
            _ => read_text(&entry.value, key.span, &what, faults),
        };
        if let (Some(id), Some(text)) = (nearest_id(&key.text), text) {
            choices.push(RawChoice { id: Spanned::new(id, key.span), text });
        }
    }
    let mut is_whole = reader.faults().len() == before;
    if let (true, true, Some(place)) = (is_whole, entries.is_empty(), reader.key_span("choices")) {
        let title = format!("{of} lists none");
        let label = "an id and a text for each choice belong below";
        reader.fault(Diagnostic::at(Code::MissingKey, title, place, label));
        is_whole = false;
    }
    (choices, is_whole)
}

/// What each word of a map stands for.
fn texts_by_word(
    reader: &mut MapReader<'_, '_>,
    key: &'static str,
) -> Vec<(Spanned<String>, Scalar)> {
    let of = format!("`{key}` of {}", reader.what());
    let entries = reader.map(key).iter();
    let read = entries.filter_map(|entry| {
        let (key, what) = (&entry.key, format!("`{}` in {of}", entry.key.text));
        let text = read_text(&entry.value, key.span, &what, reader.faults())?;
        Some((Spanned::new(key.text.trim().to_owned(), key.span), text))
    });
    read.collect()
}

fn not_sure(key: &Key) -> Diagnostic {
    let title = format!("choice `{}` is an answer that every question takes", key.text);
    Diagnostic::at(Code::ReservedName, title, key.span, "no choice of its own")
        .note(
            "whoever is not sure can always say so; `not_sure:` under `next` says where that leads",
        )
        .help("take this choice out")
}
