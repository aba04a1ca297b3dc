//! Questions.

use super::Resolver;
use super::in_words::Around;
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::raw::RawQuestion;
use crate::document::{Scalar, Spanned};
use crate::formula::Kind;
use crate::handbook::model::{Basis, Choice, Hazard, Question, QuestionId};
use crate::quantity::{NAMED_KINDS, QuantityKind, UnitExpression, parse_unit};
use crate::text::list_and;

impl Resolver<'_> {
    pub(super) fn questions(&mut self) {
        for raw in &self.raw.questions {
            if let Some(question) = self.question(raw) {
                self.parts.questions.push(question);
            }
        }
    }

    fn question(&mut self, raw: &RawQuestion) -> Option<Question> {
        let known = self.names.get(&raw.id.value)?;
        let (symbol, kind) = (known.symbol, known.kind.clone());
        let numbers = kind.as_ref().map(|kind| self.question_numbers(raw, kind));
        let hazard = kind.as_ref().and_then(|kind| self.hazard(raw, kind));
        let ask = self.maybe_template(raw.ask.as_ref());
        let say = self.maybe_template(raw.say.as_ref());
        let listen = self.maybe_template(raw.listen.as_ref());
        let why = self.maybe_template(raw.why.as_ref());
        let instrument = raw
            .instrument
            .as_ref()
            .and_then(|name| self.ids.instruments.find(name, &mut self.faults));
        let outdates = self.outdates(raw);
        let about = self.about(raw);
        let known_by = self.known_by(raw);
        let takes = self.time(raw.takes.as_ref());
        let cautions = self.ids.cautions.find_all(&raw.cautions, &mut self.faults);
        let basis = self.question_basis(raw, kind.as_ref());
        let choices = choices(raw);
        let in_words = kind.as_ref().zip(numbers.as_ref()).map(|(kind, numbers)| {
            let (unit, range) = (numbers.unit.as_ref(), numbers.range);
            self.in_words(raw, kind, &Around { unit, range, choices: &choices })
        });
        let numbers = numbers?;
        Some(Question {
            id: raw.id.value.clone(),
            symbol,
            ask: ask?,
            say,
            listen,
            why,
            unit: numbers.unit,
            range: numbers.range,
            usual: numbers.usual,
            units: self.face_units(raw),
            resolutions: self.face_resolutions(raw),
            choices,
            in_words: in_words.unwrap_or_default(),
            instrument,
            outdates,
            about,
            known_by,
            repeats: numbers.repeats,
            not_sure: numbers.not_sure,
            hazard,
            takes,
            cautions,
            basis,
            kind: kind?,
        })
    }

    fn question_basis(&mut self, raw: &RawQuestion, kind: Option<&Kind>) -> Basis {
        let numbers = [
            ("range", raw.range.is_some()),
            ("usual", raw.usual.is_some()),
            ("repeats", raw.repeats.is_some()),
            ("not_sure", raw.not_sure.is_some()),
            ("in_words", !raw.in_words.is_empty() && matches!(kind, Some(Kind::Quantity(_)))),
            ("resolutions", !raw.resolutions.is_empty()),
            ("takes", false),
            ("ask", false),
            ("say", false),
            ("listen", false),
            ("why", false),
        ];
        self.basis("question", &raw.id, raw.basis.as_ref(), &numbers)
    }

    fn question_unit(&mut self, raw: &RawQuestion, kind: QuantityKind) -> Option<UnitExpression> {
        if let Some(unit) = &raw.unit {
            return self.unit(unit, kind);
        }
        let named = NAMED_KINDS.iter().find(|named| named.kind == kind)?;
        parse_unit(named.unit).ok()
    }

    fn question_numbers(&mut self, raw: &RawQuestion, kind: &Kind) -> Numbers {
        if !matches!(kind, Kind::Choice(_) | Kind::Choices(_)) {
            self.no_choices(raw, kind);
        }
        if !matches!(kind, Kind::Quantity(_) | Kind::Readings(_)) {
            self.no_instrument(raw, kind);
        }
        let (Kind::Quantity(quantity) | Kind::Readings(quantity)) = *kind else {
            self.no_numbers(raw);
            return Numbers::default();
        };
        let from = self.faults.len();
        let unit = self.question_unit(raw, quantity);
        let mut range =
            |text: &Option<Scalar>| text.as_ref().and_then(|text| self.range(text, quantity));
        let (whole, usual, not_sure) = (range(&raw.range), range(&raw.usual), range(&raw.not_sure));
        let repeats = raw.repeats.as_ref().and_then(|text| self.scatter(text, quantity));
        self.percent_forgotten(raw);
        self.asked_at(from, kind, raw.kind.as_ref().map(|kind| kind.span));
        for (inner, text) in [(usual, &raw.usual), (not_sure, &raw.not_sure)] {
            if let (Some(inner), Some(whole), Some(text)) = (inner, whole, text) {
                self.check_inside(inner, whole, text, raw);
            }
        }
        if let (Some(text), Some(instrument)) = (&raw.not_sure, &raw.instrument) {
            self.observation_is_no_setting(raw, text, instrument);
        }
        if let (Some(text), Kind::Readings(_)) = (&raw.not_sure, kind) {
            let title = format!("question `{}` takes readings and has a `not_sure`", raw.id.value);
            let label = "only settings have a `not_sure`";
            self.faults.push(Diagnostic::at(Code::KeysTogether, title, text.span, label));
        }
        Numbers { unit, range: whole, usual, not_sure, repeats }
    }

    pub(super) fn check_inside(
        &mut self,
        inner: (f64, f64),
        whole: (f64, f64),
        text: &Scalar,
        raw: &RawQuestion,
    ) {
        let slack = 1e-9 * whole.1.abs().max(whole.0.abs());
        if inner.0 >= whole.0 - slack && inner.1 <= whole.1 + slack {
            return;
        }
        let title = format!("`{}` reaches outside the range of `{}`", text.text, raw.id.value);
        let mut fault = Diagnostic::at(Code::OutOfRange, title, text.span, "outside the range");
        if let Some(range) = &raw.range {
            fault = fault.and_at(range.span, "the range is set here");
        }
        self.faults.push(fault);
    }

    fn observation_is_no_setting(
        &mut self,
        raw: &RawQuestion,
        text: &Scalar,
        instrument: &Spanned<String>,
    ) {
        let title = format!("`{}` is read by an instrument and has a `not_sure`", raw.id.value);
        self.faults.push(
            Diagnostic::at(Code::KeysTogether, title, text.span, "only settings have a `not_sure`")
                .and_at(instrument.span, "read by this")
                .note("a reading that nobody is sure of is no evidence at all"),
        );
    }

    fn no_choices(&mut self, raw: &RawQuestion, kind: &Kind) {
        if let (Some(choice), Some(written)) = (raw.choices.first(), &raw.kind) {
            let title = format!(
                "question `{}` takes {} and lists choices",
                raw.id.value,
                kind.with_article()
            );
            let label = "choices are listed from here on";
            let fault = Diagnostic::at(Code::KeysTogether, title, choice.id.span, label);
            self.faults.push(fault.and_at(written.span, "the kind is set here"));
        }
    }

    /// Questions that a changed or new answer outdates.
    fn outdates(&mut self, raw: &RawQuestion) -> Vec<QuestionId> {
        for own in raw.outdates.iter().filter(|name| name.value == raw.id.value) {
            let title = format!("question `{}` outdates itself", raw.id.value);
            let label = "of its own answers the latest counts anyway";
            self.faults.push(Diagnostic::at(Code::NamesItself, title, own.span, label));
        }
        self.ids.questions.find_all(&raw.outdates, &mut self.faults)
    }

    /// The readings that it asks about.
    fn about(&mut self, raw: &RawQuestion) -> Vec<QuestionId> {
        for own in raw.about.iter().filter(|name| name.value == raw.id.value) {
            let title = format!("question `{}` asks about itself", raw.id.value);
            let label = "the reading that it asks about belongs here";
            self.faults.push(Diagnostic::at(Code::NamesItself, title, own.span, label));
        }
        self.ids.questions.find_all(&raw.about, &mut self.faults)
    }

    /// Choices that another question gives.
    fn known_by(&mut self, raw: &RawQuestion) -> Vec<(String, QuestionId)> {
        if raw.known_by.is_empty() {
            return Vec::new();
        }
        self.of_no_choice(raw, &raw.known_by);
        let mut known = Vec::new();
        for (choice, question) in &raw.known_by {
            let name = Spanned { value: question.text.trim().to_owned(), span: question.span };
            let id = self.ids.questions.find(&name, &mut self.faults);
            known.extend(id.map(|id| (choice.value.clone(), id)));
        }
        known
    }

    fn no_instrument(&mut self, raw: &RawQuestion, kind: &Kind) {
        if let Some(instrument) = &raw.instrument {
            let title = format!(
                "question `{}` takes {} and names an instrument",
                raw.id.value,
                kind.with_article()
            );
            let label = "an instrument reads quantities";
            self.faults.push(Diagnostic::at(Code::KeysTogether, title, instrument.span, label));
        }
    }

    fn no_numbers(&mut self, raw: &RawQuestion) {
        let settings = [
            ("unit", &raw.unit),
            ("range", &raw.range),
            ("usual", &raw.usual),
            ("repeats", &raw.repeats),
            ("not_sure", &raw.not_sure),
        ];
        for (key, text) in settings {
            if let Some(text) = text {
                let title =
                    format!("question `{}` takes no number and has a `{key}`", raw.id.value);
                let label = "only quantities have one";
                self.faults.push(Diagnostic::at(Code::KeysTogether, title, text.span, label));
            }
        }
    }

    /// The answer that "not sure" counts as.
    fn hazard(&mut self, raw: &RawQuestion, kind: &Kind) -> Option<Hazard> {
        let written = raw.hazard.as_ref()?;
        let word = written.text.trim();
        let answers: &[String] = match kind {
            Kind::YesNo => &["no".to_owned(), "yes".to_owned()],
            Kind::Choice(set) => set.ids(),
            _ => {
                self.no_hazard(raw, written, kind);
                return None;
            }
        };
        let Some(place) = answers.iter().position(|answer| answer == word) else {
            let title = format!("`{word}` is no answer to question `{}`", raw.id.value);
            let label = "the answer that \"not sure\" counts as belongs here";
            let quoted: Vec<String> = answers.iter().map(|answer| format!("`{answer}`")).collect();
            let near = near_name(word, answers.iter().map(String::as_str));
            self.faults.push(
                Diagnostic::at(Code::UnknownChoice, title, written.span, label)
                    .note(format!("the answers are {}", list_and(&quoted)))
                    .maybe_help(near.map(|near| format!("did you mean `{near}`?"))),
            );
            return None;
        };
        Some(match kind {
            Kind::YesNo => Hazard::YesNo(place == 1),
            _ => Hazard::Choice(place as u16),
        })
    }

    fn no_hazard(&mut self, raw: &RawQuestion, written: &Scalar, kind: &Kind) {
        let title =
            format!("question `{}` takes {} and has a `hazard`", raw.id.value, kind.with_article());
        let label = "only a yes or no, or a choice, has one";
        self.faults.push(
            Diagnostic::at(Code::KeysTogether, title, written.span, label)
                .note("`hazard` is the answer that \"not sure\" counts as"),
        );
    }
}

#[derive(Default)]
struct Numbers {
    unit: Option<UnitExpression>,
    range: Option<(f64, f64)>,
    usual: Option<(f64, f64)>,
    not_sure: Option<(f64, f64)>,
    repeats: Option<f64>,
}

fn choices(raw: &RawQuestion) -> Vec<Choice> {
    let choice = |choice: &crate::document::raw::RawChoice| Choice {
        id: choice.id.value.clone(),
        label: choice.text.text.clone(),
    };
    raw.choices.iter().map(choice).collect()
}
