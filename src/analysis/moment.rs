//! A moment of a way: what has been said until then, evaluated like a case would.

mod judged;

use std::cell::RefCell;
use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;

use super::said::{Said, hold, unit_of};
use crate::formula::{
    Checked, Draws, Facts, HoldGauge, HoldReadings, Kind, Symbol, Truth, Unknown, Value, Verdict,
    evaluate, stream, verdict,
};
use crate::handbook::{
    ActionId, Entry, Finding, Handbook, Instrument, Observes, Question, QuestionId,
};
use crate::quantity::{Nature, UnitExpression};
use judged::judged;

/// One answer: which variable, and its place in the order of what happened.
#[derive(Clone, Copy, Debug)]
pub(super) struct Answered {
    pub variable: usize,
    pub order: usize,
}

/// What has happened until a moment.
#[derive(Clone, Debug, Default)]
pub(super) struct Past {
    pub answers: BTreeMap<QuestionId, Vec<Answered>>,
    pub done: Vec<(ActionId, usize)>,
}

/// Whether an action that was done after an answer at a place has outdated it.
pub(super) fn outdated_by_action(
    handbook: &Handbook,
    past: &Past,
    question: QuestionId,
    order: usize,
) -> bool {
    handbook
        .outdated_by(question)
        .is_some_and(|by| past.done.iter().any(|(id, at)| *at > order && by.actions.contains(id)))
}

/// Streams of chance already made, holds already read, since reading one costs a fit, and what
/// names came to for answers met before.
#[derive(Debug, Default)]
pub(super) struct Chances {
    made: RefCell<HashMap<String, Arc<[f64]>>>,
    holds: RefCell<Vec<Arc<HoldReadings>>>,
    values: RefCell<HashMap<Ground, Value>>,
}

/// How many values are kept before all of them are dropped (limit of ours: some 20 MB).
const MOST_VALUES: usize = 2500;

/// All that the value of a name rests on: the name, the view, and every answer under it.
#[derive(Debug, PartialEq, Eq, Hash)]
struct Ground(Symbol, Vec<u64>);

/// How many holds are kept.
const MOST_HOLDS: usize = 48;

impl Chances {
    fn get(&self, name: &str) -> Arc<[f64]> {
        let mut made = self.made.borrow_mut();
        Arc::clone(made.entry(name.to_owned()).or_insert_with(|| stream(name)))
    }

    /// The same hold as one met before, with what has been read of it; else this one.
    fn hold(&self, hold: HoldReadings) -> Arc<HoldReadings> {
        let mut known = self.holds.borrow_mut();
        if let Some(same) = known.iter().find(|one| ***one == hold) {
            return Arc::clone(same);
        }
        let hold = Arc::new(known.iter().fold(hold, |hold, other| hold.as_told_of(other)));
        if known.len() == MOST_HOLDS {
            known.remove(0);
        }
        known.push(Arc::clone(&hold));
        hold
    }

    /// The value that a name had on the same ground, else this one.
    fn value(&self, ground: Ground, value: impl FnOnce() -> Value) -> Value {
        if let Some(known) = self.values.borrow().get(&ground) {
            return known.clone();
        }
        let value = value();
        let mut values = self.values.borrow_mut();
        if values.len() >= MOST_VALUES {
            values.clear();
        }
        values.insert(ground, value.clone());
        value
    }

    /// Evenly over plus or minus a half-width.
    fn around_zero(&self, name: &str, half_width: &Draws<f64>) -> Draws<f64> {
        if *half_width == Draws::Same(0.0) {
            return Draws::Same(0.0);
        }
        let drawn = self.get(name);
        let drawn = drawn.iter().enumerate();
        Draws::Each(drawn.map(|(row, u)| (2.0 * u - 1.0) * half_width.at(row)).collect())
    }

    /// Over a range: evenly, or evenly in the logarithm where it spans a decade.
    fn between(&self, name: &str, low: f64, high: f64) -> Draws<f64> {
        if low == high {
            return Draws::Same(low);
        }
        let spans_a_decade = low > 0.0 && high >= 10.0 * low;
        let draw = |u: &f64| match spans_a_decade {
            true => low * libm::exp(u * libm::log(high / low)),
            false => low + u * (high - low),
        };
        Draws::Each(self.get(name).iter().map(draw).collect())
    }
}

/// The facts of one moment.
pub(super) struct Moment<'a> {
    pub handbook: &'a Handbook,
    pub past: &'a Past,
    pub said: &'a [Said],
    pub chances: &'a Chances,
    /// Observations from here on are not seen.
    until: usize,
    /// Whether a setting that nobody has answered counts as not sure.
    assumes_settings: bool,
    known: RefCell<HashMap<Symbol, Value>>,
}

impl<'a> Moment<'a> {
    pub fn new(
        handbook: &'a Handbook,
        past: &'a Past,
        said: &'a [Said],
        chances: &'a Chances,
    ) -> Self {
        let known = RefCell::default();
        let (until, assumes_settings) = (usize::MAX, false);
        Self { handbook, past, said, chances, until, assumes_settings, known }
    }

    fn narrowed(&self, until: usize, assumes_settings: bool) -> Moment<'a> {
        let moment = Moment::new(self.handbook, self.past, self.said, self.chances);
        Moment { until: until.min(self.until), assumes_settings, ..moment }
    }

    /// How a condition is judged.
    pub fn verdict(&self, condition: &Checked) -> Verdict {
        match evaluate(condition, self) {
            Value::Truth(draws) => verdict(&draws),
            _ => Verdict::Unknown,
        }
    }

    /// Answers of a question that have been given, oldest first, with their numbers.
    fn given(&self, id: QuestionId) -> Vec<(usize, &'a Said, usize)> {
        let is_setting = self.handbook.question(id).is_setting();
        let answers = self.past.answers.get(&id).into_iter().flatten();
        let said = answers.map(|answer| (&self.said[answer.variable], answer.order));
        let given = said.filter(|(said, _)| **said != Said::NotAsked).enumerate();
        given
            .map(|(number, (said, order))| (number, said, order))
            .filter(|(_, _, order)| is_setting || *order < self.until)
            .collect()
    }

    fn known(&self, id: QuestionId) -> Vec<(usize, &'a Said, usize)> {
        let mut given = self.given(id);
        given.retain(|(_, said, _)| **said != Said::Nothing);
        given
    }

    fn question(&self, id: QuestionId) -> Value {
        let question = self.handbook.question(id);
        let given = self.given(id);
        let latest = match question.is_setting() {
            // A setting that says nothing was skipped.
            true => given.iter().rfind(|(_, said, _)| **said != Said::Nothing),
            false => given.last(),
        };
        match (latest, question.not_sure) {
            (Some((_, _, order)), _) if self.is_outdated(id, *order) => {
                Value::Unknown(Unknown::Outdated(question.id.clone(), String::new()))
            }
            (Some((number, said, _)), _) => self.value(question, *number, said),
            (None, Some((low, high))) if self.assumes_settings => {
                let name = format!("answer:{}:not_sure", question.id);
                Value::Quantity(self.chances.between(&name, low, high))
            }
            (None, _) => Value::Unknown(Unknown::NotAnswered(question.id.clone())),
        }
    }

    /// Whether an answer tells of what was there before something changed.
    fn is_outdated(&self, question: QuestionId, order: usize) -> bool {
        let Some(by) = self.handbook.outdated_by(question) else { return false };
        let is_since = |at: usize| at > order && at < self.until;
        let acted = self.past.done.iter();
        acted.into_iter().any(|(id, at)| by.actions.contains(id) && is_since(*at))
            || by.questions.iter().any(|id| self.changes(*id).any(is_since))
    }

    /// The places at which a question was answered otherwise, or measured anew.
    fn changes(&self, id: QuestionId) -> impl Iterator<Item = usize> {
        let answers = self.past.answers.get(&id).into_iter().flatten();
        let said = answers.map(|answer| (&self.said[answer.variable], answer.order));
        let known = said.filter(|(said, _)| !matches!(said, Said::NotAsked | Said::Nothing));
        let known: Vec<(&Said, usize)> = known.collect();
        let is_choice = matches!(self.handbook.question(id).kind, Kind::YesNo | Kind::Choice(_));
        let pairs = known.windows(2).filter(|pair| !is_choice || pair[0].0 != pair[1].0);
        pairs.map(|pair| pair[1].1).collect::<Vec<_>>().into_iter()
    }

    fn value(&self, question: &Question, number: usize, said: &Said) -> Value {
        match said {
            Said::YesNo(yes) => {
                Value::Truth(Draws::Same(if *yes { Truth::Yes } else { Truth::No }))
            }
            Said::Choice(place) => Value::Choice(Draws::Same(*place as u16)),
            Said::Quantity { si, half_width } => {
                Value::Quantity(self.reading(question, number, *si, *half_width))
            }
            Said::Words => Value::Text("something".into()),
            Said::Day => Value::Date("2026-03-31".into()),
            Said::Hold(hold) => self.hold(question, number, *hold),
            Said::NotAsked | Said::Nothing => Value::Unknown(Unknown::NotSure(question.id.clone())),
        }
    }

    /// The true values that a reading may stand for.
    fn reading(&self, question: &Question, number: usize, si: f64, half_width: f64) -> Draws<f64> {
        let name = format!("answer:{}:{number}", question.id);
        let repeats = if half_width > 0.0 { half_width } else { question.repeats.unwrap_or(0.0) };
        let around = |part: &str, width: f64| {
            self.chances.around_zero(&format!("{name}:{part}"), &Draws::Same(width))
        };
        let shown = Draws::Same(si);
        let read = shown.zip(&around("repeats", repeats), |shown, error| shown - error);
        let Some(instrument) = question.instrument.map(|id| self.handbook.instrument(id)) else {
            return read;
        };
        let (scale, offset, resolution) = self.errors(instrument);
        let true_value = read
            .zip(&around("resolution", resolution / 2.0), |shown, error| shown - error)
            .zip(&offset, |shown, error| shown - error)
            .zip(&scale, |shown, error| shown / (1.0 + error));
        match question.kind {
            Kind::Quantity(kind) if kind.nature == Nature::Absolute => {
                true_value.map(|value| value.max(0.0))
            }
            _ => true_value,
        }
    }

    fn errors(&self, instrument: &Instrument) -> (Draws<f64>, Draws<f64>, f64) {
        let assuming = self.narrowed(self.until, true);
        let width =
            |formula: &Option<Checked>| match formula.as_ref().map(|f| evaluate(f, &assuming)) {
                Some(Value::Quantity(draws)) => draws,
                _ => Draws::Same(0.0),
            };
        let named = |part: &str| format!("instrument:{}:{part}", instrument.id);
        let scale = self.chances.around_zero(&named("scale"), &width(&instrument.scale));
        let offset = self.chances.around_zero(&named("offset"), &width(&instrument.offset));
        let resolution = assuming.step_of_face(instrument);
        let own = || {
            let steps = width(&instrument.resolution);
            steps.values().iter().sum::<f64>() / steps.values().len() as f64
        };
        (scale, offset, resolution.unwrap_or_else(own))
    }

    /// The step of the face, where it is known and has one.
    fn step_of_face(&self, instrument: &Instrument) -> Option<f64> {
        let face = self.handbook.question(instrument.face?);
        let Value::Choice(shown) = self.latest(face.symbol) else { return None };
        *face.resolutions.get(usize::from(shown.at(0)))?
    }

    fn hold(&self, question: &Question, number: usize, tried: usize) -> Value {
        let Some(unit) = unit_of(question) else {
            return Value::Unknown(Unknown::NotSure(question.id.clone()));
        };
        let (times, pressures) = hold(tried, &unit);
        let (scale, offset, resolution) = match question.instrument {
            Some(id) => self.errors(self.handbook.instrument(id)),
            None => (Draws::Same(0.0), Draws::Same(0.0), 0.0),
        };
        let gauge = HoldGauge { scale, offset, resolution, repeats: question.repeats };
        let name = format!("answer:{}:{number}", question.id);
        Value::Readings(self.chances.hold(HoldReadings::new(name, times, pressures, gauge)))
    }

    /// What a name's value rests on here.
    fn ground(&self, symbol: Symbol) -> Ground {
        // Without an action it makes no difference when something was said.
        let under = self.handbook.questions_under(symbol);
        let others = under.iter().filter_map(|id| self.handbook.outdated_by(*id));
        let mut others: Vec<QuestionId> = others.flat_map(|by| &by.questions).copied().collect();
        let is_timed = !self.past.done.is_empty() || self.until != usize::MAX || !others.is_empty();
        others.extend(under.iter().filter_map(|id| self.handbook.face(*id)));
        let mut ground = vec![u64::from(self.assumes_settings)];
        if is_timed {
            let done = self.past.done.iter();
            ground.push(self.until as u64);
            ground.extend(done.flat_map(|(action, order)| [action.index() as u64, *order as u64]));
        }
        for id in under.iter().chain(&others) {
            ground.extend([u64::MAX, id.index() as u64]);
            for answer in self.past.answers.get(id).into_iter().flatten() {
                ground.push(if is_timed { answer.order as u64 } else { 0 });
                ground.extend(self.said[answer.variable].bits());
            }
        }
        Ground(symbol, ground)
    }

    /// A finding keeps to what was observed before an action that came after its own readings.
    fn finding(&self, finding: &Finding) -> Value {
        match self.action_after(finding) {
            Some(order) => judged(finding, &self.narrowed(order, self.assumes_settings)),
            None => judged(finding, self),
        }
    }

    fn action_after(&self, finding: &Finding) -> Option<usize> {
        let questions: Vec<QuestionId> = match &finding.observes {
            Observes::Of(question) => vec![*question],
            Observes::When(condition) => {
                let used = condition.uses().iter();
                used.flat_map(|used| self.handbook.questions_under(used.symbol)).copied().collect()
            }
        };
        let observed = questions.iter().filter(|id| !self.handbook.question(**id).is_setting());
        let orders = observed.filter_map(|id| self.known(*id).last().map(|(_, _, order)| *order));
        let last = orders.max()?;
        let latest = |id: &QuestionId| self.known(*id).last().map(|(_, _, order)| *order);
        let is_lost = |id: &&QuestionId| latest(id).is_some_and(|at| self.is_outdated(**id, at));
        if questions.iter().any(|id| is_lost(&id)) {
            return None;
        }
        let done = self.past.done.iter().map(|(_, order)| *order);
        done.filter(|order| *order > last && *order < self.until).min()
    }

    fn nth(
        &self,
        symbol: Symbol,
        may_be_outdated: bool,
        place: impl Fn(usize) -> Option<usize>,
    ) -> Value {
        let Entry::Question(id) = self.handbook.entry(symbol) else { return self.latest(symbol) };
        let known = self.known(id);
        let question = self.handbook.question(id);
        match place(known.len()).and_then(|place| known.get(place)) {
            Some((_, _, order)) if may_be_outdated && self.is_outdated(id, *order) => {
                Value::Unknown(Unknown::Outdated(question.id.clone(), String::new()))
            }
            Some((number, said, _)) => self.value(question, *number, said),
            None => Value::Unknown(Unknown::NoEarlier(question.id.clone())),
        }
    }
}

impl Facts for Moment<'_> {
    fn latest(&self, symbol: Symbol) -> Value {
        if let Some(known) = self.known.borrow().get(&symbol) {
            return known.clone();
        }
        let value = match self.handbook.entry(symbol) {
            Entry::Question(id) => self.question(id),
            Entry::Formula(id) => self
                .chances
                .value(self.ground(symbol), || evaluate(&self.handbook.formula(id).is, self)),
            Entry::Finding(id) => self.finding(self.handbook.finding(id)),
        };
        self.known.borrow_mut().insert(symbol, value.clone());
        value
    }

    fn first(&self, symbol: Symbol) -> Value {
        self.nth(symbol, false, |_| Some(0))
    }

    fn previous(&self, symbol: Symbol) -> Value {
        self.nth(symbol, true, |count| count.checked_sub(2))
    }

    fn before(&self, action: Symbol, symbol: Symbol) -> Value {
        let done = self.past.done.iter().rev();
        let mut done =
            done.filter(|(id, order)| id.index() == action.0 as usize && *order < self.until);
        match done.next() {
            Some((_, order)) => self.narrowed(*order, self.assumes_settings).latest(symbol),
            None => Value::Unknown(Unknown::NoEarlier(self.name(symbol).to_owned())),
        }
    }

    fn every(&self, symbol: Symbol) -> Value {
        let values: Vec<Value> = match self.handbook.entry(symbol) {
            Entry::Question(id) => {
                let question = self.handbook.question(id);
                let known = self.known(id).into_iter();
                known.map(|(number, said, _)| self.value(question, number, said)).collect()
            }
            _ => vec![self.latest(symbol)],
        };
        if values.is_empty() {
            return Value::Unknown(Unknown::NotAnswered(self.name(symbol).to_owned()));
        }
        Value::List(values.into())
    }

    fn name(&self, symbol: Symbol) -> &str {
        self.handbook.symbol_name(symbol)
    }

    fn unit(&self, symbol: Symbol) -> Option<&UnitExpression> {
        self.handbook.unit(symbol)
    }

    fn choice_label(&self, _: Symbol, choice: usize) -> String {
        choice.to_string()
    }
}
