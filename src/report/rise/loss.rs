//! What a hold's leak would let out of the working system in a year.

use serde_json::{Value as Json, json};

use super::sizes::{bar, mass_a_year};
use crate::physics::gas::REFERENCE_TEMPERATURE;
use crate::physics::leak::{mass_flow, ratio_bounds};
use crate::physics::refrigerant::Refrigerant;
use crate::rise::{Range, Throughput};
use crate::text::Line;

/// The refrigerant of the working system, and its pressure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AtWork {
    /// What is inside.
    pub refrigerant: Refrigerant,
    /// The absolute pressure in Pa, above that of the air.
    pub inside: f64,
}

/// A loss in kg/s.
struct Loss {
    /// From the low end of what is let in through the narrowest path to the high end through the
    /// widest; none where nothing is let in for certain.
    range: Option<Range>,
    /// No loss is larger.
    limit: f64,
}

impl AtWork {
    fn loss(self, through: Throughput) -> Loss {
        let gas = self.refrigerant.vapour();
        let (narrow, wide) = ratio_bounds(&gas, self.inside);
        let middle = libm::sqrt(narrow * wide);
        let out = |let_in: f64, ratio: f64| {
            mass_flow(let_in.max(0.0) * ratio, gas.molar_mass, REFERENCE_TEMPERATURE)
        };
        let load = through.load;
        let range = Range {
            value: out(load.value, middle),
            low: out(load.low, narrow),
            high: out(load.high, wide),
        };
        Loss { range: (load.low > 0.0).then_some(range), limit: out(through.limit, wide) }
    }

    /// As a sentence with its mark.
    pub(super) fn told(self, through: Throughput) -> Line {
        let loss = self.loss(through);
        let said = match loss.range {
            Some(range) => format!("{} to {}", mass_a_year(range.low), mass_a_year(range.high)),
            None => format!("no more than {}", mass_a_year(loss.limit)),
        };
        Line::plain(format!(
            "- As a leak of the working system at {}: {said} of R-{}, by the path that it takes \
             (computed, for vapour).",
            bar(self.inside),
            self.refrigerant.designation().trim_start_matches('r')
        ))
    }

    /// In kg/s and Pa.
    pub(super) fn json(self, through: Throughput) -> Json {
        let loss = self.loss(through);
        json!({
            "refrigerant": self.refrigerant.designation(),
            "inside_pa": self.inside,
            "loss": loss.range.map(|range| json!({
                "value": range.value, "low": range.low, "high": range.high, "unit": "kg/s",
            })),
            "no_loss_larger_than": { "value": loss.limit, "unit": "kg/s" },
            "mark": "computed",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::leak::LeakPath;

    const GRAMS_A_YEAR: f64 = 1e3 * 31_557_600.0;

    /// Of R-134a 1e-6 Pa m³/s are 1.321 g a year (ideal gas, as in `leak_per_year`). At five
    /// atmospheres a capillary lets out 37.7 times what it lets in as air: 18.18 / 11.62 for the
    /// viscosities times 25 less 1; a short hole the least, 5 times the ratio of the jets.
    #[test]
    fn a_loss_lies_between_a_hole_and_a_capillary() {
        let at_work = AtWork { refrigerant: Refrigerant::R134a, inside: 5.0 * 101_325.0 };
        let load = Range { value: 1e-6, low: 1e-6, high: 1e-6 };
        let loss = at_work.loss(Throughput { load, limit: 1e-6 });
        let range = loss.range.unwrap();
        assert!((GRAMS_A_YEAR * range.high / (1.321 * 37.7) - 1.0).abs() < 0.02);
        let hole = LeakPath::Choked.ratio_to_air(&Refrigerant::R134a.vapour(), at_work.inside);
        assert!((GRAMS_A_YEAR * range.low / (1.321 * hole) - 1.0).abs() < 1e-3);
        assert!(range.low < range.value && range.value < range.high);
        assert_eq!(loss.limit, range.high);
    }

    #[test]
    fn without_a_certain_rate_there_is_a_limit_only() {
        let at_work = AtWork { refrigerant: Refrigerant::R32, inside: 1.5e6 };
        let load = Range { value: 1e-7, low: 0.0, high: 2e-6 };
        let through = Throughput { load, limit: 1e-6 };
        assert!(at_work.loss(through).range.is_none());
        let told = at_work.told(through).to_text();
        assert!(told.contains("no more than") && told.contains("R-32"), "{told}");
    }
}
