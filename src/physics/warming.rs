//! How a pressure answers to warming: what tells a gas from a vapour with its liquid.

/// The pressure in Pa that a sealed gas takes on when its temperature goes from `from` to `to`,
/// both in K: `p to / from`. Source: ideal gas at constant volume.
///
/// Nitrogen at 4 MPa changes by a tenth more than that, .3 to .5 % of the pressure for 10 to 15 K
/// (computed: CoolProp 8.0.0, nitrogen).
#[must_use]
pub fn sealed_gas(pressure: f64, from: f64, to: f64) -> f64 {
    pressure * to / from
}

/// How much a pressure grows per kelvin of warming, in 1/K: `ln((after - steady) / before) /
/// warmed_by`, for pressures in Pa, where `steady` is what a steady rise added meanwhile.
///
/// Near .0034 for a dry gas at room temperature, .06 to .085 for a level that water or ice holds:
/// for a vapour it is the heat of evaporation over `R T²` (Clausius and Clapeyron). Not a number
/// if the steady part is all of the pressure or more.
#[must_use]
pub fn rise_per_kelvin(before: f64, after: f64, warmed_by: f64, steady: f64) -> f64 {
    libm::log((after - steady) / before) / warmed_by
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::saturation::saturation_pressure;

    #[test]
    fn a_dry_gas_grows_by_a_third_of_a_percent_per_kelvin() {
        let warm = sealed_gas(66.0, 293.15, 303.15);
        let share = rise_per_kelvin(66.0, warm, 10.0, 0.0);
        assert!((share - 1.0 / 298.1).abs() < 1e-5, "{share}");
        let leaking = rise_per_kelvin(66.0, warm + 3.0, 10.0, 3.0);
        assert!((leaking - share).abs() < 1e-12);
    }

    #[test]
    fn a_level_held_by_water_or_ice_grows_twenty_times_as_fast() {
        let at = |temperature: f64| {
            let (cold, warm) =
                (saturation_pressure(temperature), saturation_pressure(temperature + 5.0));
            rise_per_kelvin(cold, warm, 5.0, 0.0)
        };
        assert!((0.058..0.068).contains(&at(291.0)), "liquid {}", at(291.0));
        assert!((0.078..0.090).contains(&at(266.0)), "ice {}", at(266.0));
    }

    #[test]
    fn a_steady_rise_larger_than_the_reading_has_no_answer() {
        assert!(rise_per_kelvin(60.0, 70.0, 5.0, 80.0).is_nan());
    }
}
