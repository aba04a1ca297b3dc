//! What a case shows of its handbook: questions, cautions, actions and causes, in words.

use super::case::Case;
use crate::evidence::FindingState;
use crate::formula::{CheckedTemplate, Facts, Kind, Summary, Value, Verdict, verdict};
use crate::handbook::{
    ActionId, CauseId, CautionId, CautionSeverity, FindingId, Observes, QuestionId, TreeId,
};
use crate::quantity::UnitExpression;
use crate::text::{Line, spoken};

/// A question as it is put to a person.
#[derive(Clone, Debug)]
pub struct QuestionView {
    /// Its id.
    pub id: String,
    /// What is asked on site.
    pub ask: Line,
    /// What is read aloud on the phone.
    pub say: Option<Line>,
    /// What to listen for in a caller's answer.
    pub listen: Option<Line>,
    /// Why it is asked.
    pub why: Option<Line>,
    /// The choices: ids and labels; yes and no for a yes/no question; empty where a value is
    /// typed.
    pub options: Vec<(String, String)>,
    /// Words that may be typed for an answer, each with the answer.
    pub in_words: Vec<(String, String)>,
    /// What may be typed: `a pressure; a bare number is read in micron`.
    pub hint: String,
    /// How long it takes, in seconds.
    pub takes: Option<f64>,
    /// Whether it takes the readings of a hold, which may be typed one by one.
    pub takes_readings: bool,
    /// Whether it takes a text, which is kept as it stands.
    pub takes_words: bool,
}

/// A caution in words.
#[derive(Clone, Debug)]
pub struct CautionView {
    /// Its id.
    pub id: String,
    /// How grave it is.
    pub severity: CautionSeverity,
    /// The warning.
    pub text: Line,
    /// Whom to refer to.
    pub refer: Option<Line>,
}

/// An action in words.
#[derive(Clone, Debug)]
pub struct ActionView {
    /// Its id.
    pub id: String,
    /// What to do.
    pub instruction: Line,
    /// How long it takes, in minutes.
    pub minutes: Option<f64>,
    /// What has to be at hand.
    pub parts: Vec<String>,
    /// Its cautions.
    pub cautions: Vec<CautionView>,
}

/// A cause in words.
#[derive(Clone, Debug)]
pub struct CauseView {
    /// Its id.
    pub id: String,
    /// What people call it.
    pub name: String,
    /// The same in the fewest words, for use within a sentence.
    pub in_short: String,
    /// Its group.
    pub group: String,
    /// How it comes about.
    pub because: Line,
    /// What mends it, in the order to try.
    pub fixes: Vec<ActionView>,
    /// Its cautions.
    pub cautions: Vec<CautionView>,
}

impl Case<'_> {
    fn fill(&self, template: &CheckedTemplate) -> Line {
        template.fill(&self.worksheet())
    }

    /// What a question asks.
    #[must_use]
    pub fn ask(&self, id: QuestionId) -> Line {
        self.fill(&self.handbook().question(id).ask)
    }

    /// A question in words.
    #[must_use]
    pub fn question_view(&self, id: QuestionId) -> QuestionView {
        let question = self.handbook().question(id);
        let options = match question.kind {
            Kind::YesNo => {
                vec![("yes".to_owned(), "Yes".to_owned()), ("no".to_owned(), "No".to_owned())]
            }
            Kind::Choice(_) => {
                question.choices.iter().map(|c| (c.id.clone(), c.label.clone())).collect()
            }
            _ => Vec::new(),
        };
        QuestionView {
            id: question.id.clone(),
            ask: self.ask(id),
            say: question.say.as_ref().map(|say| self.fill(say)),
            listen: question.listen.as_ref().map(|listen| self.fill(listen)),
            why: question.why.as_ref().map(|why| why.fill_what_is_known(&self.worksheet())),
            options,
            in_words: question
                .in_words
                .iter()
                .map(|known| (known.words.clone(), known.answer.clone()))
                .collect(),
            hint: self.hint(id),
            takes: question.takes,
            takes_readings: matches!(question.kind, Kind::Readings(_)),
            takes_words: question.kind == Kind::Text,
        }
    }

    fn hint(&self, id: QuestionId) -> String {
        let question = self.handbook().question(id);
        let kind = question.kind.with_article();
        let unit = self.face_unit(id).or(question.unit.as_ref());
        let first = question.in_words.first();
        let words = first.map_or_else(String::new, |known| format!("; or {}", known.words));
        match (&question.kind, unit) {
            (Kind::Quantity(_), Some(unit)) if unit.symbol != "1" => {
                let not = self.other_face(id, unit);
                let not = not.map_or_else(String::new, |other| format!(" here, not in {other}"));
                format!("{kind}; a bare number is read in {}{not}{words}", unit.symbol)
            }
            (Kind::Quantity(_), _) => kind + &words,
            (Kind::Choices(_), _) => {
                let ids: Vec<&str> = question.choices.iter().map(|c| c.id.as_str()).collect();
                format!("one or more of {}, with commas between, or none", ids.join(", "))
            }
            (Kind::Readings(_), Some(unit)) => format!(
                "one reading now and the next as you read them, or all with their times, such as \
                 `0 min 400, 5 min 430 {}`; or @ and the name of a file that holds them, such as \
                 `@hold.csv`",
                unit.symbol
            ),
            (Kind::Text, _) => "a few words".to_owned(),
            (Kind::Date, _) => "a date, such as 2026-03-31".to_owned(),
            _ => kind,
        }
    }

    /// The unit of a gauge's face that a bare number is not read in, since the question is read
    /// from no gauge: somebody who has just read one would take it for that.
    fn other_face(&self, id: QuestionId, unit: &UnitExpression) -> Option<&str> {
        let handbook = self.handbook();
        if handbook.face(id).is_some() {
            return None;
        }
        let mut known = handbook.question_ids().filter_map(|read| self.face_unit(read));
        let other = known.find(|face| face.kind.fits(unit.kind) && face.symbol != unit.symbol);
        other.map(|face| face.symbol.as_str())
    }

    /// A caution in words.
    #[must_use]
    pub fn caution_view(&self, id: CautionId) -> CautionView {
        let caution = self.handbook().caution(id);
        CautionView {
            id: caution.id.clone(),
            severity: caution.severity,
            text: self.fill(&caution.text),
            refer: caution.refer.as_ref().map(|refer| self.fill(refer)),
        }
    }

    /// An action in words.
    #[must_use]
    pub fn action_view(&self, id: ActionId) -> ActionView {
        let action = self.handbook().action(id);
        ActionView {
            id: action.id.clone(),
            instruction: self.fill(&action.instruction),
            minutes: action.takes.map(|seconds| seconds / 60.0),
            parts: action.parts.clone(),
            cautions: self.applying(&action.cautions),
        }
    }

    /// A cause in words.
    #[must_use]
    pub fn cause_view(&self, id: CauseId) -> CauseView {
        let cause = self.handbook().cause(id);
        CauseView {
            id: cause.id.clone(),
            name: cause.name.clone(),
            in_short: cause.in_short.clone(),
            group: cause.group.clone(),
            because: self.fill(&cause.because),
            fixes: cause.fix.iter().map(|&id| self.action_view(id)).collect(),
            cautions: self.applying(&cause.cautions),
        }
    }

    /// A tree's id and title.
    #[must_use]
    pub fn tree_view(&self, id: TreeId) -> (&str, &str) {
        let tree = self.handbook().tree(id);
        (&tree.id, &tree.title)
    }

    /// A finding's id.
    #[must_use]
    pub fn finding_name(&self, id: FindingId) -> &str {
        &self.handbook().finding(id).id
    }

    /// Whom a finding that is a matter of safety refers to.
    #[must_use]
    pub fn finding_refers_to(&self, id: FindingId) -> Option<Line> {
        self.handbook().finding(id).refer.as_ref().map(|refer| self.fill(refer))
    }

    /// An outcome of a finding within a sentence: `the pump alone stops too high`, `the oil in the
    /// sight glass is "Cloudy"`. Of a finding without a name, by its id in words.
    #[must_use]
    pub fn finding_outcome(&self, id: FindingId, outcome: usize) -> String {
        let finding = self.handbook().finding(id);
        match (&finding.observes, outcome) {
            (Observes::Of(question), _) => {
                let question = self.handbook().question(*question);
                let asked = || format!("the answer to \"{}\"", self.fill(&question.ask).to_text());
                let name = finding.name.clone().unwrap_or_else(asked);
                format!("{name} is \"{}\"", question.choice_label(outcome))
            }
            (Observes::When(_), 0) => match (&finding.name_not, &finding.name) {
                (Some(name), _) => name.clone(),
                (None, Some(name)) => format!("it is not so that {name}"),
                (None, None) => format!("\"{}\" comes out no", spoken(&finding.id)),
            },
            (Observes::When(_), _) => finding
                .name
                .clone()
                .unwrap_or_else(|| format!("\"{}\" comes out yes", spoken(&finding.id))),
        }
    }

    /// Whether a finding is told by itself: it speaks of no cause and weighs nothing, or it is about
    /// readings that can't all be, whatever it speaks for besides.
    #[must_use]
    pub fn is_apart(&self, id: FindingId) -> bool {
        let finding = self.handbook().finding(id);
        finding.shown_by.is_empty() && finding.hidden_by.is_empty()
            || !finding.read_again.is_empty()
    }
}

/// A formula's value for programs, in the unit in which it is shown.
#[derive(Clone, Debug, PartialEq)]
pub struct FormulaValue {
    /// The formula's id.
    pub id: String,
    /// The value: a number, yes or no as `true` or `false`, or null.
    pub value: serde_json::Value,
    /// The lower end of its 95 % interval.
    pub low: Option<f64>,
    /// The upper end of its 95 % interval.
    pub high: Option<f64>,
    /// The unit.
    pub unit: Option<String>,
    /// Why it is not known.
    pub unknown: Option<String>,
}

impl Case<'_> {
    /// Every question's place, in the order of the handbook.
    pub fn question_ids(&self) -> impl Iterator<Item = QuestionId> + use<> {
        self.handbook().question_ids()
    }

    /// The trees with a step that asks a question.
    #[must_use]
    pub fn trees_asking(&self, id: QuestionId) -> Vec<TreeId> {
        let trees = self.handbook().trees().iter().enumerate();
        trees
            .filter(|(_, tree)| tree.questions().any(|asked| asked == id))
            .map(|(place, _)| TreeId::at(place))
            .collect()
    }

    /// Every finding's place, in the order of the handbook.
    pub fn finding_ids(&self) -> impl Iterator<Item = FindingId> + use<> {
        self.handbook().finding_ids()
    }

    /// The id of a choice that a finding observes, by its place in the order.
    #[must_use]
    pub fn choice_id(&self, finding: FindingId, choice: u16) -> String {
        let Observes::Of(question) = self.handbook().finding(finding).observes else {
            return choice.to_string();
        };
        let choices = &self.handbook().question(question).choices;
        choices.get(usize::from(choice)).map_or_else(|| choice.to_string(), |c| c.id.clone())
    }

    /// What a finding's question asks and the label of the choice that was seen.
    #[must_use]
    pub fn choice_seen(&self, finding: FindingId, state: &FindingState) -> Option<(Line, String)> {
        let (FindingState::Seen(choice), Observes::Of(question)) =
            (state, &self.handbook().finding(finding).observes)
        else {
            return None;
        };
        let choice = self.handbook().question(*question).choices.get(usize::from(*choice))?;
        Some((self.ask(*question), choice.label.clone()))
    }

    /// Every formula's value.
    #[must_use]
    pub fn formula_values(&self) -> Vec<FormulaValue> {
        let sheet = self.worksheet();
        let handbook = self.handbook();
        let formulas = handbook.formulas().iter();
        formulas.map(|f| formula_value(&f.id, &sheet.latest(f.symbol), f.unit.as_ref())).collect()
    }
}

fn formula_value(id: &str, value: &Value, unit: Option<&UnitExpression>) -> FormulaValue {
    let plain = |value: serde_json::Value| FormulaValue {
        id: id.to_owned(),
        value,
        low: None,
        high: None,
        unit: None,
        unknown: None,
    };
    match value {
        Value::Quantity(draws) => {
            let summary = Summary::of(draws);
            let shown = |si: f64| unit.map_or(si, |unit| unit.from_si(si));
            FormulaValue {
                low: Some(shown(summary.low)),
                high: Some(shown(summary.high)),
                unit: unit.map(|unit| unit.symbol.clone()),
                ..plain(shown(summary.middle).into())
            }
        }
        Value::Truth(draws) => match verdict(draws) {
            Verdict::Yes(_) => plain(true.into()),
            Verdict::No(_) => plain(false.into()),
            Verdict::TooClose(p) => FormulaValue {
                unknown: Some(format!("too close to tell: {p:.2} of the draws say yes")),
                ..plain(serde_json::Value::Null)
            },
            Verdict::Unknown => plain(serde_json::Value::Null),
        },
        Value::Unknown(why) => {
            FormulaValue { unknown: Some(why.to_string()), ..plain(serde_json::Value::Null) }
        }
        _ => plain(serde_json::Value::Null),
    }
}
