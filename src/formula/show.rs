//! Values as text, with the digits that their doubt deserves.

use super::resolved::Resolved;
use super::{
    Checked, Draws, Facts, HoldReadings, Kind, Summary, Unknown, Value, Verdict, evaluate, verdict,
};
use crate::quantity::{
    Dimension, NAMED_KINDS, Nature, QuantityKind, UnitExpression, parse_unit, show_rounded,
};
use crate::text::{count, list_and, spoken};

/// What stands for a value that is not known.
pub(super) const NOT_KNOWN: &str = "not measured";

/// The least doubt in a computed quantity, as a share of it, so that three digits are told at most
/// (`estimate`: finer than any reading of a vacuum).
const LEAST_DOUBT: f64 = 0.03;

impl Checked {
    /// A value of this formula as text: in the unit behind `as`, else in the unit and the words
    /// of the name if the formula is nothing but a name, else in the unit of its kind.
    #[must_use]
    pub fn show(&self, value: &Value, facts: &dyn Facts) -> String {
        let name = self.looked_at();
        let unit = self.unit().or_else(|| name.and_then(|symbol| facts.unit(symbol)));
        let label = |place: usize| name.map(|symbol| facts.choice_label(symbol, place));
        Shown { kind: self.kind(), unit, label: &label }.text(value)
    }

    /// Whether this is a text that nobody has given, which is told by the name of its question.
    pub(super) fn is_text_not_given(&self, facts: &dyn Facts) -> bool {
        *self.kind() == Kind::Text
            && self.looked_at().is_some()
            && matches!(evaluate(self, facts), Value::Unknown(_))
    }

    /// What the formula gives, as it is told in a sentence: what a person gave has the digits that
    /// they gave, what is computed has no more than three
    /// digits, what rests on settings that are not known says so, and words that nobody has given
    /// are told by their name.
    pub(super) fn tell(&self, facts: &dyn Facts) -> String {
        let value = evaluate(self, facts);
        let name = self.looked_at();
        let given = match (&value, &self.root.form, self.unit()) {
            (Value::Quantity(_), Resolved::Recall(used), None) => facts.as_given(*used),
            _ => None,
        };
        if let Some(given) = given {
            return given;
        }
        match (&value, name) {
            (Value::Unknown(_), Some(symbol)) if *self.kind() == Kind::Text => {
                spoken(facts.name(symbol))
            }
            (Value::Quantity(draws), _)
                if !name.is_some_and(|symbol| facts.is_answered(symbol)) =>
            {
                let unit = self.unit().or_else(|| name.and_then(|symbol| facts.unit(symbol)));
                let told = rounded(draws, self.kind(), unit);
                if name.is_some_and(|symbol| facts.is_assumed(symbol)) {
                    assumed(&told)
                } else {
                    told
                }
            }
            (Value::Quantity(_), Some(symbol)) if facts.is_assumed(symbol) => {
                assumed(&self.show(&value, facts))
            }
            _ => self.show(&value, facts),
        }
    }
}

fn assumed(told: &str) -> String {
    format!("{told} (assumed)")
}

/// A computed quantity with three digits at most.
fn rounded(draws: &Draws<f64>, kind: &Kind, unit: Option<&UnitExpression>) -> String {
    let kind = match kind {
        Kind::Quantity(kind) => *kind,
        _ => QuantityKind::NUMBER,
    };
    let summary = Summary::of(draws);
    let least = summary.middle.abs() * LEAST_DOUBT;
    show_number(summary.middle, Some(summary.half_width().max(least)), kind, unit)
}

/// A value as text, in a unit or in the one that its kind is shown in. Choices are told by their
/// ids; what is not known is "not measured".
///
/// A quantity is its median, rounded to the place that the half-width of its 95 % interval
/// leaves standing.
#[must_use]
pub fn show_value(value: &Value, kind: &Kind, unit: Option<&UnitExpression>) -> String {
    Shown { kind, unit, label: &|_| None }.text(value)
}

/// The same for a quantity that is summed up already.
#[must_use]
pub fn show_summary(summary: &Summary, kind: &Kind, unit: Option<&UnitExpression>) -> String {
    let kind = match kind {
        Kind::Quantity(kind) => *kind,
        _ => QuantityKind::NUMBER,
    };
    show_number(summary.middle, Some(summary.half_width()), kind, unit)
}

/// How a value is told.
struct Shown<'a> {
    kind: &'a Kind,
    unit: Option<&'a UnitExpression>,
    /// What a choice is called, by its place.
    label: &'a dyn Fn(usize) -> Option<String>,
}

impl Shown<'_> {
    fn text(&self, value: &Value) -> String {
        match value {
            Value::Unknown(Unknown::Outdated(_, since)) => format!("{NOT_KNOWN} since {since}"),
            Value::Unknown(_) => NOT_KNOWN.to_owned(),
            Value::Quantity(draws) => show_summary(&Summary::of(draws), self.kind, self.unit),
            Value::Truth(draws) => match verdict(draws) {
                Verdict::Yes(_) => "yes",
                Verdict::No(_) => "no",
                Verdict::TooClose(_) => "too close to tell",
                Verdict::Unknown => NOT_KNOWN,
            }
            .to_owned(),
            Value::Choice(draws) => self.choice(draws),
            Value::Choices(named) => self.choices(named),
            Value::Text(text) | Value::Date(text) => text.to_string(),
            Value::Readings(hold) => self.hold(hold),
            Value::List(values) if values.is_empty() => NOT_KNOWN.to_owned(),
            Value::List(values) => {
                let of = match self.kind {
                    Kind::List(of) => of,
                    kind => kind,
                };
                let each = Shown { kind: of, ..*self };
                list_and(&values.iter().map(|value| each.text(value)).collect::<Vec<_>>())
            }
        }
    }

    /// `31 readings over 30 min, 420 micron to 511 micron`
    fn hold(&self, hold: &HoldReadings) -> String {
        let time = show_number(hold.duration(), None, QuantityKind::TIME, None);
        let pressure = |si: Option<&f64>| {
            let si = si.copied().unwrap_or(f64::NAN);
            show_number(si, None, QuantityKind::PRESSURE, self.unit)
        };
        let (first, last) = (hold.pressures().first(), hold.pressures().last());
        let readings = count(hold.times().len(), "reading");
        format!("{readings} over {time}, {} to {}", pressure(first), pressure(last))
    }

    /// A choice that nine of ten draws agree on.
    fn choice(&self, draws: &Draws<u16>) -> String {
        let values = draws.values();
        let agreed = values.iter().copied().find(|place| {
            let same = values.iter().filter(|other| *other == place).count();
            10 * same >= 9 * values.len()
        });
        agreed.map_or_else(|| "too close to tell".to_owned(), |place| self.called(place.into()))
    }

    fn choices(&self, named: &[bool]) -> String {
        let places = named.iter().enumerate().filter(|(_, is_named)| **is_named);
        let called: Vec<String> = places.map(|(place, _)| self.called(place)).collect();
        if called.is_empty() { "none".to_owned() } else { list_and(&called) }
    }

    fn called(&self, place: usize) -> String {
        let id = || match self.kind {
            Kind::Choice(set) | Kind::Choices(set) => set.ids().get(place).cloned(),
            _ => None,
        };
        (self.label)(place).or_else(id).unwrap_or_default()
    }
}

/// A number in SI units as text.
pub(super) fn show_number(
    si: f64,
    half_width: Option<f64>,
    kind: QuantityKind,
    unit: Option<&UnitExpression>,
) -> String {
    let half_width = half_width.filter(|half| half.is_finite());
    let own;
    let unit = match unit {
        Some(unit) => unit,
        None => {
            own = readers_unit(kind, si);
            &own
        }
    };
    show_rounded(si, half_width, unit, kind)
}

/// Pressures above these (Pa) are told in bar: no deep vacuum, and millions of micron say nothing
/// (limits of ours: above any barometer; a difference that a gauge for pressure shows).
const TOLD_IN_BAR: f64 = 120_000.0;
const DIFFERENCE_IN_BAR: f64 = 10_000.0;

/// Lengths below these (m) are told in millimetres and micrometres (limits of ours: bores and
/// holes, and what is finer than any bore).
const TOLD_IN_MILLIMETRES: f64 = 0.1;
const TOLD_IN_MICROMETRES: f64 = 1e-4;

/// The unit in which a value is told when nothing else is said.
fn readers_unit(kind: QuantityKind, si: f64) -> UnitExpression {
    let size = si.abs();
    let symbol = match (kind.dimension, kind.nature) {
        (Dimension::PRESSURE, Nature::Absolute) if size > TOLD_IN_BAR => Some("bara"),
        (Dimension::PRESSURE, Nature::Difference) if size > DIFFERENCE_IN_BAR => Some("bar"),
        (Dimension::PRESSURE, Nature::Open) if size > TOLD_IN_BAR => Some("bar"),
        (Dimension::LENGTH, _) if size == 0.0 => None,
        (Dimension::LENGTH, _) if size < TOLD_IN_MICROMETRES => Some("um"),
        (Dimension::LENGTH, _) if size < TOLD_IN_MILLIMETRES => Some("mm"),
        _ => None,
    };
    let unit = symbol.and_then(|symbol| parse_unit(symbol).ok());
    unit.filter(|unit| unit.kind.fits(kind)).unwrap_or_else(|| default_unit(kind))
}

/// The unit in which a kind is shown when nothing else is said: that of its name, or for a kind
/// without a name the customary one, or the product of SI units.
#[must_use]
pub fn default_unit(kind: QuantityKind) -> UnitExpression {
    let nature = match (kind.nature, kind.dimension) {
        (Nature::Open, Dimension::TEMPERATURE) => Nature::Difference,
        (Nature::Open, _) => Nature::Absolute,
        (nature, _) => nature,
    };
    let wanted = QuantityKind { nature, ..kind };
    let symbol = NAMED_KINDS
        .iter()
        .find(|named| named.kind == wanted)
        .map(|named| named.unit)
        .or_else(|| customary_unit(kind.dimension))
        .map_or_else(|| si_symbol(kind.dimension), str::to_owned);
    parse_unit(&symbol).unwrap_or(UnitExpression { symbol, kind, factor: 1.0, offset: 0.0 })
}

/// What people say for some kinds without a name: a leak's mass in g/year, a relative change per
/// kelvin in %/K.
fn customary_unit(dimension: Dimension) -> Option<&'static str> {
    const PER_KELVIN: Dimension = Dimension { temperature: -1, ..Dimension::NONE };
    const MASS_FLOW: Dimension = Dimension { mass: 1, time: -1, ..Dimension::NONE };
    match dimension {
        PER_KELVIN => Some("%/K"),
        MASS_FLOW => Some("g/year"),
        _ => None,
    }
}

/// `Pa^2 m^3/s`
fn si_symbol(dimension: Dimension) -> String {
    let parts = [
        ("Pa", dimension.pressure),
        ("m", dimension.length),
        ("s", dimension.time),
        ("K", dimension.temperature),
        ("kg", dimension.mass),
        ("J", dimension.energy),
        ("mol", dimension.amount),
    ];
    let power = |symbol: &str, exponent: u8| match exponent {
        1 => symbol.to_owned(),
        _ => format!("{symbol}^{exponent}"),
    };
    let over: Vec<String> = parts
        .iter()
        .filter(|(_, exponent)| *exponent > 0)
        .map(|(symbol, exponent)| power(symbol, exponent.unsigned_abs()))
        .collect();
    let mut text = if over.is_empty() { "1".to_owned() } else { over.join(" ") };
    for (symbol, exponent) in parts.iter().filter(|(_, exponent)| *exponent < 0) {
        text.push('/');
        text.push_str(&power(symbol, exponent.unsigned_abs()));
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::{ChoiceSet, Truth, Unknown};

    #[test]
    fn every_kind_is_told_in_words() {
        let set = ChoiceSet::new(["clear", "dark"].map(str::to_owned));
        for (value, kind, text) in [
            (Value::Unknown(Unknown::NotAnswered("p".into())), Kind::YesNo, "not measured"),
            (Value::Truth(Draws::Same(Truth::Yes)), Kind::YesNo, "yes"),
            (Value::Truth(Draws::Same(Truth::No)), Kind::YesNo, "no"),
            (Value::Choice(Draws::Same(1)), Kind::Choice(set.clone()), "dark"),
            (Value::Choices([true, true].into()), Kind::Choices(set.clone()), "clear and dark"),
            (Value::Choices([false, false].into()), Kind::Choices(set), "none"),
            (Value::Text("left hose".into()), Kind::Text, "left hose"),
            (
                Value::Quantity(Draws::Same(f64::INFINITY)),
                Kind::Quantity(QuantityKind::TIME),
                "never",
            ),
        ] {
            assert_eq!(show_value(&value, &kind, None), text);
        }
    }

    #[test]
    fn a_yes_in_half_of_the_draws_is_too_close() {
        let draws = (0..super::super::DRAWS)
            .map(|row| if row % 2 == 0 { Truth::Yes } else { Truth::No })
            .collect();
        let value = Value::Truth(Draws::Each(draws));
        assert_eq!(show_value(&value, &Kind::YesNo, None), "too close to tell");
    }

    #[test]
    fn a_kind_without_a_name_is_shown_as_people_say_it_or_in_si_units() {
        let dimension = Dimension { pressure: 2, length: 3, time: -1, ..Dimension::NONE };
        assert_eq!(default_unit(QuantityKind::computed(dimension)).symbol, "Pa^2 m^3/s");
        let per_time = Dimension { time: -1, ..Dimension::NONE };
        assert_eq!(default_unit(QuantityKind::computed(per_time)).symbol, "1/s");
        let mass_flow = Dimension { mass: 1, time: -1, ..Dimension::NONE };
        assert_eq!(default_unit(QuantityKind::computed(mass_flow)).symbol, "g/year");
        assert_eq!(default_unit(QuantityKind::computed(Dimension::PRESSURE)).symbol, "micron");
        assert_eq!(default_unit(QuantityKind::computed(Dimension::TEMPERATURE)).symbol, "K");
    }
}
