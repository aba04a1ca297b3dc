//! The oil of the pump: what is dissolved in it, how that shows, and what fresh oil brings.

/// The oil of a pump. About .4 L of it (estimate).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Oil {
    /// Water in it, in kg; 4 g are about 1 %.
    pub water: f64,
    /// Refrigerant in it, in kg.
    pub refrigerant: f64,
    /// Whether its level is below the mark.
    pub is_low: bool,
    /// Whether it is dark from long use.
    pub is_dark: bool,
}

/// What the sight glass shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// Clear; there may be dissolved water all the same.
    Clear,
    /// Dark.
    Dark,
    /// Milky: more water than dissolves.
    Milky,
    /// Too little.
    Low,
}

/// The pressure in Pa over the oil for each kg of water in it. Mark: estimate, so that 4 g make
/// the 3000 micron that are common practice for wet oil.
pub const PRESSURE_OF_WATER: f64 = 1e5;
/// The pressure in Pa over the oil for each kg of refrigerant in it. Mark: estimate.
pub const PRESSURE_OF_REFRIGERANT: f64 = 5e4;
/// More water in kg than this turns the oil milky. Mark: estimate; .25 % of mineral oil is far
/// beyond what it dissolves.
pub const MILKY_FROM: f64 = 1e-3;
/// What a change leaves of what was in the oil, in vanes and corners. Mark: estimate; milky oil
/// is changed twice.
pub const LEFT_BY_CHANGE: f64 = 0.12;

impl Oil {
    /// What the sight glass shows.
    #[must_use]
    pub fn look(&self) -> Look {
        if self.is_low {
            Look::Low
        } else if self.water > MILKY_FROM {
            Look::Milky
        } else if self.is_dark {
            Look::Dark
        } else {
            Look::Clear
        }
    }

    /// The oil after a change.
    #[must_use]
    pub fn changed(&self) -> Self {
        Self {
            water: LEFT_BY_CHANGE * self.water,
            refrigerant: LEFT_BY_CHANGE * self.refrigerant,
            is_low: false,
            is_dark: false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn clear_oil_may_be_wet_and_milky_oil_takes_two_changes() {
        let damp = Oil { water: 0.9 * MILKY_FROM, ..Oil::default() };
        assert_eq!(damp.look(), Look::Clear);
        assert!(damp.water * PRESSURE_OF_WATER > 80.0, "600 micron and more");
        let milky = Oil { water: 10e-3, is_dark: true, ..Oil::default() };
        assert_eq!((milky.look(), milky.changed().look()), (Look::Milky, Look::Milky));
        assert_eq!(milky.changed().changed().look(), Look::Clear);
        assert_eq!(Oil { is_low: true, ..milky }.look(), Look::Low);
    }
}
