//! The coverage that is asked for.

use crate::rehearsal::{Measure, Measured};
use crate::text::list_or;

/// The least coverage that will do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Floor {
    /// The measure; without one, every measure.
    pub measure: Option<Measure>,
    /// The percentage, 0 to 100.
    pub percent: f64,
}

/// Reads `90`, `90%` or `findings=90`.
pub(in crate::cli) fn read_floor(text: &str) -> Result<Floor, String> {
    let (measure, number) = match text.split_once('=') {
        Some((label, number)) => (Some(read_measure(label.trim())?), number),
        None => (None, text),
    };
    let number = number.trim().trim_end_matches('%').trim_end();
    match number.parse::<f64>() {
        Ok(percent) if (0.0..=100.0).contains(&percent) => Ok(Floor { measure, percent }),
        _ => Err("a percentage from 0 to 100 belongs here".to_owned()),
    }
}

fn read_measure(label: &str) -> Result<Measure, String> {
    let labels = Measure::ALL.map(Measure::label);
    Measure::find(label).ok_or_else(|| format!("before `=` belongs {}", list_or(&labels)))
}

impl Floor {
    /// What lies below it: `findings: 50 % reached, 90 % wanted`.
    pub(super) fn short<'m>(self, measured: &'m [Measured]) -> impl Iterator<Item = String> + 'm {
        let is_meant = move |one: &&Measured| self.measure.is_none_or(|m| m == one.measure);
        let is_short = move |one: &&Measured| !one.is_at_least(self.percent);
        measured.iter().filter(is_meant).filter(is_short).map(move |one| {
            let (label, reached) = (one.measure.label(), one.percent());
            format!("coverage of {label} is {reached} %, and should be at least {} %", self.percent)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_floor_is_one_figure_or_one_for_a_measure() {
        assert_eq!(read_floor("90"), Ok(Floor { measure: None, percent: 90.0 }));
        let findings = Floor { measure: Some(Measure::Findings), percent: 87.5 };
        assert_eq!(read_floor("findings = 87.5 %"), Ok(findings));
        for text in ["", "x", "101", "-1", "NaN", "finding=90", "=90", "steps="] {
            assert!(read_floor(text).is_err(), "{text}");
        }
    }

    #[test]
    fn what_lies_below_is_told_by_measure() {
        let measured = |measure, covered| Measured { measure, covered, of: 3, missing: Vec::new() };
        let all = [measured(Measure::Steps, 3), measured(Measure::Findings, 2)];
        let short = |text: &str| read_floor(text).unwrap().short(&all).collect::<Vec<_>>();
        assert_eq!(short("66.6"), Vec::<String>::new());
        assert_eq!(short("67"), ["coverage of findings is 66 %, and should be at least 67 %"]);
        assert_eq!(short("steps=100"), Vec::<String>::new());
    }
}
