//! The section `findings`.

use super::entry::Head;
use super::strength::strengths;
use super::{RawBasis, RawEntry, RawLikelihood, RawStrength, Section};
use crate::diagnostic::{Code, Diagnostic};
use crate::document::shape::{check_id, is_id};
use crate::document::{MapReader, Scalar, Spanned};

/// A finding as written.
#[derive(Clone, Debug, PartialEq)]
pub struct RawFinding {
    /// Its id; shares its names with questions and formulas.
    pub id: Spanned<String>,
    /// Whether it replaces the built-in finding of this id.
    pub replaces: bool,
    /// The id that it had before.
    pub was: Option<Spanned<String>>,
    /// What decides it (`when` or `of`); one of the two must be written.
    pub test: Option<RawTest>,
    /// The formula that must be true for it to say anything.
    pub only_if: Option<Scalar>,
    /// What it is in a few words: a clause that is so when it is true, or what a choice is about.
    pub name: Option<Scalar>,
    /// The clause that is so when it is false.
    pub name_not: Option<Scalar>,
    /// What is said when it is true.
    pub so: Option<Scalar>,
    /// What is said when it is false.
    pub so_not: Option<Scalar>,
    /// Whom to refer to where it is true, for it is a matter of safety.
    pub refer: Option<Scalar>,
    /// Whether something is wrong where it is true, though it speaks of no cause.
    pub fault: Option<Scalar>,
    /// How likely it is with one cause alone, background included, cause by cause.
    pub shown_by: Vec<(Spanned<String>, RawLikelihood)>,
    /// Causes that keep it from showing, and how often they do.
    pub hidden_by: Vec<(Spanned<String>, RawStrength)>,
    /// How likely it is with nothing wrong.
    pub anyway: Option<RawLikelihood>,
    /// Findings off the same reading whose overlap the author has thought about.
    pub same_measurement: Vec<Spanned<String>>,
    /// The finding that this one, better observed, takes the place of.
    pub replaces_finding: Option<Spanned<String>>,
    /// Questions whose readings can't all be where it is true.
    pub read_again: Vec<Spanned<String>>,
    /// Actions that wait for that.
    pub holds_back: Vec<Spanned<String>>,
    /// Where its numbers come from.
    pub basis: Option<RawBasis>,
}

/// What decides a finding.
#[derive(Clone, Debug, PartialEq)]
pub enum RawTest {
    /// A yes/no formula.
    When(Scalar),
    /// The answer to a choice question.
    Of(Spanned<String>),
}

impl RawFinding {
    /// Whether another finding is decided by the same question or formulas, blanks aside.
    #[must_use]
    pub fn looks_at_the_same(&self, other: &Self) -> bool {
        let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        let test = |finding: &Self| match &finding.test {
            Some(RawTest::When(formula)) => Some((true, words(&formula.text))),
            Some(RawTest::Of(question)) => Some((false, question.value.clone())),
            None => None,
        };
        let only_if = |finding: &Self| finding.only_if.as_ref().map(|formula| words(&formula.text));
        test(self) == test(other) && only_if(self) == only_if(other)
    }
}

impl RawEntry for RawFinding {
    const SECTION: Section = Section::Findings;

    fn id(&self) -> &Spanned<String> {
        &self.id
    }

    fn replaces(&self) -> bool {
        self.replaces
    }

    fn read(head: Head, reader: &mut MapReader<'_, '_>) -> Self {
        Self {
            test: test(reader, &head.id),
            id: head.id,
            replaces: head.replaces,
            was: head.was,
            only_if: reader.text("only_if"),
            name: reader.text("name"),
            name_not: reader.text("name_not"),
            so: reader.text("so"),
            so_not: reader.text("so_not"),
            refer: reader.text("refer"),
            fault: reader.text("fault"),
            shown_by: shown_by(reader),
            hidden_by: strengths(reader, "hidden_by"),
            anyway: anyway(reader),
            same_measurement: reader.ids("same_measurement"),
            replaces_finding: reader.id("replaces_finding"),
            read_again: reader.ids("read_again"),
            holds_back: holds_back(reader),
            basis: head.basis,
        }
    }
}

fn holds_back(reader: &mut MapReader<'_, '_>) -> Vec<Spanned<String>> {
    if reader.has("holds_back")
        && !reader.has("read_again")
        && let Some(span) = reader.key_span("holds_back")
    {
        let title = format!("{} has `holds_back` and no `read_again`", reader.what());
        let label = "until which readings are read again?";
        reader.fault(Diagnostic::at(Code::MissingKey, title, span, label));
    }
    reader.ids("holds_back")
}

fn test(reader: &mut MapReader<'_, '_>, id: &Spanned<String>) -> Option<RawTest> {
    reader.refuse_together("when", &["of"], "a formula or a choice question decides a finding");
    let when = reader.text("when").map(RawTest::When);
    let of = reader.id("of").map(RawTest::Of);
    if !reader.has("when") && !reader.has("of") {
        let title = format!("{} has neither `when` nor `of`", reader.what());
        let label = "a formula or a choice question belongs here";
        reader.fault(Diagnostic::at(Code::MissingKey, title, id.span, label));
    }
    when.or(of)
}

fn shown_by(reader: &mut MapReader<'_, '_>) -> Vec<(Spanned<String>, RawLikelihood)> {
    let of = format!("`shown_by` of {}", reader.what());
    let mut shown = Vec::new();
    for entry in reader.map("shown_by") {
        let (key, faults) = (&entry.key, reader.faults());
        check_id(&key.text, key.span, &format!("a cause in {of}"), faults);
        let what = format!("`{}` in {of}", key.text);
        let likelihood = RawLikelihood::read(&entry.value, key.span, &what, faults);
        if let (true, Some(likelihood)) = (is_id(&key.text), likelihood) {
            shown.push((Spanned::new(key.text.clone(), key.span), likelihood));
        }
    }
    shown
}

fn anyway(reader: &mut MapReader<'_, '_>) -> Option<RawLikelihood> {
    let what = format!("`anyway` of {}", reader.what());
    let entry = reader.entry("anyway")?;
    RawLikelihood::read(&entry.value, entry.key.span, &what, reader.faults())
}
