//! What was asked and answered, with units and doubt.

use serde::Serialize;

use super::{About, Fact};
use crate::case::{Case, Given, QuestionId, Reply};
use crate::formula::{Draws, Facts, Kind, Summary, Value, show_summary, show_value};
use crate::handbook::Question;
use crate::quantity::UnitExpression;
use crate::report::marks::given as mark_given;
use crate::text::{Line, Role};

/// An answer that stands.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct Answered {
    /// The id of the question.
    pub question: String,
    /// What was asked.
    pub ask: String,
    /// The answer as it was understood, with its unit.
    pub typed: String,
    /// The answer as it was taken, in SI units.
    pub reply: Reply,
    /// What it stands for with its doubt; none for what is no quantity.
    pub stands_for: Option<StandsFor>,
    /// When it was given.
    pub at: Option<String>,
}

/// A quantity with its doubt.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct StandsFor {
    /// The middle.
    pub value: f64,
    /// The ends of its 95 % interval.
    pub low: f64,
    pub high: f64,
    /// The unit of all three.
    pub unit: Option<String>,
    /// The three as people read them.
    #[serde(skip)]
    pub shown: [String; 3],
    /// Where the range of one who is not sure is from.
    pub assumed: Option<String>,
}

impl StandsFor {
    /// A quantity's middle and ends; none for anything else.
    pub fn of(value: &Value, kind: &Kind, unit: Option<&UnitExpression>) -> Option<Self> {
        let Value::Quantity(draws) = value else { return None };
        let summary = Summary::of(draws);
        let end = |si: f64| show_value(&Value::Quantity(Draws::Same(si)), kind, unit);
        let number = |si: f64| unit.map_or(si, |unit| unit.from_si(si));
        Some(Self {
            value: number(summary.middle),
            low: number(summary.low),
            high: number(summary.high),
            unit: unit.map(|unit| unit.symbol.clone()),
            shown: [show_summary(&summary, kind, unit), end(summary.low), end(summary.high)],
            assumed: None,
        })
    }

    /// `19 in 20: 24.9 micron to 40.1 micron`; none where there is no doubt.
    pub fn doubt(&self) -> Option<String> {
        let [_, low, high] = &self.shown;
        (self.low < self.high).then(|| format!("19 in 20: {low} to {high}"))
    }
}

/// The answers that stand, in order.
pub(super) fn answered(case: &Case<'_>, about: &About) -> Vec<Answered> {
    let given = &case.record().given;
    let every = Every::of(case);
    given
        .iter()
        .map(|given| {
            let question = case.handbook().question(given.question);
            Answered {
                question: question.id.clone(),
                ask: case.ask(given.question).to_text(),
                typed: given.typed.clone(),
                reply: given.reply.clone(),
                stands_for: every
                    .value(case, given)
                    .and_then(|v| stands_for(case, question, given, v)),
                at: about.times.get(given.order).map(ToString::to_string),
            }
        })
        .collect()
}

/// The values of all answers of each question that was answered.
struct Every(Vec<(QuestionId, Vec<Value>)>);

impl Every {
    fn of(case: &Case<'_>) -> Self {
        let sheet = case.worksheet();
        let mut every: Vec<(QuestionId, Vec<Value>)> = Vec::new();
        for given in &case.record().given {
            if every.iter().any(|(known, _)| *known == given.question) {
                continue;
            }
            let symbol = case.handbook().question(given.question).symbol;
            let values = match sheet.every(symbol) {
                Value::List(values) => values.to_vec(),
                value => vec![value],
            };
            every.push((given.question, values));
        }
        Self(every)
    }

    /// The value of one answer; none where the handbook doesn't tell them apart, since answers
    /// that say nothing are left out.
    fn value(&self, case: &Case<'_>, wanted: &Given) -> Option<&Value> {
        let (_, values) = self.0.iter().find(|(question, _)| *question == wanted.question)?;
        let all = || case.answers(wanted.question);
        let place = all().position(|given| given.order == wanted.order)?;
        if values.len() == all().count() {
            return values.get(place);
        }
        let known = || all().filter(|given| given.reply.is_known());
        let place = known().position(|given| given.order == wanted.order)?;
        (values.len() == known().count()).then(|| values.get(place)).flatten()
    }
}

fn stands_for(
    case: &Case<'_>,
    question: &Question,
    given: &Given,
    value: &Value,
) -> Option<StandsFor> {
    let mut stands_for = StandsFor::of(value, &question.kind, question.unit.as_ref())?;
    if !given.reply.is_known() {
        question.not_sure?;
        stands_for.assumed = mark_given(case, &question.basis, "not_sure");
    }
    Some(stands_for)
}

/// `What does the gauge read? 32 micron (19 in 20: 24.9 micron to 40.1 micron)`
pub(super) fn told(answers: &[Answered]) -> Vec<Fact> {
    let told = answers.iter().map(|answered| {
        let mut behind = Vec::new();
        if let Some(stands_for) = &answered.stands_for {
            if let Some(mark) = &stands_for.assumed {
                behind.push(format!("taken as {}, {mark}", stands_for.shown[0]));
            }
            behind.extend(stands_for.doubt());
        }
        let doubt = match behind.is_empty() {
            true => String::new(),
            false => format!(" ({})", behind.join("; ")),
        };
        let value = Line::new().push(Role::Value, answered.typed.clone());
        Fact::Row { label: answered.ask.clone(), value: value.push(Role::Quiet, doubt) }
    });
    told.collect()
}
