//! Refrigerants by their designation of ASHRAE 34: what their vapour is like, and their pressure
//! over liquid.
//!
//! Every number of the table is `computed: CoolProp 8.0.0`, vapour at 101 325 Pa and 20 °C;
//! `tests/cross_check/refrigerants.py` computes them anew. The viscosity of a blend is good to a
//! few percent and rounded to three digits.

use super::leak::LeakingGas;

/// The lowest temperature in K for which the pressure over liquid is known, -40 °C. A sum, as
/// reading a temperature makes it, so that both agree to the bit.
pub const COLDEST: f64 = 273.15 - 40.0;
/// The highest temperature in K for all but carbon dioxide, 60 °C.
const HOTTEST: f64 = 273.15 + 60.0;

/// A refrigerant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refrigerant {
    /// Difluoromethane.
    R32,
    /// 1,1,1,2-tetrafluoroethane.
    R134a,
    /// A blend, by mass half R-32 and half R-125.
    R410a,
    /// A blend, by mass .689 R-32 and .311 R-1234yf.
    R454b,
    /// Propane.
    R290,
    /// Carbon dioxide.
    R744,
}

/// Where liquid and vapour of one temperature meet; for a pure substance both are the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Saturation {
    /// Liquid that begins to boil.
    Bubble,
    /// Vapour that begins to condense.
    Dew,
}

/// `ln(p / Pa)` as a polynomial in `273.15 K / T - 1`, lowest power first.
type Fit = [f64; 5];

/// What is known of a refrigerant.
struct Properties {
    vapour: LeakingGas,
    bubble: Fit,
    dew: Fit,
    hottest: f64,
}

const fn vapour(grams_per_mole: f64, micropascal_seconds: f64, exponent: f64) -> LeakingGas {
    LeakingGas {
        molar_mass: grams_per_mole * 1e-3,
        viscosity: micropascal_seconds * 1e-6,
        isentropic_exponent: exponent,
    }
}

const fn pure(vapour: LeakingGas, fit: Fit) -> Properties {
    Properties { vapour, bubble: fit, dew: fit, hottest: HOTTEST }
}

const R32: Properties =
    pure(vapour(52.024, 13.139, 1.239), [13.608_66, -8.746_99, -0.522_08, -2.103_41, 5.076_65]);
const R134A: Properties =
    pure(vapour(102.032, 11.623, 1.097), [12.587_28, -9.895_41, -1.412_09, -1.401_51, 3.249_73]);
const R410A: Properties = Properties {
    vapour: vapour(72.585, 13.0, 1.162),
    bubble: [13.593_32, -8.705_5, -0.603_78, -2.269_82, 5.863_77],
    dew: [13.590_01, -8.706_12, -0.606_83, -2.393_44, 6.409_19],
    hottest: HOTTEST,
};
const R454B: Properties = Properties {
    vapour: vapour(62.614, 13.0, 1.183),
    bubble: [13.550_81, -8.680_77, -0.614_44, -1.787_49, 3.881_55],
    dew: [13.504_19, -8.742_91, -0.551_97, -2.483_2, 6.286_84],
    hottest: HOTTEST,
};
const R290: Properties =
    pure(vapour(44.0956, 8.0113, 1.119), [13.069_95, -8.34, -0.549_59, -1.381_54, 2.894_95]);
/// The critical point lies at 31 °C; above it nothing boils.
const R744: Properties = Properties {
    hottest: 273.15 + 30.0,
    ..pure(vapour(44.0098, 14.675, 1.290), [15.063_88, -7.225_81, 0.465_27, -6.127_75, 15.357_06])
};

impl Refrigerant {
    /// Every refrigerant.
    pub const ALL: [Self; 6] =
        [Self::R32, Self::R134a, Self::R410a, Self::R454b, Self::R290, Self::R744];

    fn properties(self) -> &'static Properties {
        match self {
            Self::R32 => &R32,
            Self::R134a => &R134A,
            Self::R410a => &R410A,
            Self::R454b => &R454B,
            Self::R290 => &R290,
            Self::R744 => &R744,
        }
    }

    /// Its designation in lower case.
    #[must_use]
    pub fn designation(self) -> &'static str {
        match self {
            Self::R32 => "r32",
            Self::R134a => "r134a",
            Self::R410a => "r410a",
            Self::R454b => "r454b",
            Self::R290 => "r290",
            Self::R744 => "r744",
        }
    }

    /// Its vapour as a leak sees it.
    #[must_use]
    pub fn vapour(self) -> LeakingGas {
        self.properties().vapour
    }

    /// The highest temperature in K for which [`Refrigerant::pressure`] is known: 60 °C, for
    /// R-744 30 °C.
    #[must_use]
    pub fn hottest(self) -> f64 {
        self.properties().hottest
    }

    /// The absolute pressure in Pa at which liquid and vapour of a temperature in K meet.
    ///
    /// Holds from [`COLDEST`] to [`Refrigerant::hottest`]; not a number outside. Within .06 % of
    /// the equation of state that it was fitted to.
    #[must_use]
    pub fn pressure(self, temperature: f64, at: Saturation) -> f64 {
        if !(COLDEST..=self.hottest()).contains(&temperature) {
            return f64::NAN;
        }
        let fit = match at {
            Saturation::Bubble => self.properties().bubble,
            Saturation::Dew => self.properties().dew,
        };
        let place = 273.15 / temperature - 1.0;
        libm::exp(fit.iter().rev().fold(0.0, |sum, coefficient| sum * place + coefficient))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn warmer_liquid_has_more_pressure_and_a_blend_condenses_below_where_it_boils() {
        for refrigerant in Refrigerant::ALL {
            let mut before = 0.0;
            let mut temperature = COLDEST;
            while temperature <= refrigerant.hottest() {
                let bubble = refrigerant.pressure(temperature, Saturation::Bubble);
                let dew = refrigerant.pressure(temperature, Saturation::Dew);
                assert!(bubble > before && dew <= bubble, "{refrigerant:?} {temperature}");
                assert!(dew > 0.94 * bubble, "{refrigerant:?} {temperature}");
                before = bubble;
                temperature += 0.5;
            }
        }
    }

    #[test]
    fn outside_its_range_a_pressure_is_not_a_number() {
        assert!(Refrigerant::R32.pressure(-40.0 + 273.15, Saturation::Dew) > 0.0);
        assert!(Refrigerant::R744.pressure(30.0 + 273.15, Saturation::Dew) > 0.0);
        for temperature in [233.0, 333.3, f64::NAN] {
            assert!(Refrigerant::R32.pressure(temperature, Saturation::Dew).is_nan());
        }
        assert!(Refrigerant::R744.pressure(303.2, Saturation::Bubble).is_nan());
    }
}
