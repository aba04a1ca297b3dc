//! The air around, gauge pressures that count from it, and standing pressures under a change of
//! temperature.

use super::{Body, Example, Function, Gives, Parameter};
use crate::physics::atmosphere::{absolute, barometer, standing_pressure};
use crate::physics::gas::STANDARD_ATMOSPHERE;
use crate::quantity::QuantityKind;

const GAUGE: Parameter = gauge("p1", "the gauge pressure at first");
const FIRST_TEMPERATURE: Parameter = Parameter::within(
    "t1",
    "the temperature at first",
    QuantityKind::TEMPERATURE,
    273.15 - 50.0,
    273.15 + 100.0,
);
const LAST_TEMPERATURE: Parameter =
    Parameter { name: "t2", says: "the temperature at last", ..FIRST_TEMPERATURE };
const BAROMETER: Parameter = Parameter::within(
    "barometer",
    "the pressure of the air around",
    QuantityKind::PRESSURE,
    2e4,
    1.1e5,
);
const BAROMETER_OR_SEA_LEVEL: Parameter = BAROMETER.or(STANDARD_ATMOSPHERE);

const SOURCE: &str = "published: ideal gas at constant volume, as in fuel-gas piping codes \
                      (2015 Michigan Residential Code, appendix A)";
const HOLDS: &str = "gas of one temperature throughout. Nitrogen at 4 MPa changes by about a tenth \
                     more: over 10 to 15 K this is off by .3 to .5 % of the absolute pressure, 13 \
                     to 21 kPa (computed: CoolProp 8.0.0)";

const fn gauge(name: &'static str, says: &'static str) -> Parameter {
    // From a full vacuum to what no refrigerating system holds.
    Parameter::within(name, says, QuantityKind::GAUGE_PRESSURE, -1.1e5, 2e7)
}

pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "barometer",
        says: "the pressure of the air at an altitude",
        parameters: &[Parameter::within(
            "altitude",
            "the height above sea level",
            QuantityKind::LENGTH,
            -500.0,
            11_000.0,
        )],
        gives: Gives::Kind(QuantityKind::PRESSURE),
        formula: "101325 Pa times (1 - .0065 h / 288.15) to the power of 5.2559, h in m",
        source: "published: U.S. Standard Atmosphere 1976, in the troposphere the same as ICAO's",
        examples: &[Example { text: "barometer(1500 m) as hPa", gives: "845.6 hPa" }],
        body: Body::Each(|given| Ok(barometer(given.at(0)))),
        holds: "the mean air; the weather moves it by up to about 3 % (memory)",
        ..Function::PLAIN
    },
    Function {
        name: "absolute",
        says: "the absolute pressure of a gauge pressure",
        parameters: &[gauge("p", "the gauge pressure"), BAROMETER],
        gives: Gives::Kind(QuantityKind::PRESSURE),
        formula: "gauge pressure plus barometer",
        source: "definition",
        examples: &[
            Example { text: "absolute(29 inHg_vac, 29.92 inHg)", gives: "23370 micron" },
            Example { text: "absolute(10 barg, barometer(1500 m)) as bara", gives: "10.85 bara" },
        ],
        body: Body::Each(|given| Ok(absolute(given.at(0), given.at(1)))),
        ..Function::PLAIN
    },
    Function {
        name: "standing_pressure",
        says: "the gauge pressure that a tight system shows at another temperature",
        parameters: &[GAUGE, FIRST_TEMPERATURE, LAST_TEMPERATURE, BAROMETER_OR_SEA_LEVEL],
        gives: Gives::Kind(QuantityKind::GAUGE_PRESSURE),
        formula: "(p1 + barometer) t2 / t1 - barometer, temperatures in K",
        source: SOURCE,
        examples: &[Example {
            text: "standing_pressure(150 psig, 80 degF, 70 degF) as psig",
            gives: "146.9 psig",
        }],
        body: Body::Each(|given| {
            Ok(standing_pressure(given.at(0), given.at(1), given.at(2), given.at(3)))
        }),
        holds: HOLDS,
        ..Function::PLAIN
    },
    Function {
        name: "standing_loss",
        says: "what a standing pressure lost beyond its change of temperature",
        parameters: &[
            GAUGE,
            FIRST_TEMPERATURE,
            gauge("p2", "the gauge pressure at last"),
            LAST_TEMPERATURE,
            BAROMETER_OR_SEA_LEVEL,
        ],
        gives: Gives::Kind(QuantityKind::PRESSURE_DIFFERENCE),
        formula: "what a tight system would show at t2, less p2; negative for a gain",
        source: SOURCE,
        examples: &[Example {
            text: "standing_loss(40 barg, 20 degC, 39.2 barg, 18 degC) as bar",
            gives: "0.5202 bar",
        }],
        body: Body::Each(|given| {
            let tight = standing_pressure(given.at(0), given.at(1), given.at(3), given.at(4));
            Ok(tight - given.at(2))
        }),
        holds: HOLDS,
        ..Function::PLAIN
    },
];
