//! What a rise of pressure says about the gas that comes in, and what that does to a pump.

use super::{Body, Example, Function, Given, Gives, Parameter};
use crate::physics::gas_load::{
    State, gas_load, molar_leak_rate, rise_from_leak, stall_pressure, stall_ratio,
};
use crate::physics::warming::rise_per_kelvin;
use crate::quantity::{Dimension, Nature, QuantityKind};

const PER_KELVIN: QuantityKind = plain(Dimension { temperature: -1, ..Dimension::NONE });
const MOLES_PER_TIME: QuantityKind = plain(Dimension { amount: 1, time: -1, ..Dimension::NONE });

const fn plain(dimension: Dimension) -> QuantityKind {
    QuantityKind { dimension, nature: Nature::Plain }
}

pub(super) const VOLUME: Parameter =
    Parameter::within("volume", "the inner volume", QuantityKind::VOLUME, 1e-6, 1000.0);
const RISE_RATE: Parameter = Parameter::within(
    "rise_rate",
    "how fast the pressure rises while the volume is closed",
    QuantityKind::RISE_RATE,
    -1e4,
    1e4,
);
pub(super) const LEAK: Parameter = Parameter::within(
    "leak",
    "the leak, as a throughput of air into vacuum",
    QuantityKind::THROUGHPUT,
    0.0,
    1e4,
);
const GAS_LOAD: Parameter = Parameter { name: "gas_load", says: "the gas that comes in", ..LEAK };
const SPEED: Parameter = Parameter::within(
    "speed",
    "the speed of the pump at the system",
    QuantityKind::FLOW,
    1e-9,
    10.0,
);
const FLOOR: Parameter = pressure("floor", "the lowest pressure that the pump reaches by itself");
const TEMPERATURE: Parameter = Parameter::within(
    "t1",
    "the temperature at first",
    QuantityKind::TEMPERATURE,
    273.15 - 100.0,
    273.15 + 200.0,
);
const DURATION: Parameter =
    Parameter::within("duration", "the time between both", QuantityKind::TIME, 1e-3, 1e9);

const fn pressure(name: &'static str, says: &'static str) -> Parameter {
    Parameter::within(name, says, QuantityKind::PRESSURE, 0.0, 1e7)
}

/// A reading that is taken as a share and can't be 0.
const fn reading(name: &'static str, says: &'static str) -> Parameter {
    Parameter::within(name, says, QuantityKind::PRESSURE, 1e-4, 1e7)
}

pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "gas_load",
        says: "the throughput that makes the pressure in a closed volume rise",
        parameters: &[VOLUME, RISE_RATE],
        gives: Gives::Kind(QuantityKind::THROUGHPUT),
        formula: "volume times rise rate",
        source: "definition of throughput",
        examples: &[
            Example { text: "gas_load(10 L, 1 micron/min)", gives: "2.222e-5 Pa m3/s" },
            Example { text: "gas_load(12 L, 10 micron/min) as sccm", gives: "0.1579 sccm" },
        ],
        body: Body::Each(|given| Ok(gas_load(given.at(0), given.at(1)))),
        holds: "one temperature, and the pressure the same everywhere in the volume",
        ..Function::PLAIN
    },
    Function {
        name: "rise_from_leak",
        says: "how fast a leak lets the pressure in a closed volume rise",
        parameters: &[LEAK, VOLUME],
        gives: Gives::Kind(QuantityKind::RISE_RATE),
        formula: "leak over volume",
        source: "definition of throughput",
        examples: &[Example {
            text: "rise_from_leak(2.222e-4 Pa m3/s, 10 L)",
            gives: "10 micron/min",
        }],
        body: Body::Each(|given| Ok(rise_from_leak(given.at(0), given.at(1)))),
        holds: "while the pressure inside is small: up to 5000 Pa a laminar leak fades by .24 %",
        ..Function::PLAIN
    },
    Function {
        name: "stall_pressure",
        says: "the pressure at which a pump gets no lower",
        parameters: &[FLOOR, GAS_LOAD, SPEED],
        gives: Gives::Kind(QuantityKind::PRESSURE),
        formula: "floor plus gas load over the speed at the system",
        source: "balance of throughput",
        examples: &[Example {
            text: "stall_pressure(20 micron, 0.02 Pa m3/s, 0.5 L/s)",
            gives: "320 micron",
        }],
        body: Body::Each(|given| Ok(stall_pressure(given.at(0), given.at(1), given.at(2)))),
        holds: "with the speed that is left at that pressure, see system_speed",
        ..Function::PLAIN
    },
    STALL_RATIO,
    Function {
        name: "molar_leak_rate",
        says: "the amount of gas that came into a closed volume, per time",
        parameters: &[
            VOLUME,
            pressure("p1", "the absolute pressure at first"),
            TEMPERATURE,
            pressure("p2", "the absolute pressure at last"),
            Parameter { name: "t2", says: "the temperature at last", ..TEMPERATURE },
            DURATION,
        ],
        gives: Gives::Kind(MOLES_PER_TIME),
        formula: "volume times (p2 / t2 - p1 / t1), over gas constant times duration; negative \
                  for a loss",
        source: "published: 40 CFR 1065.644",
        examples: &[Example {
            text: "molar_leak_rate(2 L, 25.3 kPa, 20 degC, 50.6 kPa, 20 degC, 70 s) as mmol/s",
            gives: "0.2966 mmol/s",
        }],
        body: Body::Each(|given| {
            let state =
                |place| State { pressure: given.at(place), temperature: given.at(place + 1) };
            Ok(molar_leak_rate(given.at(0), state(1), state(3), given.at(5)))
        }),
        holds: "an ideal gas; at 4 MPa and 20 degC nitrogen holds .6 % more (computed: CoolProp \
                8.0.0)",
        ..Function::PLAIN
    },
    RISE_PER_KELVIN,
    Function {
        name: "bracket",
        says: "how far a reading lies above the two that bracket it",
        parameters: &[
            pressure("a1", "the reading before"),
            pressure("b", "the reading between"),
            pressure("a2", "the reading after, of the same thing as the one before"),
        ],
        gives: Gives::Kind(QuantityKind::PRESSURE_DIFFERENCE),
        formula: "b less the mean of a1 and a2, which takes a steady drift out",
        source: "A-B-A comparison, common practice",
        examples: &[Example {
            text: "bracket(20 micron, 45 micron, 26 micron)",
            gives: "22 micron",
        }],
        body: Body::Each(|given| Ok(given.at(1) - (given.at(0) + given.at(2)) / 2.0)),
        holds: "a drift that is steady over the three readings, taken at even steps of time",
        ..Function::PLAIN
    },
];

const STALL_RATIO: Function = Function {
    name: "stall_ratio",
    says: "how much of a stall the rise of the closed system explains",
    parameters: &[
        pressure("stall", "the pressure at which the pull-down stalled"),
        FLOOR,
        VOLUME,
        Parameter { range: Some((1e-7, 1e4)), ..RISE_RATE },
        SPEED,
    ],
    gives: Gives::Kind(QuantityKind::NUMBER),
    formula: "the stall above the floor, over what the rise explains: volume times rise rate over \
              speed",
    source: "balance of throughput; memory: what the ratio means",
    examples: &[Example {
        text: "stall_ratio(320 micron, 20 micron, 12 L, 750 micron/min, 0.5 L/s)",
        gives: "1",
    }],
    body: Body::Each(|given: &Given| {
        Ok(stall_ratio(given.at(0), given.at(1), given.at(2), given.at(3), given.at(4)))
    }),
    holds: "with the rise taken just after the gas has evened out. From .5 to 2 stall and rise fit \
            together. Above 3 the gas comes in outside the closed part, or the way to the pump is \
            narrower than thought, or a liquid holds its own pressure. Below .3 volume or speed \
            are not what they were taken for. Between these it is open (memory)",
    ..Function::PLAIN
};

const RISE_PER_KELVIN: Function = Function {
    name: "rise_per_kelvin",
    says: "the share by which a pressure grows per kelvin of warming",
    parameters: &[
        reading("before", "the absolute pressure before warming"),
        reading("after", "the absolute pressure when warm"),
        Parameter::within(
            "warmed_by",
            "by how much it got warmer",
            QuantityKind::TEMPERATURE_DIFFERENCE,
            0.5,
            100.0,
        ),
        Parameter::within(
            "rate",
            "how fast the pressure rose steadily before warming",
            QuantityKind::RISE_RATE,
            -1e4,
            1e4,
        )
        .or(0.0),
        Parameter::within(
            "minutes",
            "the time between both readings",
            QuantityKind::TIME,
            0.0,
            1e7,
        )
        .or(0.0),
    ],
    gives: Gives::Kind(PER_KELVIN),
    formula: "the logarithm of (after - rate times minutes) over before, per kelvin",
    source: "published: ideal gas; Clausius and Clapeyron's equation",
    examples: &[
        Example { text: "rise_per_kelvin(500 micron, 517 micron, 10 K)", gives: "0.3343 %/K" },
        Example {
            text: "rise_per_kelvin(1000 micron, 2100 micron, 10 K, 2 micron/min, 30 min)",
            gives: "7.129 %/K",
        },
    ],
    body: Body::Each(|given: &Given| {
        let steady = given.at(3) * given.at(4);
        Ok(rise_per_kelvin(given.at(0), given.at(1), given.at(2), steady))
    }),
    holds: "near .34 %/K for a dry gas, 6 to 8.5 %/K for a level that water or ice holds, when all \
            of it warms alike",
    ..Function::PLAIN
};
