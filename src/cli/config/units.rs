//! The units that somebody would rather read than those of the handbook.

use anyhow::{Result, bail};
use serde::Deserialize;

use crate::diagnostic::near_name;
use crate::quantity::{UnitExpression, parse_prompt_unit, parse_unit};

/// Units by what they measure, each as it is written; those left out are the handbook's.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub(super) struct OwnUnits {
    pub vacuum: Option<String>,
    pub temperature: Option<String>,
    pub length: Option<String>,
}

/// A set of units that may be chosen, and what each of the handbook's is shown in then. The first of a
/// measure is the handbook's own.
struct Choice {
    measure: &'static str,
    unit: &'static str,
    instead: &'static [(&'static str, &'static str)],
}

const CHOICES: [Choice; 10] = [
    Choice { measure: "vacuum", unit: "micron", instead: &[] },
    vacuum("Pa", &[("micron", "Pa"), ("micron/min", "Pa/min")]),
    vacuum("hPa", &[("micron", "hPa"), ("micron/min", "hPa/min")]),
    vacuum("mbar", &[("micron", "mbar"), ("micron/min", "mbar/min")]),
    vacuum("Torr", &[("micron", "Torr"), ("micron/min", "Torr/min")]),
    vacuum("mTorr", &[("micron", "mTorr"), ("micron/min", "mTorr/min")]),
    Choice { measure: "temperature", unit: "degC", instead: &[] },
    Choice {
        measure: "temperature",
        unit: "degF",
        instead: &[("degC", "degF"), ("K", "degF_diff")],
    },
    Choice { measure: "length", unit: "m", instead: &[] },
    Choice { measure: "length", unit: "ft", instead: &[("m", "ft"), ("mm", "in")] },
];

const fn vacuum(unit: &'static str, instead: &'static [(&'static str, &'static str)]) -> Choice {
    Choice { measure: "vacuum", unit, instead }
}

impl OwnUnits {
    /// Those of a list such as `Pa, degF`, each of which tells by itself what it measures.
    ///
    /// # Errors
    /// If one of them can't be chosen.
    pub fn listed(text: &str) -> Result<Self> {
        let mut own = Self::default();
        for unit in text.split(',').map(str::trim).filter(|unit| !unit.is_empty()) {
            let Some(choice) = CHOICES.iter().find(|choice| choice.unit == unit) else {
                bail!("{}", no_choice(unit, CHOICES.iter().map(|choice| choice.unit)));
            };
            *own.of_mut(choice.measure) = Some(unit.to_owned());
        }
        Ok(own)
    }

    pub fn of_mut(&mut self, measure: &str) -> &mut Option<String> {
        match measure {
            "vacuum" => &mut self.vacuum,
            "temperature" => &mut self.temperature,
            _ => &mut self.length,
        }
    }

    /// By measure, in the order in which they are shown.
    pub fn all(&self) -> [(&'static str, Option<&String>); 3] {
        [
            ("vacuum", self.vacuum.as_ref()),
            ("temperature", self.temperature.as_ref()),
            ("length", self.length.as_ref()),
        ]
    }

    /// In which unit each of the handbook's is shown.
    ///
    /// # Errors
    /// If a unit can't be chosen for what it is to measure.
    pub fn instead(&self) -> Result<Vec<(String, UnitExpression)>> {
        let mut all = Vec::new();
        for (measure, unit) in self.all() {
            let Some(unit) = unit else { continue };
            let of_it = || CHOICES.iter().filter(|choice| choice.measure == measure);
            let Some(choice) = of_it().find(|choice| choice.unit == unit) else {
                bail!("{measure}: {}", no_choice(unit, of_it().map(|choice| choice.unit)));
            };
            for (from, to) in choice.instead {
                all.push(((*from).to_owned(), parse_unit(to)?.said()));
            }
        }
        Ok(all)
    }
}

/// The unit that is shown where none is chosen.
pub(super) fn usual(measure: &str) -> &'static str {
    let first = CHOICES.iter().find(|choice| choice.measure == measure);
    first.map_or("", |choice| choice.unit)
}

fn no_choice(unit: &str, all: impl Iterator<Item = &'static str> + Clone) -> String {
    let known: Vec<&str> = all.clone().collect();
    let near = as_at_a_prompt(unit, &known).or_else(|| near_name(unit, all));
    let near = near.map(|near| format!("; did you mean `{near}`?"));
    let near = near.unwrap_or_else(|| ".".to_owned());
    format!("`{unit}` can't be chosen{near} There are {}.", known.join(", "))
}

/// The unit that would be understood at a prompt: `degF` for `F` or `Fahrenheit`.
fn as_at_a_prompt(unit: &str, known: &[&'static str]) -> Option<&'static str> {
    let is_it = |symbol: &&&str| {
        let asked = parse_unit(symbol).and_then(|known| parse_prompt_unit(unit, known.kind));
        asked.is_ok_and(|asked| asked.symbol == **symbol)
    };
    known.iter().find(is_it).copied()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::built_in::built_in_handbook;
    use crate::formula::Kind;

    /// `K` alone is a temperature as well as a difference of two, so the handbook's own use of it counts.
    #[test]
    fn each_choice_is_shown_instead_of_a_unit_of_the_handbook() {
        let handbook = built_in_handbook().unwrap();
        let questions = handbook.questions().iter();
        let questions = questions.map(|question| (question.unit.as_ref(), question.kind.clone()));
        let formulas = handbook.formulas().iter();
        let formulas = formulas.map(|formula| (formula.unit.as_ref(), formula.is.kind().clone()));
        let used: Vec<_> =
            questions.chain(formulas).filter_map(|(unit, kind)| Some((unit?, kind))).collect();
        let mut looked_at = 0;
        for (from, to) in CHOICES.iter().flat_map(|choice| choice.instead) {
            let kind = parse_unit(to).unwrap().kind;
            let is_it = |(unit, of): &(&UnitExpression, Kind)| {
                unit.symbol == *from && (unit.kind == kind || *of == Kind::Quantity(kind))
            };
            let is_used = used.iter().any(is_it);
            assert!(is_used, "{from} {to}");
            looked_at += 1;
        }
        assert_eq!(looked_at, 14);
    }

    #[test]
    fn a_list_tells_what_each_unit_measures() {
        let own = OwnUnits::listed("Pa, ft").unwrap();
        let named = |unit: &str| Some(unit.to_owned());
        let expected = OwnUnits { vacuum: named("Pa"), temperature: None, length: named("ft") };
        assert_eq!(own, expected);
        assert_eq!(own.instead().unwrap().len(), 4);
        let why = OwnUnits::listed("mbr").unwrap_err().to_string();
        assert!(why.contains("did you mean `mbar`?"), "{why}");
        for (said, meant) in
            [("F", "degF"), ("celsius", "degC"), ("microns", "micron"), ("torr", "Torr")]
        {
            let why = OwnUnits::listed(said).unwrap_err().to_string();
            assert!(why.contains(&format!("did you mean `{meant}`?")), "{why}");
        }
        let wrong = OwnUnits { temperature: named("Pa"), ..OwnUnits::default() };
        assert!(wrong.instead().unwrap_err().to_string().contains("There are degC, degF."));
    }
}
