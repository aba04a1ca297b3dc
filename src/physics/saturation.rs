//! Where water boils and where ice turns into vapour: saturation pressure and temperature.
//!
//! Liquid: IAPWS R7-97 (IF97), region 4, both ways explicit. Ice: IAPWS R14-08, solved for the
//! temperature by Newton's method. At the triple point the two meet within 1e-6.

use super::root::rising_root;

/// The temperature of the triple point of water in K. Source: IAPWS SR1-86 (1992).
pub const TRIPLE_POINT_TEMPERATURE: f64 = 273.16;
/// The pressure of the triple point of water in Pa. Source: IAPWS SR1-86 (1992).
pub const TRIPLE_POINT_PRESSURE: f64 = 611.657;
/// The critical temperature of water in K, above which nothing boils. Source: IAPWS R7-97.
pub const CRITICAL_TEMPERATURE: f64 = 647.096;
/// The critical pressure of water in Pa. Source: IAPWS R7-97.
pub const CRITICAL_PRESSURE: f64 = 22.064e6;
/// The lowest temperature for which vapour over ice is known, in K. Source: IAPWS R14-08.
pub const COLDEST_ICE: f64 = 50.0;

/// Coefficients n1 to n10 of region 4. Source: IAPWS R7-97, table 34.
const LIQUID: [f64; 10] = [
    0.116_705_214_527_67e4,
    -0.724_213_167_032_06e6,
    -0.170_738_469_400_92e2,
    0.120_208_247_024_70e5,
    -0.323_255_503_223_33e7,
    0.149_151_086_135_30e2,
    -0.482_326_573_615_91e4,
    0.405_113_405_420_57e6,
    -0.238_555_575_678_49,
    0.650_175_348_447_98e3,
];

/// Coefficients and exponents for ice. Source: IAPWS R14-08, table 2.
const ICE: [(f64, f64); 3] =
    [(-21.214_400_6, 0.003_333_333_33), (27.320_381_9, 1.206_666_67), (-6.105_981_3, 1.703_333_33)];

/// The pressure in Pa at which water at a temperature in K is in balance with its vapour: over
/// ice below the triple point, over liquid from there on.
///
/// Holds from 50 K (ice) to 647.096 K; not a number outside. Sources: [`over_ice`],
/// [`over_liquid`].
#[must_use]
pub fn saturation_pressure(temperature: f64) -> f64 {
    if !(COLDEST_ICE..=CRITICAL_TEMPERATURE).contains(&temperature) {
        f64::NAN
    } else if temperature < TRIPLE_POINT_TEMPERATURE {
        over_ice(temperature)
    } else {
        over_liquid(temperature)
    }
}

/// The temperature in K at which water boils, or below the triple point ice turns into vapour,
/// at a pressure in Pa; the inverse of [`saturation_pressure`].
///
/// Holds from the pressure over ice at 50 K to 22.064 MPa; not a number outside.
#[must_use]
pub fn saturation_temperature(pressure: f64) -> f64 {
    if !(over_ice(COLDEST_ICE)..=CRITICAL_PRESSURE).contains(&pressure) {
        f64::NAN
    } else if pressure < TRIPLE_POINT_PRESSURE {
        frost_temperature(pressure)
    } else {
        // Region 4 gives the triple point within 1e-7; the water there is liquid.
        boiling_temperature(pressure).max(TRIPLE_POINT_TEMPERATURE)
    }
}

/// The saturation pressure in Pa over liquid water at a temperature in K, from 273.15 K to
/// 647.096 K. Source: IAPWS R7-97, equation 30.
#[must_use]
pub fn over_liquid(temperature: f64) -> f64 {
    let [n1, n2, n3, n4, n5, n6, n7, n8, n9, n10] = LIQUID;
    let theta = temperature + n9 / (temperature - n10);
    let a = (theta + n1) * theta + n2;
    let b = (n3 * theta + n4) * theta + n5;
    let c = (n6 * theta + n7) * theta + n8;
    let beta = 2.0 * c / (-b + libm::sqrt(b * b - 4.0 * a * c));
    let square = beta * beta;
    1e6 * (square * square)
}

/// The boiling temperature in K at a pressure in Pa, from 611.213 Pa to 22.064 MPa. Source:
/// IAPWS R7-97, equation 31.
#[must_use]
pub fn boiling_temperature(pressure: f64) -> f64 {
    let [n1, n2, n3, n4, n5, n6, n7, n8, n9, n10] = LIQUID;
    let beta = libm::sqrt(libm::sqrt(pressure / 1e6));
    let e = (beta + n3) * beta + n6;
    let f = (n1 * beta + n4) * beta + n7;
    let g = (n2 * beta + n5) * beta + n8;
    let d = 2.0 * g / (-f - libm::sqrt(f * f - 4.0 * e * g));
    let sum = n10 + d;
    0.5 * (sum - libm::sqrt(sum * sum - 4.0 * (n9 + n10 * d)))
}

/// The saturation pressure in Pa over ice at a temperature in K, from 50 K to 273.16 K. Source:
/// IAPWS R14-08, equation 6.
#[must_use]
pub fn over_ice(temperature: f64) -> f64 {
    TRIPLE_POINT_PRESSURE * libm::exp(ice_exponent(TRIPLE_POINT_TEMPERATURE / temperature).0)
}

/// The temperature in K at which ice is in balance with its vapour at a pressure in Pa.
#[must_use]
fn frost_temperature(pressure: f64) -> f64 {
    /// The slope of the exponent at the triple point; it changes by a tenth down to 150 K.
    const SLOPE: f64 = -22.5;
    let wanted = libm::log(pressure / TRIPLE_POINT_PRESSURE);
    let gap = |inverse: f64| {
        let (exponent, slope) = ice_exponent(inverse);
        (wanted - exponent, -slope)
    };
    let bracket = (1.0, TRIPLE_POINT_TEMPERATURE / COLDEST_ICE);
    TRIPLE_POINT_TEMPERATURE / rising_root(gap, bracket, 1.0 + wanted / SLOPE, 1e-14)
}

/// The logarithm of the pressure over ice over the triple point's, and its slope, for the triple
/// point's temperature over the temperature. It is nearly a straight line, and falls.
fn ice_exponent(inverse: f64) -> (f64, f64) {
    let logarithm = libm::log(inverse);
    ICE.iter().fold((0.0, 0.0), |(sum, slope), (factor, power)| {
        let term = factor * libm::exp((1.0 - power) * logarithm);
        (sum + term, slope + (1.0 - power) * term / inverse)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn liquid_and_ice_meet_at_the_triple_point() {
        assert!((over_liquid(TRIPLE_POINT_TEMPERATURE) / TRIPLE_POINT_PRESSURE - 1.0).abs() < 1e-6);
        assert!((over_ice(TRIPLE_POINT_TEMPERATURE) / TRIPLE_POINT_PRESSURE - 1.0).abs() < 1e-8);
        let below = saturation_temperature(TRIPLE_POINT_PRESSURE * (1.0 - 1e-9));
        let at = saturation_temperature(TRIPLE_POINT_PRESSURE);
        assert!(below <= at && at - below < 1e-6, "{below} {at}");
    }

    #[test]
    fn outside_its_range_it_is_not_a_number() {
        for temperature in [0.0, 49.9, 647.1, f64::NAN, f64::INFINITY, -5.0] {
            assert!(saturation_pressure(temperature).is_nan(), "{temperature}");
        }
        for pressure in [0.0, -1.0, 22.07e6, f64::NAN] {
            assert!(saturation_temperature(pressure).is_nan(), "{pressure}");
        }
    }

    #[test]
    fn ice_is_found_again_down_to_the_coldest() {
        for temperature in [50.0, 51.0, 90.0, 150.0, 200.0, 250.0, 273.0, 273.159] {
            let found = saturation_temperature(over_ice(temperature));
            assert!((found - temperature).abs() < 1e-9, "{found} for {temperature}");
        }
    }
}
